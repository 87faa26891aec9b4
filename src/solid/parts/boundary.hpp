// SPDX-License-Identifier: GPL-3.0-or-later
// The true boundary of a set of interior-disjoint convex parts: inner faces gone, coplanar neighbours merged.
#pragma once

#include "solid/boundary.hpp"
#include "solid/parts/convex.hpp"

namespace cutproof {

/// The boundary of the union in the canonical form of `normalised` (solid/edges.hpp). The parts are interior-disjoint.
Boundary true_boundary(const CellList& parts);

}  // namespace cutproof
