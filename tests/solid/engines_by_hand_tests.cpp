// SPDX-License-Identifier: GPL-3.0-or-later
// Each engine by itself against volumes, counts and regions that can be told by hand.
#include "engine_test_support.hpp"
#include "solid/edges.hpp"

using namespace cutproof;

namespace {

constexpr int degrees[] = {1, 2, 4};

EngineChoice each_engine() {
  return GENERATE(EngineChoice::parts, EngineChoice::nef);
}

}  // namespace

TEST_CASE("every kind of solid is built over every field") {
  const EngineChoice choice = each_engine();
  for (const int degree : degrees)
    for (const NamedShape& shape : test_shapes(zoo::generator_of_degree(degree))) {
      INFO(engine_word(choice) << ": " << shape.name << " over a field of degree " << degree);
      Bench bench(choice);
      const Solid piece = bench.engine->build(*shape.solid);
      REQUIRE(piece);
      CHECK(bench.volume(piece) == shape.volume);
      const Boundary boundary = bench.engine->boundary(piece);
      CHECK(volume(boundary) == shape.volume);
      CHECK(boundary.vertices.size() == shape.vertices);
      CHECK(boundary.facets.size() == shape.facets);
      CHECK(bench.engine->count_connected_components(piece) == shape.parts);
      CHECK(bench.engine->connected_components(piece).size() == shape.parts);
      for (const Facet& facet : boundary.facets)
        for (const std::vector<int>& cycle : facet.cycles)
          for (const int corner : cycle) CHECK(side_of(facet.plane, boundary.vertices[corner]) == 0);
      // What came out of many unions and cuts has the boundary that was described, to the last corner.
      if (const auto* described = std::get_if<SurfaceDescription>(&shape.solid->kind))
        check_equal(boundary, normalised(described->boundary));
    }
}

TEST_CASE("a plane cuts off what can be told by hand") {
  const EngineChoice choice = each_engine();
  for (const int degree : degrees) {
    Bench bench(choice);
    CAPTURE(engine_word(choice), degree);
    const Number& unit = zoo::generator_of_degree(degree);
    const Solid cube = bench.box({0, 0, 0}, {unit, unit, unit});
    const Number whole = unit * unit * unit;
    const Halves corner = bench.engine->cut(cube, Plane{{1, 1, 1}, unit});
    CHECK(bench.volume(corner.negative) == Number::fraction(1, 6) * whole);
    CHECK(bench.volume(corner.positive) == Number::fraction(5, 6) * whole);
    const Halves hexagon = bench.engine->cut(cube, Plane{{1, 1, 1}, Number::fraction(3, 2) * unit});
    CHECK(bench.volume(hexagon.positive) == Number::fraction(1, 2) * whole);
    CHECK(bench.engine->boundary(hexagon.positive).facets.size() == 7);
    const Halves touching = bench.engine->cut(cube, Plane{{0, 0, 2}, Number(2) * unit});
    CHECK(touching.positive == nullptr);
    CHECK(bench.same(touching.negative, cube));
    const Halves edge = bench.engine->cut(cube, Plane{{-1, -1, 0}, 0});
    CHECK(edge.positive == nullptr);
    // A slice of 1e-30 is a piece like any other.
    const Number thin = divide(Number(1), Number(1000000000L) * Number(1000000000L) * Number(1000000000000L));
    CHECK(bench.volume(bench.engine->cut(cube, Plane{{-1, 0, 0}, -thin}).positive) == thin * unit * unit);
  }
  // A U falls into three parts.
  Bench bench(choice);
  const Solid u =
      bench.engine->build(*prism({scaled(1, {{0, 0}, {3, 0}, {3, 2}, {2, 2}, {2, 1}, {1, 1}, {1, 2}, {0, 2}})}, Number(1)));
  const Halves legs = bench.engine->cut(u, Plane{{0, 1, 0}, 1});
  const std::vector<Solid> parts = bench.engine->connected_components(legs.positive);
  REQUIRE(parts.size() == 2);
  CHECK(bench.engine->box(parts[0]).maximum == Vector3{1, 2, 1});
  CHECK(bench.engine->box(parts[1]).minimum == Vector3{2, 1, 0});
}

