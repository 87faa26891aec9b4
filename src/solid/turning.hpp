// SPDX-License-Identifier: GPL-3.0-or-later
// Which of several edges a walk along the border of a planar region takes at a corner.
#pragma once

namespace cutproof {

/// Whether from -> corner -> a turns further to the left than from -> corner -> b. A walk with the region on its left that
/// always takes the sharpest turn goes round one sector of the region at every corner. `turn(p, q, r)` is positive when p,
/// q, r turn left, zero when they are in line; neither a nor b leads straight back.
template <class Turn, class Point>
bool turns_sharper(const Turn& turn, const Point& from, const Point& corner, const Point& a, const Point& b) {
  const int at_a = turn(from, corner, a), at_b = turn(from, corner, b);
  if (at_a != at_b) return at_a > at_b;  // left turns are the sharpest, then straight on, then right turns
  return turn(corner, b, a) > 0;         // on one side: the one further counterclockwise
}

}  // namespace cutproof
