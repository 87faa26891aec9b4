// SPDX-License-Identifier: GPL-3.0-or-later
// Laws that every engine keeps, over the whole collection of solids and fields of degree 1, 2, 3, 4 and 8: at least 200
// random cases for each law, spread over solids and fields. The parts engine runs all of them, the Nef engine a fixed tenth
// (CUTPROOF_SLOW=1: all).
#include "engine_test_support.hpp"
#include "solid/edges.hpp"

#include <iostream>
#include <set>

using namespace cutproof;
using zoo::ZooSolid;

namespace {

constexpr int degrees[] = {1, 2, 3, 4, 8};

struct Case {
  ZooSolid solid;
  Number unit;  ///< generates the field of the case
  unsigned seed;
};

/// A fixed order in which every solid and every field comes early.
std::vector<Case> shuffled(std::vector<Case> cases, unsigned first_seed) {
  Dice dice(first_seed);
  for (std::size_t i = cases.size(); i > 1; --i)
    std::swap(cases[i - 1], cases[static_cast<std::size_t>(dice.upto(static_cast<long>(i) - 1))]);
  for (std::size_t i = 0; i < cases.size(); ++i) cases[i].seed = first_seed + static_cast<unsigned>(i);
  return cases;
}

void add_regular(std::vector<Case>& cases) {
  for (const ZooSolid& solid : zoo::regular_solids()) {
    const Field& field = solid.volume.field();  // these have towers of their own
    cases.push_back({solid, field.degree() > 1 ? Number::generator(field) : Number(1), 0});
  }
}

/// Every solid of the collection twice: as it is, under a linear map over each of the other fields, and the regular ones.
std::vector<Case> distorted_cases(unsigned first_seed) {
  std::vector<Case> cases;
  for (int round = 0; round < 2; ++round) {
    for (const int degree : degrees)
      for (const ZooSolid& solid : degree == 1 ? zoo::rational_solids() : zoo::solids_of_degree(degree))
        cases.push_back({solid, zoo::generator_of_degree(degree), 0});
    add_regular(cases);
  }
  return shuffled(std::move(cases), first_seed);
}

/// Every solid of the collection twice in its own shape, which has symmetries, with each field for the places it is put to.
std::vector<Case> undistorted_cases(unsigned first_seed) {
  std::vector<Case> cases;
  for (int round = 0; round < 2; ++round) {
    for (const int degree : degrees)
      for (const ZooSolid& solid : zoo::rational_solids()) cases.push_back({solid, zoo::generator_of_degree(degree), 0});
    add_regular(cases);
  }
  return shuffled(std::move(cases), first_seed);
}

/// One case of a law: everything it draws, it draws from `dice`.
using Law = void (*)(Bench& bench, Dice& dice, const Case& each);

void check_law(EngineChoice engine, const char* name, std::vector<Case> cases, Law law) {
  CHECK(cases.size() >= 200);
  if (engine != EngineChoice::parts && !slow_tests()) cases.resize((cases.size() + 9) / 10);
  if (const char* seed = std::getenv("CUTPROOF_LAW_SEED"))
    cases.erase(
        std::remove_if(cases.begin(), cases.end(), [&](const Case& each) { return std::to_string(each.seed) != seed; }),
        cases.end());
  if (cases.empty()) return;
  std::cout << "engine " << engine_word(engine) << ", law: " << name << ": " << cases.size() << " cases, seeds "
            << cases.front().seed << " to " << cases.back().seed << std::endl;
  for (const Case& each : cases) {
    INFO(engine_word(engine) << ", " << name << ", seed " << each.seed << ": " << each.solid.name << ", field of degree "
                             << each.unit.field().degree());
    Bench bench(engine);
    Dice dice(each.seed);
    law(bench, dice, each);
  }
}

/// Near the middle of a piece in a random direction, or through three corners: cuts along edges and through corners are
/// where engines go wrong.
Plane random_plane(Bench& bench, Dice& dice, const Solid& piece, const Number& unit) {
  if (dice.upto(2) == 0) {
    const std::vector<Vector3> corners = bench.engine->boundary(piece).vertices;
    const auto draw = [&] { return corners[static_cast<std::size_t>(dice.upto(static_cast<long>(corners.size()) - 1))]; };
    const Vector3 a = draw(), b = draw(), c = draw(), normal = cross(b - a, c - a);
    if (!is_zero(normal)) return {normal, dot(normal, a)};
  }
  return dice.plane_near(bench.middle(piece), unit);
}

void check_side(Bench& bench, const Solid& half, const Plane& plane) {
  if (half == nullptr) return;
  for (const Vector3& corner : bench.engine->boundary(half).vertices) CHECK(evaluate(plane, corner).sign() >= 0);
}

std::vector<Solid> cut_at_random(Bench& bench, Dice& dice, const Solid& piece, const Number& unit) {
  std::vector<Solid> pieces{piece};
  for (int i = 0; i < 2; ++i) {
    const Solid& any = pieces[static_cast<std::size_t>(dice.upto(static_cast<long>(pieces.size()) - 1))];
    const Plane plane = random_plane(bench, dice, any, unit);
    std::vector<Solid> next;
    for (const Solid& each : pieces) {
      const Halves halves = bench.engine->cut(each, plane);
      check_side(bench, halves.positive, plane);
      check_side(bench, halves.negative, opposite(plane));
      for (const Solid& half : {halves.positive, halves.negative})
        if (half) next.push_back(half);
    }
    pieces = next;
  }
  return pieces;
}

Motion random_motion(Dice& dice, const Number& unit) {
  const Motion motion = dice.motion(unit);
  return dice.upto(3) > 0 ? motion : Motion::reflection(dice.plane_near(dice.vector(unit), unit)).then(motion);
}

// --- the laws -------------------------------------------------------------------------------------------------------------

void volumes_add_up(Bench& bench, Dice& dice, const Case& each) {
  const std::vector<Solid> pieces = cut_at_random(bench, dice, bench.engine->build(*each.solid.solid), each.unit);
  Number sum, sum_of_parts;
  for (const Solid& piece : pieces) {
    const Number volume = bench.volume(piece);
    CHECK(volume.sign() > 0);
    CHECK(cutproof::volume(bench.engine->boundary(piece)) == volume);
    sum += volume;
    const std::vector<Solid> parts = bench.engine->connected_components(piece);
    CHECK(bench.engine->count_connected_components(piece) == parts.size());
    sum_of_parts += bench.volume(parts);
  }
  CHECK(sum == each.solid.volume);
  CHECK(sum_of_parts == each.solid.volume);
}

void cut_and_joined(Bench& bench, Dice& dice, const Case& each) {
  const Solid start = bench.engine->build(*each.solid.solid);
  std::vector<Solid> pieces = cut_at_random(bench, dice, start, each.unit);
  CHECK(bench.disjoint(pieces));
  CHECK(bench.engine->compare(pieces, {start}).filled());
  CHECK(bench.engine->compare_disjoint({start}, pieces).filled());
  std::reverse(pieces.begin(), pieces.end());
  const Solid whole = bench.engine->joined(pieces);
  CHECK(bench.volume(whole) == each.solid.volume);
  CHECK(bench.engine->count_connected_components(whole) == bench.engine->count_connected_components(start));
  check_equal(bench.engine->boundary(whole), normalised(zoo::boundary_of(each.solid.solid)));
}

void moved_there_and_back(Bench& bench, Dice& dice, const Case& each) {
  const Motion there = random_motion(dice, each.unit), further = random_motion(dice, each.unit);
  const Solid start = bench.engine->build(*each.solid.solid);
  const Solid there_piece = bench.engine->moved(start, there), back = bench.engine->moved(there_piece, there.inverse());
  CHECK(bench.volume(there_piece) == each.solid.volume);
  CHECK(bench.same(back, start));
  check_equal(bench.engine->boundary(back), normalised(zoo::boundary_of(each.solid.solid)));
  check_equal(bench.engine->boundary(bench.engine->moved(there_piece, further)),
              bench.engine->boundary(bench.engine->moved(start, there.then(further))));
}

/// The cuts of a moved solid are the moved cuts.
void cut_and_moved(Bench& bench, Dice& dice, const Case& each) {
  const Motion motion = random_motion(dice, each.unit);
  const Solid start = bench.engine->build(*each.solid.solid);
  const Plane plane = random_plane(bench, dice, start, each.unit);
  const Halves halves = bench.engine->cut(start, plane),
               images = bench.engine->cut(bench.engine->moved(start, motion), motion(plane));
  for (const auto& [half, image] :
       {std::pair(halves.positive, images.positive), std::pair(halves.negative, images.negative)}) {
    REQUIRE((half == nullptr) == (image == nullptr));
    if (half) check_equal(bench.engine->boundary(image), bench.engine->boundary(bench.engine->moved(half, motion)));
  }
}

void lost_piece_is_missing(Bench& bench, Dice& dice, const Case& each) {
  const Solid start = bench.engine->build(*each.solid.solid);
  std::vector<Solid> pieces = cut_at_random(bench, dice, start, each.unit);
  if (pieces.size() < 2) return;
  const Solid lost = pieces.back();
  pieces.pop_back();
  const GoalComparison comparison = bench.engine->compare(pieces, {start});
  CHECK(comparison.excess.empty());
  const std::vector<Solid> parts = bench.engine->connected_components(lost);
  REQUIRE(comparison.missing.size() == parts.size());
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const Region& region = comparison.missing[i].region;
    CHECK(region.volume == bench.volume(parts[i]));
    CHECK(region.corners() == bench.engine->boundary(parts[i]).vertices);
    CHECK(region.box.minimum == bench.engine->box(parts[i]).minimum);
    CHECK(region.box.maximum == bench.engine->box(parts[i]).maximum);
  }
}

