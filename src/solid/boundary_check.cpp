// SPDX-License-Identifier: GPL-3.0-or-later
// Each face by itself, then how faces share their edges. What faces do to each other elsewhere is in boundary_contacts.cpp,
// what is inside and outside in boundary_winding.cpp.
#include "solid/boundary_check.hpp"

#include "number/print.hpp"
#include "solid/edge_fans.hpp"
#include "solid/surface_under_check.hpp"

#include <algorithm>
#include <map>
#include <numeric>

namespace cutproof {

namespace {

using Segment = std::pair<int, int>;

/// For each point the first one with the same coordinates.
std::vector<int> unified_points(const std::vector<Vector3>& points) {
  std::vector<int> order(points.size()), first(points.size());
  std::iota(order.begin(), order.end(), 0);
  std::stable_sort(order.begin(), order.end(), [&](int a, int b) { return points[a] < points[b]; });
  for (std::size_t i = 0; i < order.size(); ++i)
    first[order[i]] = i > 0 && points[order[i]] == points[order[i - 1]] ? first[order[i - 1]] : order[i];
  return first;
}

/// How far a point is from a plane, in few digits.
std::string distance_text(const Plane& plane, const Vector3& point) {
  const Number off = evaluate(plane, point);
  RadicalSum distance;
  distance.add(Number(1L, off.field()), divide(square(off), dot(plane.normal, plane.normal)));
  std::string text = to_decimal(distance, 6);
  if (const std::size_t point_at = text.find('.'); point_at != std::string::npos) {
    const std::size_t end = std::min(text.find('e'), text.size());
    std::size_t last = text.find_last_not_of('0', end - 1);
    if (last == point_at) --last;
    text.erase(last + 1, end - last - 1);
  }
  return text;
}

/// Reads the faces one by one and checks each by itself.
class FaceReader {
 public:
  FaceReader(SurfaceUnderCheck& surface, std::vector<int> first_of) : surface_(surface), first_of_(std::move(first_of)) {}

  void read(int f) {
    Facet facet;
    Extent extent;
    for (const std::vector<int>& cycle : surface_.written.faces[f]) {
      facet.cycles.push_back(corners_of(cycle, f));
      for (const int corner : facet.cycles.back()) extent.add(surface_.at(corner));
    }
    if (facet.cycles.empty()) throw BoundaryError(name(f) + " has no corners", "", f);
    find_plane(facet, f);
    check_simple(facet, f);
    check_holes(facet, f);
    surface_.boundary.facets.push_back(std::move(facet));
    surface_.extents.push_back(extent);
  }

 private:
  const Vector3& at(int point) const { return surface_.at(point); }
  std::string name(int f) const { return surface_.face_name(f); }

  std::vector<int> corners_of(const std::vector<int>& cycle, int f) {
    if (cycle.size() < 3)
      throw BoundaryError(name(f) + " has " + std::to_string(cycle.size()) + " corners; a face needs at least three", "", f);
    std::vector<int> corners;
    for (const int point : cycle) {
      const int count = static_cast<int>(first_of_.size());
      if (point < 0 || point >= count)
        throw BoundaryError(name(f) + " uses the point number " + std::to_string(point) +
                                ", but the points are numbered from 0 to " + std::to_string(count - 1),
                            "", f);
      const int corner = first_of_[point];
      const auto before = std::find(corners.begin(), corners.end(), corner);
      if (before != corners.end()) {
        const int other = cycle[before - corners.begin()];
        throw BoundaryError(name(f) + " passes the corner " + surface_.point_name(point) + " twice" +
                                (other == point ? "" : ": " + surface_.point_name(other) + " is the same point"),
                            "give each corner of a face once", f, point);
      }
      corners.push_back(corner);
    }
    return corners;
  }

  Vector3 twice_area(const std::vector<int>& cycle) const {
    Vector3 sum{0, 0, 0};
    for (std::size_t i = 1; i + 1 < cycle.size(); ++i)
      sum = sum + cross(at(cycle[i]) - at(cycle[0]), at(cycle[i + 1]) - at(cycle[0]));
    return sum;
  }

