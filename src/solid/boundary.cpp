// SPDX-License-Identifier: GPL-3.0-or-later
// Volume and centroid of a boundary, without triangulation and without roots.
#include "solid/boundary.hpp"

namespace cutproof {

namespace {

/// Calls use(base, a, b) for each edge a -> b of each facet, base being one fixed corner of the facet: the signed
/// triangles base, a, b add up to the facet.
template <class Use>
void for_each_triangle(const Boundary& boundary, Use use) {
  for (const Facet& facet : boundary.facets) {
    const Vector3& base = boundary.vertices[facet.cycles.front().front()];
    for (const std::vector<int>& cycle : facet.cycles)
      for (std::size_t i = 0; i < cycle.size(); ++i) {
        const Vector3& a = boundary.vertices[cycle[i]];
        const Vector3& b = boundary.vertices[cycle[i + 1 == cycle.size() ? 0 : i + 1]];
        if (&a != &base && &b != &base) use(base, a, b);
      }
  }
}

}  // namespace

Number volume(const Boundary& boundary) {
  std::vector<Number> sixfold;
  for (const Facet& facet : boundary.facets) {
    const Vector3& base = boundary.vertices[facet.cycles.front().front()];
    Vector3 twice_area{0, 0, 0};
    for (const std::vector<int>& cycle : facet.cycles)
      for (std::size_t i = 0; i < cycle.size(); ++i)
        twice_area =
            twice_area + cross(boundary.vertices[cycle[i]], boundary.vertices[cycle[i + 1 == cycle.size() ? 0 : i + 1]]);
    sixfold.push_back(dot(base, twice_area));
  }
  return Number::fraction(1, 6) * balanced_sum(sixfold);
}

Vector3 moment(const Boundary& boundary) {
  std::vector<Number> x, y, z;
  for_each_triangle(boundary, [&](const Vector3& base, const Vector3& a, const Vector3& b) {
    const Number determinant = dot(base, cross(a, b));
    const Vector3 sum = base + a + b;
    x.push_back(determinant * sum.x);
    y.push_back(determinant * sum.y);
    z.push_back(determinant * sum.z);
  });
  return Number::fraction(1, 24) * Vector3{balanced_sum(x), balanced_sum(y), balanced_sum(z)};
}

}  // namespace cutproof
