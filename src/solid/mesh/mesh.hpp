// SPDX-License-Identifier: GPL-3.0-or-later
// Surfaces from files: OFF, OBJ, PLY (text and binary) and STL (text and binary), told by their content. Numbers are exact
// as written; binary ones are the fractions that they are. Whether the surface bounds a solid is for
// solid/boundary_check.hpp to say.
//
// Each reader goes through its bytes once, allocates no more than they can fill, and throws InvalidInput, with the line or
// the number of what is wrong, at the first thing that it does not understand: nothing is skipped but what has no part in
// the surface (normals, colours, texture coordinates, names).
#pragma once

#include "number/flint.hpp"

#include <array>
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace cutproof {

struct Mesh {
  std::string kind;  ///< `OFF`, `binary STL`, ...
  std::vector<std::array<Rational, 3>> points;
  std::vector<std::vector<int>> faces;  ///< indices into `points`; of equal points only the first is used
  std::vector<int> face_lines;          ///< where each face stands; empty for binary files
  int first_point = 0;                  ///< the number that the file gives its first point

  /// `face 3 (line 12)`
  std::string face_name(std::size_t face) const;
  /// `number 7`
  std::string point_name(std::size_t point) const;
};

/// Throws InvalidInput for what is no mesh, or is wrong, and LimitReached (`max-bits`) for numbers that are too long: one of
/// them, or all together.
Mesh read_mesh(std::string_view bytes, std::size_t max_bits);

}  // namespace cutproof
