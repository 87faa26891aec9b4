// SPDX-License-Identifier: GPL-3.0-or-later
// Quadratic in the number of faces, with boxes of doubles in front: surfaces that people write are small.
#include "solid/boundary_check.hpp"

#include "number/print.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>

namespace cutproof {

namespace {

using Segment = std::pair<int, int>;

/// Boxes of doubles around what is compared; a filter only.
struct Extent {
  double lower[3] = {INFINITY, INFINITY, INFINITY}, upper[3] = {-INFINITY, -INFINITY, -INFINITY};
  void add(const Vector3& p) {
    const Number* coordinates[3] = {&p.x, &p.y, &p.z};
    for (int i = 0; i < 3; ++i) {
      lower[i] = std::fmin(lower[i], coordinates[i]->interval().lower);
      upper[i] = std::fmax(upper[i], coordinates[i]->interval().upper);
    }
  }
  bool apart_from(const Extent& other) const {
    for (int i = 0; i < 3; ++i)
      if (upper[i] < other.lower[i] || other.upper[i] < lower[i]) return true;
    return false;
  }
};

struct Face {
  std::vector<std::vector<int>> cycles;
  Plane plane;
  Extent extent;
};

class Checker {
 public:
  explicit Checker(const WrittenSurface& written) : written_(written) {}

  Boundary boundary() {
    unify_points();
    for (std::size_t f = 0; f < written_.faces.size(); ++f) read_face(static_cast<int>(f));
    if (faces_.empty()) throw BoundaryError("this surface has no faces", "", -1);
    std::sort(used_.begin(), used_.end());
    used_.erase(std::unique(used_.begin(), used_.end()), used_.end());
    pair_edges();
    for (std::size_t f = 0; f < faces_.size(); ++f) check_corners_against(static_cast<int>(f));
    for (std::size_t f = 0; f < faces_.size(); ++f)
      for (std::size_t g = f + 1; g < faces_.size(); ++g)
        if (!faces_[f].extent.apart_from(faces_[g].extent)) check_pair(static_cast<int>(f), static_cast<int>(g));
    check_winding();
    Boundary result;
    result.vertices = written_.points;
    for (Face& face : faces_) result.facets.push_back({face.plane, std::move(face.cycles)});
    return result;
  }

 private:
  const Vector3& at(int point) const { return written_.points[static_cast<std::size_t>(point)]; }
  const Face& face(int f) const { return faces_[static_cast<std::size_t>(f)]; }
  std::string name(int point) const { return written_.point_names[static_cast<std::size_t>(point)]; }
  std::string face_name(int f) const { return written_.face_names[static_cast<std::size_t>(f)]; }
  static std::string text(const Vector3& p) { return "(" + to_exact(p.x) + ", " + to_exact(p.y) + ", " + to_exact(p.z) + ")"; }

  template <class Use>
  static void for_each_edge(const Face& face, Use use) {
    for (const std::vector<int>& cycle : face.cycles)
      for (std::size_t i = 0; i < cycle.size(); ++i) use(cycle[i], cycle[i + 1 == cycle.size() ? 0 : i + 1]);
  }

