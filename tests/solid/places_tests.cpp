// SPDX-License-Identifier: GPL-3.0-or-later
// How pieces lie to planes, points, solids and each other: by hand on each engine, and both engines alike on random pieces.
#include "engine_test_support.hpp"

#include "solid/both_engines.hpp"
#include "solid/point_location.hpp"

using namespace cutproof;

namespace {

Vector3 at(long x, long y, long z, long over = 1) {
  return {Number::fraction(x, over), Number::fraction(y, over), Number::fraction(z, over)};
}

void check_places(EngineChoice choice) {
  Bench bench(choice);
  Engine& engine = *bench.engine;
  INFO(engine.name());
  const Solid cube = bench.cube(0, 0, 0, 2), beside = bench.cube(2, 0, 0), by_an_edge = bench.cube(2, 2, 0),
              by_a_corner = bench.cube(2, 2, 2), far = bench.cube(5, 5, 5), within = bench.cube(1, 1, 1);
  const Plane level{{0, 0, 1}, 2};
  CHECK_FALSE(engine.reaches_beyond(cube, level));
  CHECK(engine.reaches_beyond(cube, opposite(level)));
  CHECK_FALSE(engine.reaches_beyond(by_a_corner, opposite(level)));
  CHECK(engine.reaches_beyond(cube, {{1, 1, 1}, Number(6) - Number::fraction(1, 1000000)}));
  CHECK_FALSE(engine.reaches_beyond(cube, {{1, 1, 1}, 6}));

  CHECK(engine.holds(cube, at(1, 1, 1)));
  CHECK_FALSE(engine.holds(cube, at(2, 1, 1)));
  CHECK_FALSE(engine.holds(cube, at(2, 2, 2)));
  CHECK_FALSE(engine.holds(cube, at(3, 1, 1)));
  const Solid pair = engine.joined({cube, beside});
  CHECK(engine.holds(pair, at(4, 1, 1, 2)));     // in the middle of the seam
  CHECK_FALSE(engine.holds(pair, at(2, 1, 1)));  // at the seam's border
  CHECK_FALSE(engine.holds(pair, at(4, 3, 3, 2)));
  const Solid along_an_edge = engine.joined({cube, by_an_edge});
  CHECK_FALSE(engine.holds(along_an_edge, at(4, 4, 1, 2)));

  CHECK(engine.inside({cube, within, beside, far, pair}, cube) == std::vector<char>{1, 1, 0, 0, 0});
  CHECK(engine.inside({cube, beside, pair, far, bench.box({1, 0, 0}, {3, 1, 1})}, pair) == std::vector<char>{1, 1, 1, 0, 1});
  CHECK(engine.inside({bench.box({1, 0, 0}, {3, 1, 2})}, pair) == std::vector<char>{0});

  CHECK(engine.touching({cube, by_an_edge, by_a_corner, far}, {beside}) == std::vector<char>{1, 0, 0, 0});
  CHECK(engine.touching({cube, beside}, {by_an_edge}) == std::vector<char>{0, 0});
  CHECK(engine.touching({within}, {cube}) == std::vector<char>{1});  // interior points
  CHECK(engine.touching({far, cube}, {by_a_corner, beside, by_an_edge}) == std::vector<char>{0, 1});
}

}  // namespace

TEST_CASE("where pieces lie, by hand", "[places]") {
  check_places(EngineChoice::parts);
  check_places(EngineChoice::nef);
}

TEST_CASE("where points lie to solids with holes and cavities", "[places]") {
  for (const NamedShape& shape : test_shapes(Number(1))) {
    INFO(shape.name);
    const std::unique_ptr<Engine> engine = make_engine(EngineChoice::parts);
    const Solid piece = engine->build(*shape.solid);
    const Boundary boundary = engine->boundary(piece);
    const Box around = engine->box(piece);
    for (long x = -1; x <= 7; ++x)
      for (long y = -1; y <= 7; ++y)
        for (long z = -1; z <= 3; ++z) {
          const Vector3 point = at(x, y, z, 2);
          INFO(x << "/2 " << y << "/2 " << z << "/2");
          // A small cube round the point tells by its volume in common with the solid.
          const Number half = Number::fraction(1, 8);
          const Vector3 reach{half, half, half};
          const Solid probe = engine->build(*box_solid(point - reach, point + reach));
          const Number common =
              engine->overlapping_pairs({piece, probe}, {1, 1}).empty() ? Number(0) : engine->overlap(piece, probe).volume;
          const Number all = Number(8) * half * half * half;
          const int expected = common == all ? 1 : common.is_zero() ? -1 : 0;
          const int found = locate(boundary, point);
          if (expected != 0 || found != -1) CHECK(found == expected);
          if (expected == 0 && found == -1) {  // the cube reaches farther than the point
            const Vector3 less = Number::fraction(1, 64) * reach;
            const Solid smaller = engine->build(*box_solid(point - less, point + less));
            CHECK(engine->overlapping_pairs({piece, smaller}, {1, 1}).empty());
          }
          CHECK(engine->holds(piece, point) == (found > 0));
        }
  }
}

TEST_CASE("both engines agree where random pieces lie", "[places]") {
  const unsigned seed = 20261129;
  INFO("seed " << seed);
  Dice dice(seed);
  Bench bench(EngineChoice::both);
  Engine& engine = *bench.engine;
  for (int round = 0; round < (slow_tests() ? 20 : 2); ++round) {
    std::vector<Solid> pieces = {bench.cube(0, 0, 0, 3)};
    for (int cut = 0; cut < 3; ++cut) {
      const Plane plane = dice.plane_near({1, 1, 1}, Number(0));
      std::vector<Solid> next;
      for (const Solid& piece : pieces) {
        const Halves halves = engine.cut(piece, plane);
        for (const Solid& half : {halves.positive, halves.negative})
          if (half) next.push_back(half);
      }
      pieces = next;
      for (const Solid& piece : pieces)
        CHECK(!(engine.reaches_beyond(piece, plane) && engine.reaches_beyond(piece, opposite(plane))));
    }
    int holding = 0;
    for (const Solid& piece : pieces)
      holding += engine.holds(piece, {Number::fraction(1, 3), Number::fraction(1, 5), Number::fraction(1, 7)}) ? 1 : 0;
    CHECK(holding <= 1);
    CHECK(engine.inside(pieces, bench.cube(0, 0, 0, 3)) == std::vector<char>(pieces.size(), 1));
    engine.inside(pieces, pieces.front());
    engine.touching(pieces, {pieces.back()});
  }
}
