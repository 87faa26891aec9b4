// SPDX-License-Identifier: GPL-3.0-or-later
// Everything is decided in space: two faces overlap in the picture unless a wall, a plane through an edge of one and along
// the line of view, parts them; so signs at corners are all that is asked for.
#include "picture/patches.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <utility>

namespace cutproof {
namespace {

/// A rectangle of the picture in doubles that holds what it stands for; only to look for candidates.
struct Rectangle {
  std::array<double, 2> lower{std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()};
  std::array<double, 2> upper{-std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()};

  void add(const Rectangle& other) {
    for (int i = 0; i < 2; ++i) {
      lower[i] = std::fmin(lower[i], other.lower[i]);
      upper[i] = std::fmax(upper[i], other.upper[i]);
    }
  }
  bool meets(const Rectangle& other) const {
    return lower[0] <= other.upper[0] && other.lower[0] <= upper[0] && lower[1] <= other.upper[1] &&
           other.lower[1] <= upper[1];
  }
  bool may_contain(const Rectangle& other) const {  // where both are as wide as they are uncertain, neither is inside
    return lower[0] <= other.upper[0] && other.lower[0] <= upper[0] && lower[1] <= other.upper[1] &&
           other.lower[1] <= upper[1] && other.upper[0] - other.lower[0] <= 1.000001 * (upper[0] - lower[0]) &&
           other.upper[1] - other.lower[1] <= 1.000001 * (upper[1] - lower[1]);
  }
};

/// The line of view, and two directions across it in doubles.
class View {
 public:
  explicit View(Vector3 toward_viewer) : toward_(std::move(toward_viewer)) {
    const double x = toward_.x.approximate(), y = toward_.y.approximate(), z = toward_.z.approximate();
    // The vector products with the two axes that differ most from the line of view.
    if (std::fabs(z) >= std::fabs(x) && std::fabs(z) >= std::fabs(y)) {
      across_ = {{{0, z, -y}, {-z, 0, x}}};
    } else if (std::fabs(y) >= std::fabs(x)) {
      across_ = {{{0, z, -y}, {y, -x, 0}}};
    } else {
      across_ = {{{-z, 0, x}, {y, -x, 0}}};
    }
  }
  const Vector3& toward() const { return toward_; }

  Rectangle around(const Corner& corner) const {
    Rectangle rectangle;
    for (int i = 0; i < 2; ++i) {
      const auto& d = across_[i];
      const double value = d[0] * corner.x + d[1] * corner.y + d[2] * corner.z;
      const double error = (std::fabs(d[0]) + std::fabs(d[1]) + std::fabs(d[2])) * (corner.radius + 0x1p-45 * corner.size);
      rectangle.lower[i] = error < std::numeric_limits<double>::infinity() ? value - error : -error;
      rectangle.upper[i] = error < std::numeric_limits<double>::infinity() ? value + error : error;
    }
    return rectangle;
  }
  /// The plane through the segment and along the line of view; what lies left of it, as seen, is on its positive side.
  FacePlane wall(const Corner& from, const Corner& to) const {
    const Vector3 normal = cross(toward_, to.point - from.point);
    return FacePlane(reduced({normal, dot(normal, from.point)}));
  }

 private:
  Vector3 toward_;
  std::array<std::array<double, 3>, 2> across_{};
};

/// A convex polygon of the picture, counterclockwise, with its walls when they are asked for.
class Polygon {
 public:
  Polygon(Cycle cycle, const View& view) : cycle_(std::move(cycle)) {
    for (const CornerPointer& corner : cycle_) rectangle_.add(view.around(*corner));
  }
  const Cycle& cycle() const { return cycle_; }
  const Rectangle& rectangle() const { return rectangle_; }

  /// True iff no point of the other lies outside this one.
  bool contains(const Polygon& other, const View& view) const {
    const std::vector<FacePlane>& walls = walls_of(view);
    return std::all_of(walls.begin(), walls.end(), [&other](const FacePlane& wall) {
      return std::all_of(other.cycle_.begin(), other.cycle_.end(),
                         [&wall](const CornerPointer& corner) { return side(wall, *corner) >= 0; });
    });
  }
  /// True iff they share an area.
  bool overlaps(const Polygon& other, const View& view) const {
    return rectangle_.meets(other.rectangle_) && !parted_by_own_edge(other, view) && !other.parted_by_own_edge(*this, view);
  }

