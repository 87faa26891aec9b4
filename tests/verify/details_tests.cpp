// SPDX-License-Identifier: GPL-3.0-or-later
// Shapes, motions in words and suspects: right by hand, alike for both engines, and nothing unless asked for.
#include "cutproof/check.hpp"

#include <catch2/catch.hpp>

#include <string>

using namespace cutproof;

namespace {

CheckSettings everything(EngineChoice engine = EngineChoice::parts) {
  CheckSettings settings;
  settings.engine = engine;
  settings.details.motions = true;
  settings.details.shapes_up_to = 100;
  return settings;
}

std::string shown(const CheckResult& result) {
  std::string text = outcome_word(result.outcome);
  for (const ShapeResult& shape : result.shapes) {
    text += " [" + shape.volume.exact + (shape.chiral ? " chiral" : "");
    if (shape.mirror_of) text += " mirror of " + std::to_string(*shape.mirror_of);
    for (const std::string& piece : shape.pieces) text += " " + piece;
    text += "]";
  }
  if (result.smallest)
    text += " edge " + result.smallest->edge.exact + " of " + result.smallest->edge_of + ", volume " +
            result.smallest->volume.exact + " of " + result.smallest->volume_of;
  return text;
}

std::string suspects(const Finding& finding) {
  std::string text = finding.code + ":";
  for (const Suspect& suspect : finding.suspects)
    text += " " + suspect.piece + " step " + std::to_string(suspect.step) + " at " + std::to_string(suspect.line) + ":" +
            std::to_string(suspect.column);
  return text;
}

// Two bars, cut; two halves change places, one of them `by` too far.
std::string bars(const std::string& by) {
  return "cutproof: 1\n"
         "start:\n"
         "  A: { box: { size: [2, 1, 1] } }\n"
         "  B: { box: { size: [2, 1, 1], at: [0, 5, 0] } }\n"
         "steps:\n"
         "  - { cut: A, by: { equation: \"x = 1\" }, into: [a2, a1] }\n"
         "  - { cut: B, by: { equation: \"x = 1\" }, into: [b2, b1] }\n"
         "  - move:\n"
         "      a1: { translation: [0, 5, 0] }\n"
         "      b1: { translation: [" +
         by +
         ", -5, 0] }\n"
         "  - join: [a1, b2]\n"
         "    as: far\n"
         "goal:\n"
         "  - { box: { size: [2, 1, 1] } }\n"
         "  - { box: { size: [2, 1, 1], at: [0, 5, 0] } }\n";
}

}  // namespace

TEST_CASE("shapes are told by volume, with mirror images, and the smallest of all") {
  for (const EngineChoice engine : {EngineChoice::parts, EngineChoice::nef, EngineChoice::both}) {
    const CheckResult tetrahedra = check_plan_file(PLANS_FOLDER "/six-path-tetrahedra.yaml", everything(engine));
    CHECK(shown(tetrahedra) ==
          "verified [1/6 chiral T1 T4 T5] [1/6 chiral mirror of 0 T2 T3 T6] edge 1 of T1, volume 1/6 of T1");
    for (const PieceResult& piece : tetrahedra.pieces)
      CHECK(piece.shape.value() == (piece.name == "T1" || piece.name == "T4" || piece.name == "T5" ? 0 : 1));
    CHECK(shown(check_plan_file(PLANS_FOLDER "/odd-edge-to-box.yaml", everything(engine))) ==
          "verified [31/12 rest] [2 wedge] [7/12 chiral top] [7/12 chiral mirror of 2 bottom] [1/2 stays sliver] [1/4 left] "
          "edge 1/4 of stays, volume 1/4 of left");
  }
}

TEST_CASE("details are made for as many pieces as asked for, and of runs that reach their end") {
  CheckSettings settings = everything();
  const std::string plan = PLANS_FOLDER "/six-path-tetrahedra.yaml";
  settings.details.shapes_up_to = 6;
  CHECK(check_plan_file(plan, settings).shapes.size() == 2);
  settings.details.shapes_up_to = 5;
  const CheckResult many = check_plan_file(plan, settings);
  CHECK(many.shapes.empty());
  CHECK_FALSE(many.smallest);
  CHECK_FALSE(many.pieces.front().shape);
  const CheckResult plain = check_plan_file(plan);
  CHECK(plain.shapes.empty());
  for (const StepResult& step : plain.steps) CHECK(step.motions.empty());
  CHECK(check_plan_file(PLANS_FOLDER "/broken/moved-twice.yaml", everything()).shapes.empty());
}

