// SPDX-License-Identifier: GPL-3.0-or-later
// Whether a dissection exists is told only after it was decided.
#include "plan/read_plan.hpp"
#include "verify/check.hpp"
#include "verify/wrapped_engine.hpp"

#include <catch2/catch.hpp>

using namespace cutproof;

namespace {

/// Reaches a limit as soon as the invariants of start and goal are asked for.
class TiredEngine : public WrappedEngine {
 public:
  Boundary boundary(const Solid&) override { throw LimitReached("a test's limit", "no further"); }
};

}  // namespace

TEST_CASE("no dissection is said to exist where the invariants were not decided") {
  const ExactPlan plan =
      read_plan("cutproof: 1\nstart: { A: { box: { size: [2, 1, 1] } } }\nsteps: []\ngoal: { box: { size: [1, 2, 1] } }\n");
  TiredEngine engine;
  const CheckResult result = check_plan(plan, engine, {});
  CHECK(result.outcome == Outcome::stopped);
  CHECK(result.dissection.empty());
  CHECK(result.dissection_reason == DissectionReason::undecided);
}
