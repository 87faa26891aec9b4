// SPDX-License-Identifier: GPL-3.0-or-later
// What one process says, the other must hear: every field, in whole results and in progress.
#include "cli/wire.hpp"
#include "cutproof/report.hpp"
#include "number/errors.hpp"
#include "report/sample_results.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <limits>

using namespace cutproof;

namespace {

std::string whole(const CheckResult& result) {
  return ProgressSender().last(result);
}

}  // namespace

TEST_CASE("a result comes back as it was sent, in one line") {
  const std::string line = whole(sample_check());
  CHECK(line.find('\n') == std::string::npos);
  RunState state;
  state.receive(line);
  const CheckResult& check = state.so_far;
  CHECK(whole(check) == line);
  // The same through eyes that share nothing with the wire. The path is the parent's own.
  CheckResult reported = check;
  reported.plan = sample_check().plan;
  CHECK(json_report({reported}) == json_report({sample_check()}));
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

TEST_CASE("long lists of names that begin alike come back as they were, in little room") {
  CheckResult sent = sample_check();
  sent.pieces.clear();
  std::size_t length = 0;
  std::string stem(250, 'T');
  for (const char* end : {"", ".1", ".1", ".2", "\u00e4", "\u00e5", "\u00e4\u00e4", ".1.1.1.1.1.1.1", ".1.1.1.1.1.1.2", "x"})
    for (int i = 0; i < 200; ++i) {
      sent.pieces.push_back({stem + end, static_cast<std::size_t>(i % 3), {"1/1728", "0.000578703703703703703"}});
      if (i % 5 == 0) sent.pieces.back().shape = static_cast<std::size_t>(i);
      if (i % 7 == 0) sent.pieces.back().extent = ExtentResult{{{"0", "0", "0"}, {"1", "1", "1"}}, {"1/2", "1/2", "1/2"}};
      sent.findings[0].pieces.push_back(stem + end);
      sent.steps[0].added.push_back(stem + end);
      length += stem.size();
    }
  const std::string line = whole(sent);
  CHECK(line.size() < length);
  RunState state;
  state.receive(line);
  CHECK(whole(state.so_far) == line);
  REQUIRE(state.so_far.pieces.size() == sent.pieces.size());
  for (std::size_t i = 0; i < sent.pieces.size(); ++i) CHECK(state.so_far.pieces[i].name == sent.pieces[i].name);
  CHECK(state.so_far.findings[0].pieces == sent.findings[0].pieces);
  CHECK(state.so_far.steps[0].added.first == sent.steps[0].added.first);
  CHECK(state.so_far.steps[0].added.size() == sent.steps[0].added.size());
  CHECK(state.so_far.pieces[5].shape == sent.pieces[5].shape);
  REQUIRE(state.so_far.pieces[7].extent);
  CHECK(state.so_far.pieces[7].extent->centroid.x == "1/2");
}

TEST_CASE("coordinates beyond the doubles come back as they were") {
  const double beyond = std::numeric_limits<double>::infinity();
  CheckResult sent = sample_check();
  sent.geometry = CheckGeometry();
  sent.geometry->solids.emplace_back();
  sent.geometry->solids[0].corners = {{{"10^400", "-10^400", "1/2"}, {beyond, -beyond, 0.5}}};
  RunState state;
  state.receive(whole(sent));
  REQUIRE(state.so_far.geometry);
  CHECK(state.so_far.geometry->solids.at(0).corners.at(0).nearest == std::array<double, 3>{beyond, -beyond, 0.5});
}

TEST_CASE("a broken message is a fault, never a result") {
  RunState state;
  const std::string line = whole(sample_check());
  for (const std::string& broken : {std::string(), line.substr(0, line.size() / 2), std::string("{}"), std::string("[]")}) {
    CHECK_THROWS_AS(state.receive(broken), ToolFault);
  }
}

TEST_CASE("progress tells everything once and adds up to the whole") {
  const CheckResult sample = sample_check();
  CheckResult so_far = sample;
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
  so_far.steps = {sample.steps[0]};
  so_far.findings = sample.findings;
  state.receive(sender.next({so_far, activity, 2, 35}));
  CHECK(state.so_far.findings.size() == 1);
  so_far.steps = sample.steps;
  so_far.consequences = sample.consequences;
  const std::string last = sender.next({so_far, activity, 2, 35});
  CHECK(last.find("share interior points") == std::string::npos);
  state.receive(last);
  CHECK(whole(state.so_far) == whole(so_far));

  CheckResult end = sample;  // with pieces, and findings sorted anew
  std::reverse(end.findings.begin(), end.findings.end());
  const std::string result = sender.last(end);
  CHECK(result.size() + 100 < whole(end).size());
  state.receive(result);
  CHECK(whole(state.so_far) == whole(end));
}
