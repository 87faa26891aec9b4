// SPDX-License-Identifier: GPL-3.0-or-later
// The parts engine against laws over the whole collection of solids and against answers worked out by hand.
#include "nef_test_support.hpp"
#include "solid/edges.hpp"
#include "solid/engine.hpp"
#include "zoo/zoo.hpp"

#include <catch2/catch.hpp>

using namespace cutproof;
using zoo::ZooSolid;

namespace {

struct Bench {
  std::unique_ptr<Engine> engine = make_parts_engine();

  Piece box(const Vector3& low, const Vector3& high) { return engine->build(*box_solid(low, high)); }
  Piece cube(int x, int y, int z, int size = 1) { return box({x, y, z}, {x + size, y + size, z + size}); }
  Number volume(const Piece& piece) { return piece ? engine->volume(piece) : Number(0); }
  bool same(const Piece& a, const Piece& b) { return engine->compare({a}, {b}).filled(); }
  std::vector<Piece> cut(const std::vector<Piece>& pieces, const Plane& plane) {
    std::vector<Piece> result;
    for (const Piece& piece : pieces) {
      const Halves halves = engine->cut(piece, plane);
      for (const Piece& half : {halves.positive, halves.negative})
        if (half) result.push_back(half);
    }
    return result;
  }
  Vector3 middle(const Piece& piece) {
    const Box around = engine->box(piece);
    return Number::fraction(1, 2) * (around.minimum + around.maximum);
  }
};

void check_equal(const Boundary& found, const Boundary& expected) {
  CHECK(found.vertices == expected.vertices);
  REQUIRE(found.facets.size() == expected.facets.size());
  for (std::size_t i = 0; i < found.facets.size(); ++i) CHECK(found.facets[i].cycles == expected.facets[i].cycles);
}

}  // namespace

TEST_CASE("cut, carry apart and together, join: the same solid to the last corner", "[parts]") {
  unsigned seed = 100, cases = 0;
  for (const ZooSolid& solid : zoo::all_solids()) {
    Bench bench;  // an engine works in one tower of fields
    Dice dice(++seed);
    INFO("seed " << seed << ": " << solid.name);
    // numbers of the solid's own tower; the regular ones have towers of their own
    const Field& field = solid.volume.field();
    const Number unit = field.degree() > 1 ? Number::generator(field) : zoo::generator_of_degree(solid.degree);
    const Piece start = bench.engine->build(*solid.solid);
    std::vector<Piece> pieces{start};
    for (int i = 0; i < 3; ++i) pieces = bench.cut(pieces, dice.plane_near(bench.middle(pieces[pieces.size() / 2]), unit));
    for (Piece& piece : pieces) {
      const Motion motion = dice.motion(unit);
      piece = bench.engine->moved(bench.engine->moved(piece, motion), motion.inverse());
    }
    std::vector<Number> volumes;
    for (const Piece& piece : pieces) volumes.push_back(bench.volume(piece));
    CHECK(balanced_sum(volumes) == solid.volume);
    CHECK(bench.engine->overlapping_pairs(pieces, std::vector<char>(pieces.size(), 1)).empty());
    CHECK(bench.engine->compare(pieces, {start}).filled());
    CHECK(bench.engine->compare_disjoint({start}, pieces).filled());
    const Piece whole = bench.engine->joined(pieces);
    CHECK(bench.engine->count_connected_parts(whole) == bench.engine->count_connected_parts(start));
    check_equal(bench.engine->boundary(whole), bench.engine->boundary(start));
    ++cases;
  }
  CHECK(cases > 30);
}

TEST_CASE("a lost piece is missing, exactly", "[parts]") {
  Bench bench;
  unsigned seed = 500;
  for (const ZooSolid& solid : zoo::rational_solids()) {
    Dice dice(++seed);
    INFO("seed " << seed << ": " << solid.name);
    const Piece start = bench.engine->build(*solid.solid);
    std::vector<Piece> pieces{start};
    for (int i = 0; i < 3; ++i) pieces = bench.cut(pieces, dice.plane_near(bench.middle(start), Number(1)));
    if (pieces.size() < 2) continue;
    const Piece lost = pieces.back();
    pieces.pop_back();
    const GoalComparison comparison = bench.engine->compare(pieces, {start});
    CHECK(comparison.excess.empty());
    const std::vector<Piece> parts = bench.engine->connected_parts(lost);
    REQUIRE(comparison.missing.size() == parts.size());
    for (std::size_t i = 0; i < parts.size(); ++i) {
      const Region& region = comparison.missing[i].region;
      CHECK(region.volume == bench.volume(parts[i]));
      CHECK(region.corners == bench.engine->boundary(parts[i]).vertices);
      CHECK(region.box.minimum == bench.engine->box(parts[i]).minimum);
      CHECK(region.box.maximum == bench.engine->box(parts[i]).maximum);
    }
  }
}

