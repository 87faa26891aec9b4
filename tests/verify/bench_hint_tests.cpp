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
        "on the bench here: `S.*`");
}

TEST_CASE("nearest names come first, and one that is near enough is asked for") {
  const std::string many = cut + ", into: [bridge, hair-pin] }\n";
  CHECK(hint_of(many + move_chair) == "on the bench here: `hair-pin`, `bridge`");
  CHECK(hint_of(cut + ", into: [chairs, stool] }\n" + move_chair) == "did you mean `chairs`?");
}

TEST_CASE("what only the run can tell gets the same hint") {
  CHECK(hint_of(cut + ", into: [east, west] }\n  - { move: { S: { translation: [1, 0, 0] } } }\n") ==
        "step 1 (line 4) used it up; on the bench here: `east`, `west`");
  CHECK(hint_of(cut + " }\n  - { move: { S.1.*: { translation: [1, 0, 0] } } }\n") == "did you mean `S.1`?");
}
