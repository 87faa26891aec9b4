// SPDX-License-Identifier: GPL-3.0-or-later
// What a motion does, told by its axis: every proper motion is a turn about a line together with a shift along it
// (M. Chasles, Bulletin des sciences mathématiques 14 (1830) 321-326).
#pragma once

#include "number/angle.hpp"
#include "solid/geometry.hpp"

namespace cutproof {

/// The line of a turn: its point nearest to the origin, and its direction. A direction has no common rational factor.
struct Axis {
  Vector3 point, direction;
};

/// A proper motion as a turn about the axis, right-handed about its direction, and a shift by `slide` times the direction.
/// Of a half-turn the direction's first coordinate that is not zero is positive. A translation has the angle 0, passes
/// through the origin, and its direction is where it leads; the identity's direction is (0, 0, 1).
struct Screw {
  Axis axis;
  Angle angle;   ///< in [0, pi]
  Number slide;  ///< nonnegative for a translation
};
/// ToolFault for a motion that is not proper.
Screw screw_of(const Motion& motion);

/// A motion that makes mirror images: a reflection in the plane through the axis' point normal to its direction, together
/// with a turn about the axis, or else with a shift in that plane. With the angle pi it is the reflection in the point, and
/// the direction is (0, 0, 1).
struct TurnedReflection {
  Axis axis;
  Angle angle;    ///< in [0, pi]
  Vector3 shift;  ///< normal to the direction; zero unless the angle is 0
};
/// ToolFault for a proper motion.
TurnedReflection turned_reflection_of(const Motion& motion);

}  // namespace cutproof