 private:
  bool parted_by_own_edge(const Polygon& other, const View& view) const {
    const std::vector<FacePlane>& walls = walls_of(view);
    return std::any_of(walls.begin(), walls.end(), [&other](const FacePlane& wall) {
      return std::all_of(other.cycle_.begin(), other.cycle_.end(),
                         [&wall](const CornerPointer& corner) { return side(wall, *corner) <= 0; });
    });
  }
  const std::vector<FacePlane>& walls_of(const View& view) const {
    if (walls_.empty())
      for (std::size_t i = 0; i < cycle_.size(); ++i)
        walls_.push_back(view.wall(*cycle_[i], *cycle_[i + 1 < cycle_.size() ? i + 1 : 0]));
    return walls_;
  }

  Cycle cycle_;
  Rectangle rectangle_;
  mutable std::vector<FacePlane> walls_;
};

/// A patch while it grows: the convex polygons of which it is made.
struct Growing {
  std::size_t body;
  std::size_t plane;  ///< equal for faces of one body in one plane
  std::vector<Polygon> polygons;
};

/// Numbers planes so that those of one body that are the same set of points, turned to the viewer, have one number.
class PlaneNumbers {
 public:
  std::size_t number(std::size_t body, const CellFace& face) {
    const auto [known, is_new] = by_address_.emplace(std::pair(body, face.plane.get()), planes_.size());
    if (!is_new) return known->second;
    const Plane outward = face.outward();
    const FacePlane plane(outward);
    for (const std::size_t other : of_body_[body])
      if (near(plane, planes_[other]) && coincide(outward, planes_[other].plane)) return known->second = other;
    of_body_[body].push_back(planes_.size());
    planes_.push_back(plane);
    return known->second;
  }
  const Plane& plane(std::size_t number) const { return planes_[number].plane; }

 private:
  /// False only where the planes certainly differ.
  static bool near(const FacePlane& a, const FacePlane& b) {
    const double scale_a = 1 / std::sqrt(a.a * a.a + a.b * a.b + a.c * a.c),
                 scale_b = 1 / std::sqrt(b.a * b.a + b.b * b.b + b.c * b.c);
    const auto differ = [](double x, double y, double error) { return std::fabs(x - y) > 0x1p-40 + 16 * error; };
    const double error = a.normal_error + b.normal_error, offset_error = a.offset_error + b.offset_error;
    return !differ(a.a * scale_a, b.a * scale_b, error) && !differ(a.b * scale_a, b.b * scale_b, error) &&
           !differ(a.c * scale_a, b.c * scale_b, error) &&
           !differ(a.d * scale_a, b.d * scale_b,
                   offset_error + (error + 0x1p-40) * (std::fabs(a.d) * scale_a + std::fabs(b.d) * scale_b));
  }

  std::map<std::pair<std::size_t, const FacePlane*>, std::size_t> by_address_;
  std::map<std::size_t, std::vector<std::size_t>> of_body_;
  std::vector<FacePlane> planes_;
};

class Painting {
 public:
  Painting(const std::vector<OwnedPart>& order, const Vector3& toward_viewer) : order_(order), view_(toward_viewer) {
    for (const OwnedPart& part : order) outlines_.push_back(outline(*part.cell));
    for (std::size_t i = 0; i < order.size(); ++i) add_faces(i);
    merge();
  }

  std::vector<Patch> patches(const std::vector<BodyLines>& lines) {
    std::vector<Patch> patches;
    for (const Growing& each : growing_) {
      if (each.polygons.empty()) continue;
      Patch patch;
      patch.body = each.body;
      patch.outward = planes_.plane(each.plane);
      std::vector<Cycle> cycles;
      for (const Polygon& polygon : each.polygons) cycles.push_back(polygon.cycle());
      patch.cycles = cycles.size() == 1 ? std::move(cycles) : united(cycles);
      draw_lines(patch, lines[each.body]);
      patches.push_back(std::move(patch));
    }
    return patches;
  }

