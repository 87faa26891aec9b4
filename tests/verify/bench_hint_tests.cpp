// SPDX-License-Identifier: GPL-3.0-or-later
// Who names a piece that is not there is told what is: the bench at that step, whether the text alone tells or only the run.
#include "cutproof/check.hpp"

#include <catch2/catch.hpp>

using namespace cutproof;

namespace {

std::string hint_of(const std::string& steps) {
  const CheckResult result = check_plan_text(
      "cutproof: 1\nstart: { S: { box: { size: [2, 2, 2] } } }\nsteps:\n" + steps + "goal: { box: { size: [2, 2, 2] } }\n",
      "plan.yaml");
  REQUIRE(result.outcome == Outcome::invalid);
  REQUIRE(result.findings.size() == 1);
  return result.findings.front().hint;
}

const std::string cut = "  - { cut: S, by: { equation: \"x = 1\" }";
const std::string move_chair = "  - { move: { chair: { translation: [1, 0, 0] } } }\n";

}  // namespace

TEST_CASE("the hint lists the bench as the steps before leave it") {
  CHECK(hint_of(move_chair) == "on the bench here: `S`");
  CHECK(hint_of(cut + ", into: [east, west] }\n" + move_chair) == "on the bench here: `east`, `west`");
  CHECK(hint_of(cut + " }\n" + move_chair) == "on the bench here: `S.1`, `S.2`");
  CHECK(hint_of(cut + " }\n  - { cut: S.1, by: { equation: \"y = 1\" } }\n" + move_chair) ==
        "on the bench here: `S.1.1`, `S.1.2`, `S.2`");
  CHECK(hint_of(cut + ", into: [east, west] }\n  - { join: [east, west], as: S }\n" + move_chair) ==
        "on the bench here: `S`");
  CHECK(hint_of("  - { cut: S, by: [{ equation: \"x = 1\" }, { equation: \"y = 1\" }] }\n" + move_chair) ==
        "perhaps on the bench here: `S.1`, `S.1.1`, `S.1.2`, `S.2`, `S.2.1`, `S.2.2`");
}

TEST_CASE("names that only the run knows are listed as they may be, never as a pattern") {
  const std::string two_planes = "  - { cut: S, by: [{ equation: \"x = 1\" }, { equation: \"y = 1\" }]";
  CHECK(hint_of(two_planes + " }\n  - { move: { S.1.3: { translation: [1, 0, 0] } } }\n") ==
        "perhaps on the bench here: `S.1.1`, `S.1.2`, `S.1`, `S.2.1`, `S.2.2`, `S.2`");
  CHECK(hint_of(cut + ", into: s.* }\n" + move_chair) == "on the bench here: `s.1`, `s.2`");
  CHECK(hint_of(two_planes + ", into: s.* }\n" + move_chair) ==
        "on the bench here: `s.1`, `s.2`, `s.3`; and perhaps `s.4`, `s.5`, ...");
  CHECK(hint_of("  - { split: S }\n" + move_chair) == "perhaps on the bench here: `S`, `S.1`, `S.2`, ...");
  CHECK(hint_of(cut + " }\n  - { join: S.*, as: W }\n" + move_chair) == "on the bench here: `W`; and perhaps `S.1`, `S.2`");
}

TEST_CASE("nearest names come first, and one that is near enough is asked for") {
  const std::string many = cut + ", into: [bridge, hair-pin] }\n";
  CHECK(hint_of(many + move_chair) == "on the bench here: `hair-pin`, `bridge`");
  CHECK(hint_of(cut + ", into: [chairs, stool] }\n" + move_chair) == "did you mean `chairs`?");
  CHECK(hint_of(cut + ", into: [chair.1, chair.12] }\n  - { move: { chair.13: { translation: [1, 0, 0] } } }\n") ==
        "on the bench here: `chair.1`, `chair.12`");
}

TEST_CASE("what only the run can tell gets the same hint") {
  CHECK(hint_of(cut + ", into: [east, west] }\n  - { move: { S: { translation: [1, 0, 0] } } }\n") ==
        "step 1 (line 4) used it up; on the bench here: `east`, `west`");
  CHECK(hint_of(cut + " }\n  - { move: { S.1.*: { translation: [1, 0, 0] } } }\n") == "did you mean `S.1`?");
}
