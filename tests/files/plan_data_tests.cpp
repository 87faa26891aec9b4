// SPDX-License-Identifier: GPL-3.0-or-later
// A plan as data is checked like the text that it is written as, and findings tell where in the data they belong.
#include "cutproof/plan.hpp"
#include "cutproof/report.hpp"

#include <catch2/catch.hpp>

using namespace cutproof;
using namespace cutproof::plan;

namespace {

cutproof::Plan bar() {
  cutproof::Plan plan("A bar becomes a square");
  plan.let("a", "sqrt(2)")
      .start("bar", Solid::box({"2*a", "a/2", 1}))
      .step(Step::cut("bar", Plane::equation("x = a")).into({"right", "left"}))
      .step(Step::move({{"right", Motion::translation({"-a", "a/2", 0})}}));
  return plan;
}

std::vector<std::string> places(const CheckResult& result) {
  std::vector<std::string> all;
  for (const Finding& finding : result.findings) all.push_back(finding.code + " " + finding.path + " " + finding.message);
  return all;
}

}  // namespace

TEST_CASE("a plan as data and its text have one result") {
  cutproof::Plan plan = bar();
  plan.goal(Solid::box({"a", "a", 1}));
  const CheckResult result = check_plan(plan, "bar"), of_text = check_plan_text(write_plan(plan), "bar");
  CHECK(result.outcome == Outcome::verified);
  CHECK(result.findings.empty());
  CHECK(json_report({result}) == json_report({of_text}));
}

TEST_CASE("findings have paths") {
  cutproof::Plan plan = bar();
  plan.goal(Solid::box({"a", 1, "a"}));
  const CheckResult result = check_plan(plan, "bar");
  CHECK(result.outcome == Outcome::refuted);
  REQUIRE_FALSE(result.findings.empty());
  for (const Finding& finding : result.findings) CHECK(finding.path == "goal");
  const auto excess = std::find_if(result.findings.begin(), result.findings.end(),
                                   [](const Finding& finding) { return !finding.suspects.empty(); });
  REQUIRE(excess != result.findings.end());
  CHECK(excess->suspects.front().path == "steps[1].move.right");
  CHECK(terminal_report(result).find("refuted: bar: steps[1].move.right, step 2") == 0);
  CHECK(json_report({result}).find("\"path\": \"steps[1].move.right\"") != std::string::npos);
}

TEST_CASE("errors have paths") {
  cutproof::Plan plan = bar();
  plan.point("P", {1, 2, "sqrt(b)"})
      .step(Step::cut("left", Plane::through({0, 0, 0}, "P", "P")))
      .step(Step::of(PlanValue::mapping().add("cut", "left")))
      .step(Step::of(PlanValue::mapping().add("cutt", "left")))
      .goal(Solid::box({"a", "a", 1}));
  const CheckResult result = check_plan(plan, "bar");
  CHECK(result.outcome == Outcome::invalid);
  CHECK(places(result) == std::vector<std::string>{
                              "invalid-input points.P[2] nothing is named `b`",
                              "invalid-input steps[3] a `cut` step needs the key `by`",
                              "invalid-input steps[4].cutt there is no kind of step `cutt`",
                          });
  CHECK(terminal_report(result).find("invalid-input at bar: points.P[2]\n") != std::string::npos);
}

TEST_CASE("nothing that is said twice is lost") {
  cutproof::Plan plan = bar();
  plan.goal(Solid::box({"a", "a", 1})).goal(Solid::box({1, 1, 1}));
  const CheckResult result = check_plan(plan, "bar");
  CHECK(result.outcome == Outcome::invalid);
  REQUIRE(result.findings.size() == 1);
  CHECK(result.findings.front().message.find("the key `goal` stands twice here") == 0);
  CHECK(result.findings.front().path.empty());  // only the first is in the tree
}

TEST_CASE("what is no text at all is an error without a path") {
  const CheckResult result = check_plan(cutproof::Plan::of(PlanValue::mapping().add("title", "\xFF")), "bytes");
  CHECK(result.outcome == Outcome::invalid);
  REQUIRE(result.findings.size() == 1);
  CHECK(result.findings.front().path.empty());
  CHECK(check_plan(cutproof::Plan::of("cutproof"), "text").outcome == Outcome::invalid);
  CHECK(check_plan(cutproof::Plan::of(PlanValue::list()), "nothing").outcome == Outcome::invalid);
}
