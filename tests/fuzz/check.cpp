// SPDX-License-Identifier: GPL-3.0-or-later
// Any bytes through the whole of `check`, under limits that keep a run short. Whatever comes in, the outcome is one that a
// plan can deserve, `verified` is never said of a run with a finding, and the reports are well-formed, harmless and the same
// every time.
#include "cutproof/check.hpp"
#include "cutproof/report.hpp"
#include "fuzz/demand.hpp"
#include "number/errors.hpp"
#include "report/escape.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <set>

using namespace cutproof;
using fuzz::demand;

namespace {

constexpr std::size_t most_pieces = 40, most_steps = 20;

CheckSettings settings() {
  CheckSettings result;
  result.engine = cutproof::EngineChoice::CUTPROOF_FUZZ_ENGINE;
  result.max_degree = 4;
  result.max_bits = 2000;
  result.max_plan_size = 6000;
  return result;
}

/// A plan may ask for more work than there is time for: such a run is stopped here, by the work and not by the clock.
void limit_work(const CheckProgress& progress) {
  const CheckResult& so_far = progress.so_far;
  if (so_far.steps.size() > most_steps) throw LimitReached("work", "too many steps to be tried here");
  if (so_far.steps.empty() || so_far.steps.back().pieces_after <= most_pieces) return;
  throw LimitReached("work", "too many pieces to be tried here");
}

void check_findings(const CheckResult& result, const fuzz::Lines& lines) {
  static const std::set<std::string> codes = {
      "plane-misses", "mirrored",           "overlap",       "join-apart",   "nothing-selected", "no-fit",
      "ambiguous",    "lemma-fails",        "straddles",     "missing",      "excess",           "volume-differs",
      "dehn-differs", "expectation-failed", "invalid-input", "limit-reached"};
  for (const std::vector<Finding>* list : {&result.findings, &result.consequences}) {
    for (const Finding& finding : *list) {
      const std::string what = finding.code + " " + std::to_string(finding.line) + ":" + std::to_string(finding.column) +
                               ": " + cutproof::message_of(finding);
      demand(codes.count(finding.code) == 1, "a plan can cause no such finding: " + what);
      demand(!cutproof::message_of(finding).empty(), "every finding has a message: " + what);
      demand(lines.hold(finding.line, finding.column), "the place is inside the plan: " + what);
      demand(finding.caret_length >= 0, "no negative underline: " + what);
      demand(finding.step >= 0 && static_cast<std::size_t>(finding.step) <= result.total_steps + 1,
             "the step exists: " + what);
    }
  }
}

void check_verdict(const CheckResult& result) {
  demand(result.outcome != Outcome::failed, "no plan makes the tool fail");
  demand((result.outcome == Outcome::verified) == result.findings.empty(),
         "verified is what has no findings, and nothing else");
  if (result.outcome != Outcome::verified) return;
  demand(result.consequences.empty(), "nothing follows where nothing is wrong");
  demand(result.start && result.goal, "what is verified has a start and a goal");
  demand(result.start->volume.exact == result.goal->volume.exact, "what is verified has one volume");
  demand(result.start->volume.exact != "0", "what is verified is not nothing");
  demand(result.dissection == "exists", "what is verified exists");
  demand(result.steps.size() == result.total_steps, "what is verified ran to its end");
  for (const StepResult& step : result.steps)
    demand((step.volume.exact == result.start->volume.exact || result.equicomplement) &&
               (step.dehn_ok == true || result.dimension == 2) && !step.skipped,
           "every step of what is verified keeps the totals");
}

void check_reports(const CheckResult& result, const std::string& json, const std::string& terminal) {
  demand(std::all_of(json.begin(), json.end(), [](char c) { return c == '\n' || (c >= ' ' && c <= '~'); }), "JSON is ASCII");
  const nlohmann::json whole = nlohmann::json::parse(json, nullptr, /*allow_exceptions=*/false);
  demand(!whole.is_discarded(), "JSON is valid");
  // A plan with cases is a list, also of one of them.
  const nlohmann::json& parsed = whole.contains("plans") ? whole["plans"].at(0) : whole;
  demand(parsed["outcome"] == outcome_word(result.outcome), "JSON says the outcome");
  demand(parsed["exit_code"] == exit_code(result.outcome), "JSON says the exit code");
  demand(parsed["findings"].size() == result.findings.size(), "JSON has every finding");
  for (std::size_t begin = 0, end = 0; begin < terminal.size(); begin = end + 1) {
    end = std::min(terminal.find('\n', begin), terminal.size());
    const std::string line = terminal.substr(begin, end - begin);
    demand(escaped(line) == line, "the terminal gets nothing hidden: " + escaped(line));
  }
  const std::string first = outcome_word(result.outcome);
  demand(terminal.compare(0, first.size() + 1, first + ":") == 0, "the terminal's first word is the outcome");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(reinterpret_cast<const char*>(data), size);
  std::string reports[2];
  for (std::string& both : reports) {
    const CheckResult result = check_plan_text(text, "plan.yaml", settings(), limit_work);
    const std::string json = json_report({result}), terminal = terminal_report(result);
    // Shown first, so that a report which should not be is seen.
    if (result.outcome == Outcome::failed) std::fputs(terminal.c_str(), stderr);
    check_verdict(result);
    check_findings(result, fuzz::Lines(text));
    check_reports(result, json, terminal);
    both = json + terminal;
  }
  demand(reports[0] == reports[1], "the same plan gives the same reports");
  return 0;
}
