// SPDX-License-Identifier: GPL-3.0-or-later
// The true boundary of a solid: canonical form, true edges with the sectors of the solid that meet there, and counts.
#pragma once

#include "number/print.hpp"
#include "solid/boundary.hpp"
#include "solid/engine.hpp"

#include <vector>

namespace cutproof {

/// The canonical true boundary of the solid that a closed oriented surface bounds, so that equal solids give equal results.
/// Coplanar neighbouring facets with the same side outside are merged; a corner in the middle of a straight edge along which
/// nothing changes is dropped, and one that other facets have is inserted; corners are sorted; each cycle begins with its
/// smallest corner; facets are sorted. A cycle that touches itself at a corner is taken apart into simple cycles: first by
/// walking round each sector of the facet's interior by itself, then by splitting at corners that are passed twice. Planes
/// are reduced, from the corners at each facet's smallest one. The input needs facets whose corners run counterclockwise
/// seen from outside, and edges that are used as often in one direction as in the other; corners in the middle of other
/// facets' edges are allowed. An edge of the result may lie in the inside of a facet, where the solid touches itself along
/// it.
Boundary normalised(const Boundary& boundary);

/// An edge of a solid: a maximal straight segment along which the same sectors of the solid meet.
struct TrueEdge {
  int from, to;                   ///< corners of the boundary, from < to
  std::vector<EdgeTerm> sectors;  ///< with edge = to - from; one for each sector of the solid that is not flat; more than
                                  ///< one where it touches itself
};
/// The edges of a canonical boundary, sorted; edges at which every sector is flat are left out.
std::vector<TrueEdge> true_edges(const Boundary& canonical);

/// Counts of a canonical boundary. `shells` and `genus` are those of the boundary pulled apart where it touches itself, so
/// that V - E + F - holes = 2 (shells - genus), counted there; `faces`, `edges` and `vertices` are those of the solid as it
/// is.
struct SurfaceCounts {
  std::size_t faces = 0, edges = 0, vertices = 0;
  long shells = 0, genus = 0;
};
SurfaceCounts count_surface(const Boundary& canonical);

/// The surface area, a sum of lengths of area vectors.
RadicalSum surface_area(const Boundary& boundary);

}  // namespace cutproof
