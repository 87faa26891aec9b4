// SPDX-License-Identifier: GPL-3.0-or-later
// Convex solids with edges of one length whose volume, dihedral angles and Dehn invariant are known from outside the
// project.
#pragma once

#include "solid/geometry.hpp"

#include <array>
#include <optional>
#include <string>
#include <vector>

namespace cutproof::zoo {

/// A dihedral angle by its cosine: `sign` times the root of `square`.
struct Cosine {
  int sign;
  Number square;
};

struct PublishedSolid {
  std::string name;
  std::vector<Vector3> points;  ///< the corners, all in one field
  std::size_t edges;
  Number squared_volume;        ///< of the solid with edge 1
  std::vector<Cosine> cosines;  ///< each occurs; no other does
  /// How many times the edge (x) each of arctan(sqrt(2)), arctan(2), arctan(sqrt(5)/2)/2 the Dehn invariant is, modulo
  /// rational multiples of pi.
  std::optional<std::array<long, 3>> dehn;
};

/// The regular and Archimedean solids except the snub dodecahedron, and the rhombic dodecahedron.
const std::vector<PublishedSolid>& published_solids();

/// All sign changes of the points' coordinates, and their cyclic or all permutations.
std::vector<Vector3> symmetric_points(const std::vector<Vector3>& points, bool all_permutations);

}  // namespace cutproof::zoo
