// SPDX-License-Identifier: GPL-3.0-or-later
// Volume and centroid against hand-made values and another formula.
#include "zoo/zoo.hpp"

#include <catch2/catch.hpp>

using namespace cutproof;
using zoo::ZooSolid;

TEST_CASE("volumes of the whole collection", "[boundary]") {
  for (const ZooSolid& solid : zoo::all_solids()) {
    INFO(solid.name);
    CHECK(volume(zoo::boundary_of(solid.solid)) == solid.volume);
  }
}

TEST_CASE("volume and centroid move with the solid", "[boundary]") {
  const Motion turn = Motion::rotation({1, 0, 2}, {1, 2, 2}, Number::fraction(3, 5), Number::fraction(4, 15));
  const Motion motion = turn.then(Motion::translation({3, -4, Number::fraction(1, 7)}));
  const Motion mirror = Motion::reflection({{1, 2, 3}, 5});
  for (const ZooSolid& solid : zoo::all_solids()) {
    INFO(solid.name);
    const Boundary original = zoo::boundary_of(solid.solid);
    Boundary moved = original, mirrored = original, scaled = original;
    for (Vector3& p : moved.vertices) p = motion(p);
    for (Vector3& p : mirrored.vertices) p = mirror(p);
    for (Vector3& p : scaled.vertices) p = Number(2) * p;
    const Vector3 centre = divide(Number(1), volume(original)) * moment(original);
    CHECK(volume(moved) == solid.volume);
    CHECK(moment(moved) == solid.volume * motion(centre));
    CHECK(volume(mirrored) == -solid.volume);  // the facets now look inward
    CHECK(volume(scaled) == Number(8) * solid.volume);
  }
}

TEST_CASE("centroids by hand", "[boundary]") {
  for (const ZooSolid& solid : zoo::rational_solids()) {
    const Boundary boundary = zoo::boundary_of(solid.solid);
    if (solid.name == "box")
      CHECK(moment(boundary) == Number(6) * Vector3{Number::fraction(1, 2), 1, Number::fraction(3, 2)});
    if (solid.name == "tetrahedron") {
      const Vector3 quarter{Number::fraction(3, 4), Number::fraction(1, 2),
                            Number::fraction(1, 4)};  // the mean of its corners
      CHECK(moment(boundary) == Number::fraction(1, 6) * quarter);
    }
    if (solid.name == "tunnel" || solid.name == "cavity")
      CHECK(moment(boundary).x == Number::fraction(3, 2) * solid.volume);  // symmetric about x = 3/2
  }
}
