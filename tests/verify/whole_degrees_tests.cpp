// SPDX-License-Identifier: GPL-3.0-or-later
// With default limits a block may lean and be turned by any whole number of degrees. CUTPROOF_SLOW=1 tries all 89 and more
// pairs, else some of every degree that there is.
#include "cutproof/check.hpp"

#include <catch2/catch.hpp>

#include <cstdlib>
#include <utility>
#include <vector>

using namespace cutproof;

namespace {

std::string leaning_block(int leaning, int turned) {
  return "cutproof: 1\nlet: { t: " + std::to_string(leaning) + " deg }\n" +
         "solids:\n  block: { prism: { base: [[0, 0], [2, 0], [2, 1], [0, 1]], along: [2*cos(t), 0, 2*sin(t)] } }\n" +
         "motions:\n  there: { rotation: { about: z, angle: " + std::to_string(turned) + " deg } }\n" +
         "start: { T: block }\nsteps:\n  - cut: T\n    by: { equation: \"x + y = 1\" }\n    into: [right, left]\n" +
         "  - move: { all: there }\n  - move: { all: { inverse: there } }\ngoal: block\n";
}

}  // namespace

TEST_CASE("leaning blocks turned there and back by whole degrees are verified with default limits") {
  std::vector<std::pair<int, int>> cases = {{1, 1},   {2, 2},   {3, 3},   {4, 4},   {5, 5},   {6, 6},   {8, 8},   {9, 9},
                                            {10, 10}, {12, 12}, {15, 15}, {18, 18}, {20, 20}, {22, 22}, {24, 24}, {30, 30},
                                            {35, 35}, {36, 36}, {40, 40}, {45, 45}, {60, 60}, {72, 72}, {70, 75}, {35, 22}};
  if (std::getenv("CUTPROOF_SLOW") != nullptr) {
    cases = {{70, 75}, {35, 22}, {1, 89}, {22, 35}, {89, 2}};
    for (int degrees = 1; degrees < 90; ++degrees) cases.emplace_back(degrees, degrees);
  }
  for (const auto& [leaning, turned] : cases) {
    INFO("leaning " << leaning << " deg, turned by " << turned << " deg");
    const CheckResult result = check_plan_text(leaning_block(leaning, turned), "block.yaml");
    CHECK(result.outcome == Outcome::verified);
    CHECK(result.pieces.size() == 2);
  }
}

TEST_CASE("progress says what is adjoined to which field") {
  std::vector<std::string> activities;
  check_plan_text(leaning_block(15, 22), "block.yaml", {},
                  [&](const CheckProgress& progress) { activities.push_back(progress.activity); });
  const std::vector<std::string> expected = {"reading the plan",
                                             "reading the plan: adjoining cos(pi/12) to a field of degree 1",
                                             "reading the plan: finding a short generator of a field of degree 4",
                                             "reading the plan: adjoining cos(11*pi/90) to a field of degree 4",
                                             "reading the plan: finding a short generator of a field of degree 48"};
  REQUIRE(activities.size() > expected.size());
  CHECK(std::vector<std::string>(activities.begin(), activities.begin() + static_cast<long>(expected.size())) == expected);
}
