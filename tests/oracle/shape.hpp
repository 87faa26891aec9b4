// SPDX-License-Identifier: GPL-3.0-or-later
// Solids, convex or not, as lists of convex cells: how the oracle builds, measures and compares them. Slow, and plain.
#pragma once

#include "oracle/cell.hpp"
#include "solid/description.hpp"

#include <vector>

namespace cutproof::oracle {

/// Cells that may overlap; where they do, a shape counts twice in its volume.
using Shape = std::vector<Cell>;

/// The described solid as disjoint cells; none when it is empty. Surfaces are cut out of a box by the planes of their own
/// faces; rays tell which cells are inside. Throws ToolFault unless the cells' volumes add up to that of the surface.
Shape build(const SolidDescription& solid);

Number volume(const Shape& shape);
/// The same set of points, in disjoint cells.
Shape region(const Shape& shape);
/// For disjoint cells: what lies in one and not in the other.
Shape difference(const Shape& minuend, const Shape& subtrahend);
/// The volume of what two shapes share, each point counted once.
Number common_volume(const Shape& a, const Shape& b);
bool share_interior_points(const Shape& a, const Shape& b);
/// Cells grouped by what hangs together through areas of faces or through shared interior points, in the order of `split`:
/// by smallest corner, then volume, then centroid.
std::vector<Shape> connected_components(const Shape& shape);
/// Into how many groups shapes fall that are linked where an area of faces or interior points is shared.
std::size_t count_linked_groups(const std::vector<Shape>& shapes);

}  // namespace cutproof::oracle
