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

/// The polygon `base` swept along a vector. The base is a simple polygon in one plane (its corners given either way round),
/// and `along` is not in that plane; InvalidInput otherwise, naming the corners at fault by their numbers from 1.
SolidPointer make_prism(const std::vector<Vector3>& base, const Vector3& along);

/// The polygon `base` (as above) joined to a point outside its plane.
SolidPointer make_pyramid(const std::vector<Vector3>& base, const Vector3& apex);

/// `tetrahedron`, `cube`, `octahedron`, `dodecahedron` or `icosahedron` with the given edge, centred at a point. In units of
/// half the scale: tetrahedron (1,1,1) (1,-1,-1) (-1,1,-1) (-1,-1,1); cube (+-1,+-1,+-1); octahedron (+-1,0,0) ...;
/// dodecahedron
/// (+-1,+-1,+-1) and the cyclic permutations of (0,+-1/g,+-g); icosahedron the cyclic permutations of (0,+-1,+-g), g the
/// golden ratio. Adjoins sqrt(2) or sqrt(5) where the coordinates need it. InvalidInput for another name or an edge that is
/// not positive.
SolidPointer make_regular(const std::string& name, const Number& edge, const Vector3& centre, FieldTower& tower);
const std::vector<std::string>& regular_names();

}  // namespace cutproof
