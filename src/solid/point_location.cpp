// SPDX-License-Identifier: GPL-3.0-or-later
// A ray from the point counts the facets that it passes through, the way out as one and the way in as minus one. A ray that
// meets an edge tells nothing; another is tried then. Directions (1, k, k^2) lie three at a time in no plane through the
// origin, so that every edge spoils two of them at most: some ray tells.
#include "solid/point_location.hpp"

#include "number/errors.hpp"

namespace cutproof {

namespace {

enum class Position { outside, on_border, inside };

/// Where a point of the facet's plane lies to the facet: crossings of a ray in the plane, seen along the axis in which the
/// normal is not 0, with edges taken half open.
Position position_in(const Facet& facet, const std::vector<Vector3>& vertices, const Vector3& point) {
  const Vector3& normal = facet.plane.normal;
  const int seen_along = !normal.z.is_zero() ? 2 : !normal.y.is_zero() ? 1 : 0;
  const int across = (seen_along + 1) % 3, up = (seen_along + 2) % 3;
  bool inside = false;
  for (const std::vector<int>& cycle : facet.cycles)
    for (std::size_t i = 0; i < cycle.size(); ++i) {
      const Vector3& p = vertices[static_cast<std::size_t>(cycle[i])];
      const Vector3& q = vertices[static_cast<std::size_t>(cycle[i + 1 == cycle.size() ? 0 : i + 1])];
      const int side_p = compare(coordinate(p, up), coordinate(point, up));
      const int side_q = compare(coordinate(q, up), coordinate(point, up));
      if (side_p != 0 && side_p == side_q) continue;
      // The turn from p to q to the point: its sign tells on which side of the edge the point lies.
      const int turn = cross_component(q - p, point - p, seen_along).sign();
      if (side_p == 0 && side_q == 0) {
        const int from = compare(coordinate(p, across), coordinate(point, across));
        const int to = compare(coordinate(q, across), coordinate(point, across));
        if (from * to <= 0) return Position::on_border;
        continue;
      }
      if (turn == 0) return Position::on_border;
      const bool rises = side_q > side_p;
      // Half open: an edge's upper end counts, its lower one does not.
      if ((rises ? side_p < 0 && side_q >= 0 : side_q < 0 && side_p >= 0) && (turn > 0) == rises) inside = !inside;
    }
  return inside ? Position::inside : Position::outside;
}

}  // namespace

int locate(const Boundary& boundary, const Vector3& point) {
  for (const Facet& facet : boundary.facets)
    if (side_of(facet.plane, point) == 0 && position_in(facet, boundary.vertices, point) != Position::outside) return 0;
  std::size_t edges = 0;
  for (const Facet& facet : boundary.facets)
    for (const std::vector<int>& cycle : facet.cycles) edges += cycle.size();
  for (std::size_t k = 1; k <= 2 * edges + 1; ++k) {
    const Number slope(static_cast<long>(k));
    const Vector3 direction{Number(1), slope, slope * slope};
    int winding = 0;
    bool clear = true;
    for (const Facet& facet : boundary.facets) {
      const Number ahead = -evaluate(facet.plane, point), rise = dot(facet.plane.normal, direction);
      const int leaves = rise.sign();
      if (leaves == 0) {
        if (!ahead.is_zero()) continue;
        clear = false;  // the ray runs in the plane
        break;
      }
      if (ahead.sign() * leaves <= 0) continue;  // the plane is met behind the point, or in it, where the facet is not
      const Position where = position_in(facet, boundary.vertices, point + divide(ahead, rise) * direction);
      if (where == Position::on_border) {
        clear = false;
        break;
      }
      if (where == Position::inside) winding += leaves;
    }
    if (!clear) continue;
    if (winding != 0 && winding != 1)
      throw ToolFault("a solid's boundary winds round a point " + std::to_string(winding) + " times");
    return winding == 1 ? 1 : -1;
  }
  throw ToolFault("every ray from a point meets an edge");
}

}  // namespace cutproof