  void find_plane(Facet& facet, int f) const {
    const std::vector<int>& outer = facet.cycles.front();
    Vector3 normal{0, 0, 0};
    for (std::size_t i = 2; i < outer.size() && is_zero(normal); ++i)
      normal = cross(at(outer[1]) - at(outer[0]), at(outer[i]) - at(outer[0]));
    if (is_zero(normal)) throw BoundaryError(name(f) + " is flat: its corners lie on one line", "", f);
    const Plane plane = reduced({normal, dot(normal, at(outer[0]))});
    for (const std::vector<int>& cycle : facet.cycles)
      for (const int corner : cycle)
        if (side_of(plane, at(corner)) != 0)
          throw BoundaryError(name(f) + " is not planar: the corner " + surface_.point_name(corner) + " " +
                                  to_exact(at(corner)) + " does not lie in the plane of the others, but " +
                                  distance_text(plane, at(corner)) + " away from it",
                              "move the corner into the plane, or divide the face into triangles", f, corner);
    facet.plane = dot(plane.normal, twice_area(outer)).sign() < 0 ? opposite(plane) : plane;
  }

  void check_simple(const Facet& facet, int f) const {
    std::vector<Segment> edges;
    for_each_edge(facet, [&](int a, int b) { edges.emplace_back(a, b); });
    const auto text = [&](const Segment& e) { return surface_.edge_name(e.first, e.second); };
    for (const Segment& edge : edges)
      for (const std::vector<int>& cycle : facet.cycles)
        for (const int corner : cycle)
          if (surface_.in_segment(corner, edge.first, edge.second))
            throw BoundaryError(name(f) + " touches itself: its corner " + surface_.point_name(corner) +
                                    " lies in the middle of its edge " + text(edge),
                                "give the corners in order round the face", f, corner);
    for (std::size_t i = 0; i < edges.size(); ++i)
      for (std::size_t j = i + 1; j < edges.size(); ++j) {
        const auto& [a, b] = edges[i];
        const auto& [c, d] = edges[j];
        if (surface_.cross_in_plane(facet.plane.normal, a, b, c, d))
          throw BoundaryError(name(f) + " crosses itself: its edges " + text(edges[i]) + " and " + text(edges[j]) + " cross",
                              "give the corners in order round the face", f);
        if (edges[i] == edges[j] || (a == d && b == c))
          throw BoundaryError(name(f) + " uses the edge " + text(edges[i]) + " twice", "", f);
      }
  }

  void check_holes(Facet& facet, int f) const {
    const auto inside_cycle = [&](std::size_t cycle, const Vector3& point) {
      return locate(surface_.boundary, Facet{facet.plane, {facet.cycles[cycle]}}, point) > 0;
    };
    for (std::size_t h = 1; h < facet.cycles.size(); ++h) {
      std::vector<int>& hole = facet.cycles[h];
      // No two edges of the face meet but at corners, so the middle of an edge tells where all of it is.
      for (std::size_t i = 0; i < hole.size(); ++i) {
        const Vector3 middle = Number::fraction(1, 2) * (at(hole[i]) + at(hole[i + 1 == hole.size() ? 0 : i + 1]));
        if (!inside_cycle(0, middle))
          throw BoundaryError("hole " + std::to_string(h) + " of " + name(f) + " does not lie inside the face", "", f);
        for (std::size_t other = 1; other < facet.cycles.size(); ++other)
          if (other != h && inside_cycle(other, middle))
            throw BoundaryError(
                "hole " + std::to_string(h) + " of " + name(f) + " lies inside hole " + std::to_string(other), "", f);
      }
      if (dot(twice_area(hole), facet.plane.normal).sign() > 0) std::reverse(hole.begin(), hole.end());
    }
  }

