// SPDX-License-Identifier: GPL-3.0-or-later
// Exact convex hulls.
#pragma once

#include "solid/boundary.hpp"

#include <vector>

namespace cutproof {

/// The convex hull of the points, in the canonical form of `normalised` (solid/edges.hpp): only true corners, coplanar
/// triangles merged. Equal points, points in line and inner points are fine. Throws InvalidInput when all points lie in one
/// plane.
Boundary convex_hull(const std::vector<Vector3>& points);

}  // namespace cutproof