 private:
  bool is_front(const CellFace& face) {
    const auto [known, is_new] = front_.emplace(face.plane.get(), 0);
    if (is_new) known->second = dot(face.plane->plane.normal, view_.toward()).sign();
    return (face.flipped ? -known->second : known->second) > 0;
  }

  Polygon outline(const ConvexPart& part) {
    const std::vector<int> neighbours = part.neighbours();
    std::map<int, int> next;
    for (const CellFace& face : part.faces()) {
      if (!is_front(face)) continue;
      for (int i = face.begin; i < face.end; ++i)
        if (!is_front(part.faces()[neighbours[i]]))
          next[part.cycles()[i]] = part.cycles()[i + 1 < face.end ? i + 1 : face.begin];
    }
    Cycle cycle;
    for (int corner = next.begin()->first; cycle.size() < next.size(); corner = next.at(corner))
      cycle.push_back(part.corners()[corner]);
    return {std::move(cycle), view_};
  }

  void add_faces(std::size_t i) {
    const ConvexPart& part = *order_[i].cell;
    for (const CellFace& face : part.faces()) {
      if (!is_front(face)) continue;
      Cycle cycle;
      for (int k = 0; k < face.end - face.begin; ++k) cycle.push_back(part.corner(face, k));
      Polygon polygon(std::move(cycle), view_);
      bool hidden = false;
      for (std::size_t j = i + 1; j < order_.size() && !hidden; ++j)
        hidden = outlines_[j].rectangle().may_contain(polygon.rectangle()) && outlines_[j].contains(polygon, view_);
      if (!hidden) growing_.push_back({order_[i].owner, planes_.number(order_[i].owner, face), {std::move(polygon)}});
    }
  }

  /// True iff nothing painted strictly between overlaps what is moved from one place to the other.
  bool may_move(const Growing& moved, std::size_t first, std::size_t last) const {
    for (std::size_t k = first; k < last; ++k)
      for (const Polygon& between : growing_[k].polygons)
        for (const Polygon& polygon : moved.polygons)
          if (polygon.overlaps(between, view_)) return false;
    return true;
  }

  void merge() {
    constexpr std::size_t farthest = 4000;  // places in the order over which a patch is moved, to keep the work small
    std::map<std::pair<std::size_t, std::size_t>, std::size_t> last;  // of a plane of a body
    for (std::size_t j = 0; j < growing_.size(); ++j) {
      const auto [known, is_new] = last.emplace(std::pair(growing_[j].body, growing_[j].plane), j);
      if (is_new) continue;
      const std::size_t i = known->second;
      known->second = j;
      if (j - i > farthest) continue;
      std::size_t from = i, to = j;
      if (!may_move(growing_[i], i + 1, j)) {
        if (!may_move(growing_[j], i + 1, j)) continue;
        std::swap(from, to);
        known->second = i;
      }
      auto& polygons = growing_[from].polygons;
      std::move(polygons.begin(), polygons.end(), std::back_inserter(growing_[to].polygons));
      polygons.clear();
    }
  }

  static void draw_lines(Patch& patch, const BodyLines& lines) {
    for (const Cycle& cycle : patch.cycles)
      for (std::size_t i = 0; i < cycle.size(); ++i) {
        const Line border{cycle[i], cycle[i + 1 < cycle.size() ? i + 1 : 0]};
        const std::vector<Line> edges = common(border, lines.edges);
        const std::vector<Line> rest = without(border, edges);
        patch.seams.insert(patch.seams.end(), rest.begin(), rest.end());
        patch.edges.insert(patch.edges.end(), edges.begin(), edges.end());
        for (const Line& open : rest) {
          const std::vector<Line> cuts = common(open, lines.cuts);
          patch.cuts.insert(patch.cuts.end(), cuts.begin(), cuts.end());
        }
      }
  }

  const std::vector<OwnedPart>& order_;
  View view_;
  std::map<const FacePlane*, int> front_;
  std::vector<Polygon> outlines_;
  PlaneNumbers planes_;
  std::vector<Growing> growing_;
};

}  // namespace

std::vector<Patch> visible_patches(const std::vector<OwnedPart>& order, const Vector3& toward_viewer,
                                   const std::vector<BodyLines>& lines) {
  return Painting(order, toward_viewer).patches(lines);
}

}  // namespace cutproof
