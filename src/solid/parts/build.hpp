// SPDX-License-Identifier: GPL-3.0-or-later
// From a description of a solid to interior-disjoint convex parts.
#pragma once

#include "solid/description.hpp"
#include "solid/parts/convex.hpp"

namespace cutproof {

/// The parts of the solid, none when it is empty or flat. Throws ToolFault when the parts' volumes do not add up exactly to
/// that of a given boundary.
CellList build_parts(const SolidDescription& solid);
/// The same for a closed surface. A convex solid is one part; others are split by the planes of their own facets.
CellList build_parts(const Boundary& boundary);

}  // namespace cutproof
