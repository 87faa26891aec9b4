// SPDX-License-Identifier: GPL-3.0-or-later
// Zonohedra: sums of segments. A corner is the sum of the edges that have positive products with a direction, and with a
// face's normal, a direction in that face and an edge of it in turn where the products before are 0, every corner is met.
// Nothing rests on that: the volume of the corners' hull must be the sum of the volumes of the parallelepipeds of all
// triples of edges (P. McMullen 1971; G. C. Shephard, "Combinatorial properties of associated zonotopes", Canad. J. Math. 26
// (1974) 302-321; from memory), and a hull of points of the solid that has its volume is the solid.
#include "solid/hull.hpp"
#include "solid/shapes.hpp"

#include <algorithm>

namespace cutproof {

namespace {

Number determinant(const Vector3& u, const Vector3& v, const Vector3& w) {
  return dot(cross(u, v), w);
}

/// `at` and all edges that come first in the direction a, where they are level there in the direction b, then c.
Vector3 farthest(const std::vector<Vector3>& edges, const Vector3& at, const Vector3& a, const Vector3& b,
                 const Vector3& c) {
  Vector3 corner = at;
  for (const Vector3& edge : edges) {
    int side = dot(a, edge).sign();
    if (side == 0) side = dot(b, edge).sign();
    if (side == 0) side = dot(c, edge).sign();
    if (side > 0) corner = corner + edge;
  }
  return corner;
}

}  // namespace

SolidPointer make_zonohedron(const std::vector<Vector3>& edges, const Vector3& at) {
  Number expected;
  for (std::size_t i = 0; i < edges.size(); ++i)
    for (std::size_t j = 0; j < i; ++j)
      for (std::size_t k = 0; k < j; ++k) {
        const Number part = determinant(edges[i], edges[j], edges[k]);
        expected = part.sign() < 0 ? expected - part : expected + part;
      }
  if (expected.is_zero())
    throw InvalidInput("this zonohedron is flat: all its edges lie in one plane",
                       "three of the edges must point in independent directions");
  HullDescription hull;
  for (std::size_t i = 0; i < edges.size(); ++i)
    for (std::size_t j = 0; j < i; ++j) {
      const Vector3 normal = cross(edges[i], edges[j]);
      if (is_zero(normal)) continue;
      for (const Vector3& along : {edges[i], edges[j]}) {
        const Vector3 side = cross(normal, along);
        for (const Vector3& a : {normal, -normal})
          for (const Vector3& b : {side, -side})
            for (const Vector3& c : {along, -along}) hull.points.push_back(farthest(edges, at, a, b, c));
      }
    }
  std::sort(hull.points.begin(), hull.points.end());
  hull.points.erase(std::unique(hull.points.begin(), hull.points.end()), hull.points.end());
  if (volume(convex_hull(hull.points)) != expected) throw ToolFault("corners of a zonohedron are missing");
  return make_solid(std::move(hull));
}

}  // namespace cutproof