TEST_CASE("motions in words") {
  const std::string begin =
      "cutproof: 1\nmirror: allow\nlet: { h: sqrt(2) }\nstart: { A: { box: { size: [1, 1, 1] } } }\nsteps:\n  - move: { A: ";
  const std::string end = " }\ngoal: { box: { size: [1, 1, 1] } }\n";
  const std::pair<const char*, const char*> cases[] = {
      {"{ translation: [-1, 1/4, h] }", "shifted by (-1, 1/4, sqrt(2))"},
      {"{ translation: [0, 0, 0] }", "stays"},
      {"{ half-turn: [[1, 0, 0], [1, 0, 1]] }", "turned 180 deg about the line through (1, 0, 0) along (0, 0, 1)"},
      {"[{ rotation: { about: z, angle: 90 deg } }, { translation: [0, 0, 2] }]",
       "turned 90 deg about the line through (0, 0, 0) along (0, 0, 1), shifted along it by 2"},
      {"[{ rotation: { about: z, angle: -90 deg } }, { translation: [2, 0, h] }]",
       "turned 90 deg about the line through (1, -1, 0) along (0, 0, -1), shifted along it by -sqrt(2)"},
      {"{ rotation: { about: z, angle: acos(1/3) } }", "turned acos(1/3) about the line through (0, 0, 0) along (0, 0, 1)"},
      {"{ reflection: { equation: \"x = 1/2\" } }", "mirrored in the plane through (1/2, 0, 0) normal to (1, 0, 0)"},
      {"[{ reflection: { equation: \"x = 1/2\" } }, { translation: [0, 1, 2] }]",
       "mirrored in the plane through (1/2, 0, 0) normal to (1, 0, 0), shifted by (0, 1, 2)"},
      {"[{ reflection: { equation: \"z = 1\" } }, { rotation: { about: z, angle: 60 deg } }]",
       "turned 60 deg about the line through (0, 0, 1) along (0, 0, 1) and mirrored in the plane through that point normal "
       "to it"},
      {"[{ reflection: { equation: \"z = 1\" } }, { half-turn: z }]", "mirrored in the point (0, 0, 1)"}};
  for (const auto& [motion, words] : cases) {
    INFO(motion);
    const CheckResult result = check_plan_text(begin + motion + end, "plan.yaml", everything());
    REQUIRE(result.steps.size() == 1);
    REQUIRE(result.steps[0].motions.size() == 1);
    const MotionResult& told = result.steps[0].motions[0];
    CHECK(told.words == words);
    CHECK(told.pieces == std::vector<std::string>{"A"});
    CHECK(told.line == 6);
    CHECK(told.column == 16);
    CHECK(told.proper == told.screw.has_value());
    CHECK(told.proper == (told.words.find("mirrored") == std::string::npos));
  }
}

TEST_CASE("suspects are where pieces got their places") {
  CHECK(check_plan_text(bars("0"), "plan.yaml").outcome == Outcome::verified);
  const CheckResult result = check_plan_text(bars("1/2"), "plan.yaml");
  REQUIRE(result.findings.size() == 2);
  // b1 is moved onto a2, which was cut; a hole is left beside it.
  CHECK(suspects(result.findings[0]) == "overlap: b1 step 3 at 10:11 a2 step 1 at 6:19");
  CHECK(suspects(result.findings[1]) == "missing: b1 step 3 at 10:11");
  // A join leaves its pieces where they were: the last of their motions is the suspect.
  const CheckResult far = check_plan_text(bars("9"), "plan.yaml");
  REQUIRE(far.findings.size() == 2);
  CHECK(suspects(far.findings[0]) == "missing: a2 step 1 at 6:19");
  CHECK(suspects(far.findings[1]) == "excess: b1 step 3 at 10:11");
  std::string moved_join = bars("0");
  moved_join.replace(moved_join.find("[0, 5, 0] }\n      b1"), 9, "[9, 5, 0]");
  const CheckResult joined = check_plan_text(moved_join, "plan.yaml");
  REQUIRE(joined.findings.size() >= 2);
  CHECK(suspects(joined.findings.front()) == "join-apart: a1 step 3 at 9:11 b2 step 2 at 7:19");
}
