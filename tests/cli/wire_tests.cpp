// SPDX-License-Identifier: GPL-3.0-or-later
// What one process says, the other must hear: every field, in whole results and in progress.
#include "cli/wire.hpp"
#include "number/errors.hpp"
#include "report/sample_results.hpp"

#include <catch2/catch.hpp>

using namespace cutproof;

TEST_CASE("a result comes back as it was sent, in one line") {
  const std::string line = to_wire(sample_check());
  CHECK(line.find('\n') == std::string::npos);
  CheckResult check;
  from_wire(line, &check);
  CHECK(to_wire(check) == line);
  CHECK(check.findings.at(0).box->maximum.x == "1/2");
  CHECK(check.goal->dehn.has_value() == false);
  CHECK(check.outcome == Outcome::refuted);

  std::vector<MeasureResult> measure;
  from_wire(to_wire(std::vector<MeasureResult>{sample_measure()}), &measure);
  CHECK(to_wire(measure) == to_wire(std::vector<MeasureResult>{sample_measure()}));
  CHECK(measure.at(0).audit->edges.at(0).angle == "135 deg");
  CompareResult compare;
  from_wire(to_wire(sample_compare()), &compare);
  CHECK(to_wire(compare) == to_wire(sample_compare()));
}

TEST_CASE("a broken message is a fault, never a result") {
  CheckResult result;
  const std::string line = to_wire(sample_check());
  for (const std::string& broken : {std::string(), line.substr(0, line.size() / 2), std::string("{}"), std::string("[]")}) {
    CHECK_THROWS_AS(from_wire(broken, &result), ToolFault);
  }
}

TEST_CASE("progress tells everything once and adds up to the whole") {
  const CheckResult whole = sample_check();
  CheckResult so_far = whole;
  so_far.pieces.clear();  // listed at the end
  so_far.steps.clear();
  so_far.findings.clear();
  so_far.consequences.clear();
  ProgressSender sender;
  RunState state;
  const std::string activity = "step 1 of 2: cut";
  state.receive(sender.next({so_far, activity, 1, 31}));
  CHECK(state.activity == activity);
  CHECK(state.line == 31);
  so_far.steps = {whole.steps[0]};
  so_far.findings = whole.findings;
  state.receive(sender.next({so_far, activity, 2, 35}));
  CHECK(state.so_far.findings.size() == 1);
  so_far.steps = whole.steps;
  so_far.consequences = whole.consequences;
  const std::string last = sender.next({so_far, activity, 2, 35});
  CHECK(last.find("share interior points") == std::string::npos);
  state.receive(last);
  so_far.plan.clear();  // the parent knows it
  CheckResult heard = state.so_far;
  heard.outcome = so_far.outcome;
  CHECK(to_wire(heard) == to_wire(so_far));
}