// --- symmetries -----------------------------------------------------------------------------------------------------------

/// The 48 symmetries of a cube about the origin: signed permutations of the axes.
std::vector<Motion> cube_symmetries() {
  std::vector<Motion> result;
  std::array<int, 3> axes = {0, 1, 2};
  do {
    for (int signs = 0; signs < 8; ++signs) {
      std::array<Vector3, 3> rows;
      for (int i = 0; i < 3; ++i) {
        const int sign = (signs >> i) % 2 == 0 ? 1 : -1;
        rows[i] = {axes[i] == 0 ? sign : 0, axes[i] == 1 ? sign : 0, axes[i] == 2 ? sign : 0};
      }
      result.emplace_back(rows, Vector3{0, 0, 0});
    }
  } while (std::next_permutation(axes.begin(), axes.end()));
  return result;
}

Motion about(const Motion& turn, const Vector3& centre) {
  return Motion::translation(-centre).then(turn).then(Motion::translation(centre));
}

Vector3 middle(const Boundary& boundary) {
  const Box box = box_around(boundary.vertices);
  return Number::fraction(1, 2) * (box.minimum + box.maximum);
}

/// Whether the corners and the faces (as sets of corners) are carried to corners and faces: no engine is asked.
bool keeps(const Boundary& boundary, const Motion& motion) {
  std::vector<int> image;
  for (const Vector3& corner : boundary.vertices) {
    const auto place = std::find(boundary.vertices.begin(), boundary.vertices.end(), motion(corner));
    if (place == boundary.vertices.end()) return false;
    image.push_back(static_cast<int>(place - boundary.vertices.begin()));
  }
  std::multiset<std::set<int>> before, after;
  for (const Facet& facet : boundary.facets) {
    std::set<int> corners, images;
    for (const std::vector<int>& cycle : facet.cycles)
      for (const int corner : cycle) {
        corners.insert(corner);
        images.insert(image[corner]);
      }
    before.insert(corners);
    after.insert(images);
  }
  return before == after;
}

