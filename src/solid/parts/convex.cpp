// SPDX-License-Identifier: GPL-3.0-or-later
// Convex parts: filter data, volume, and exact clipping by a plane.
#include "solid/parts/convex.hpp"

#include "number/errors.hpp"

#include <algorithm>
#include <limits>

namespace cutproof {

namespace {

/// A double near the number and a bound of its distance from it; infinite where the enclosure is.
struct Midpoint {
  explicit Midpoint(const Number& number) {
    if (!(number.interval().upper - number.interval().lower <= 0x1p-40 * std::fabs(number.interval().lower)) &&
        number.interval().lower != number.interval().upper)
      number.tighten();
    const Interval interval = number.interval();
    if (!(interval.lower > -0x1p1000 && interval.upper < 0x1p1000)) {
      middle = 0;
      radius = std::numeric_limits<double>::infinity();
      return;
    }
    middle = 0.5 * interval.lower + 0.5 * interval.upper;
    radius = interval.lower == interval.upper ? 0 : (interval.upper - interval.lower) + 0x1p-1000;
  }
  double middle, radius;
};

}  // namespace

Corner::Corner(Vector3 exact) : point(std::move(exact)) {
  const Midpoint bx(point.x), by(point.y), bz(point.z);
  x = bx.middle;
  y = by.middle;
  z = bz.middle;
  radius = std::max({bx.radius, by.radius, bz.radius});
  size = std::fabs(x) + std::fabs(y) + std::fabs(z);
}

FacePlane::FacePlane(Plane exact) : plane(std::move(exact)) {
  const Midpoint ba(plane.normal.x), bb(plane.normal.y), bc(plane.normal.z), bd(plane.offset);
  // A power of two scales without rounding (but for numbers so small that the error term below covers them).
  const double largest = std::max({std::fabs(ba.middle), std::fabs(bb.middle), std::fabs(bc.middle), 0x1p-900});
  const int exponent = std::ilogb(largest);
  const auto scaled = [exponent](double value) { return std::ldexp(value, -exponent); };
  a = scaled(ba.middle);
  b = scaled(bb.middle);
  c = scaled(bc.middle);
  d = scaled(bd.middle);
  size = std::fabs(a) + std::fabs(b) + std::fabs(c);
  // Rounding of the four products and sums in `estimate`, in any rounding mode, is below 2^-49 of the terms' absolute
  // values.
  normal_error = scaled(std::max({ba.radius, bb.radius, bc.radius})) + 0x1p-48 * size;
  offset_error = scaled(bd.radius) + 0x1p-48 * std::fabs(d) + 0x1p-900;
}

CornerPointer crossing(const Corner& p, const Corner& q, const Number& value_at_p, const Number& value_at_q) {
  const Number t = divide(value_at_p, value_at_p - value_at_q);
  const auto between = [&t](const Number& from, const Number& to) { return from == to ? from : from + t * (to - from); };
  return std::make_shared<const Corner>(
      Vector3{between(p.point.x, q.point.x), between(p.point.y, q.point.y), between(p.point.z, q.point.z)});
}

void split_cycle(const Cycle& cycle, const FacePlane& plane, Cycle& positive, Cycle& negative) {
  positive.clear();
  negative.clear();
  bool above = false, below = false;
  int s = side(plane, *cycle.front());
  for (std::size_t i = 0; i < cycle.size(); ++i) {
    const CornerPointer &from = cycle[i], &to = cycle[i + 1 < cycle.size() ? i + 1 : 0];
    if (s >= 0) positive.push_back(from);
    if (s <= 0) negative.push_back(from);
    above = above || s > 0;
    below = below || s < 0;
    const int t = side(plane, *to);
    if (s * t < 0) {
      const Number at_from = evaluate(plane.plane, from->point), at_to = evaluate(plane.plane, to->point);
      positive.push_back(crossing(*from, *to, at_from, at_to));
      negative.push_back(positive.back());
    }
    s = t;
  }
  if (!above) positive.clear();
  if (!below) negative.clear();
}

ConvexPart::ConvexPart(std::vector<CornerPointer> corners, std::vector<CellFace> faces, std::vector<int> cycles)
    : corners_(std::move(corners)), faces_(std::move(faces)), cycles_(std::move(cycles)) {
  for (auto& axis : extremes_) axis = {-1, -1};
  box_.lower.fill(std::numeric_limits<double>::infinity());
  box_.upper.fill(-std::numeric_limits<double>::infinity());
  for (const CornerPointer& corner : corners_)
    for (int axis = 0; axis < 3; ++axis) {
      const Interval& interval = coordinate(corner->point, axis).interval();
      box_.lower[axis] = std::fmin(box_.lower[axis], interval.lower);
      box_.upper[axis] = std::fmax(box_.upper[axis], interval.upper);
    }
}

std::vector<int> ConvexPart::neighbours() const {
  struct Edge {
    int low, high, position, face;
  };
  std::vector<Edge> edges;
  edges.reserve(cycles_.size());
  for (std::size_t f = 0; f < faces_.size(); ++f)
    for (int i = faces_[f].begin; i < faces_[f].end; ++i) {
      const int from = cycles_[i], to = cycles_[i + 1 < faces_[f].end ? i + 1 : faces_[f].begin];
      edges.push_back({std::min(from, to), std::max(from, to), i, static_cast<int>(f)});
    }
  std::sort(edges.begin(), edges.end(),
            [](const Edge& a, const Edge& b) { return a.low != b.low ? a.low < b.low : a.high < b.high; });
  std::vector<int> result(cycles_.size(), -1);
  for (std::size_t i = 0; i + 1 < edges.size(); i += 2) {
    if (edges[i].low != edges[i + 1].low || edges[i].high != edges[i + 1].high)
      throw ToolFault("a convex part is not closed");
    result[edges[i].position] = edges[i + 1].face;
    result[edges[i + 1].position] = edges[i].face;
  }
  return result;
}

const Number& ConvexPart::extreme(int axis, bool upper) const {
  int& best = extremes_[axis][upper];
  if (best < 0) {
    int candidate = 0;
    for (std::size_t i = 1; i < corners_.size(); ++i) {
      const int order = compare(coordinate(corners_[i]->point, axis), coordinate(corners_[candidate]->point, axis));
      if (upper ? order > 0 : order < 0) candidate = static_cast<int>(i);
    }
    best = candidate;
  }
  return coordinate(corners_[best]->point, axis);
}

namespace {

/// The work of splitting one part that has corners strictly on both sides.
class Splitter {
 public:
  Splitter(const ConvexPart& part, const PlanePointer& plane, const std::vector<signed char>& sides)
      : part_(part), plane_(plane), sides_(sides), corners_(part.corners()), values_(sides.size()) {
    next_.reserve(part.cycles().size() + 16);
  }

