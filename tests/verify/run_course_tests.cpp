// SPDX-License-Identifier: GPL-3.0-or-later
// The course of a run where it is easily told wrongly: names that become free within one step, and a run that a limit ends.
#include "cutproof/check.hpp"
#include "cutproof/report.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace cutproof;

namespace {

/// Two boxes of which one has the name that a half of the other gets, cut by `step`.
std::string two_boxes(const std::string& step) {
  return "cutproof: 1\n"
         "start: { T: { box: { size: [2, 1, 1] } }, T.1: { box: { size: [2, 1, 1], at: [5, 0, 0] } } }\n"
         "steps:\n  - " +
         step + "\ngoal: { A: { box: { size: [2, 1, 1] } }, B: { box: { size: [2, 1, 1], at: [5, 0, 0] } } }\n";
}

}  // namespace

TEST_CASE("a name is free once its piece is consumed, by the same step too") {
  for (const char* pieces : {"all", "[T, T.1]", "[T.1, T]", "\"T*\""})
    for (const EngineChoice engine : {EngineChoice::parts, EngineChoice::both}) {
      CheckSettings settings;
      settings.engine = engine;
      const std::string step = "{ cut: " + std::string(pieces) + ", by: { equation: \"y = 1/2\" } }";
      INFO(step << " with " << engine_word(engine));
      const CheckResult result = check_plan_text(two_boxes(step), "plan.yaml", settings);
      CHECK(result.outcome == Outcome::verified);
      REQUIRE(result.pieces.size() == 4);
      CHECK(result.steps.at(0).removed.size() == 2);
      CHECK(result.steps.at(0).added.size() == 4);
    }
  const CheckResult planes =
      check_plan_text(two_boxes("{ cut: all, by: [{ equation: \"y = 1/2\" }, { equation: \"z = 1/3\" }] }"), "plan.yaml");
  CHECK(planes.outcome == Outcome::verified);
  CHECK(planes.pieces.size() == 8);
}

TEST_CASE("a part of a split may have the name of a piece that the same step splits") {
  for (const char* pieces : {"all", "[T, T.1]", "[T.1, T]", "\"T*\""})
    for (const EngineChoice engine : {EngineChoice::parts, EngineChoice::both}) {
      CheckSettings settings;
      settings.engine = engine;
      const std::string step = "{ split: " + std::string(pieces) + " }";
      INFO(step << " with " << engine_word(engine));
      const std::string apart = "union: [{ box: { size: [1, 1, 1] } }, { box: { size: [1, 1, 1], at: [2, 0, 0] } }]";
      const std::string pair = "{ moved: { solid: pair, by: { translation: [0, 5, 0] } } }";
      const CheckResult result =
          check_plan_text("cutproof: 1\nsolids: { pair: { " + apart + " } }\nstart: { T: pair, T.1: " + pair +
                              " }\nsteps:\n  - " + step + "\ngoal: { A: pair, B: " + pair + " }\n",
                          "plan.yaml", settings);
      CHECK(result.outcome == Outcome::verified);
      REQUIRE(result.pieces.size() == 4);
      CHECK(result.steps.at(0).removed.size() == 2);
      std::vector<std::string> names = result.steps.at(0).added.first;
      std::sort(names.begin(), names.end());
      CHECK(names == std::vector<std::string>{"T.1", "T.1.1", "T.1.2", "T.2"});
    }
}

TEST_CASE("a refuted run that a limit ended half way says that the rest was not looked at") {
  const std::string text =
      "cutproof: 1\n"
      "start: { A: { box: { size: [1, 1, 1] } }, B: { box: { size: [1, 1, 1], at: [1/2, 0, 0] } } }\n"
      "steps:\n"
      "  - { move: { A: { translation: [1/1000003, 0, 0] } } }\n"
      "  - { move: { A: { translation: [1/1000033, 0, 0] } } }\n"
      "  - { move: { A: { translation: [1/1000037, 0, 0] } } }\n"
      "  - { move: { A: { translation: [1/1000039, 0, 0] } } }\n"
      "goal: { box: { size: [2, 1, 1] } }\n";
  CheckSettings settings;
  settings.max_bits = 64;
  const CheckResult result = check_plan_text(text, "plan.yaml", settings);
  REQUIRE(result.outcome == Outcome::refuted);
  REQUIRE(result.counts.at("limit-reached") == 1);
  for (const bool full : {false, true}) {
    const std::string report = terminal_report(result, {400, false, full});
    CHECK(report.find("exactly") == std::string::npos);
    CHECK(report.find("the rest was not looked at") != std::string::npos);
  }
  CHECK(terminal_report(result, {400, false, true}).find("does not hold: 1 finding.") != std::string::npos);
}
