// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/log.hpp"

#include "report/against_text.hpp"
#include "report/escape.hpp"
#include "report/finding_facts.hpp"
#include "report/findings_text.hpp"
#include "report/layout.hpp"
#include "report/sentences.hpp"
#include "report/verdict_text.hpp"

#include <algorithm>

namespace cutproof {
namespace {

constexpr std::size_t most_findings = 10;

std::string file_text(const std::string& file) {
  const bool looks_like_a_command = !file.empty() && (file.front() == ':' || file.front() == '#');
  return (looks_like_a_command ? "./" : "") + escaped(file);
}

// `refuted: case 2 with n = 3`: the plan alone does not tell which of its cases is meant.
std::string outcome_text(const CheckResult& result) {
  const std::string which = case_words(result);
  return outcome_word(result.outcome) + (which.empty() ? "" : ": " + escaped(which));
}

std::string finding_line(const CheckResult& result, const Finding& finding) {
  const FindingPlace place = place_of(result, finding);
  std::string text = file_text(place.file);
  if (place.line > 0) text += ":" + std::to_string(place.line);
  if (place.column > 0) text += ":" + std::to_string(place.column);
  text += ": " + outcome_text(result) + ": ";
  if (concerns_goal(finding)) {
    text += "goal: ";
  } else if (finding.step > 0) {
    text += "step " + std::to_string(finding.step) + ": ";
  } else if (is_about_a_step(finding)) {
    text += "start: ";
  }
  return text + escaped(message_of(finding)) + "\n";
}

// Of a plan of which something changed.
std::string against_of(const CheckResult& result) {
  if (!result.against || !result.against->any()) return "";
  return file_text(result.plan) + ": " + outcome_text(result) + ": against the older report: " + against_line(result) + "\n";
}

}  // namespace

std::string log_lines(const std::vector<CheckResult>& results) {
  if (results.empty()) return "No plan falls to this shard.\n";
  std::string text;
  for (const CheckResult& result : results) {
    text += against_of(result);
    const std::size_t listed = std::min(result.findings.size(), most_findings);
    for (std::size_t i = 0; i < listed; ++i) text += finding_line(result, result.findings[i]);
    const std::size_t count = std::max(total_count(result), result.findings.size());
    if (count > listed)
      text +=
          file_text(result.plan) + ": " + outcome_text(result) + ": and " + counted(count - listed, "more finding") + "\n";
  }
  text += tally(results);
  if (!results.empty() && results.front().against) {
    const auto differ = static_cast<std::size_t>(
        std::count_if(results.begin(), results.end(), [](const CheckResult& each) { return each.against->any(); }));
    text += differ == 0 ? "; nothing changed" : "; " + std::to_string(differ) + " changed";
    text += " against the older report";
  }
  return text + "\n";
}

std::string check_reports(const std::vector<CheckResult>& results, const TextStyle& style) {
  std::string text;
  bool after_line = false;
  for (const CheckResult& result : results) {
    const bool one_line = result.outcome == Outcome::verified && !style.full;
    if (!text.empty() && !(one_line && after_line)) text += "\n";
    if (one_line) {
      Layout out(style);
      if (case_text(result).empty() && proof_text(result).empty()) {
        out.line(0, std::string("verified: ") + result.plan);
      } else {
        out.paragraph(0, "verified: ", plan_and_case(result));
      }
      if (result.against && result.against->any()) write_against(result, 2, &out);
      text += out.text();
    } else {
      text += terminal_report(result, style);
    }
    after_line = one_line;
  }
  return text + (text.empty() ? "" : "\n") + log_lines(results);
}

}  // namespace cutproof
