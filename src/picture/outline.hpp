// SPDX-License-Identifier: GPL-3.0-or-later
// Segments and polygons in one plane of space: common stretches, and the border of several polygons together.
#pragma once

#include "solid/parts/convex.hpp"

#include <vector>

namespace cutproof {

/// A segment.
struct Line {
  CornerPointer from, to;
};

/// The stretches of the segment that lie on any of the others, in its order, each from its smaller end to its larger (by x,
/// then y, then z); stretches that meet are one.
std::vector<Line> common(const Line& segment, const std::vector<Line>& others);
/// The stretches of the segment that are left when those in `stretches`, which lie on it, are taken away.
std::vector<Line> without(const Line& segment, const std::vector<Line>& stretches);

/// The border of polygons in one plane that share no area and have the same sense: stretches that two of them run along in
/// opposite directions are gone, and so are corners in the middle of straight stretches. Cycles may touch themselves; their
/// winding numbers are those of the polygons, added up.
std::vector<Cycle> united(const std::vector<Cycle>& polygons);

}  // namespace cutproof