TEST_CASE("a solid equals itself moved by its symmetries, and nothing else", "[parts]") {
  const Number half = Number::fraction(1, 2);
  const Motion third = Motion::rotation({0, 0, 0}, {1, 1, 1}, -half, half);  // 120 degrees: sin / |axis| = 1/2
  const Motion quarter = Motion::rotation({0, 0, 0}, {0, 0, 1}, 0, 1);
  for (const ZooSolid& solid : zoo::regular_solids()) {
    Bench bench;  // an engine works in one tower of fields
    INFO(solid.name);
    const Piece piece = bench.engine->build(*solid.solid);
    const Vector3 centre = bench.middle(piece);
    const auto about = [&](const Motion& motion) {
      return Motion::translation(-centre).then(motion).then(Motion::translation(centre));
    };
    CHECK(bench.same(bench.engine->moved(piece, about(third)), piece));
    CHECK(bench.same(bench.engine->moved(piece, about(quarter.then(quarter))), piece));
    const bool cubic = solid.name.find("cube") != std::string::npos || solid.name.find("octa") != std::string::npos;
    CHECK(bench.same(bench.engine->moved(piece, about(quarter)), piece) == cubic);
  }
}

TEST_CASE("overlap, multiplicity and parts by hand", "[parts]") {
  Bench bench;
  const Piece big = bench.cube(0, 0, 0, 2), next = bench.cube(1, 1, 1, 2), bar = bench.box({1, 1, 1}, {2, 2, 5}),
              apart = bench.cube(7, 0, 0);
  CHECK(bench.engine->overlap(big, next).volume == Number(1));
  const Piece sum = bench.engine->joined({big, next, bar, apart});
  CHECK(bench.volume(sum) == Number(8 + 8 + 4 + 1));
  CHECK(volume(bench.engine->boundary(sum)) == Number(15 + 2 + 1));
  const Halves halves = bench.engine->cut(sum, Plane{{0, 0, 1}, Number::fraction(3, 2)});
  CHECK(bench.volume(halves.positive) == Number(2) + Number(6) + Number::fraction(7, 2));
  CHECK(bench.volume(halves.positive) + bench.volume(halves.negative) == Number(21));
  const std::vector<Piece> parts = bench.engine->connected_parts(sum);
  REQUIRE(parts.size() == 2);
  CHECK(bench.volume(parts[0]) == Number(20));
  CHECK(bench.volume(parts[1]) == Number(1));
  CHECK(bench.volume(bench.engine->joined({big, big, big})) == Number(24));
  // Three layers joined to one more of the same: the multiplicity of sums adds up.
  CHECK(bench.volume(bench.engine->joined({sum, big})) == Number(29));
  // Filled is about regions: covering twice covers.
  CHECK(bench.same(bench.engine->joined({big, big}), big));
  CHECK(bench.engine->compare({big, big}, {big}).filled());
  // Equal in volume with what is wanted, but one half twice and the other not at all.
  const Piece left = bench.box({0, 0, 0}, {1, 2, 2});
  const GoalComparison twice = bench.engine->compare({left, left}, {big});
  REQUIRE(twice.missing.size() == 1);
  CHECK(twice.missing[0].region.volume == Number(4));
  CHECK(twice.missing[0].pieces == std::vector<std::size_t>{0, 1});
  CHECK(twice.excess.empty());
}

