// SPDX-License-Identifier: GPL-3.0-or-later
// The boundary of a solid as plain data: corners, and planar facets with holes.
#pragma once

#include "solid/geometry.hpp"

#include <vector>

namespace cutproof {

/// A planar face: one outer cycle of corners, counterclockwise seen from outside the solid, then any number of holes,
/// clockwise. `plane` has its positive side outside the solid.
struct Facet {
  Plane plane;
  std::vector<std::vector<int>> cycles;
};

/// A closed oriented surface; indices point into `vertices`.
struct Boundary {
  std::vector<Vector3> vertices;
  std::vector<Facet> facets;
};

/// Enclosed volume: 1/3 sum over facets of p_f . A_f with the area vector A_f = 1/2 sum over cycles of v_i x v_(i+1).
/// Positive for a boundary that is oriented outward.
Number volume(const Boundary& boundary);
/// Volume times centroid.
Vector3 moment(const Boundary& boundary);

}  // namespace cutproof