  void unify_points() {
    std::vector<int> order(written_.points.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = static_cast<int>(i);
    std::stable_sort(order.begin(), order.end(), [&](int a, int b) { return at(a) < at(b); });
    representative_.resize(order.size());
    for (std::size_t i = 0; i < order.size(); ++i) {
      const bool same = i > 0 && at(order[i]) == at(order[i - 1]);
      representative_[static_cast<std::size_t>(order[i])] = same ? representative_[static_cast<std::size_t>(order[i - 1])] : order[i];
    }
  }

  // --- one face by itself -------------------------------------------------------------------------------------------------

  void read_face(int f) {
    Face face;
    for (const std::vector<int>& cycle : written_.faces[static_cast<std::size_t>(f)]) {
      if (cycle.size() < 3)
        throw BoundaryError(face_name(f) + " has " + std::to_string(cycle.size()) + " corners; a face needs at least three", "", f);
      std::vector<int> corners;
      for (const int point : cycle) {
        if (point < 0 || point >= static_cast<int>(written_.points.size()))
          throw BoundaryError(face_name(f) + " uses the point number " + std::to_string(point) + ", but the points are numbered from 0 to " +
                                  std::to_string(static_cast<int>(written_.points.size()) - 1), "", f);
        const int corner = representative_[static_cast<std::size_t>(point)];
        if (std::find(corners.begin(), corners.end(), corner) != corners.end())
          throw BoundaryError(face_name(f) + " passes the corner " + name(corner) + " twice", "give each corner of a face once", f, corner);
        corners.push_back(corner);
        used_.push_back(corner);
        face.extent.add(at(corner));
      }
      face.cycles.push_back(std::move(corners));
    }
    find_plane(face, f);
    check_simple(face, f);
    check_holes(face, f);
    faces_.push_back(std::move(face));
  }

  Vector3 area(const std::vector<int>& cycle) const {
    Vector3 sum;
    for (std::size_t i = 1; i + 1 < cycle.size(); ++i)
      sum = sum + cross(at(cycle[i]) - at(cycle[0]), at(cycle[i + 1]) - at(cycle[0]));
    return sum;
  }

  void find_plane(Face& face, int f) const {
    const std::vector<int>& outer = face.cycles.front();
    Vector3 normal;
    for (std::size_t i = 2; i < outer.size() && is_zero(normal); ++i)
      normal = cross(at(outer[1]) - at(outer[0]), at(outer[i]) - at(outer[0]));
    if (is_zero(normal)) throw BoundaryError(face_name(f) + " is flat: its corners lie on one line", "", f);
    const Plane plane{normal, dot(normal, at(outer[0]))};
    for (const std::vector<int>& cycle : face.cycles)
      for (const int corner : cycle)
        if (side_of(plane, at(corner)) != 0)
          throw BoundaryError(face_name(f) + " is not planar: the corner " + name(corner) + " " + text(at(corner)) +
                                  " does not lie in the plane of the others",
                              "move the corner into the plane, or divide the face into triangles", f, corner);
    Vector3 outward = area(outer);
    if (is_zero(outward)) outward = normal;  // a crossing one; found next
    face.plane = reduced({outward, dot(outward, at(outer[0]))});
  }

  bool in_segment(const Vector3& p, const Vector3& a, const Vector3& b) const {  // strictly inside
    return is_zero(cross(b - a, p - a)) && dot(p - a, p - b).sign() < 0;
  }

  int turn(const Face& face, const Vector3& p, const Vector3& q, const Vector3& r) const {
    return dot(cross(q - p, r - p), face.plane.normal).sign();
  }

  /// Whether the open segments cross in one point, both lying in the face's plane.
  bool cross_in_plane(const Face& face, int a, int b, int c, int d) const {
    return turn(face, at(a), at(b), at(c)) * turn(face, at(a), at(b), at(d)) < 0 &&
           turn(face, at(c), at(d), at(a)) * turn(face, at(c), at(d), at(b)) < 0;
  }

  void check_simple(const Face& face, int f) const {
    std::vector<Segment> edges;
    for_each_edge(face, [&](int a, int b) { edges.emplace_back(a, b); });
    const auto edge_text = [&](const Segment& e) { return "from " + name(e.first) + " to " + name(e.second); };
    for (const Segment& edge : edges)
      for (const std::vector<int>& cycle : face.cycles)
        for (const int corner : cycle)
          if (in_segment(at(corner), at(edge.first), at(edge.second)))
            throw BoundaryError(face_name(f) + " touches itself: its corner " + name(corner) + " lies in the middle of its edge " +
                                    edge_text(edge), "give the corners in order round the face", f, corner);
    for (std::size_t i = 0; i < edges.size(); ++i)
      for (std::size_t j = i + 1; j < edges.size(); ++j) {
        if (cross_in_plane(face, edges[i].first, edges[i].second, edges[j].first, edges[j].second))
          throw BoundaryError(face_name(f) + " crosses itself: its edges " + edge_text(edges[i]) + " and " + edge_text(edges[j]) + " cross",
                              "give the corners in order round the face", f);
        if (edges[i] == edges[j] || (edges[i].first == edges[j].second && edges[i].second == edges[j].first))
          throw BoundaryError(face_name(f) + " uses the edge " + edge_text(edges[i]) + " twice", "", f);
      }
  }

  void check_holes(Face& face, int f) const {
    for (std::size_t h = 1; h < face.cycles.size(); ++h) {
      std::vector<int>& hole = face.cycles[h];
      const Vector3 middle = Number::fraction(1, 2) * (at(hole[0]) + at(hole[1]));
      if (!inside_cycle(face, face.cycles.front(), middle))
        throw BoundaryError("hole " + std::to_string(h) + " of " + face_name(f) + " does not lie inside the face", "", f);
      for (std::size_t other = 1; other < face.cycles.size(); ++other)
        if (other != h && inside_cycle(face, face.cycles[other], middle))
          throw BoundaryError("hole " + std::to_string(h) + " of " + face_name(f) + " lies inside hole " + std::to_string(other), "", f);
      if (dot(area(hole), face.plane.normal).sign() > 0) std::reverse(hole.begin(), hole.end());
    }
  }

  /// Crossings of a ray in the face's plane, seen along an axis that the plane's normal has a part of. The point lies on no edge.
  bool inside_cycle(const Face& face, const std::vector<int>& cycle, const Vector3& point) const {
    const Vector3& n = face.plane.normal;
    const Number Vector3::*v = !n.z.is_zero() ? &Vector3::y : !n.y.is_zero() ? &Vector3::x : &Vector3::z;
    const int flip = !n.z.is_zero() ? n.z.sign() : !n.y.is_zero() ? n.y.sign() : n.x.sign();
    bool inside = false;
    for (std::size_t i = 0; i < cycle.size(); ++i) {
      const Vector3 &a = at(cycle[i]), &b = at(cycle[i + 1 == cycle.size() ? 0 : i + 1]);
      const bool a_above = a.*v > point.*v, b_above = b.*v > point.*v;
      if (a_above != b_above && (turn(face, a, b, point) * flip > 0) == b_above) inside = !inside;
    }
    return inside;
  }

  /// 1 inside the face, 0 on its edges and corners, -1 outside; for a point in its plane.
  int locate(const Face& face, const Vector3& point) const {
    bool on_edge = false;
    for_each_edge(face, [&](int a, int b) {
      on_edge = on_edge || point == at(a) || in_segment(point, at(a), at(b));
    });
    if (on_edge) return 0;
    bool inside = inside_cycle(face, face.cycles.front(), point);
    for (std::size_t h = 1; h < face.cycles.size() && inside; ++h) inside = !inside_cycle(face, face.cycles[h], point);
    return inside ? 1 : -1;
  }

  // --- all faces together -------------------------------------------------------------------------------------------------

  void pair_edges() {
    struct Uses {
      std::vector<int> forward, backward;
    };
    std::map<Segment, Uses> uses;
    for (std::size_t f = 0; f < faces_.size(); ++f)
      for_each_edge(faces_[f], [&](int a, int b) {
        Uses& at_edge = uses[{std::min(a, b), std::max(a, b)}];
        (a < b ? at_edge.forward : at_edge.backward).push_back(static_cast<int>(f));
      });
    for (const auto& [edge, use] : uses) {
      if (use.forward.size() == use.backward.size()) continue;
      const std::vector<int>& more = use.forward.size() > use.backward.size() ? use.forward : use.backward;
      const std::string where = "the edge from " + name(edge.first) + " to " + name(edge.second);
      if (use.forward.size() + use.backward.size() == 1) {
        // an edge that another face holds as a part of a longer one asks for a corner there
        throw BoundaryError("the surface is not closed: " + where + " belongs to " + face_name(more[0]) + " alone" + corner_hint(edge),
                            "add the face on its other side; a face needs every corner that lies on its edges", more[0]);
      }
      if (more.size() == 2 && use.forward.size() + use.backward.size() == 2) {
        const std::string both = face_name(more[0]) + " and " + face_name(more[1]);
        throw BoundaryError(both + " both run along " + where + " in one direction: one of them is inside out, or a face is given twice",
                            "give the corners of every face counterclockwise as seen from outside", more[1]);
      }
      throw BoundaryError(where + " is used " + std::to_string(use.forward.size()) + " times in one direction and " +
                              std::to_string(use.backward.size()) + " times in the other",
                          "each edge is used as often in one direction as in the other", more.back());
    }
  }

  std::string corner_hint(const Segment& edge) const {
    for (const int corner : used_)
      if (in_segment(at(corner), at(edge.first), at(edge.second)))
        return " (the corner " + name(corner) + " lies in the middle of it: give it to this face as well)";
    return "";
  }

  void check_corners_against(int f) {
    const Face& face_at = face(f);
    for (const int corner : used_) {
      Extent extent;
      extent.add(at(corner));
      if (extent.apart_from(face_at.extent) || side_of(face_at.plane, at(corner)) != 0) continue;
      for_each_edge(face_at, [&](int a, int b) {
        if (in_segment(at(corner), at(a), at(b)))
          throw BoundaryError("the corner " + name(corner) + " lies in the middle of the edge from " + name(a) + " to " + name(b) + " of " +
                                  face_name(f), "give that corner to this face as well", f, corner);
      });
      if (locate(face_at, at(corner)) > 0)
        throw BoundaryError("the corner " + name(corner) + " lies inside " + face_name(f), "faces may touch along whole edges and at corners only", f, corner);
    }
  }

  void crossing(int f, int g, const std::string& how) const {
    throw BoundaryError(face_name(f) + " and " + face_name(g) + " " + how, "the faces of a solid meet at common edges and corners only", g);
  }

  void check_pair(int f, int g) const {
    const Face &a = face(f), &b = face(g);
    bool same_side = false;
    if (coincide(a.plane, b.plane, &same_side)) {
      for_each_edge(a, [&](int p, int q) {
        for_each_edge(b, [&](int r, int s) {
          if (cross_in_plane(a, p, q, r, s)) crossing(f, g, "overlap: they lie in one plane and their edges cross");
        });
      });
      if (middle_inside(a, b) || middle_inside(b, a) || locate(b, interior_point(a)) > 0 || locate(a, interior_point(b)) > 0)
        crossing(f, g, "overlap in one plane, or are the same face given twice");
      return;
    }
    check_piercing(f, g);
    check_piercing(g, f);
    // Both may hold one segment between two common corners in their insides.
    std::vector<int> common;
    for (const std::vector<int>& cycle : a.cycles)
      for (const int corner : cycle)
        for (const std::vector<int>& other : b.cycles)
          if (std::find(other.begin(), other.end(), corner) != other.end()) common.push_back(corner);
    for (std::size_t i = 0; i < common.size(); ++i)
      for (std::size_t j = i + 1; j < common.size(); ++j) {
        const Vector3 middle = Number::fraction(1, 2) * (at(common[i]) + at(common[j]));
        if (locate(a, middle) > 0 && locate(b, middle) > 0) crossing(f, g, "cross along the line from " + name(common[i]) + " to " + name(common[j]));
      }
  }

  bool middle_inside(const Face& edges_of, const Face& in) const {
    bool found = false;
    for_each_edge(edges_of, [&](int p, int q) {
      found = found || locate(in, Number::fraction(1, 2) * (at(p) + at(q))) > 0;
    });
    return found;
  }

  /// Edges of g that pass through f or lie inside it. Corners on f's edges or inside f were excluded before.
  void check_piercing(int f, int g) const {
    const Face& pierced = face(f);
    for_each_edge(face(g), [&](int p, int q) {
      const Number value_p = evaluate(pierced.plane, at(p)), value_q = evaluate(pierced.plane, at(q));
      const int side_p = value_p.sign(), side_q = value_q.sign();
      const std::string edge = "the edge from " + name(p) + " to " + name(q) + " of " + face_name(g);
      if (side_p == 0 && side_q == 0) {
        if (locate(pierced, Number::fraction(1, 2) * (at(p) + at(q))) > 0) crossing(f, g, "cross: " + edge + " lies inside the other");
        for_each_edge(pierced, [&](int r, int s) {
          if (cross_in_plane(pierced, p, q, r, s)) crossing(f, g, "cross: " + edge + " crosses an edge of the other");
        });
      } else if (side_p * side_q < 0) {
        const Vector3 point = at(p) + divide(value_p, value_p - value_q) * (at(q) - at(p));
        if (locate(pierced, point) >= 0) crossing(f, g, "cross: " + edge + " passes through the other at " + text(point));
      }
    });
  }

  /// A point in the inside of a face: halfway from the middle of an edge to what comes next inward.
  Vector3 interior_point(const Face& face) const {
    const std::vector<int>& outer = face.cycles.front();
    const Vector3 &a = at(outer[0]), &b = at(outer[1]);
    const Vector3 middle = Number::fraction(1, 2) * (a + b);
    const Vector3 inward = cross(face.plane.normal, b - a);  // the outer cycle is counterclockwise about the normal
    std::optional<Number> nearest;
    for_each_edge(face, [&](int p, int q) {
      // middle + t*inward on the segment from p to q, in the plane: cross products along the normal
      const Vector3 along = at(q) - at(p);
      const Number denominator = dot(cross(inward, along), face.plane.normal);
      if (denominator.is_zero()) {
        if (!dot(cross(at(p) - middle, inward), face.plane.normal).is_zero()) return;
        for (const int corner : {p, q}) {
          const Number t = divide(dot(at(corner) - middle, inward), dot(inward, inward));
          if (t.sign() > 0 && (!nearest || t < *nearest)) nearest = t;
        }
        return;
      }
      const Number t = divide(dot(cross(at(p) - middle, along), face.plane.normal), denominator);
      const Number s = divide(dot(cross(at(p) - middle, inward), face.plane.normal), denominator);
      if (t.sign() > 0 && s.sign() >= 0 && s <= Number(1) && (!nearest || t < *nearest)) nearest = t;
    });
    if (!nearest) throw ToolFault("no point was found inside a face");
    return middle + Number::fraction(1, 2) * *nearest * inward;
  }

  // --- winding numbers ----------------------------------------------------------------------------------------------------

  void check_winding() const {
    std::vector<int> below;  // faces whose outside has a negative winding number
    for (std::size_t f = 0; f < faces_.size(); ++f) {
      const int outside = winding_outside(static_cast<int>(f));
      if (outside > 0)
        throw BoundaryError(face_name(static_cast<int>(f)) + " belongs to a shell that lies inside another one and faces the same way",
                            "the faces round a cavity are counterclockwise as seen from inside the cavity; give no shell twice",
                            static_cast<int>(f));
      if (outside < 0) below.push_back(static_cast<int>(f));
    }
    if (below.empty()) return;
    if (below.size() == faces_.size())
      throw BoundaryError("the surface is inside out: all faces are clockwise as seen from outside", "reverse the order of the corners of every face", 0);
    throw BoundaryError(face_name(below.front()) + " belongs to a shell that is inside out, or to a cavity that lies outside every body",
                        "give the corners of every face counterclockwise as seen from outside the solid", below.front());
  }

  /// The winding number just outside a face: signed crossings of a ray that starts inside the face and meets others in their insides.
  int winding_outside(int f) const {
    const Vector3 start = interior_point(face(f));
    for (long attempt = 1; attempt < 1000; ++attempt) {
      const Vector3 wobble{Number::fraction((attempt * 7919) % 101 - 50, 97), Number::fraction((attempt * 104729) % 103 - 51, 101),
                           Number::fraction((attempt * 1299709) % 107 - 53, 103)};
      const Vector3 direction = dot(wobble, face(f).plane.normal).sign() > 0 ? wobble : -wobble;
      if (dot(direction, face(f).plane.normal).is_zero()) continue;
      if (const std::optional<int> winding = count_crossings(f, start, direction)) return *winding;
    }
    throw ToolFault("no ray in general position was found");
  }

  std::optional<int> count_crossings(int f, const Vector3& start, const Vector3& direction) const {
    int winding = 0;
    for (std::size_t g = 0; g < faces_.size(); ++g) {
      if (static_cast<int>(g) == f) continue;
      const Plane& plane = faces_[g].plane;
      const Number slope = dot(plane.normal, direction), height = evaluate(plane, start);
      const int rising = slope.sign(), above = height.sign();
      if (rising == 0) {
        if (above == 0) return std::nullopt;
        continue;
      }
      if (above * rising >= 0) {
        if (above == 0 && locate(faces_[g], start) >= 0) throw ToolFault("a point inside a face lies on another one");
        continue;
      }
      const int where = locate(faces_[g], start - divide(height, slope) * direction);
      if (where == 0) return std::nullopt;
      if (where > 0) winding += rising;
    }
    return winding;
  }

  const WrittenSurface& written_;
  std::vector<int> representative_, used_;
  std::vector<Face> faces_;
};

}  // namespace

Boundary checked_boundary(const WrittenSurface& surface) { return Checker(surface).boundary(); }

}  // namespace cutproof