void equal_under_symmetries(Bench& bench, Dice& dice, const Case& each) {
  const Boundary original = normalised(zoo::boundary_of(each.solid.solid));
  const Vector3 centre = middle(original);
  std::vector<Motion> symmetries, all = cube_symmetries();
  for (const Motion& turn : all)
    if (keeps(original, about(turn, centre))) symmetries.push_back(turn);
  CHECK(static_cast<int>(symmetries.size()) == each.solid.symmetries);
  const auto draw = [&](const std::vector<Motion>& from) {
    return from[static_cast<std::size_t>(dice.upto(static_cast<long>(from.size()) - 1))];
  };
  const Motion turn = draw(dice.upto(1) == 0 ? symmetries : all);

  // The solid somewhere else, in another size, and the motion that does there what `turn` does here.
  const Motion place = random_motion(dice, each.unit), turn_of_place = place.then(Motion::translation(-place.shift()));
  const Number factor = Number::fraction(dice.between(1, 3), 2) * each.unit;
  const Solid piece = bench.engine->build(*make_solid(PlacedDescription{each.solid.solid, place, factor, {0, 0, 0}}));
  const Motion there = about(turn_of_place.inverse().then(turn).then(turn_of_place), place(factor * centre));
  const Solid moved = bench.engine->moved(piece, there);
  const bool expected = keeps(original, about(turn, centre));
  CHECK(bench.engine->compare({moved}, {piece}).filled() == expected);
  CHECK(bench.volume(moved) == bench.volume(piece));
  CHECK(bench.volume(piece) == factor * factor * factor * each.solid.volume);
  if (expected) check_equal(bench.engine->boundary(moved), bench.engine->boundary(piece));
}

void check_laws(EngineChoice engine) {
  check_law(engine, "volumes of parts add up", distorted_cases(1000), volumes_add_up);
  check_law(engine, "cut and joined is the original", distorted_cases(2000), cut_and_joined);
  check_law(engine, "a motion and its inverse", distorted_cases(3000), moved_there_and_back);
  check_law(engine, "equal under its symmetries and no others", undistorted_cases(4000), equal_under_symmetries);
  if (engine != EngineChoice::parts && !slow_tests()) return;
  check_law(engine, "cut and moved is moved and cut", distorted_cases(5000), cut_and_moved);
  check_law(engine, "a lost piece is missing", distorted_cases(6000), lost_piece_is_missing);
}

}  // namespace

TEST_CASE("laws of the parts engine", "[zoo][parts][laws]") {
  check_laws(EngineChoice::parts);
}

TEST_CASE("laws of the Nef engine", "[zoo][nef][laws]") {
  check_laws(EngineChoice::nef);
}
