// SPDX-License-Identifier: GPL-3.0-or-later
// Solids with names of their own, from their measures to surfaces and hulls.
#pragma once

#include "number/tower.hpp"
#include "solid/description.hpp"

#include <string>
#include <vector>

namespace cutproof {

/// A box with edges along the axes; `lowest` is its lowest corner. Throws InvalidInput unless all three sizes are positive.
SolidPointer make_box(const Vector3& size, const Vector3& lowest);

/// The base of a shape is good, but what goes up from it does not leave its plane.
class FlatShape : public InvalidInput {
 public:
  using InvalidInput::InvalidInput;
};

/// The polygon `base` swept along a vector. The base is a simple polygon in one plane (its corners given either way round);
/// InvalidInput otherwise, naming the corners at fault by their numbers from 1. FlatShape when `along` is in that plane.
SolidPointer make_prism(const std::vector<Vector3>& base, const Vector3& along);

/// The polygon `base` (as above) joined to a point outside its plane; FlatShape when the point is in it.
SolidPointer make_pyramid(const std::vector<Vector3>& base, const Vector3& apex);

/// `tetrahedron`, `cube`, `octahedron`, `dodecahedron` or `icosahedron` with the given edge, centred at a point, in the
/// attitudes of docs/plan-language.md. Adjoins sqrt(2) or sqrt(5) where the coordinates need it. InvalidInput for another
/// name or an edge that is not positive.
SolidPointer make_regular(const std::string& name, const Number& edge, const Vector3& centre, FieldTower& tower);
const std::vector<std::string>& regular_names();

/// The same for the Archimedean solids, all but the snub dodecahedron. The snub cube adjoins the root of a cubic and a
/// square root.
SolidPointer make_archimedean(const std::string& name, const Number& edge, const Vector3& centre, FieldTower& tower);
const std::vector<std::string>& archimedean_names();

/// The points behind all planes, whose normals point out of the solid. InvalidInput when these have no interior points, or
/// go on without end.
SolidPointer make_half_spaces(const std::vector<Plane>& planes);

/// All points `at` + a sum of multiples, from 0 to 1, of the edges. InvalidInput when these are flat.
SolidPointer make_zonohedron(const std::vector<Vector3>& edges, const Vector3& at);

}  // namespace cutproof
