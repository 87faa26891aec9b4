// SPDX-License-Identifier: GPL-3.0-or-later
// The incremental algorithm: a point outside the hull so far sees some faces strictly; they give way to a cone over their
// rim. An edge of the rim is never in line with the point, because the point is strictly outside the face on its inner side.
#include "solid/hull.hpp"

#include "solid/edges.hpp"

#include <algorithm>
#include <array>
#include <set>

namespace cutproof {

namespace {

struct Triangle {
  std::array<int, 3> corners;
  Plane plane;
};

class Hull {
 public:
  explicit Hull(std::vector<Vector3> points) : points_(std::move(points)) {
    std::sort(points_.begin(), points_.end());
    points_.erase(std::unique(points_.begin(), points_.end()), points_.end());
  }

  Boundary boundary() {
    const std::array<int, 4> start = first_tetrahedron();
    for (std::size_t i = 0; i < points_.size(); ++i)
      if (std::find(start.begin(), start.end(), static_cast<int>(i)) == start.end()) add(static_cast<int>(i));
    Boundary result;
    result.vertices = points_;
    for (const Triangle& triangle : triangles_)
      result.facets.push_back({triangle.plane, {{triangle.corners[0], triangle.corners[1], triangle.corners[2]}}});
    return normalised(result);
  }

 private:
  const Vector3& at(int i) const { return points_[static_cast<std::size_t>(i)]; }

  void add_triangle(int a, int b, int c) { triangles_.push_back({{a, b, c}, reduced(plane_through(at(a), at(b), at(c)))}); }

  std::array<int, 4> first_tetrahedron() {
    const int count = static_cast<int>(points_.size());
    if (count < 2) throw InvalidInput("all points of this convex hull are one point: it has no volume");
    int third = 2;
    while (third < count && is_zero(cross(at(1) - at(0), at(third) - at(0)))) ++third;
    if (third == count) throw InvalidInput("all points of this convex hull lie on one line: it has no volume");
    const Plane plane = plane_through(at(0), at(1), at(third));
    int fourth = 2;
    while (fourth < count && side_of(plane, at(fourth)) == 0) ++fourth;
    if (fourth == count) throw InvalidInput("all points of this convex hull lie in one plane: it has no volume");
    int b = 1, c = third;
    if (side_of(plane, at(fourth)) > 0) std::swap(b, c);  // the fourth point is below the first triangle
    add_triangle(0, b, c);
    add_triangle(0, c, fourth);
    add_triangle(c, b, fourth);
    add_triangle(b, 0, fourth);
    return {0, 1, third, fourth};
  }

  void add(int point) {
    std::set<std::pair<int, int>> edges_seen;
    const auto first_seen = std::partition(triangles_.begin(), triangles_.end(), [&](const Triangle& triangle) {
      return side_of(triangle.plane, at(point)) <= 0;
    });
    for (auto triangle = first_seen; triangle != triangles_.end(); ++triangle)
      for (int i = 0; i < 3; ++i) edges_seen.insert({triangle->corners[i], triangle->corners[(i + 1) % 3]});
    triangles_.erase(first_seen, triangles_.end());
    for (const auto& [from, to] : edges_seen)
      if (edges_seen.count({to, from}) == 0) add_triangle(from, to, point);
  }

  std::vector<Vector3> points_;
  std::vector<Triangle> triangles_;
};

}  // namespace

Boundary convex_hull(const std::vector<Vector3>& points) {
  return Hull(points).boundary();
}

}  // namespace cutproof
