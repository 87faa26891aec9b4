// SPDX-License-Identifier: GPL-3.0-or-later
// How shapes lie, and which motions carry one onto another: the oracle's own way, by volumes.
#pragma once

#include "oracle/shape.hpp"

#include <utility>
#include <vector>

namespace cutproof::oracle {

Shape image(const Shape& shape, const Motion& motion);
/// Whether some corner is on that side of the plane.
bool reaches(const Shape& shape, const Plane& plane, int side);
/// Whether a cube round the point, so small that no plane of a cell that misses the point meets it, is all in the shape.
bool holds(const Shape& shape, const Vector3& point);
bool lies_inside(const Shape& shape, const Shape& around);

using Corners = std::vector<std::pair<Vector3, Vector3>>;
/// One motion for each way in which the moved shapes can come to lie; mirror images only where they are allowed and no
/// proper motion fits. `flat`: only motions that leave every z as it is, those of a plan of dimension 2.
using Ways = std::vector<Motion>;
Ways ways_onto(const std::vector<Shape>& moved, const Shape& onto, const Corners& corners, bool allow_mirror, bool flat);
Ways ways_to_lay(const std::vector<Shape>& moved, const Plane& plane, const Shape& against, const Plane& against_plane,
                 const Corners& corners, bool allow_mirror, bool flat);

}  // namespace cutproof::oracle
