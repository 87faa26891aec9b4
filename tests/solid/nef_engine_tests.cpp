// SPDX-License-Identifier: GPL-3.0-or-later
// What is particular to the Nef engine: which edge terms it gives, and how long its numbers grow.
#include "engine_test_support.hpp"

using namespace cutproof;

TEST_CASE("edge terms tell convex from reflex and where sectors meet") {
  Bench bench(EngineChoice::nef);
  const std::vector<NamedShape> shapes = test_shapes(zoo::generator_of_degree(2));
  // Name, edges, reflex edges: an edge where two sectors meet gives two terms (at the pinch pairing may make them reflex).
  const std::vector<std::tuple<std::size_t, int, int>> expected = {
      {0, 6, 0}, {1, 12, 0}, {2, 18, 1}, {3, 24, 4}, {4, 24, 12}};
  for (const auto& [shape, edges, reflex] : expected) {
    INFO(shapes[shape].name);
    int terms = 0, inward = 0;
    bench.engine->for_each_edge(bench.engine->build(*shapes[shape].solid), [&](const EdgeOfPiece& edge) {
      const EdgeTerm term = edge.term();
      const Vector3 normal = cross(term.first, term.second);
      CHECK(is_zero(cross(normal, term.edge)));
      ++terms;
      if (dot(normal, term.edge).sign() < 0) ++inward;
    });
    CHECK(terms == edges);
    CHECK(inward == reflex);
  }
  for (const auto& [shape, edges] : std::vector<std::pair<std::size_t, int>>{{5, 30}, {6, 24}}) {
    int terms = 0;
    bench.engine->for_each_edge(bench.engine->build(*shapes[shape].solid), [&](const EdgeOfPiece&) { ++terms; });
    CHECK(terms == edges);
  }
}

TEST_CASE("a long chain of motions and cuts keeps numbers short") {
  Bench bench(EngineChoice::nef);
  const Motion turn = Motion::rotation({0, 0, 0}, {0, 0, 1}, Number::fraction(3, 5), Number::fraction(4, 5))
                          .then(Motion::rotation({1, 0, 0}, {1, 0, 0}, Number::fraction(5, 13), Number::fraction(12, 13)));
  Solid piece = bench.cube(0, 0, 0, 2);
  std::vector<std::size_t> bits;
  for (int step = 0; step < 40; ++step) {
    piece = bench.engine->moved(piece, turn);
    if (step % 10 == 9) {
      // A short plane that cuts off a little of whatever sticks out.
      const double reach = bench.engine->box(piece).maximum.x.approximate();
      const Halves halves =
          bench.engine->cut(piece, Plane{{1, 0, 0}, Number::fraction(static_cast<long>(reach * 8 - 0.5), 8)});
      REQUIRE(halves.positive);
      piece = halves.negative;
      bits.push_back(bench.engine->bits(piece));
    }
  }
  // Growth is linear: 2.3 bits a turn of the first kind and 3.7 of the second.
  CHECK(bits[3] - bits[2] < 2 * (bits[1] - bits[0]));
  CHECK(bench.engine->count_connected_components(piece) == 1);
}
