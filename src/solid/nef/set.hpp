// SPDX-License-Identifier: GPL-3.0-or-later
// Sets of points as Nef polyhedra, behind a wall: only nef/set.cpp sees CGAL, because its headers take a minute to compile.
//
// A set here is bounded and *regular open*: the interior of its own closure. So an intersection of two sets is empty exactly
// when they share no interior points, and the connected components of a set are what is left when parts that touch only
// along edges or at corners are taken apart. Every operation gives such a set again; what it would leave of thin walls,
// loose faces, edges and points is dropped.
#pragma once

#include "solid/boundary.hpp"
#include "solid/geometry.hpp"

#include <cstddef>
#include <memory>
#include <vector>

namespace cutproof {

/// Immutable and cheap to copy. Anything that CGAL complains of is a ToolFault.
class NefSet {
 public:
  /// The empty set.
  NefSet();
  /// The interior of the convex hull of points that are not all in one plane (ToolFault otherwise).
  static NefSet hull(const std::vector<Vector3>& points);
  /// What a closed surface encloses: the points around which it winds an odd number of times. Tunnels, cavities, and
  /// surfaces that touch themselves are all right. ToolFault unless the volume is that of the boundary formula.
  static NefSet inside(const Boundary& surface);

  bool is_empty() const;
  NefSet intersection(const NefSet& other) const;
  NefSet difference(const NefSet& other) const;
  NefSet united(const NefSet& other) const;
  /// The part on the positive side of the plane.
  NefSet clipped(const Plane& plane) const;
  /// The image under p -> rows * p + shift; the rows are those of a rotation or reflection, times a factor.
  NefSet image(const std::array<Vector3, 3>& rows, const Vector3& shift) const;

  /// How many connected components it has.
  std::size_t count_components() const;
  /// Each component alone, in an order that means nothing.
  std::vector<NefSet> components() const;
  /// The boundary, as CGAL has it: facets are merged and edges simplified already, but all orders are arbitrary.
  Boundary boundary() const;

 private:
  struct Polyhedron;
  explicit NefSet(std::shared_ptr<const Polyhedron> polyhedron) : polyhedron_(std::move(polyhedron)) {}
  NefSet parity(const NefSet& other) const;
  static NefSet parity_of_all(std::vector<NefSet> sets);
  std::shared_ptr<const Polyhedron> polyhedron_;
};

}  // namespace cutproof
