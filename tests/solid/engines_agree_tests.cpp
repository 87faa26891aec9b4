// SPDX-License-Identifier: GPL-3.0-or-later
// Random differential test: both engines do the same work, and every answer is compared by `make_both_engines`, which throws
// where they differ. 500 cases with CUTPROOF_SLOW=1, otherwise 50; CUTPROOF_CASES sets the number of cases, CUTPROOF_SEED
// the first seed.
#include "engine_test_support.hpp"

#include <iostream>

using namespace cutproof;

namespace {

unsigned from_environment(const char* name, unsigned otherwise) {
  const char* text = std::getenv(name);
  return text == nullptr ? otherwise : static_cast<unsigned>(std::strtoul(text, nullptr, 10));
}

/// Cuts and moves a random solid, then disturbs, joins or splits what came out, and compares, with few pieces: the Nef
/// engine takes its time. Counts what it met, so that it is seen not to be vacuous.
class RandomBench {
 public:
  RandomBench(Engine& engine, const Number& unit, unsigned seed) : engine_(engine), unit_(unit), dice_(seed) {}

  int cuts = 0, overlaps = 0, regions = 0, joins = 0, splits = 0;
  std::string shape;

  void run() {
    const SolidPointer solid = random_solid();
    const Solid start = engine_.build(*solid);
    if (start == nullptr) return;
    pieces_ = {start};
    cut_all();
    cut_all();
    switch (dice_.upto(3)) {
      case 0:
        return move_all(start);
      case 1:
        disturb();
        check_overlaps();
        engine_.count_linked_groups(pieces_);
        return compare_with({start});
      case 2:
        disturb();
        join_some();
        cut_all();
        return compare_with({start});
      default:
        split_all();
        for (const Solid& piece : pieces_) engine_.box(piece);
        engine_.count_linked_groups(pieces_);
        return compare_with(random_goals());
    }
  }

 private:
  SolidPointer random_solid() {
    const std::vector<NamedShape> shapes = test_shapes(unit_);
    const auto draw = [&] { return shapes[static_cast<std::size_t>(dice_.upto(static_cast<long>(shapes.size()) - 1))]; };
    const NamedShape first = draw();
    shape = first.name;
    if (dice_.upto(3) > 0) return first.solid;
    const NamedShape second = draw();
    shape += " and " + second.name;
    const SolidPointer placed =
        make_solid(PlacedDescription{second.solid, random_motion(), Number::fraction(1, 2), {1, 0, 0}});
    const BooleanKind kinds[] = {BooleanKind::union_of_all, BooleanKind::intersection_of_all,
                                 BooleanKind::first_minus_others};
    return make_solid(BooleanDescription{kinds[dice_.upto(2)], {first.solid, placed}});
  }

  Motion random_motion() {
    switch (dice_.upto(4)) {
      case 0:
        return Motion::reflection(dice_.plane_near(dice_.vector(unit_), unit_));
      case 1:
        return Motion::translation({Number(dice_.between(-1, 1)) * unit_, Number(dice_.between(-1, 1)) * unit_, 0});
      default:
        return dice_.motion(unit_);
    }
  }

  const Solid& any_piece() { return pieces_[static_cast<std::size_t>(dice_.upto(static_cast<long>(pieces_.size()) - 1))]; }

  void cut_all() {
    const Box box = engine_.box(any_piece());
    const Plane plane = dice_.plane_near(Number::fraction(1, 2) * (box.minimum + box.maximum), unit_);
    std::vector<Solid> next;
    for (std::size_t i = 0; i < pieces_.size(); ++i) {
      const Halves halves =
          next.size() + pieces_.size() - i > 3 ? Halves{pieces_[i], nullptr} : engine_.cut(pieces_[i], plane);
      if (halves.positive) next.push_back(halves.positive);
      if (halves.negative) next.push_back(halves.negative);
      cuts += halves.positive && halves.negative ? 1 : 0;
    }
    pieces_ = next;
  }

