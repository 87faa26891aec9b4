// SPDX-License-Identifier: GPL-3.0-or-later
// What meets at each edge of a surface: half-planes, sorted exactly round it.
#pragma once

#include "solid/boundary.hpp"

#include <vector>

namespace cutproof {

/// A half-plane of a facet at an edge: the facet's passage along the edge from the corner at `position` of a cycle to the
/// next, or (with `cycle` -1) one of the two halves of a facet that holds the edge in its inside.
struct HalfPlane {
  int facet, cycle, position;
  bool forward;  ///< the facet's border, counterclockwise seen from outside, runs from the edge's `from` to its `to`
};

/// All half-planes at an edge, counterclockwise as seen looking back from `to` to `from`, beginning with one that runs
/// backward. A sector of the solid reaches from one that runs backward to the next one, which runs forward: so they
/// alternate.
struct EdgeFan {
  int from, to;  ///< from < to
  std::vector<HalfPlane> around;
  bool alternates() const {
    for (std::size_t i = 0; i < around.size(); ++i)
      if (around[i].forward != (i % 2 == 1)) return false;
    return around.size() % 2 == 0;
  }
};

/// The fans of all edges, sorted by their ends. Edges must meet in common corners only, and no two half-planes at an edge
/// may coincide.
std::vector<EdgeFan> edge_fans(const Boundary& boundary);

/// Whether a point in the facet's plane lies inside it: 1 inside, 0 on an edge or a corner, -1 outside.
int locate(const Boundary& boundary, const Facet& facet, const Vector3& point);

}  // namespace cutproof
