// SPDX-License-Identifier: GPL-3.0-or-later
// One named collection of solids for all tests of properties: whatever should hold for every solid is tried on all of these.
#pragma once

#include "number/tower.hpp"
#include "solid/boundary_check.hpp"
#include "solid/description.hpp"
#include "solid/edges.hpp"

#include <optional>
#include <string>
#include <vector>

namespace cutproof::zoo {

struct ZooSolid {
  std::string name;
  SolidPointer solid;
  int degree = 1;                       ///< of the field of its coordinates
  Number volume;                        ///< worked out by hand, or from a published formula
  std::optional<SurfaceCounts> counts;  ///< worked out by hand; empty where they were not
  /// How many of the 48 symmetries of the cube that has its centre in the middle of the solid's box are symmetries of the
  /// solid, mirror images among them; worked out by hand (for the solids with one odd edge, by a program that shares no code
  /// with the tool), 0 where it was not.
  int symmetries = 0;
};

/// Every solid with rational coordinates: convex, nonconvex, with tunnels, with cavities, with bodies in cavities, touching
/// itself along edges, at corners, along an edge or a corner inside a face.
const std::vector<ZooSolid>& rational_solids();
/// The regular solids with edge 2, over Q, Q(sqrt(2)) and Q(sqrt(5)).
const std::vector<ZooSolid>& regular_solids();
/// The solids of `rational_solids` under a linear map with coefficients in a field of degree 1, 2, 3, 4 or 8.
std::vector<ZooSolid> solids_of_degree(int degree);
/// The rational ones, the regular ones, and the rational ones once more, over the fields of degree 2, 3, 4, 8 in turn.
const std::vector<ZooSolid>& all_solids();

/// A boundary of a surface or hull, without any engine: not canonical.
Boundary boundary_of(const SolidPointer& solid);
/// The boundary as someone would write it: points `p0`, `p1`, ... and faces `f0`, `f1`, ...
WrittenSurface written(const Boundary& boundary);

/// Fields that live as long as the program, and an element between 1 and 6 that generates each.
const Number& generator_of_degree(int degree);

}  // namespace cutproof::zoo