  /// A rigid motion of everything changes nothing but where it is.
  void move_all(const Solid& start) {
    const Motion motion = random_motion();
    for (Solid& piece : pieces_) piece = engine_.moved(piece, motion);
    CHECK(engine_.compare(pieces_, {engine_.moved(start, motion)}).filled());
    check_overlaps();
  }

  /// Moves one piece, mostly only a little, so that pieces overlap or touch in part.
  void disturb() {
    const std::size_t index = static_cast<std::size_t>(dice_.upto(static_cast<long>(pieces_.size()) - 1));
    const Motion shift = Motion::translation(Number::fraction(1, dice_.between(4, 16)) * dice_.vector(unit_));
    pieces_[index] = engine_.moved(pieces_[index], dice_.upto(2) == 0 ? random_motion() : shift);
  }

  void check_overlaps() {
    for (const auto& [i, j] : engine_.overlapping_pairs(pieces_, std::vector<char>(pieces_.size(), 1))) {
      engine_.overlap(pieces_[i], pieces_[j]);
      ++overlaps;
    }
  }

  void join_some() {
    const std::size_t half = (pieces_.size() + 1) / 2;
    Number expected;
    for (std::size_t i = 0; i < half; ++i) expected += engine_.volume(pieces_[i]);
    const auto middle = pieces_.begin() + static_cast<std::ptrdiff_t>(half);
    const Solid joined = engine_.joined({pieces_.begin(), middle});
    CHECK(engine_.volume(joined) == expected);
    pieces_.erase(pieces_.begin(), middle);
    pieces_.push_back(joined);
    joins += half > 1 ? 1 : 0;
  }

  void split_all() {
    std::vector<Solid> next;
    for (const Solid& piece : pieces_) {
      const std::vector<Solid> parts = engine_.connected_components(piece);
      CHECK(parts.size() == engine_.count_connected_components(piece));
      next.insert(next.end(), parts.begin(), parts.end());
      splits += parts.size() > 1 ? 1 : 0;
    }
    pieces_ = next;
  }

  std::vector<Solid> random_goals() {
    const Box box = engine_.box(any_piece());
    const Vector3 middle = Number::fraction(1, 2) * (box.minimum + box.maximum), step{unit_, unit_, unit_};
    return {
        engine_.build(*box_solid(middle - step, middle)),
        engine_.build(*box_solid({middle.x, middle.y - unit_, middle.z - unit_}, {middle.x + unit_, middle.y, middle.z}))};
  }

  void compare_with(const std::vector<Solid>& goals) {
    const GoalComparison comparison = engine_.compare(pieces_, goals);
    regions += static_cast<int>(comparison.missing.size() + comparison.excess.size());
  }

  Engine& engine_;
  const Number unit_;
  Dice dice_;
  std::vector<Solid> pieces_;
};

}  // namespace

TEST_CASE("both engines give the same answers", "[both]") {
  const unsigned first = from_environment("CUTPROOF_SEED", 1),
                 cases = from_environment("CUTPROOF_CASES", slow_tests() ? 500 : 50);
  std::cout << "both engines: " << cases << " cases, seeds " << first << " to " << first + cases - 1 << std::endl;
  constexpr int degrees[] = {1, 2, 3, 4, 8, 1, 2, 3, 4, 2};
  int cuts = 0, overlaps = 0, regions = 0, joins = 0, splits = 0;
  for (unsigned seed = first; seed < first + cases; ++seed) {
    const int degree = degrees[seed % 10];
    const std::unique_ptr<Engine> engine = make_engine(EngineChoice::both);  // an engine works in one tower of fields
    RandomBench bench(*engine, zoo::generator_of_degree(degree), seed);
    INFO("seed " << seed << " over a field of degree " << degree);
    CHECK_NOTHROW(bench.run());
    cuts += bench.cuts;
    overlaps += bench.overlaps;
    regions += bench.regions;
    joins += bench.joins;
    splits += bench.splits;
  }
  CHECK(cuts > 0);
  if (cases >= 50) {
    CHECK(overlaps > 0);
    CHECK(regions > 0);
    CHECK(joins > 0);
    CHECK(splits > 0);
  }
}
