// SPDX-License-Identifier: GPL-3.0-or-later
// A motion is its screw: put together again from axis, angle and slide, it is the same motion.
#include "solid/screw.hpp"

#include "number/print.hpp"
#include "number/tower.hpp"
#include "solid/geometry.hpp"

#include <catch2/catch.hpp>

#include <random>

using namespace cutproof;

namespace {

Vector3 vector(long x, long y, long z) {
  return {Number(x), Number(y), Number(z)};
}

bool same(const Motion& a, const Motion& b) {
  return a.rows() == b.rows() && a.shift() == b.shift();
}

// The turn of the screw, made from its cosine, which lies in the motion's field, and the sign of nothing: right-handed.
Motion turn_about(const Axis& axis, const Number& cosine, FieldTower* tower) {
  const Number length_squared = dot(axis.direction, axis.direction);
  const Number sine_by_length = tower->square_root(divide(Number(1) - square(cosine), length_squared));
  return Motion::rotation(axis.point, axis.direction, cosine, sine_by_length);
}

Number cosine_of(const Angle& angle, FieldTower* tower) {
  return tower->cosine(angle);
}

Vector3 random_vector(std::mt19937* random) {
  std::uniform_int_distribution<long> digit(-4, 4);
  Vector3 v;
  do v = vector(digit(*random), digit(*random), digit(*random));
  while (is_zero(v));
  return v;
}

}  // namespace

TEST_CASE("a turn with a slide is recognised, in several fields") {
  const unsigned seed = 20300;
  INFO("seed " << seed);
  std::mt19937 random(seed);
  for (const char* kind : {"rational", "sqrt(2)", "sqrt(3)", "3^(1/4)"}) {
    INFO(kind);
    for (int round = 0; round < 20; ++round) {
      FieldTower tower;
      if (kind[0] == 's') tower.square_root(Number(kind[5] - '0'));
      if (kind[0] == '3') tower.root(Number(3), 4);
      const Number degrees[] = {Number(30), Number(60), Number(90), Number(120), Number(180), Number(45)};
      const Angle angle = round % 7 == 6 ? arc_cosine(Number::fraction(3, 5)) : degrees_angle(degrees[round % 6]);
      const Axis axis{random_vector(&random), random_vector(&random)};
      const Number cosine = tower.cosine(angle);
      const Number sine = tower.sine_over_length(angle, dot(axis.direction, axis.direction));
      const Number slide = Number::fraction(round - 7, 3);
      const Motion motion =
          Motion::rotation(axis.point, axis.direction, cosine, sine).then(Motion::translation(slide * axis.direction));
      const Screw screw = screw_of(motion);
      CHECK(dot(screw.axis.point, screw.axis.direction).is_zero());
      CHECK(cosine_of(screw.angle, &tower) == cosine);
      CHECK(is_zero(cross(screw.axis.direction, axis.direction)));
      CHECK(is_zero(cross(screw.axis.point - axis.point, axis.direction)));
      const Motion again =
          turn_about(screw.axis, cosine, &tower).then(Motion::translation(screw.slide * screw.axis.direction));
      CHECK(same(again, motion));

      // Minus that: a reflection in a plane normal to the axis, with a turn or a shift in the plane.
      const Motion mirrored = Motion::reflection(Plane{axis.direction, dot(axis.direction, axis.point) + slide})
                                  .then(Motion::rotation(axis.point, axis.direction, cosine, sine));
      const TurnedReflection reflection = turned_reflection_of(mirrored);
      const Plane plane{reflection.axis.direction, dot(reflection.axis.direction, reflection.axis.point)};
      const Number turned = cosine_of(reflection.angle, &tower);
      CHECK(turned == cosine);
      CHECK(same(Motion::reflection(plane)
                     .then(turn_about(reflection.axis, turned, &tower))
                     .then(Motion::translation(reflection.shift)),
                 mirrored));
    }
  }
}

TEST_CASE("screws known by hand") {
  const Motion identity;
  CHECK(screw_of(identity).slide.is_zero());
  CHECK(screw_of(identity).axis.direction == vector(0, 0, 1));
  const Screw shifted = screw_of(Motion::translation({Number::fraction(-1, 2), Number(0), Number(1)}));
  CHECK(shifted.axis.direction == vector(-1, 0, 2));
  CHECK(shifted.slide == Number::fraction(1, 2));
  // x and y change places, z is turned round, through (1/2, -1/2, 1)
  const Motion swap({vector(0, 1, 0), vector(1, 0, 0), vector(0, 0, -1)}, vector(1, -1, 2));
  const Screw half_turn = screw_of(swap);
  CHECK(half_turn.axis.direction == vector(1, 1, 0));
  CHECK(half_turn.axis.point == Vector3{Number::fraction(1, 2), Number::fraction(-1, 2), Number(1)});
  CHECK(half_turn.slide.is_zero());
  // Clockwise seen from above is counterclockwise about the axis that points down.
  const Screw clockwise = screw_of(Motion({vector(0, 1, 0), vector(-1, 0, 0), vector(0, 0, 1)}, vector(0, 0, 0)));
  CHECK(clockwise.axis.direction == vector(0, 0, -1));

  const TurnedReflection glide =
      turned_reflection_of(Motion::reflection(Plane{vector(0, 0, 1), Number(3)}).then(Motion::translation(vector(2, 1, 0))));
  CHECK(glide.axis.direction == vector(0, 0, 1));
  CHECK(glide.axis.point == vector(0, 0, 3));
  CHECK(glide.shift == vector(2, 1, 0));
  const TurnedReflection point =
      turned_reflection_of(Motion({vector(-1, 0, 0), vector(0, -1, 0), vector(0, 0, -1)}, vector(2, 4, 6)));
  CHECK(point.axis.point == vector(1, 2, 3));
  CHECK_THROWS_AS(turned_reflection_of(identity), ToolFault);
  CHECK_THROWS_AS(screw_of(Motion::reflection(Plane{vector(1, 0, 0), Number(0)})), ToolFault);
}
