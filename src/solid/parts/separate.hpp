// SPDX-License-Identifier: GPL-3.0-or-later
// Which convex parts share interior points, and which share an area of their faces: the two relations between parts on which
// disjointness and connection rest.
#pragma once

#include "solid/parts/convex.hpp"

#include <cstddef>
#include <functional>
#include <utility>
#include <vector>

namespace cutproof {

/// True iff the parts share interior points. Tried in this order: boxes, a face plane that separates them, a plane through
/// directions of an edge of each, exact clipping of one by the other.
bool interiors_meet(const CellPointer& a, const CellPointer& b);

/// True iff a face of `a` and a face of `b` lie in one plane and share an area of it.
bool share_face_area(const ConvexPart& a, const ConvexPart& b);

/// What both parts have in common, or null where that has no interior points.
CellPointer intersection(const CellPointer& a, const CellPointer& b);

/// Calls `use(i, j)` for each pair of a part of `left` and a part of `right` whose boxes meet, in no particular order.
void for_each_close_pair(const CellList& left, const CellList& right,
                         const std::function<void(std::size_t, std::size_t)>& use);
/// The same for each pair i < j of one list.
void for_each_close_pair(const CellList& parts, const std::function<void(std::size_t, std::size_t)>& use);

}  // namespace cutproof