  SurfaceUnderCheck& surface_;
  std::vector<int> first_of_;
};

/// How often faces use an edge from its smaller to its greater end, and back.
struct Uses {
  std::vector<int> forward, backward;
  bool balanced() const { return forward.size() == backward.size(); }
};

/// Of the two faces that run along an edge in one direction the one that is at odds with more of its neighbours.
int likely_inside_out(const std::map<Segment, Uses>& uses, int f, int g) {
  const auto conflicts = [&](int face) {
    return std::count_if(uses.begin(), uses.end(), [&](const auto& use) {
      const Uses& at_edge = use.second;
      return !at_edge.balanced() && (std::count(at_edge.forward.begin(), at_edge.forward.end(), face) > 0 ||
                                     std::count(at_edge.backward.begin(), at_edge.backward.end(), face) > 0);
    });
  };
  return conflicts(f) > conflicts(g) ? f : g;
}

void check_same_corners(const SurfaceUnderCheck& surface) {
  std::map<std::vector<int>, int> known;
  for (std::size_t f = 0; f < surface.boundary.facets.size(); ++f) {
    std::vector<int> corners;
    for (const std::vector<int>& cycle : surface.boundary.facets[f].cycles)
      corners.insert(corners.end(), cycle.begin(), cycle.end());
    std::sort(corners.begin(), corners.end());
    const auto [found, fresh] = known.try_emplace(std::move(corners), static_cast<int>(f));
    if (fresh) continue;
    const int other = found->second;
    // Faces with the same corners may still be different polygons; then they overlap or are found to cross later.
    std::vector<Segment> edges[2];
    for (const int face : {other, static_cast<int>(f)})
      for_each_edge(surface.boundary.facets[face],
                    [&](int a, int b) { edges[face == other ? 0 : 1].emplace_back(std::min(a, b), std::max(a, b)); });
    for (std::vector<Segment>& list : edges) std::sort(list.begin(), list.end());
    if (edges[0] == edges[1])
      throw BoundaryError(surface.face_name(other) + " and " + surface.face_name(static_cast<int>(f)) + " are the same face",
                          "give each face once; a solid has no walls without thickness", static_cast<int>(f));
  }
}

void check_edges_pair_up(const SurfaceUnderCheck& surface) {
  std::map<Segment, Uses> uses;
  for (std::size_t f = 0; f < surface.boundary.facets.size(); ++f)
    for_each_edge(surface.boundary.facets[f], [&](int a, int b) {
      Uses& at_edge = uses[{std::min(a, b), std::max(a, b)}];
      (a < b ? at_edge.forward : at_edge.backward).push_back(static_cast<int>(f));
    });
  for (const auto& [edge, use] : uses) {
    if (use.balanced()) continue;
    const std::vector<int>& more = use.forward.size() > use.backward.size() ? use.forward : use.backward;
    const std::size_t all = use.forward.size() + use.backward.size();
    const std::string where = "the edge " + surface.edge_name(edge.first, edge.second);
    if (all == 1)
      throw BoundaryError("the surface is not closed: " + where + " belongs to " + surface.face_name(more[0]) + " alone",
                          "add the face on its other side", more[0]);
    if (all == 2) {
      const int wrong = likely_inside_out(uses, more[0], more[1]), other = wrong == more[0] ? more[1] : more[0];
      throw BoundaryError(surface.face_name(wrong) + " is inside out: it runs along " + where +
                              " in the same direction as " + surface.face_name(other),
                          "give the corners of every face counterclockwise as seen from outside", wrong);
    }
    throw BoundaryError("the surface is not closed: " + where + " is used " + std::to_string(use.forward.size()) +
                            " times in one direction and " + std::to_string(use.backward.size()) + " times in the other",
                        "each edge is used as often in one direction as in the other", more.back());
  }
}

}  // namespace

Boundary checked_boundary(const WrittenSurface& written) {
  SurfaceUnderCheck surface(written);
  FaceReader reader(surface, unified_points(written.points));
  for (std::size_t f = 0; f < written.faces.size(); ++f) reader.read(static_cast<int>(f));
  if (written.faces.empty()) throw BoundaryError("this surface has no faces", "", -1);
  for (const Facet& facet : surface.boundary.facets)
    for (const std::vector<int>& cycle : facet.cycles)
      surface.corners.insert(surface.corners.end(), cycle.begin(), cycle.end());
  std::sort(surface.corners.begin(), surface.corners.end());
  surface.corners.erase(std::unique(surface.corners.begin(), surface.corners.end()), surface.corners.end());
  check_same_corners(surface);
  check_contacts(surface);
  check_edges_pair_up(surface);
  check_winding_numbers(surface);
  return std::move(surface.boundary);
}

}  // namespace cutproof
