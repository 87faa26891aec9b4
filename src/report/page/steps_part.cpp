// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/finding_facts.hpp"
#include "report/findings_text.hpp"
#include "report/page/markup.hpp"
#include "report/page/sheet_parts.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace cutproof {
namespace {

bool has_finding(const CheckResult& result, int step) {
  return std::any_of(result.findings.begin(), result.findings.end(),
                     [&](const Finding& finding) { return finding.step == step && !concerns_goal(finding); });
}

// Each motion in words, with what it moved; of many the first.
std::string motions(const StepResult& step) {
  constexpr std::size_t most = 12, most_names = 8;
  if (step.motions.empty()) return "";
  std::string text = "<ul class=\"motions\">\n";
  for (std::size_t i = 0; i < std::min(most, step.motions.size()); ++i) {
    text += "<li>" + names_in_page(step.motions[i].pieces, most_names) + ": " + in_page(step.motions[i].words) + "</li>\n";
  }
  if (step.motions.size() > most) text += fmt::format("<li>and {} more motions</li>\n", step.motions.size() - most);
  return text + "</ul>\n";
}

std::string step_item(const Sheet& sheet, const StepResult& step) {
  std::string text = "<li class=\"step" + std::string(has_finding(sheet.result, step.index) ? " concerned" : "") + "\">\n";
  text += fmt::format("<p class=\"step-head\"><strong>{}</strong><span class=\"line\">line {}</span></p>\n", step.index,
                      step.line);
  if (!step.title.empty()) text += "<p class=\"title-of-step\">" + in_page(step.title) + "</p>\n";
  text += "<p class=\"words\">" + deed(step, /*markup=*/true) + "</p>\n" + motions(step);
  if (!step.note.empty()) text += "<p class=\"soft small\">" + in_page(step.note) + "</p>\n";
  if (has_finding(sheet.result, step.index)) text += "<p class=\"code\">Something was found here.</p>\n";
  return text + view_button(sheet, step.index, "Show in the view") + "</li>\n";
}

}  // namespace

std::string steps_part(const Sheet& sheet) {
  const CheckResult& result = sheet.result;
  if (result.total_steps == 0) return "";
  std::string text = part(sheet, "steps", "Step by step");
  if (!result.steps.empty()) {
    text += "<ol class=\"steps\">\n";
    for (const StepResult& step : result.steps) text += step_item(sheet, step);
    text += "</ol>\n";
  }
  if (result.steps.size() < result.total_steps) {
    text += fmt::format("<p>The run ended before step {}; the plan has {}.</p>\n", result.steps.size() + 1,
                        counted(result.total_steps, "step"));
  }
  return text;
}

std::string deed(const StepResult& step, bool markup) {
  constexpr std::size_t most = 24;
  const auto names = [&](const std::vector<std::string>& list) {
    return markup ? names_in_page(list, most) : names_in_words(list, most);
  };
  const std::string kind = markup ? in_page(step.kind) : step.kind;
  if (step.skipped) return kind + ": left out, a consequence of an earlier finding";
  if (step.kind == "cut" && step.removed.empty()) return "cut: no piece was cut";
  if (step.kind == "move" && !step.moved.empty()) return "moved " + names(step.moved);
  if (step.removed.empty() && step.added.empty()) return kind;
  if (step.added.empty()) return kind + " " + names(step.removed);
  return (step.kind == "join" ? "joined" : kind) + " " + names(step.removed) + (step.removed.empty() ? "" : " into ") +
         names(step.added);
}

}  // namespace cutproof
