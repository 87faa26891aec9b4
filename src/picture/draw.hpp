// SPDX-License-Identifier: GPL-3.0-or-later
// From states of the bench, as exact convex parts, to pictures.
#pragma once

#include "cutproof/pictures.hpp"
#include "picture/colours.hpp"
#include "solid/parts/convex.hpp"

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

namespace cutproof {

/// Points that have one colour in every picture: interior-disjoint parts, where they lie in the state drawn.
struct DrawnBlock {
  CellList parts;
  std::size_t paint = 0;  ///< index into the paints
};

struct DrawnPiece {
  std::string name;
  std::vector<DrawnBlock> blocks;  ///< interior-disjoint
  bool concerned = true;           ///< else it is pale
  bool named = true;
};

/// The set of points that a finding speaks of.
struct DrawnRegion {
  BodyRole role = BodyRole::overlap;
  CellList parts;
};

struct DrawnState {
  Picture::Kind kind = Picture::Kind::start;
  int step = 0;
  std::size_t finding = 0;
  bool apart = false;  ///< the pieces' centroids are scaled about their common centre
  std::vector<DrawnPiece> pieces;
  std::vector<DrawnRegion> regions;  ///< cut out of the pieces; none where they stand apart
};

/// Makes the state of a number; it is asked for each more than once, so that few need to be in memory together.
using StateMaker = std::function<DrawnState(std::size_t)>;

/// Draws `count` states from one direction and in one scale. The direction is one of eight, all from above, the first that
/// shows the most pieces of state `view_of`; straight from above when the plan is `flat`. Pieces may overlap: of what they
/// share, the first is seen. A state whose coordinates are beyond what can be drawn is left out, and `left_out` says so.
PictureSet draw(std::size_t count, const StateMaker& state, const std::vector<Paint>& paints, std::size_t view_of,
                bool flat);

}  // namespace cutproof
