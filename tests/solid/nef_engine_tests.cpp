// SPDX-License-Identifier: GPL-3.0-or-later
// The Nef engine against volumes and counts that can be told by hand, and against laws of cutting, moving and joining.
#include "nef_test_support.hpp"
#include "solid/edges.hpp"
#include "solid/engine.hpp"

#include <catch2/catch.hpp>

using namespace cutproof;

namespace {

struct Bench {
  std::unique_ptr<Engine> engine = make_nef_engine();
  TestFields fields;

  Piece box(const Vector3& low, const Vector3& high) { return engine->build(*box_solid(low, high)); }
  Piece cube(int x, int y, int z, int size = 1) { return box({x, y, z}, {x + size, y + size, z + size}); }
  Number volume(const Piece& piece) { return piece ? engine->volume(piece) : Number(0); }
  bool same(const Piece& a, const Piece& b) { return engine->compare({a}, {b}).filled() && volume(a) == volume(b); }
};

}  // namespace

TEST_CASE("the Nef engine builds every kind of solid over every field") {
  Bench bench;
  for (const Number& unit : bench.fields.units())
    for (const NamedShape& shape : test_shapes(unit)) {
      INFO(shape.name << " over a field of degree " << unit.field().degree());
      const Piece piece = bench.engine->build(*shape.solid);
      REQUIRE(piece);
      CHECK(bench.volume(piece) == shape.volume);
      const Boundary boundary = bench.engine->boundary(piece);
      CHECK(volume(boundary) == shape.volume);
      CHECK(boundary.vertices.size() == shape.vertices);
      CHECK(boundary.facets.size() == shape.facets);
      CHECK(bench.engine->count_connected_parts(piece) == shape.parts);
      CHECK(bench.engine->connected_parts(piece).size() == shape.parts);
      for (const Facet& facet : boundary.facets)
        for (const std::vector<int>& cycle : facet.cycles)
          for (const int corner : cycle) CHECK(side_of(facet.plane, boundary.vertices[corner]) == 0);
      // The polyhedron that came out of many unions has the boundary that was described, to the last corner.
      if (const auto* described = std::get_if<SurfaceDescription>(&shape.solid->kind)) {
        const Boundary expected = normalised(described->boundary);
        CHECK(boundary.vertices == expected.vertices);
        REQUIRE(boundary.facets.size() == expected.facets.size());
        for (std::size_t i = 0; i < expected.facets.size(); ++i)
          CHECK(boundary.facets[i].cycles == expected.facets[i].cycles);
      }
    }
}

TEST_CASE("a plane cuts off what can be told by hand") {
  Bench bench;
  for (const Number& unit : bench.fields.units()) {
    const Piece cube = bench.box({0, 0, 0}, {unit, unit, unit});
    const Number whole = unit * unit * unit;
    const Halves corner = bench.engine->cut(cube, Plane{{1, 1, 1}, unit});
    CHECK(bench.volume(corner.negative) == Number::fraction(1, 6) * whole);
    CHECK(bench.volume(corner.positive) == Number::fraction(5, 6) * whole);
    const Halves hexagon = bench.engine->cut(cube, Plane{{1, 1, 1}, Number::fraction(3, 2) * unit});
    CHECK(bench.volume(hexagon.positive) == Number::fraction(1, 2) * whole);
    CHECK(bench.engine->boundary(hexagon.positive).facets.size() == 7);
    const Halves touching = bench.engine->cut(cube, Plane{{0, 0, 2}, Number(2) * unit});
    CHECK(touching.positive == nullptr);
    CHECK(touching.negative == cube);
    const Halves edge = bench.engine->cut(cube, Plane{{-1, -1, 0}, 0});
    CHECK(edge.positive == nullptr);
    // A slice of 1e-30 is a piece like any other.
    const Number thin = divide(Number(1), Number(1000000000L) * Number(1000000000L) * Number(1000000000000L));
    CHECK(bench.volume(bench.engine->cut(cube, Plane{{-1, 0, 0}, -thin}).positive) == thin * unit * unit);
  }
  // A U falls into three parts.
  const Piece u =
      bench.engine->build(*prism({scaled(1, {{0, 0}, {3, 0}, {3, 2}, {2, 2}, {2, 1}, {1, 1}, {1, 2}, {0, 2}})}, Number(1)));
  const Halves legs = bench.engine->cut(u, Plane{{0, 1, 0}, 1});
  const std::vector<Piece> parts = bench.engine->connected_parts(legs.positive);
  REQUIRE(parts.size() == 2);
  CHECK(bench.engine->box(parts[0]).maximum == Vector3{1, 2, 1});
  CHECK(bench.engine->box(parts[1]).minimum == Vector3{2, 1, 0});
}

