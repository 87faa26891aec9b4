// SPDX-License-Identifier: GPL-3.0-or-later
#include "solid/screw.hpp"

#include "number/print.hpp"

#include <utility>

namespace cutproof {
namespace {

Number leading(const Vector3& v) {
  for (int axis = 0; axis < 3; ++axis)
    if (!coordinate(v, axis).is_zero()) return coordinate(v, axis);
  throw ToolFault("an axis without a direction");
}

// The same direction and sense in short numbers: without an irrational common factor where that makes it shorter, and
// without a rational one.
Vector3 short_direction(const Vector3& direction) {
  const Number first = absolute(leading(direction));
  const Vector3 plain = reduced(Plane{direction, Number(0)}).normal;
  const Vector3 divided = reduced(Plane{divide(Number(1), first) * direction, Number(0)}).normal;
  return to_exact(divided).size() < to_exact(plain).size() ? divided : plain;
}

Number trace(const Motion& motion) {
  return motion.rows()[0].x + motion.rows()[1].y + motion.rows()[2].z;
}

// Of the linear part of a turn: cosine, and sine times a unit vector along the axis.
struct Turn {
  Number cosine;
  Vector3 sine;
};

Turn turn_of(const Motion& motion) {
  const auto& rows = motion.rows();
  const Number half = Number::fraction(1, 2);
  return {half * (trace(motion) - Number(1)),
          half * Vector3{rows[2].y - rows[1].z, rows[0].z - rows[2].x, rows[1].x - rows[0].y}};
}

// Of a turn that is not the identity, right-handed; of a half-turn the first coordinate that is not zero is positive.
Vector3 direction_of(const Turn& turn, const Motion& motion) {
  if (!is_zero(turn.sine)) return short_direction(turn.sine);
  // The matrix of a half-turn is 2 u u^T - 1: every column of it + 1 that is not zero lies along the axis.
  const auto& rows = motion.rows();
  for (int axis = 0; axis < 3; ++axis) {
    Vector3 column{coordinate(rows[0], axis), coordinate(rows[1], axis), coordinate(rows[2], axis)};
    (axis == 0 ? column.x : axis == 1 ? column.y : column.z) += Number(1);
    if (is_zero(column)) continue;
    const Vector3 direction = short_direction(column);
    return leading(direction).sign() > 0 ? direction : -direction;
  }
  throw ToolFault("a half-turn without an axis");
}

Number along(const Vector3& v, const Vector3& direction) {
  return divide(dot(v, direction), dot(direction, direction));
}

}  // namespace

Screw screw_of(const Motion& motion) {
  if (!motion.is_proper()) throw ToolFault("a screw was asked for of a motion that makes mirror images");
  const Vector3& shift = motion.shift();
  const Turn turn = turn_of(motion);
  Screw screw;
  if (turn.cosine == Number(1)) {
    screw.axis.direction = is_zero(shift) ? Vector3{Number(0), Number(0), Number(1)} : short_direction(shift);
    screw.slide = is_zero(shift) ? Number(0) : along(shift, screw.axis.direction);
    return screw;
  }
  screw.angle = arc_cosine(turn.cosine);
  screw.axis.direction = direction_of(turn, motion);
  screw.slide = along(shift, screw.axis.direction);
  // The fixed point p of the turn with p normal to the axis: p = (s + v x s / (1 - cosine)) / 2, where s is the shift
  // across the axis and v the sine times the unit vector along it.
  const Vector3 across = shift - screw.slide * screw.axis.direction;
  screw.axis.point =
      Number::fraction(1, 2) * (across + divide(Number(1), Number(1) - turn.cosine) * cross(turn.sine, across));
  return screw;
}

TurnedReflection turned_reflection_of(const Motion& motion) {
  if (motion.is_proper()) throw ToolFault("a reflection was asked for of a proper motion");
  const Motion point_reflection =
      Motion({Vector3{Number(-1), Number(0), Number(0)}, Vector3{Number(0), Number(-1), Number(0)},
              Vector3{Number(0), Number(0), Number(-1)}},
             Vector3{Number(0), Number(0), Number(0)});
  const Vector3& shift = motion.shift();
  const Number half = Number::fraction(1, 2);
  // The linear part is minus a turn by some angle, which is the reflection across its axis and a turn by the rest to a
  // half-turn, the other way round.
  const Motion opposite = motion.then(point_reflection);
  const Turn turn = turn_of(opposite);
  TurnedReflection result;
  result.angle = arc_cosine(-turn.cosine);
  if (turn.cosine == Number(1)) {
    result.axis = {half * shift, {Number(0), Number(0), Number(1)}};
    return result;
  }
  Vector3 direction = direction_of(turn, opposite);
  if (turn.cosine == Number(-1)) {
    const Vector3 through = along(shift, direction) * direction;
    result.axis = {half * through, direction};
    result.shift = shift - through;
    return result;
  }
  // The only fixed point: half of the shift along the axis, and of the turn by the rest across it.
  const Vector3 forth = along(shift, direction) * direction;
  const Vector3 across = shift - forth;
  result.axis.direction = -direction;
  result.axis.point = half * forth + half * (across - divide(Number(1), Number(1) + turn.cosine) * cross(turn.sine, across));
  return result;
}

}  // namespace cutproof
