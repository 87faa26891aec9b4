// SPDX-License-Identifier: GPL-3.0-or-later
// What no plan can show, because exact engines do not do it: an engine that is wrong never leads to a verdict.
#include "verify/wrapped_engine.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <functional>

using namespace cutproof;

namespace {

// The tetrahedron and the box have the same volume, and different Dehn invariants.
const std::string plan_text = R"(cutproof: 1
start: { T: { regular: { name: tetrahedron, edge: 2*sqrt(2) } }, B: { box: { size: [8/3, 1, 1], at: [5, 0, 0] } } }
steps:
  - { cut: T, by: { equation: "x = 0" }, into: [front, back] }
  - move: { front: { translation: [0, 0, 9] } }
  - move: { front: { translation: [0, 0, -9] } }
  - { join: [front, back], as: T }
  - { cut: B, by: { equation: "x = 6" } }
goal: [ { regular: { name: tetrahedron, edge: 2*sqrt(2) } }, { box: { size: [8/3, 1, 1], at: [5, 0, 0] } } ]
)";

/// Puts other pieces in the place of what was asked for.
class FaultyEngine : public WrappedEngine {
 public:
  std::function<Halves(Halves)> after_cut = [](Halves halves) { return halves; };
  std::function<Solid(Solid)> after_move = [](Solid piece) { return piece; };
  std::function<Solid(std::vector<Solid>)> when_joined = [this](std::vector<Solid> pieces) {
    return WrappedEngine::joined(pieces);
  };
  std::vector<Solid> built;  ///< in the order of the plan: T and B first

  Solid build(const SolidDescription& solid) override {
    built.push_back(WrappedEngine::build(solid));
    return built.back();
  }
  Halves cut(const Solid& piece, const Plane& plane) override { return after_cut(WrappedEngine::cut(piece, plane)); }
  Solid moved(const Solid& piece, const Motion& motion) override { return after_move(WrappedEngine::moved(piece, motion)); }
  Solid joined(const std::vector<Solid>& pieces) override { return when_joined(pieces); }
};

bool has(const CheckResult& result, const std::string& code, int step) {
  return std::any_of(result.findings.begin(), result.findings.end(),
                     [&](const Finding& finding) { return finding.code == code && finding.step == step; });
}

}  // namespace

TEST_CASE("an engine that is right verifies the plan") {
  FaultyEngine engine;
  CHECK(check_text(plan_text, engine).outcome == Outcome::verified);
}

TEST_CASE("an engine that is wrong makes the run fail, at the step where it is") {
  FaultyEngine engine;
  std::string code;
  int step = 0;
  SECTION("halves that are more than the piece") {
    engine.after_cut = [&](const Halves& halves) { return Halves{halves.positive, engine.built[1]}; };
    code = "volume-changed", step = 1;
  }
  SECTION("halves that overlap") {
    engine.after_cut = [](const Halves& halves) { return Halves{halves.positive, halves.positive}; };
    code = "tool-fault", step = 1;
  }
  SECTION("a motion that changes the volume, even when it is undone by the next") {
    engine.after_move = [&, calls = 0](const Solid& piece) mutable {
      return ++calls == 1 ? engine.WrappedEngine::joined({piece, piece}) : piece;
    };
    code = "volume-changed", step = 2;
  }
  SECTION("a join that loses a piece") {
    engine.when_joined = [](const std::vector<Solid>& pieces) { return pieces.front(); };
    code = "volume-changed", step = 4;
  }
  SECTION("a join that gives another solid of the same volume") {
    engine.when_joined = [&](const std::vector<Solid>&) { return engine.built[1]; };
    code = "dehn-changed", step = 4;
  }
  const CheckResult result = check_text(plan_text, engine);
  CHECK(result.outcome == Outcome::failed);
  CHECK(has(result, code, step));
  for (int before = 1; before < step; ++before) {
    CHECK_FALSE(has(result, "volume-changed", before));
    CHECK_FALSE(has(result, "dehn-changed", before));
    CHECK(result.steps.at(before - 1).dehn_ok == true);
  }
}