TEST_CASE("booleans are regularised") {
  Bench bench;
  const auto boolean = [](BooleanKind kind, std::vector<SolidPointer> operands) {
    return make_solid(BooleanDescription{kind, std::move(operands)});
  };
  const SolidPointer left = box_solid({0, 0, 0}, {1, 1, 1}), right = box_solid({1, 0, 0}, {2, 1, 1}),
                     middle = box_solid({Number::fraction(1, 2), 0, 0}, {Number::fraction(3, 2), 1, 1});
  CHECK(bench.engine->build(*boolean(BooleanKind::intersection_of_all, {left, right})) == nullptr);
  CHECK(bench.engine->build(*boolean(BooleanKind::first_minus_others, {middle, left, right})) == nullptr);
  const Piece both = bench.engine->build(*boolean(BooleanKind::union_of_all, {left, right, middle}));
  CHECK(bench.volume(both) == Number(2));
  CHECK(bench.engine->boundary(both).facets.size() == 6);
  CHECK(bench.engine->boundary(both).vertices.size() == 8);
  const Piece rest = bench.engine->build(*boolean(BooleanKind::first_minus_others, {left, middle}));
  CHECK(bench.volume(rest) == Number::fraction(1, 2));
  PlacedDescription doubled{left, Motion::reflection(Plane{{1, 0, 0}, 0}), Number(2), {1, 1, 1}};
  const Piece placed = bench.engine->build(*make_solid(doubled));
  CHECK(bench.volume(placed) == Number(8));
  CHECK(bench.engine->box(placed).minimum == Vector3{-1, -1, -1});
  CHECK(bench.engine->box(placed).maximum == Vector3{1, 1, 1});
  CHECK_THROWS_AS(bench.engine->build(*make_solid(HullDescription{{{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {1, 1, 0}}})),
                  ToolFault);
}

TEST_CASE("overlaps are found with their volume, and touching is none") {
  Bench bench;
  // Overlapping with the first: the second and the last. The others touch it in a face, an edge, a corner.
  const std::vector<Piece> pieces = {bench.cube(0, 0, 0, 2), bench.cube(1, 1, 1, 2), bench.cube(2, 0, 0),
                                     bench.cube(-1, -1, 0),  bench.cube(-1, -1, -1), bench.cube(0, 0, 0)};
  using Pairs = std::vector<std::pair<std::size_t, std::size_t>>;
  CHECK(bench.engine->overlapping_pairs(pieces, {1, 1, 1, 1, 1, 1}) == Pairs{{0, 1}, {0, 5}});
  CHECK(bench.engine->overlapping_pairs(pieces, {0, 0, 0, 0, 0, 1}) == Pairs{{0, 5}});
  CHECK(bench.engine->overlapping_pairs(pieces, {0, 0, 1, 1, 1, 0}).empty());
  const Region region = bench.engine->overlap(pieces[0], pieces[1]);
  CHECK(region.volume == Number(1));
  CHECK(region.box.minimum == Vector3{1, 1, 1});
  CHECK(region.corners.size() == 8);
  CHECK(std::is_sorted(region.corners.begin(), region.corners.end()));
  // A rod through the tunnel of a frame touches it all around; one a little thicker does not.
  const Piece frame = bench.engine->build(*test_shapes(1)[3].solid);
  const Piece rod = bench.box({1, 1, -1}, {2, 2, 2});
  CHECK(bench.engine->overlapping_pairs({frame, rod}, {1, 0}).empty());
  const Number more = Number(2) + Number::fraction(1, 1000000000000L);
  const Piece thick = bench.box({1, 1, -1}, {2, more, 2});
  REQUIRE(bench.engine->overlapping_pairs({frame, thick}, {1, 0}).size() == 1);
  CHECK(bench.engine->overlap(frame, thick).volume == Number::fraction(1, 1000000000000L));
}

TEST_CASE("pieces hang together through areas, not through edges or corners") {
  Bench bench;
  const Piece a = bench.cube(0, 0, 0), face = bench.cube(1, 0, 0), edge = bench.cube(-1, -1, 0),
              corner = bench.cube(-1, 1, 1), overlapping = bench.box({0, 0, Number::fraction(1, 2)}, {1, 1, 2});
  CHECK(bench.engine->count_linked_groups({a}) == 1);
  CHECK(bench.engine->count_linked_groups({a, face}) == 1);
  CHECK(bench.engine->count_linked_groups({a, edge}) == 2);
  CHECK(bench.engine->count_linked_groups({a, corner}) == 2);
  CHECK(bench.engine->count_linked_groups({a, overlapping}) == 1);
  CHECK(bench.engine->count_linked_groups({face, edge, a, corner}) == 3);
  // Two boxes that touch along an edge are one piece with two parts, and a third box may hang on either.
  const Piece pair = bench.engine->joined({a, bench.cube(1, 1, 0)});
  CHECK(bench.engine->count_connected_parts(pair) == 2);
  CHECK(bench.engine->count_linked_groups({pair, bench.cube(2, 1, 0)}) == 1);
  CHECK(bench.engine->count_linked_groups({pair, bench.cube(2, 2, 0)}) == 2);
}

TEST_CASE("joined overlapping pieces keep their multiplicity") {
  Bench bench;
  const Piece big = bench.cube(0, 0, 0, 2), next = bench.cube(1, 1, 1, 2), bar = bench.box({1, 1, 1}, {2, 2, 5}),
              apart = bench.cube(7, 0, 0);
  const Piece sum = bench.engine->joined({big, next, bar, apart});
  CHECK(bench.volume(sum) == Number(8 + 8 + 4 + 1));
  CHECK(volume(bench.engine->boundary(sum)) == Number(15 + 2 + 1));
  // Layers: the union, what is covered twice (1x1x2), what is covered three times (1).
  const Halves halves = bench.engine->cut(sum, Plane{{0, 0, 1}, Number::fraction(3, 2)});
  CHECK(bench.volume(halves.positive) + bench.volume(halves.negative) == Number(21));
  CHECK(bench.volume(halves.positive) == Number(2) + Number(6) + Number::fraction(7, 2));
  const Motion motion = Motion::rotation({0, 0, 0}, {1, 1, 1}, Number::fraction(-1, 2), Number::fraction(1, 2));
  CHECK(bench.volume(bench.engine->moved(sum, motion)) == Number(21));
  const std::vector<Piece> parts = bench.engine->connected_parts(sum);
  REQUIRE(parts.size() == 2);
  CHECK(bench.volume(parts[0]) == Number(20));
  CHECK(bench.volume(parts[1]) == Number(1));
  CHECK(bench.volume(bench.engine->joined({big, big, big})) == Number(24));
}

TEST_CASE("missing and excess regions, and pieces in two goals") {
  Bench bench;
  const std::vector<Piece> goals = {bench.box({0, 0, 0}, {2, 1, 1}), bench.cube(-1, 0, 0)};
  // The first lies in the first goal; the second outside; the third in both goals and half outside.
  const Number half = Number::fraction(1, 2);
  const std::vector<Piece> pieces = {bench.cube(0, 0, 0), bench.cube(2, 0, 0), bench.box({-half, 0, half}, {half, 1, 2})};
  const GoalComparison comparison = bench.engine->compare(pieces, goals);
  REQUIRE(comparison.missing.size() == 2);
  CHECK(comparison.missing[0].region.volume == Number::fraction(3, 4));
  CHECK(comparison.missing[0].pieces == std::vector<std::size_t>{0, 2});
  CHECK(comparison.missing[0].region.corners.size() == 12);
  CHECK(comparison.missing[1].region.volume == Number(1));
  CHECK(comparison.missing[1].pieces == std::vector<std::size_t>{0, 1});
  REQUIRE(comparison.excess.size() == 2);
  CHECK(comparison.excess[0].region.volume == Number(1));
  CHECK(comparison.excess[0].pieces == std::vector<std::size_t>{2});
  CHECK(comparison.excess[1].pieces == std::vector<std::size_t>{1});
  REQUIRE(comparison.straddling.size() == 1);
  CHECK(comparison.straddling[0].first == 2);
  CHECK(comparison.straddling[0].second == std::vector<std::size_t>{0, 1});
  // Nothing is too small to be shown.
  const Number tiny = Number::fraction(1, 1000000000000000000L);
  const GoalComparison off =
      bench.engine->compare({bench.box({tiny, 0, 0}, {Number(1) + tiny, 1, 1})}, {bench.cube(0, 0, 0)});
  REQUIRE(off.missing.size() == 1);
  REQUIRE(off.excess.size() == 1);
  CHECK(off.missing[0].region.volume == tiny);
  CHECK(off.excess[0].region.volume == tiny);
}

TEST_CASE("edge terms tell convex from reflex and where sectors meet") {
  Bench bench;
  const std::vector<NamedShape> shapes = test_shapes(bench.fields.units()[1]);
  // Name, edges, reflex edges: an edge where two sectors meet gives two terms (at the pinch pairing may make them reflex).
  const std::vector<std::tuple<std::size_t, int, int>> expected = {
      {0, 6, 0}, {1, 12, 0}, {2, 18, 1}, {3, 24, 4}, {4, 24, 12}};
  for (const auto& [shape, edges, reflex] : expected) {
    INFO(shapes[shape].name);
    int terms = 0, inward = 0;
    bench.engine->for_each_edge_term(bench.engine->build(*shapes[shape].solid), [&](const EdgeTerm& term) {
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
    bench.engine->for_each_edge_term(bench.engine->build(*shapes[shape].solid), [&](const EdgeTerm&) { ++terms; });
    CHECK(terms == edges);
  }
}

TEST_CASE("laws of cutting, moving and joining") {
  Bench bench;
  for (unsigned seed = 1; seed <= 12; ++seed) {
    Dice dice(seed);
    const Number& unit = bench.fields.units()[seed % 3];
    const std::vector<NamedShape> shapes = test_shapes(unit);
    const NamedShape& shape = shapes[static_cast<std::size_t>(dice.upto(static_cast<long>(shapes.size()) - 1))];
    INFO("seed " << seed << ": " << shape.name << " over a field of degree " << unit.field().degree());
    const Piece piece = bench.engine->build(*shape.solid);
    const Motion motion = dice.motion(unit);
    const Piece moved = bench.engine->moved(piece, motion);
    CHECK(bench.same(bench.engine->moved(moved, motion.inverse()), piece));
    const Plane plane = dice.plane_near(
        Number::fraction(1, 2) * (bench.engine->box(moved).minimum + bench.engine->box(moved).maximum), unit);
    const Halves halves = bench.engine->cut(moved, plane);
    CHECK(bench.volume(halves.positive) + bench.volume(halves.negative) == shape.volume);
    std::vector<Piece> parts;
    for (const Piece& half : {halves.positive, halves.negative})
      if (half) parts.push_back(half);
    if (parts.size() == 2) CHECK(bench.engine->overlapping_pairs(parts, {1, 1}).empty());
    CHECK(bench.same(bench.engine->joined(parts), moved));
    // A mirror image is cut as the solid is cut by the mirror image of the plane.
    const Motion mirror = Motion::reflection(dice.plane_near(dice.vector(unit), unit));
    const Halves images = bench.engine->cut(bench.engine->moved(moved, mirror), mirror(plane));
    REQUIRE((images.positive == nullptr) == (halves.positive == nullptr));
    if (halves.positive) CHECK(bench.same(images.positive, bench.engine->moved(halves.positive, mirror)));
  }
}

TEST_CASE("a long chain of motions and cuts keeps numbers short") {
  Bench bench;
  const Motion turn = Motion::rotation({0, 0, 0}, {0, 0, 1}, Number::fraction(3, 5), Number::fraction(4, 5))
                          .then(Motion::rotation({1, 0, 0}, {1, 0, 0}, Number::fraction(5, 13), Number::fraction(12, 13)));
  Piece piece = bench.cube(0, 0, 0, 2);
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
  CHECK(bench.engine->count_connected_parts(piece) == 1);
}

TEST_CASE("pieces of another engine are refused") {
  struct Foreign : EnginePiece {};
  CHECK_THROWS_AS(make_nef_engine()->volume(std::make_shared<Foreign>()), ToolFault);
}
