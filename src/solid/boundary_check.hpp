// SPDX-License-Identifier: GPL-3.0-or-later
// Whether points and faces that somebody wrote bound a solid, decided exactly, with what is wrong in the words of geometry.
#pragma once

#include "solid/boundary.hpp"

#include <string>
#include <vector>

namespace cutproof {

/// A surface as written: cycles of point numbers for each face, the outer one first, then holes (either way round), and how
/// each point and face is called in messages.
struct WrittenSurface {
  std::vector<Vector3> points;
  std::vector<std::string> point_names;
  std::vector<std::vector<std::vector<int>>> faces;
  std::vector<std::string> face_names;
};

/// What is wrong with a surface; `face` and `point` are the numbers of those at fault, or -1.
class BoundaryError : public InvalidInput {
 public:
  BoundaryError(const std::string& message, std::string hint, int face, int point = -1)
      : InvalidInput(message, std::move(hint)), face_(face), point_(point) {}
  int face() const { return face_; }
  int point() const { return point_; }

 private:
  int face_, point_;
};

/// The boundary of the solid that the surface encloses. Points with equal coordinates are one point. Throws BoundaryError
/// unless all of these hold: (1) every face has at least three corners that exist, passes none twice, and is planar; its
/// edges meet at common corners only;
///     its holes lie inside it and apart;
/// (2) every edge is used as often in one direction as in the other, and no face is given twice;
/// (3) no corner lies in the middle of an edge, and no two edges or faces cross or overlap (a corner or a whole edge may
/// touch the
///     inside of a face);
/// (4) outside each face the winding number of the surface is 0, inside it is 1: bodies may have cavities, cavities may hold
///     bodies, shells may touch, and nothing is inside out or doubled.
/// The facets of the result are in the order of the faces; holes are turned clockwise.
Boundary checked_boundary(const WrittenSurface& surface);

}  // namespace cutproof