TEST_CASE("missing and excess regions by hand", "[parts]") {
  Bench bench;
  const std::vector<Piece> goals = {bench.box({0, 0, 0}, {2, 1, 1}), bench.cube(-1, 0, 0)};
  const Number half = Number::fraction(1, 2);
  const std::vector<Piece> pieces = {bench.cube(0, 0, 0), bench.cube(2, 0, 0), bench.box({-half, 0, half}, {half, 1, 2})};
  const GoalComparison comparison = bench.engine->compare(pieces, goals);
  REQUIRE(comparison.missing.size() == 2);
  CHECK(comparison.missing[0].region.volume == Number::fraction(3, 4));
  CHECK(comparison.missing[0].pieces == std::vector<std::size_t>{0, 2});
  CHECK(comparison.missing[0].region.corners.size() == 12);
  CHECK(comparison.missing[1].pieces == std::vector<std::size_t>{0, 1});
  REQUIRE(comparison.excess.size() == 2);
  CHECK(comparison.excess[0].region.volume == Number(1));
  CHECK(comparison.excess[0].pieces == std::vector<std::size_t>{2});
  CHECK(comparison.excess[1].pieces == std::vector<std::size_t>{1});
  REQUIRE(comparison.straddling.size() == 1);
  CHECK(comparison.straddling[0].first == 2);
  CHECK(comparison.straddling[0].second == std::vector<std::size_t>{0, 1});
  // A cube pushed by 1e-30 along a direction that no axis has.
  const Number tiny = Number::fraction(1, 1000000000000000L) * Number::fraction(1, 1000000000000000L);
  const Piece pushed = bench.engine->moved(bench.cube(0, 0, 0), Motion::translation({tiny, tiny, -tiny}));
  const GoalComparison off = bench.engine->compare({pushed}, {bench.cube(0, 0, 0)});
  REQUIRE(off.missing.size() == 1);
  REQUIRE(off.excess.size() == 1);
  CHECK(off.missing[0].region.volume == Number(1) - (Number(1) - tiny) * (Number(1) - tiny) * (Number(1) - tiny));
  CHECK(off.missing[0].region.corners.size() == 14);
}

TEST_CASE("pieces hang together through areas", "[parts]") {
  Bench bench;
  const Piece a = bench.cube(0, 0, 0), face = bench.cube(1, 0, 0), edge = bench.cube(-1, -1, 0), corner = bench.cube(-1, 1, 1);
  CHECK(bench.engine->count_linked_groups({a, face}) == 1);
  CHECK(bench.engine->count_linked_groups({face, edge, a, corner}) == 3);
  CHECK(bench.engine->count_linked_groups({a, bench.box({0, 0, Number::fraction(1, 2)}, {1, 1, 2})}) == 1);
  const Piece pair = bench.engine->joined({a, bench.cube(1, 1, 0)});
  CHECK(bench.engine->count_connected_parts(pair) == 2);
  CHECK(bench.engine->count_linked_groups({pair, bench.cube(2, 1, 0)}) == 1);
  CHECK(bench.engine->count_linked_groups({pair, bench.cube(2, 2, 0)}) == 2);
  // Parts in the order of their smallest corners, whatever the order of joining.
  const std::vector<Piece> parts = bench.engine->connected_parts(bench.engine->joined({bench.cube(5, 0, 0), corner, edge}));
  REQUIRE(parts.size() == 3);
  CHECK(bench.engine->box(parts[0]).minimum == Vector3{-1, -1, 0});
  CHECK(bench.engine->box(parts[1]).minimum == Vector3{-1, 1, 1});
  CHECK(bench.engine->box(parts[2]).minimum == Vector3{5, 0, 0});
}

TEST_CASE("booleans and copies by parts", "[parts]") {
  Bench bench;
  const SolidPointer left = box_solid({0, 0, 0}, {1, 1, 1}), right = box_solid({1, 0, 0}, {2, 1, 1}),
                     middle = box_solid({Number::fraction(1, 2), 0, 0}, {Number::fraction(3, 2), 1, 1});
  const auto boolean = [&](BooleanKind kind, std::vector<SolidPointer> operands) {
    return bench.engine->build(*make_solid(BooleanDescription{kind, std::move(operands)}));
  };
  CHECK(boolean(BooleanKind::intersection_of_all, {left, right}) == nullptr);
  CHECK(boolean(BooleanKind::first_minus_others, {middle, left, right}) == nullptr);
  CHECK(bench.engine->boundary(boolean(BooleanKind::union_of_all, {left, right, middle})).facets.size() == 6);
  CHECK(bench.volume(boolean(BooleanKind::first_minus_others, {left, middle})) == Number::fraction(1, 2));
  const Piece mirrored = bench.engine->build(
      *make_solid(PlacedDescription{test_shapes(Number(1))[2].solid, Motion::reflection(Plane{{1, 0, 0}, 0}), Number(2), {1, 1, 1}}));
  CHECK(bench.volume(mirrored) == Number(24));
  CHECK(volume(bench.engine->boundary(mirrored)) == Number(24));
  CHECK(bench.engine->box(mirrored).minimum == Vector3{-3, -1, -1});
}

TEST_CASE("pieces of another engine are refused by the parts engine", "[parts]") {
  struct Foreign : EnginePiece {};
  CHECK_THROWS_AS(make_parts_engine()->volume(std::make_shared<Foreign>()), ToolFault);
  CHECK_THROWS_AS(make_parts_engine()->volume(nullptr), ToolFault);
}
