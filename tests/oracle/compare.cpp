// SPDX-License-Identifier: GPL-3.0-or-later
// What the oracle does not decide is taken out of the engines' findings before they are compared with its own.
#include "oracle/compare.hpp"

#include "cutproof/check.hpp"
#include "cutproof/report.hpp"
#include "oracle/oracle.hpp"

#include <algorithm>
#include <fstream>
#include <set>
#include <sstream>
#include <vector>

namespace cutproof::oracle {
namespace {

// A plan may have more cases than these, with far more pieces; what they show is the same.
constexpr std::size_t most_cases = 2;

CheckResult check_with(EngineChoice engine, const std::string& text, const std::string& path, std::size_t case_number) {
  CheckSettings settings;
  settings.engine = engine;
  settings.case_number = case_number;
  CheckResult result = check_plan_text(text, path, settings);
  result.engine.reset();
  return result;
}

std::vector<std::string> findings_that_the_oracle_decides(const CheckResult& result,
                                                          const std::set<std::pair<int, int>>& not_judged) {
  static const std::set<std::string> with_volume = {"overlap", "missing", "excess", "volume-differs"};
  std::vector<std::string> findings;
  for (const Finding& finding : result.findings) {
    if (finding.code == "dehn-differs") continue;
    if (finding.code == "expectation-failed" && not_judged.count({finding.line, finding.column}) != 0) continue;
    findings.push_back(finding.code + "@" + std::to_string(finding.step));
    if (with_volume.count(finding.code) != 0) findings.back() += "=" + finding.volume.value().exact;
  }
  std::sort(findings.begin(), findings.end());
  return findings;
}

void show(std::ostream& out, const char* who, Outcome outcome, const std::vector<std::string>& findings) {
  out << who << ": " << outcome_word(outcome);
  for (const std::string& finding : findings) out << ' ' << finding;
  out << '\n';
}

Comparison judge_case(const std::string& text, const std::string& path, std::size_t case_number, std::size_t* case_count) {
  const CheckResult parts = check_with(EngineChoice::parts, text, path, case_number);
  const CheckResult nef = check_with(EngineChoice::nef, text, path, case_number);
  const Judgement oracle = judge_plan(text, path, case_number);
  *case_count = parts.case_count;
  const std::vector<std::string> found = findings_that_the_oracle_decides(parts, oracle.not_judged);
  Comparison comparison;
  comparison.outcome = parts.outcome;
  comparison.not_judged = parts.outcome == Outcome::refuted && found.empty() && !parts.findings.empty();
  const Outcome expected = comparison.not_judged ? Outcome::verified : parts.outcome;
  const bool compare_findings = expected == Outcome::verified || expected == Outcome::refuted;
  const bool agree = json_report({parts}) == json_report({nef}) && parts.outcome != Outcome::failed &&
                     expected == oracle.outcome && (!compare_findings || found == oracle.findings);
  if (agree) return comparison;
  std::ostringstream all;
  show(all, "parts ", parts.outcome, findings_that_the_oracle_decides(parts, {}));
  show(all, "nef   ", nef.outcome, findings_that_the_oracle_decides(nef, {}));
  show(all, "oracle", oracle.outcome, oracle.findings);
  if (!oracle.why.empty()) all << "        " << oracle.why << '\n';
  for (const Finding& finding : parts.findings) all << "parts says: " << message_of(finding) << '\n';
  if (json_report({parts}) != json_report({nef}))
    all << "--- report of parts\n" << json_report({parts}) << "\n--- report of nef\n" << json_report({nef}) << '\n';
  comparison.disagreement = all.str();
  return comparison;
}

}  // namespace

Comparison judge_three_times(const std::string& text, const std::string& path) {
  std::size_t case_count = 0;
  const Comparison first = judge_case(text, path, 1, &case_count);
  if (!first.disagreement.empty()) return first;
  for (std::size_t number = 2; number <= std::min(case_count, most_cases); ++number) {
    std::size_t ignored = 0;
    Comparison other = judge_case(text, path, number, &ignored);
    if (other.disagreement.empty()) continue;
    other.disagreement = "case " + std::to_string(number) + ":\n" + other.disagreement;
    return other;
  }
  return first;
}

std::string text_of(const std::string& path) {
  std::ifstream file(path);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

}  // namespace cutproof::oracle
