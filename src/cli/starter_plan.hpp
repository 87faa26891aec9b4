// SPDX-License-Identifier: GPL-3.0-or-later
// What `cutproof new` writes.
#pragma once

#include <string_view>

namespace cutproof {

constexpr std::string_view starter_plan = R"(# A plan says what is cut, where its pieces go, and what they make in the end.
# `cutproof check` carries it out and says whether it is right. This one is: change it bit by bit.
cutproof: 2
title: A prism becomes a box
source: common knowledge

# Numbers are exact: 0.1 is a tenth, and sqrt(2) the square root of two.
parameters:
  a: 2  # the base, a right triangle with two sides of this length
  h: 1  # the height

where: [a > 0, h > 0]

points:
  M: [a/2, a/2, 0]  # the middle of the longest side of the base
  up: [0, 0, 1]

planes:
  # Halfway up the triangle. The normal points to where the left side of the equation is the larger.
  halfway: { equation: y = a/2 }

# What lies on the bench before the first step: names of pieces, and solids.
start: { T: { prism: { base: [[0, 0], [a, 0], [0, a]], height: h } } }

steps:
  # The half on the side that the normal points to has its name first.
  - title: the tip comes off
    cut: T
    by: halfway
    into: [tip, stump]
  - title: and swings round into the corner
    move: { tip: { half-turn: [M, M + up] } }
  - expect: { pieces: 2, volume: { tip: a^2*h/8 } }

# The pieces must fill this exactly, wherever they came from.
goal: { box: { size: [a, a/2, h] } }
)";

}  // namespace cutproof
