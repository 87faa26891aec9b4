// SPDX-License-Identifier: GPL-3.0-or-later
// A plan on two engines of which one lies: whatever it lies about, the outcome is `failed`, and the finding names step and
// piece.
#include "plan/read_plan.hpp"
#include "solid/both_engines.hpp"
#include "verify/check.hpp"
#include "zoo/lying_engine.hpp"

#include <catch2/catch.hpp>

#include <map>

using namespace cutproof;
using test::Lie;
using test::LyingEngine;

namespace {

// A stool with two legs is cut up and becomes a step.
const char* const good_plan = R"(cutproof: 1
start:
  stool: { prism: { base: [[0, 0], [3, 0], [3, 2], [2, 2], [2, 1], [1, 1], [1, 2], [0, 2]], height: 1 } }
steps:
  - { cut: stool, by: { equation: "y = 1" }, into: [legs, seat] }
  - { split: legs, into: [left, right] }
  - expect: { connected: left }
  - move:
      right: { translation: [-1, 0, 0] }
  - { join: [left, right], as: block }
goal: { prism: { base: [[0, 0], [3, 0], [3, 1], [2, 1], [2, 2], [0, 2]], height: 1 } }
)";

// The seat is pushed into the legs; then pieces and goals differ in every way.
const char* const overlapping_plan = R"(cutproof: 1
start:
  stool: { prism: { base: [[0, 0], [3, 0], [3, 2], [2, 2], [2, 1], [1, 1], [1, 2], [0, 2]], height: 1 } }
steps:
  - { cut: stool, by: { equation: "y = 1" }, into: [legs, seat] }
  - move:
      seat: { translation: [0, 1/2, 0] }
  - expect: { filled: { box: { size: [3, 1, 1] } } }
goal:
  west: { box: { size: [1, 2, 1] } }
  east: { box: { size: [2, 3/2, 1], at: [1, 0, 0] } }
)";

const char* const apart_plan = R"(cutproof: 1
start:
  stool: { prism: { base: [[0, 0], [3, 0], [3, 2], [2, 2], [2, 1], [1, 1], [1, 2], [0, 2]], height: 1 } }
steps:
  - { cut: stool, by: { equation: "y = 1" }, into: [legs, seat] }
  - move:
      seat: { translation: [0, -1/2, 0] }
goal:
  west: { box: { size: [1, 2, 1] } }
  east: { box: { size: [2, 3/2, 1], at: [1, 0, 0] } }
)";

// No angle of these pieces is a rational multiple of pi: every edge counts.
const char* const oblique_plan = R"(cutproof: 1
start:
  wedge: { convex-hull: [[1, 1, 1], [1, -1, -1], [-1, 1, -1], [-1, -1, 1]] }
steps:
  - { cut: wedge, by: { equation: "x + 2*y + 3*z = 1/2" }, into: [upper, lower] }
goal: { convex-hull: [[1, 1, 1], [1, -1, -1], [-1, 1, -1], [-1, -1, 1]] }
)";

// Each step asks for pieces by where they lie.
const char* const places_plan = R"(cutproof: 2
start:
  stool: { prism: { base: [[0, 0], [3, 0], [3, 2], [2, 2], [2, 1], [1, 1], [1, 2], [0, 2]], height: 1 } }
steps:
  - { cut: stool, by: { equation: "y = 1" }, into: [legs, seat] }
  - expect: { connected: { below: { equation: "y = 1" } } }
  - expect: { connected: { holding: [3/2, 1/2, 1/2] } }
  - expect: { connected: { inside: { box: { size: [3, 1, 1] } } } }
  - expect: { connected: { touching: legs } }
goal: { prism: { base: [[0, 0], [3, 0], [3, 2], [2, 2], [2, 1], [1, 1], [1, 2], [0, 2]], height: 1 } }
)";

struct Caught {
  const char* plan;
  int step;
  std::vector<std::string> pieces;
};

/// Where a lie must be caught: the first question about which it is one.
Caught where_caught(const Lie& lie) {
  static const std::map<std::string, Caught> by_operation = {
      {"build", {good_plan, 0, {"stool"}}},
      {"volume", {good_plan, 0, {"stool"}}},
      {"boundary", {good_plan, 0, {"stool"}}},
      {"cut", {good_plan, 1, {"stool"}}},
      {"connected_components", {good_plan, 2, {"legs"}}},
      {"count_connected_components", {good_plan, 3, {"left"}}},
      {"moved", {good_plan, 4, {"right"}}},
      {"joined", {good_plan, 5, {"left", "right"}}},
      {"count_linked_groups", {good_plan, 5, {"left", "right"}}},
      {"overlapping_pairs", {overlapping_plan, 2, {"seat"}}},
      {"overlap", {overlapping_plan, 2, {"legs", "seat"}}},
      {"compare", {overlapping_plan, 3, {"legs", "seat"}}},
      {"compare_disjoint", {apart_plan, 2, {"legs", "seat"}}},
      {"for_each_edge", {oblique_plan, 1, {"upper"}}},
      {"reaches_beyond", {places_plan, 2, {}}},
      {"holds", {places_plan, 3, {}}},
      {"inside", {places_plan, 4, {}}},
      {"touching", {places_plan, 5, {}}},
  };
  // Goals are asked about before there is a bench.
  if (lie.operation == "overlapping_pairs" && lie.name == "one more") return {overlapping_plan, 0, {"west", "east"}};
  return by_operation.at(lie.operation);
}

CheckResult run(const char* text, bool first_lies, const Lie* lie) {
  const ExactPlan plan = read_plan(text);
  auto liar = std::make_unique<LyingEngine>(make_parts_engine());
  liar->tell(lie);
  const std::unique_ptr<Engine> engine = first_lies ? make_both_engines(std::move(liar), make_parts_engine())
                                                    : make_both_engines(make_parts_engine(), std::move(liar));
  return check_plan(plan, *engine, {});
}

}  // namespace

TEST_CASE("an engine that lies about anything makes a run fail, with step and piece") {
  for (const bool first_lies : {true, false})
    for (const Lie& lie : test::lies()) {
      if (lie.operation == "box") continue;  // no plan asks for it
      INFO((first_lies ? "the first engine" : "the second engine") << " lies: " << lie.operation << ", " << lie.name);
      const Caught expected = where_caught(lie);
      const CheckResult result = run(expected.plan, first_lies, &lie);
      CHECK(result.outcome == Outcome::failed);
      REQUIRE_FALSE(result.findings.empty());
      const auto finding = std::find_if(result.findings.begin(), result.findings.end(),
                                        [](const Finding& each) { return each.code == "engines-differ"; });
      REQUIRE(finding != result.findings.end());
      CHECK(finding->step == expected.step);
      CHECK(finding->pieces == expected.pieces);
      CHECK(finding->message.find("disagree on") != std::string::npos);
      CHECK(finding->line > 0);
    }
}

TEST_CASE("two engines that say the truth do not differ") {
  CHECK(run(good_plan, true, nullptr).outcome == Outcome::verified);
  CHECK(run(oblique_plan, true, nullptr).outcome == Outcome::verified);
  CHECK(run(overlapping_plan, true, nullptr).outcome == Outcome::refuted);
  CHECK(run(apart_plan, true, nullptr).outcome == Outcome::refuted);
  CHECK(run(places_plan, true, nullptr).outcome == Outcome::verified);
}
