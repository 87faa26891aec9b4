// SPDX-License-Identifier: GPL-3.0-or-later
// Surfaces put together from prisms, written apart from the shapes of the tool.
#pragma once

#include "solid/boundary.hpp"

#include <algorithm>
#include <utility>
#include <vector>

namespace cutproof::zoo {

using Polygon = std::vector<std::pair<long, long>>;

/// The facet with these cycles, its normal being the area vector of the outer one.
inline Facet facet_of(const std::vector<Vector3>& points, std::vector<std::vector<int>> cycles) {
  Vector3 area{0, 0, 0};
  const std::vector<int>& outer = cycles.front();
  for (std::size_t i = 0; i < outer.size(); ++i)
    area = area + cross(points[outer[i]], points[outer[(i + 1) % outer.size()]]);
  return {{area, dot(area, points[outer.front()])}, std::move(cycles)};
}

class Builder {
 public:
  int point(const Vector3& p) {
    const auto known = std::find(boundary_.vertices.begin(), boundary_.vertices.end(), p);
    if (known != boundary_.vertices.end()) return static_cast<int>(known - boundary_.vertices.begin());
    boundary_.vertices.push_back(p);
    return static_cast<int>(boundary_.vertices.size()) - 1;
  }
  void face(const std::vector<std::vector<Vector3>>& cycles) {
    std::vector<std::vector<int>> numbers;
    for (const std::vector<Vector3>& cycle : cycles) {
      numbers.emplace_back();
      for (const Vector3& p : cycle) numbers.back().push_back(point(p));
      if (inward_) std::reverse(numbers.back().begin(), numbers.back().end());
    }
    boundary_.facets.push_back(facet_of(boundary_.vertices, numbers));
  }
  /// From z = low to z = high over a counterclockwise polygon with clockwise holes.
  Builder& prism(const std::vector<Polygon>& polygons, long low, long high) {
    std::vector<std::vector<Vector3>> bottom, top;
    for (const Polygon& polygon : polygons) {
      bottom.emplace_back();
      top.emplace_back();
      for (std::size_t i = 0; i < polygon.size(); ++i) {
        const auto [x, y] = polygon[i];
        const auto [u, v] = polygon[(i + 1) % polygon.size()];
        bottom.back().insert(bottom.back().begin(), {x, y, low});
        top.back().push_back({x, y, high});
        face({{{x, y, low}, {u, v, low}, {u, v, high}, {x, y, high}}});
      }
    }
    face(bottom);
    face(top);
    return *this;
  }
  Builder& box(const std::array<long, 3>& low, const std::array<long, 3>& high) {
    return prism({{{low[0], low[1]}, {high[0], low[1]}, {high[0], high[1]}, {low[0], high[1]}}}, low[2], high[2]);
  }
  /// Its four corners in any order.
  Builder& tetrahedron(Vector3 a, Vector3 b, const Vector3& c, const Vector3& d) {
    if (dot(cross(b - a, c - a), d - a).sign() < 0) std::swap(a, b);
    for (const auto& cycle : std::vector<std::vector<Vector3>>{{a, c, b}, {a, b, d}, {b, c, d}, {c, a, d}}) face({cycle});
    return *this;
  }
  /// What follows bounds a cavity (or, the second time, a body again).
  Builder& turn_inside_out() {
    inward_ = !inward_;
    return *this;
  }
  Builder& numbered(const std::vector<std::array<long, 3>>& points, const std::vector<std::vector<int>>& faces) {
    for (const std::vector<int>& cycle : faces) {
      std::vector<Vector3> corners;
      for (const int i : cycle) corners.push_back({points[i][0], points[i][1], points[i][2]});
      face({corners});
    }
    return *this;
  }
  const Boundary& boundary() const { return boundary_; }

 private:
  Boundary boundary_;
  bool inward_ = false;
};

}  // namespace cutproof::zoo