  CellPointer half(int wanted) {
    std::vector<CellFace> faces;
    std::vector<int> cycles;
    faces.reserve(part_.faces().size() + 1);
    cycles.reserve(part_.cycles().size() + 8);
    cap_.clear();
    for (const CellFace& face : part_.faces()) clip(face, wanted, faces, cycles);
    close(wanted, faces, cycles);
    return renumbered(std::move(faces), std::move(cycles));
  }

 private:
  bool on_plane(int corner) const { return corner >= static_cast<int>(sides_.size()) || sides_[corner] == 0; }

  void clip(const CellFace& face, int wanted, std::vector<CellFace>& faces, std::vector<int>& cycles) {
    const std::vector<int>& source = part_.cycles();
    bool inside = false;
    for (int i = face.begin; i < face.end && !inside; ++i) inside = sides_[source[i]] == wanted;
    if (!inside) return;
    const int begin = static_cast<int>(cycles.size());
    for (int i = face.begin; i < face.end; ++i) {
      const int from = source[i], to = source[i + 1 < face.end ? i + 1 : face.begin];
      if (sides_[from] != -wanted) cycles.push_back(from);
      if (sides_[from] * sides_[to] < 0) cycles.push_back(new_corner(std::min(from, to), std::max(from, to)));
    }
    const int end = static_cast<int>(cycles.size());
    for (int i = begin; i < end; ++i) {
      const int from = cycles[i], to = cycles[i + 1 < end ? i + 1 : begin];
      if (on_plane(from) && on_plane(to)) cap_.push_back({to, from});
    }
    faces.push_back({face.plane, face.flipped, begin, end});
  }

  /// The face on the plane itself runs along the others' edges there, the other way.
  void close(int wanted, std::vector<CellFace>& faces, std::vector<int>& cycles) {
    const int begin = static_cast<int>(cycles.size());
    next_.assign(corners_.size(), -1);
    for (const auto& [from, to] : cap_) next_[from] = to;
    int corner = cap_.empty() ? -1 : cap_.front().first;
    for (std::size_t i = 0; i < cap_.size() && corner >= 0; ++i) {
      cycles.push_back(corner);
      corner = next_[corner];
    }
    if (cap_.size() < 3 || corner != cap_.front().first) throw ToolFault("the section of a convex part is not a polygon");
    faces.push_back({plane_, wanted > 0, begin, static_cast<int>(cycles.size())});
  }

