// SPDX-License-Identifier: GPL-3.0-or-later
// Solids given by the planes that bound them.
//
// The points behind all planes are bounded exactly if the origin lies in the interior of the hull of the normals. Then a ray
// from the origin leaves that hull through a face, whose normals say how far the solid can reach in the ray's direction: so
// there is a box that contains the solid, and the planes are cut off from it one by one. The result is proved afterwards:
// every face lies in one of the planes and no corner in front of any.
#include "solid/edges.hpp"
#include "solid/hull.hpp"
#include "solid/parts/build.hpp"
#include "solid/parts/convex.hpp"
#include "solid/shapes.hpp"

#include <algorithm>
#include <map>

namespace cutproof {

namespace {

[[noreturn]] void fail_unbounded(const Vector3& direction) {
  throw InvalidInput(
      "these half-spaces bound no solid: no plane stops a point that moves in the direction " + to_exact(direction),
      "add a plane whose normal points there");
}

[[noreturn]] void fail_empty() {
  throw InvalidInput("no solid lies behind all of these planes: what they leave is empty or flat",
                     "the normals must point out of the solid; turn a plane round by writing its equation the other way");
}

/// A vector that is normal to all others; these do not span space.
Vector3 common_normal(const std::vector<Vector3>& vectors) {
  for (const Vector3& v : vectors)
    if (const Vector3 normal = cross(vectors.front(), v); !is_zero(normal)) return normal;
  const Vector3& only = vectors.front();
  return only.x.is_zero() && only.y.is_zero() ? Vector3{1, 0, 0} : Vector3{-only.y, only.x, Number(0)};
}

/// What the planes say about direction . p, for all p behind all of them, as a sum of positive multiples of planes.
class Reach {
 public:
  explicit Reach(const std::vector<Plane>& planes) {
    std::vector<Vector3> normals = {Vector3{}};
    for (const Plane& plane : planes) {
      normals.push_back(plane.normal);
      const auto [known, fresh] = offsets_.emplace(plane.normal, plane.offset);
      if (!fresh && plane.offset < known->second) known->second = plane.offset;
    }
    const auto spans = [&] {
      for (const Vector3& u : normals)
        if (!is_zero(cross(normals[1], u))) {
          const Vector3 across = cross(normals[1], u);
          return std::any_of(normals.begin(), normals.end(), [&](const Vector3& v) { return !dot(across, v).is_zero(); });
        }
      return false;
    };
    if (!spans()) fail_unbounded(common_normal({normals.begin() + 1, normals.end()}));
    hull_ = convex_hull(normals);
    for (const Facet& facet : hull_.facets)
      if (facet.plane.offset.is_zero()) fail_unbounded(facet.plane.normal);
  }

  /// A number that direction . p is never greater than.
  Number upper_bound(const Vector3& direction) const {
    // The ray in this direction leaves the hull through the facet that it meets first.
    const auto sooner = [&](const Facet& a, const Facet& b) {
      return dot(b.plane.normal, direction) * a.plane.offset < dot(a.plane.normal, direction) * b.plane.offset;
    };
    const Facet& through = *std::min_element(hull_.facets.begin(), hull_.facets.end(), sooner);
    const std::vector<int>& cycle = through.cycles.front();
    const auto corner = [&](std::size_t i) -> const Vector3& { return hull_.vertices[static_cast<std::size_t>(cycle[i])]; };
    for (std::size_t i = 1; i + 1 < cycle.size(); ++i) {
      const Vector3 &u = corner(0), &v = corner(i), &w = corner(i + 1);
      const Number all = dot(cross(u, v), w);  // positive: the origin lies behind the facet
      const Number a = dot(cross(direction, v), w), b = dot(cross(u, direction), w), c = dot(cross(u, v), direction);
      if (a.sign() < 0 || b.sign() < 0 || c.sign() < 0) continue;
      return divide(a * offsets_.at(u) + b * offsets_.at(v) + c * offsets_.at(w), all);
    }
    throw ToolFault("a ray leaves a convex hull through no triangle");
  }

 private:
  std::map<Vector3, Number> offsets_;
  Boundary hull_;
};

/// Whether the boundary is that of the points behind all planes.
void demand_proof(const Boundary& found, const std::vector<Plane>& planes) {
  for (const Facet& facet : found.facets)
    if (std::none_of(planes.begin(), planes.end(), [&](const Plane& plane) {
          bool same_side = false;
          return coincide(facet.plane, plane, &same_side) && same_side;
        }))
      throw ToolFault("a face of a solid of half-spaces lies in none of their planes");
  for (const Plane& plane : planes)
    for (const Vector3& corner : found.vertices)
      if (side_of(plane, corner) > 0) throw ToolFault("a corner of a solid of half-spaces lies in front of a plane");
}

}  // namespace

SolidPointer make_half_spaces(const std::vector<Plane>& planes) {
  const Reach reach(planes);
  Vector3 upper, lower;
  for (Number Vector3::*axis : {&Vector3::x, &Vector3::y, &Vector3::z}) {
    Vector3 unit{};
    unit.*axis = Number(1);
    upper.*axis = reach.upper_bound(unit);
    lower.*axis = -reach.upper_bound(-unit);
    if (upper.*axis <= lower.*axis) fail_empty();
  }
  const SolidPointer box = make_box(upper - lower, lower);
  CellPointer rest = build_parts(std::get<SurfaceDescription>(box->kind).boundary).front();
  for (const Plane& plane : planes) {
    rest = split(rest, std::make_shared<const FacePlane>(plane)).negative;
    if (rest == nullptr) fail_empty();
  }
  HullDescription hull;
  for (const CornerPointer& corner : rest->corners()) hull.points.push_back(corner->point);
  demand_proof(convex_hull(hull.points), planes);
  return make_solid(std::move(hull));
}

}  // namespace cutproof
