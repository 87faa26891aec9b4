// SPDX-License-Identifier: GPL-3.0-or-later
// Only edges where more than two half-planes meet need sorting; most pairs of an edge and a facet are apart in one sign.
#include "solid/edge_fans.hpp"

#include <algorithm>
#include <map>
#include <utility>

namespace cutproof {

namespace {

/// Sorts half-planes counterclockwise round `axis`, beginning with the first one.
class AroundAxis {
 public:
  AroundAxis(Vector3 axis, Vector3 first) : axis_(std::move(axis)), first_(std::move(first)) {}
  bool operator()(const Vector3& a, const Vector3& b) const {
    const int part_a = part(a), part_b = part(b);
    if (part_a != part_b) return part_a < part_b;
    return dot(cross(a, b), axis_).sign() > 0;
  }

 private:
  /// 0 on the first half-plane, 1 before its opposite, 2 on the opposite, 3 after it
  int part(const Vector3& v) const {
    const int side = dot(cross(first_, v), axis_).sign();
    if (side != 0) return side > 0 ? 1 : 3;
    return dot(first_, v).sign() > 0 ? 0 : 2;
  }
  Vector3 axis_, first_;
};

void sort_fan(const Boundary& boundary, EdgeFan& fan) {
  const auto first = std::find_if(fan.around.begin(), fan.around.end(), [](const HalfPlane& half) { return !half.forward; });
  if (first != fan.around.end()) std::iter_swap(fan.around.begin(), first);
  if (fan.around.size() <= 2) return;
  const Vector3 axis = boundary.vertices[fan.to] - boundary.vertices[fan.from];
  std::vector<std::pair<Vector3, HalfPlane>> directions;
  for (const HalfPlane& half : fan.around) {
    const Vector3 inward = cross(boundary.facets[half.facet].plane.normal, axis);
    directions.emplace_back(half.forward ? inward : -inward, half);
  }
  const AroundAxis before(axis, directions.front().first);
  std::stable_sort(directions.begin() + 1, directions.end(),
                   [&](const auto& a, const auto& b) { return before(a.first, b.first); });
  for (std::size_t i = 0; i < directions.size(); ++i) fan.around[i] = directions[i].second;
}

}  // namespace

int locate(const Boundary& boundary, const Facet& facet, const Vector3& point) {
  const Vector3& normal = facet.plane.normal;
  // Seen along an axis that the normal has a part of; u runs right and v up, or the mirror image of that.
  const bool along_z = !normal.z.is_zero(), along_y = !along_z && !normal.y.is_zero();
  const Number Vector3::*u = along_z ? &Vector3::x : along_y ? &Vector3::z : &Vector3::y;
  const Number Vector3::*v = along_z ? &Vector3::y : along_y ? &Vector3::x : &Vector3::z;
  bool inside = false;
  for (const std::vector<int>& cycle : facet.cycles)
    for (std::size_t i = 0; i < cycle.size(); ++i) {
      const Vector3 &a = boundary.vertices[cycle[i]], &b = boundary.vertices[cycle[i + 1 == cycle.size() ? 0 : i + 1]];
      const int above_a = compare(a.*v, point.*v), above_b = compare(b.*v, point.*v);
      if (above_a * above_b > 0) continue;
      const int right_a = compare(a.*u, point.*u), right_b = compare(b.*u, point.*u);
      if (above_a == 0 && above_b == 0) {
        if (right_a * right_b <= 0) return 0;
        continue;
      }
      int right = right_a;  // of the point where the edge crosses the height of the point
      if (right_a != right_b) {
        const Number rise = b.*v - a.*v;
        right = ((b.*u - a.*u) * (point.*v - a.*v) - rise * (point.*u - a.*u)).sign() * rise.sign();
      }
      if (right == 0) return 0;
      if (right > 0 && (above_a > 0) != (above_b > 0)) inside = !inside;
    }
  return inside ? 1 : -1;
}

std::vector<EdgeFan> edge_fans(const Boundary& boundary) {
  std::map<std::pair<int, int>, EdgeFan> fans;
  for (std::size_t f = 0; f < boundary.facets.size(); ++f)
    for (std::size_t c = 0; c < boundary.facets[f].cycles.size(); ++c) {
      const std::vector<int>& cycle = boundary.facets[f].cycles[c];
      for (std::size_t i = 0; i < cycle.size(); ++i) {
        const int a = cycle[i], b = cycle[i + 1 == cycle.size() ? 0 : i + 1];
        EdgeFan& fan =
            fans.try_emplace({std::min(a, b), std::max(a, b)}, EdgeFan{std::min(a, b), std::max(a, b), {}}).first->second;
        fan.around.push_back({static_cast<int>(f), static_cast<int>(c), static_cast<int>(i), a < b});
      }
    }
  for (std::size_t f = 0; f < boundary.facets.size(); ++f) {
    const Facet& facet = boundary.facets[f];
    std::vector<char> in_plane(boundary.vertices.size());
    for (std::size_t i = 0; i < in_plane.size(); ++i) in_plane[i] = side_of(facet.plane, boundary.vertices[i]) == 0;
    for (auto& [ends, fan] : fans) {
      if (!in_plane[fan.from] || !in_plane[fan.to]) continue;
      const auto own = [&](const HalfPlane& half) { return half.facet == static_cast<int>(f); };
      if (std::any_of(fan.around.begin(), fan.around.end(), own)) continue;
      const Vector3 middle = Number::fraction(1, 2) * (boundary.vertices[fan.from] + boundary.vertices[fan.to]);
      if (locate(boundary, facet, middle) <= 0) continue;
      for (const bool forward : {false, true}) fan.around.push_back({static_cast<int>(f), -1, -1, forward});
    }
  }
  std::vector<EdgeFan> result;
  for (auto& [ends, fan] : fans) {
    sort_fan(boundary, fan);
    result.push_back(std::move(fan));
  }
  return result;
}

}  // namespace cutproof