  int new_corner(int p, int q) {
    for (const auto& known : crossings_)
      if (known[0] == p && known[1] == q) return known[2];
    corners_.push_back(crossing(*corners_[p], *corners_[q], value(p), value(q)));
    crossings_.push_back({p, q, static_cast<int>(corners_.size()) - 1});
    return crossings_.back()[2];
  }

  const Number& value(int corner) {
    std::optional<Number>& known = values_[corner];
    if (!known) known = evaluate(plane_->plane, part_.corners()[corner]->point);
    return *known;
  }

  CellPointer renumbered(std::vector<CellFace> faces, std::vector<int> cycles) {
    next_.assign(corners_.size(), -1);
    std::vector<CornerPointer> used;
    used.reserve(corners_.size());
    for (int& corner : cycles) {
      int& number = next_[corner];
      if (number < 0) {
        number = static_cast<int>(used.size());
        used.push_back(corners_[corner]);
      }
      corner = number;
    }
    return std::make_shared<const ConvexPart>(std::move(used), std::move(faces), std::move(cycles));
  }

  const ConvexPart& part_;
  const PlanePointer& plane_;
  const std::vector<signed char>& sides_;
  std::vector<CornerPointer> corners_;  // the part's, then new ones
  std::vector<std::optional<Number>> values_;
  std::vector<std::array<int, 3>> crossings_;
  std::vector<std::pair<int, int>> cap_;
  std::vector<int> next_;
};

CellHalves split(const CellPointer& part, const PlanePointer& plane, bool want_positive, bool want_negative) {
  if (const int certain = certain_side(*plane, part->box())) {
    if (certain > 0) return {part, nullptr};
    return {nullptr, part};
  }
  for (const CellFace& face : part->faces())
    if (face.plane == plane) return face.flipped ? CellHalves{part, nullptr} : CellHalves{nullptr, part};
  std::vector<signed char> sides(part->corners().size());
  bool positive = false, negative = false;
  for (std::size_t i = 0; i < sides.size(); ++i) {
    const int s = side(*plane, *part->corners()[i]);
    sides[i] = static_cast<signed char>(s);
    positive = positive || s > 0;
    negative = negative || s < 0;
  }
  if (!negative) return {part, nullptr};
  if (!positive) return {nullptr, part};
  Splitter splitter(*part, plane, sides);
  return {want_positive ? splitter.half(1) : nullptr, want_negative ? splitter.half(-1) : nullptr};
}

}  // namespace

CellHalves split(const CellPointer& part, const PlanePointer& plane) {
  return split(part, plane, true, true);
}

CellPointer inner_half(const CellPointer& part, const CellFace& face) {
  const CellHalves halves = split(part, face.plane, face.flipped, !face.flipped);
  return face.flipped ? halves.positive : halves.negative;
}

CellHalves split(const CellPointer& part, const CellFace& face) {
  CellHalves halves = split(part, face.plane);
  if (face.flipped) std::swap(halves.positive, halves.negative);
  return halves;
}

bool lies_inside(const ConvexPart& part, const ConvexPart& other) {
  for (const CellFace& face : other.faces())
    for (const CornerPointer& corner : part.corners())
      if (face.side_of(*corner) > 0) return false;
  return true;
}

CellPointer part_from_convex_boundary(const Boundary& boundary) {
  std::vector<CornerPointer> corners;
  for (const Vector3& point : boundary.vertices) corners.push_back(std::make_shared<const Corner>(point));
  std::vector<CellFace> faces;
  std::vector<int> cycles;
  for (const Facet& facet : boundary.facets) {
    if (facet.cycles.size() != 1) throw ToolFault("a facet of a convex solid has a hole");
    const int begin = static_cast<int>(cycles.size());
    cycles.insert(cycles.end(), facet.cycles[0].begin(), facet.cycles[0].end());
    faces.push_back(
        {std::make_shared<const FacePlane>(reduced(facet.plane)), false, begin, static_cast<int>(cycles.size())});
    for (const CornerPointer& corner : corners)
      if (faces.back().side_of(*corner) > 0) throw ToolFault("a solid that should be convex is not");
  }
  const auto part = std::make_shared<const ConvexPart>(std::move(corners), std::move(faces), std::move(cycles));
  part->neighbours();  // throws unless closed
  if (part->volume().sign() <= 0) throw ToolFault("a convex solid has no interior");
  return part;
}

}  // namespace cutproof