TEST_CASE("booleans are regularised") {
  Bench bench(each_engine());
  CAPTURE(bench.engine->name());
  const auto boolean = [](BooleanKind kind, std::vector<SolidPointer> operands) {
    return make_solid(BooleanDescription{kind, std::move(operands)});
  };
  const SolidPointer left = box_solid({0, 0, 0}, {1, 1, 1}), right = box_solid({1, 0, 0}, {2, 1, 1}),
                     middle = box_solid({Number::fraction(1, 2), 0, 0}, {Number::fraction(3, 2), 1, 1});
  CHECK(bench.engine->build(*boolean(BooleanKind::intersection_of_all, {left, right})) == nullptr);
  CHECK(bench.engine->build(*boolean(BooleanKind::first_minus_others, {middle, left, right})) == nullptr);
  const Solid both = bench.engine->build(*boolean(BooleanKind::union_of_all, {left, right, middle}));
  CHECK(bench.volume(both) == Number(2));
  CHECK(bench.engine->boundary(both).facets.size() == 6);
  CHECK(bench.engine->boundary(both).vertices.size() == 8);
  const Solid rest = bench.engine->build(*boolean(BooleanKind::first_minus_others, {left, middle}));
  CHECK(bench.volume(rest) == Number::fraction(1, 2));
  PlacedDescription doubled{left, Motion::reflection(Plane{{1, 0, 0}, 0}), Number(2), {1, 1, 1}};
  const Solid placed = bench.engine->build(*make_solid(doubled));
  CHECK(bench.volume(placed) == Number(8));
  CHECK(bench.engine->box(placed).minimum == Vector3{-1, -1, -1});
  CHECK(bench.engine->box(placed).maximum == Vector3{1, 1, 1});
  const Solid mirrored = bench.engine->build(*make_solid(
      PlacedDescription{test_shapes(Number(1))[2].solid, Motion::reflection(Plane{{1, 0, 0}, 0}), Number(2), {1, 1, 1}}));
  CHECK(bench.volume(mirrored) == Number(24));
  CHECK(volume(bench.engine->boundary(mirrored)) == Number(24));
  CHECK(bench.engine->box(mirrored).minimum == Vector3{-3, -1, -1});
  CHECK_THROWS(bench.engine->build(*make_solid(HullDescription{{{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {1, 1, 0}}})));
}

TEST_CASE("overlaps are found with their volume, and touching is none") {
  Bench bench(each_engine());
  CAPTURE(bench.engine->name());
  // Overlapping with the first: the second and the last. The others touch it in a face, an edge, a corner.
  const std::vector<Solid> pieces = {bench.cube(0, 0, 0, 2), bench.cube(1, 1, 1, 2), bench.cube(2, 0, 0),
                                     bench.cube(-1, -1, 0),  bench.cube(-1, -1, -1), bench.cube(0, 0, 0)};
  using Pairs = std::vector<std::pair<std::size_t, std::size_t>>;
  CHECK(bench.engine->overlapping_pairs(pieces, {1, 1, 1, 1, 1, 1}) == Pairs{{0, 1}, {0, 5}});
  CHECK(bench.engine->overlapping_pairs(pieces, {0, 0, 0, 0, 0, 1}) == Pairs{{0, 5}});
  CHECK(bench.engine->overlapping_pairs(pieces, {0, 0, 1, 1, 1, 0}).empty());
  const Region region = bench.engine->overlap(pieces[0], pieces[1]);
  CHECK(region.volume == Number(1));
  CHECK(region.box.minimum == Vector3{1, 1, 1});
  CHECK(region.corners().size() == 8);
  CHECK(std::is_sorted(region.corners().begin(), region.corners().end()));
  // A rod through the tunnel of a frame touches it all around; one a little thicker does not.
  const Solid frame = bench.engine->build(*test_shapes(1)[3].solid);
  const Solid rod = bench.box({1, 1, -1}, {2, 2, 2});
  CHECK(bench.engine->overlapping_pairs({frame, rod}, {1, 0}).empty());
  const Number more = Number(2) + Number::fraction(1, 1000000000000L);
  const Solid thick = bench.box({1, 1, -1}, {2, more, 2});
  REQUIRE(bench.engine->overlapping_pairs({frame, thick}, {1, 0}).size() == 1);
  CHECK(bench.engine->overlap(frame, thick).volume == Number::fraction(1, 1000000000000L));
}

TEST_CASE("pieces hang together through areas, not through edges or corners") {
  Bench bench(each_engine());
  CAPTURE(bench.engine->name());
  const Solid a = bench.cube(0, 0, 0), face = bench.cube(1, 0, 0), edge = bench.cube(-1, -1, 0),
              corner = bench.cube(-1, 1, 1), overlapping = bench.box({0, 0, Number::fraction(1, 2)}, {1, 1, 2});
  CHECK(bench.engine->count_linked_groups({a}) == 1);
  CHECK(bench.engine->count_linked_groups({a, face}) == 1);
  CHECK(bench.engine->count_linked_groups({a, edge}) == 2);
  CHECK(bench.engine->count_linked_groups({a, corner}) == 2);
  CHECK(bench.engine->count_linked_groups({a, overlapping}) == 1);
  CHECK(bench.engine->count_linked_groups({face, edge, a, corner}) == 3);
  // Two boxes that touch along an edge are one piece with two parts, and a third box may hang on either.
  const Solid pair = bench.engine->joined({a, bench.cube(1, 1, 0)});
  CHECK(bench.engine->count_connected_components(pair) == 2);
  CHECK(bench.engine->count_linked_groups({pair, bench.cube(2, 1, 0)}) == 1);
  CHECK(bench.engine->count_linked_groups({pair, bench.cube(2, 2, 0)}) == 2);
  // Parts in the order of their smallest corners, whatever the order of joining.
  const std::vector<Solid> parts =
      bench.engine->connected_components(bench.engine->joined({bench.cube(5, 0, 0), corner, edge}));
  REQUIRE(parts.size() == 3);
  CHECK(bench.engine->box(parts[0]).minimum == Vector3{-1, -1, 0});
  CHECK(bench.engine->box(parts[1]).minimum == Vector3{-1, 1, 1});
  CHECK(bench.engine->box(parts[2]).minimum == Vector3{5, 0, 0});
}

TEST_CASE("joined overlapping pieces keep their multiplicity") {
  Bench bench(each_engine());
  CAPTURE(bench.engine->name());
  const Solid big = bench.cube(0, 0, 0, 2), next = bench.cube(1, 1, 1, 2), bar = bench.box({1, 1, 1}, {2, 2, 5}),
              apart = bench.cube(7, 0, 0);
  const Solid sum = bench.engine->joined({big, next, bar, apart});
  CHECK(bench.volume(sum) == Number(8 + 8 + 4 + 1));
  CHECK(volume(bench.engine->boundary(sum)) == Number(15 + 2 + 1));
  // Layers: the union, what is covered twice (1x1x2), what is covered three times (1).
  const Halves halves = bench.engine->cut(sum, Plane{{0, 0, 1}, Number::fraction(3, 2)});
  CHECK(bench.volume(halves.positive) + bench.volume(halves.negative) == Number(21));
  CHECK(bench.volume(halves.positive) == Number(2) + Number(6) + Number::fraction(7, 2));
  const Motion motion = Motion::rotation({0, 0, 0}, {1, 1, 1}, Number::fraction(-1, 2), Number::fraction(1, 2));
  CHECK(bench.volume(bench.engine->moved(sum, motion)) == Number(21));
  const std::vector<Solid> parts = bench.engine->connected_components(sum);
  REQUIRE(parts.size() == 2);
  CHECK(bench.volume(parts[0]) == Number(20));
  CHECK(bench.volume(parts[1]) == Number(1));
  CHECK(bench.volume(bench.engine->joined({big, big, big})) == Number(24));
  // Three layers joined to one more of the same: the multiplicity of sums adds up.
  CHECK(bench.volume(bench.engine->joined({sum, big})) == Number(29));
  // Filled is about regions: covering twice covers.
  CHECK(bench.engine->compare({bench.engine->joined({big, big})}, {big}).filled());
  CHECK(bench.engine->compare({big, big}, {big}).filled());
  // Equal in volume with what is wanted, but one half twice and the other not at all.
  const Solid left = bench.box({0, 0, 0}, {1, 2, 2});
  const GoalComparison twice = bench.engine->compare({left, left}, {big});
  REQUIRE(twice.missing.size() == 1);
  CHECK(twice.missing[0].region.volume == Number(4));
  CHECK(twice.missing[0].pieces == std::vector<std::size_t>{0, 1});
  CHECK(twice.excess.empty());
}

TEST_CASE("missing and excess regions, and pieces in two goals") {
  Bench bench(each_engine());
  CAPTURE(bench.engine->name());
  const std::vector<Solid> goals = {bench.box({0, 0, 0}, {2, 1, 1}), bench.cube(-1, 0, 0)};
  // The first lies in the first goal; the second outside; the third in both goals and half outside.
  const Number half = Number::fraction(1, 2);
  const std::vector<Solid> pieces = {bench.cube(0, 0, 0), bench.cube(2, 0, 0), bench.box({-half, 0, half}, {half, 1, 2})};
  const GoalComparison comparison = bench.engine->compare(pieces, goals);
  REQUIRE(comparison.missing.size() == 2);
  CHECK(comparison.missing[0].region.volume == Number::fraction(3, 4));
  CHECK(comparison.missing[0].pieces == std::vector<std::size_t>{0, 2});
  CHECK(comparison.missing[0].region.corners().size() == 12);
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
  // A cube pushed by 1e-30 along a direction that no axis has.
  const Number tinier = Number::fraction(1, 1000000000000000L) * Number::fraction(1, 1000000000000000L);
  const Solid pushed = bench.engine->moved(bench.cube(0, 0, 0), Motion::translation({tinier, tinier, -tinier}));
  const GoalComparison pushed_off = bench.engine->compare({pushed}, {bench.cube(0, 0, 0)});
  REQUIRE(pushed_off.missing.size() == 1);
  REQUIRE(pushed_off.excess.size() == 1);
  CHECK(pushed_off.missing[0].region.volume ==
        Number(1) - (Number(1) - tinier) * (Number(1) - tinier) * (Number(1) - tinier));
  CHECK(pushed_off.missing[0].region.corners().size() == 14);
}

TEST_CASE("pieces of another engine are refused") {
  struct Foreign : EngineSolid {};
  Bench bench(each_engine());
  CHECK_THROWS_AS(bench.engine->volume(std::make_shared<Foreign>()), ToolFault);
  CHECK_THROWS_AS(bench.engine->volume(nullptr), ToolFault);
}

// The plane goes through the corner at which the tip stands on the plate, and through nothing else of the tip: when the wall
// that it leaves in the plate goes away again, that corner is in the inside of a facet.
TEST_CASE("a plate is joined again under a tip that stands on the cut") {
  Bench bench(each_engine());
  CAPTURE(bench.engine->name());
  for (const zoo::ZooSolid& solid : zoo::rational_solids()) {
    if (solid.name != "tip on a face") continue;
    const Solid start = bench.engine->build(*solid.solid);
    const Halves halves = bench.engine->cut(start, Plane{{1, 0, 4}, 2});
    REQUIRE(halves.positive);
    REQUIRE(halves.negative);
    CHECK(bench.engine->count_connected_components(halves.positive) == 2);
    CHECK(bench.engine->compare({halves.positive, halves.negative}, {start}).filled());
    check_equal(bench.engine->boundary(bench.engine->joined({halves.positive, halves.negative})),
                normalised(zoo::boundary_of(solid.solid)));
  }
}

// The plan truncated-octahedron-to-box with one corner off, by a trillionth. Inner walls go away around a corner that
// touches the inside of a facet; in CGAL 5.5 the union of these pieces crashed or came out empty (solid/nef/cgal.hpp).
TEST_CASE("a corner that touches the inside of a facet survives when the walls around it go") {
  Bench bench(each_engine());
  CAPTURE(bench.engine->name());
  const Number off = Number::fraction(1, 1000000000000L);
  std::vector<Vector3> corners;
  for (const int one : {-1, 1})
    for (const int two : {-2, 2})
      for (const Vector3& p : {Vector3{0, one, two}, Vector3{0, two, one}, Vector3{one, 0, two}, Vector3{two, 0, one},
                               Vector3{one, two, 0}, Vector3{two, one, 0}})
        corners.push_back(p == Vector3{-1, -2, 0} ? p + Vector3{off, 0, 0} : p);
  const Halves above = bench.engine->cut(bench.engine->build(*make_solid(HullDescription{corners})), Plane{{0, 0, 1}, 1});
  const Halves below = bench.engine->cut(above.negative, Plane{{0, 0, 1}, -1});
  std::vector<Solid> pieces;
  for (const auto& [cap, height] : {std::make_pair(above.positive, 2), std::make_pair(below.negative, -2)}) {
    const Halves halves = bench.engine->cut(cap, Plane{{1, 0, 0}, 0});
    for (const auto& [half, x] : {std::make_pair(halves.positive, 1), std::make_pair(halves.negative, -1)}) {
      const Halves quarters = bench.engine->cut(half, Plane{{0, 1, 0}, 0});
      for (const auto& [quarter, y] : {std::make_pair(quarters.positive, 1), std::make_pair(quarters.negative, -1)})
        pieces.push_back(bench.engine->moved(quarter, Motion::translation({-2 * x, -2 * y, -height})));
    }
  }
  pieces.insert(pieces.begin() + 4, below.positive);  // the order decides which walls go together
  const GoalComparison comparison =
      bench.engine->compare(pieces, {bench.engine->build(*box_solid({-2, -2, -1}, {2, 2, 1}))});
  CHECK(comparison.excess.empty());
  REQUIRE(comparison.missing.size() == 1);
  CHECK(comparison.missing.front().region.volume == Number::fraction(1, 3) * off);
}

// CGAL 5.5 takes this motion for a scaling and moves the corners only.
TEST_CASE("a solid is inverted in a point") {
  Bench bench(each_engine());
  CAPTURE(bench.engine->name());
  const std::vector<Vector3> corners = {{0, 0, 0}, {2, 0, 0}, {0, 1, 0}, {0, 0, 3}};
  std::vector<Vector3> images;
  for (const Vector3& corner : corners) images.push_back(Vector3{5, 6, 7} - corner);
  const Motion inversion({Vector3{-1, 0, 0}, Vector3{0, -1, 0}, Vector3{0, 0, -1}}, {5, 6, 7});
  const auto hull = [&](const std::vector<Vector3>& points) {
    return bench.engine->build(*make_solid(HullDescription{points}));
  };
  const Solid image = bench.engine->moved(hull(corners), inversion);
  check_equal(bench.engine->boundary(image), bench.engine->boundary(hull(images)));
  // Cut and joined again it is still itself: its corners know their edges.
  const Halves halves = bench.engine->cut(image, Plane{{1, 1, 1}, Number(17)});
  REQUIRE(halves.positive);
  REQUIRE(halves.negative);
  check_equal(bench.engine->boundary(bench.engine->joined({halves.positive, halves.negative})),
              bench.engine->boundary(hull(images)));
}

TEST_CASE("turned and then mirrored in a point, a solid with that symmetry is where it was") {
  Bench bench(each_engine());
  CAPTURE(bench.engine->name());
  const std::array<Vector3, 3> minus = {Vector3{-1, 0, 0}, Vector3{0, -1, 0}, Vector3{0, 0, -1}};
  const Motion turns[] = {Motion(),
                          Motion::rotation({0, 0, 0}, {1, 2, 3}, Number::fraction(-13, 15), Number::fraction(2, 15)),
                          Motion::rotation({1, 0, 2}, {2, -1, 1}, Number::fraction(-5, 7), Number::fraction(2, 7))};
  for (const zoo::ZooSolid& solid : zoo::rational_solids()) {
    if (solid.name != "Jessen's icosahedron" && solid.name != "L") continue;
    for (const Motion& turn : turns) {
      CAPTURE(solid.name, to_exact(turn.shift()));
      const Solid piece = bench.engine->moved(bench.engine->build(*solid.solid), turn);
      const Solid mirrored = bench.engine->moved(piece, Motion(minus, Number(2) * bench.middle(piece)));
      CHECK(bench.same(mirrored, piece) == (solid.name != "L"));
    }
  }
}

TEST_CASE("a mirror image of a solid that touches itself is mirrored back") {
  const EngineChoice choice = each_engine();
  for (const zoo::ZooSolid& solid : zoo::rational_solids()) {
    if (solid.name.find("touching") == std::string::npos && solid.name.find("on a face") == std::string::npos) continue;
    CAPTURE(engine_word(choice), solid.name);
    Bench bench(choice);
    const Solid piece = bench.engine->build(*solid.solid);
    const Motion mirror = Motion::reflection(Plane{{1, -2, 2}, 3});
    const Solid image = bench.engine->moved(piece, mirror);
    CHECK(bench.volume(image) == solid.volume);
    check_equal(bench.engine->boundary(bench.engine->moved(image, mirror)), normalised(zoo::boundary_of(solid.solid)));
  }
}
