// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/finding_facts.hpp"
#include "report/findings_text.hpp"
#include "report/page/markup.hpp"
#include "report/page/sheet_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

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

std::string step_item(const Sheet& sheet, const StepResult& step, PagePictures& pictures) {
  std::string text = "<li class=\"step" + std::string(has_finding(sheet.result, step.index) ? " concerned" : "") + "\">\n";
  text += pictures.of_step(step.index, "") + "<div class=\"told\">\n";
  text += fmt::format("<p class=\"step-head\"><strong>{}</strong><span class=\"line\">line {}</span></p>\n", step.index,
                      step.line);
  if (!step.title.empty()) text += "<p class=\"title-of-step\">" + in_page(step.title) + "</p>\n";
  text += "<p class=\"words\">" + deed(step, /*markup=*/true) + "</p>\n" + motions(step);
  if (!step.note.empty()) text += "<p class=\"soft small\">" + in_page(step.note) + "</p>\n";
  if (has_finding(sheet.result, step.index)) text += "<p class=\"code\">Something was found here.</p>\n";
  return text + view_button(sheet, step.index, "Show in the view") + "</div></li>\n";
}

// `Step 5: expect`, `Steps 5 to 37: cut, move`: what stands folded, by kinds in order of appearance.
std::string fold_summary(const std::vector<const StepResult*>& steps) {
  std::string kinds;
  std::vector<std::string> known;
  for (const StepResult* step : steps) {
    if (std::find(known.begin(), known.end(), step->kind) != known.end()) continue;
    known.push_back(step->kind);
    kinds += (kinds.empty() ? "" : ", ") + in_page(step->kind);
  }
  return steps.size() == 1 ? fmt::format("Step {}: {}", steps.front()->index, kinds)
                           : fmt::format("Steps {} to {}: {}", steps.front()->index, steps.back()->index, kinds);
}

}  // namespace

std::string steps_part(const Sheet& sheet, PagePictures& pictures) {
  const CheckResult& result = sheet.result;
  if (result.total_steps == 0) return "";
  std::string text = part(sheet, "steps", "Step by step");
  // Where there are pictures, steps without one fold, but for those at which something was found; of many steps, too.
  constexpr std::size_t most_open = 40;
  const bool folds =
      result.steps.size() > most_open || std::any_of(result.steps.begin(), result.steps.end(),
                                                     [&](const StepResult& step) { return pictures.has_step(step.index); });
  std::vector<const StepResult*> folded;
  const auto unfold = [&] {
    if (folded.empty()) return;
    text += "<li class=\"fold\"><details><summary>" + fold_summary(folded) + "</summary><ol>\n";
    for (const StepResult* step : folded) text += step_item(sheet, *step, pictures);
    text += "</ol></details></li>\n";
    folded.clear();
  };
  if (!result.steps.empty()) {
    text += pictures.wide_steps() ? "<ol class=\"steps wide\">\n" : "<ol class=\"steps\">\n";
    for (const StepResult& step : result.steps) {
      if (folds && !pictures.has_step(step.index) && !has_finding(result, step.index)) {
        folded.push_back(&step);
        continue;
      }
      unfold();
      text += step_item(sheet, step, pictures);
    }
    unfold();
    text += "</ol>\n";
  }
  if (result.steps.size() < result.total_steps) {
    text += fmt::format("<p>The run ended before step {}; the plan has {}.</p>\n", result.steps.size() + 1,
                        counted(result.total_steps, "step"));
  }
  return text;
}

namespace {

constexpr std::size_t most_names = 24;

// How many of the names a step shows: names of many cuts, as `C.1.1.2.1`, would fill the screen.
std::size_t most_shown(const NameList& list) {
  constexpr std::size_t least = 4, most_letters = 300;
  std::size_t shown = 0, letters = 0;
  for (; shown < std::min(most_names, list.first.size()); ++shown) {
    letters += list.first[shown].size() + 2;
    if (letters > most_letters && shown >= least) break;
  }
  return shown;
}

}  // namespace

std::string deed(const StepResult& step, bool markup) {
  constexpr std::size_t longest_read_out = 160;  // a live line is read out, and stands beside the view
  const auto names = [&](const NameList& list) {
    if (markup) return names_in_page(list, most_shown(list));
    std::string text = names_in_words(list, most_names);
    return text.size() > longest_read_out ? counted(list.count, "piece") : text;
  };
  const std::string kind = markup ? in_page(step.kind) : step.kind;
  if (step.skipped) return kind + ": left out because of a finding";
  if (step.kind == "cut" && step.removed.empty()) return "cut: no piece was cut";
  if (step.kind == "move" && !step.moved.empty()) return "moved " + names(step.moved);
  if (step.removed.empty() && step.added.empty()) return kind;
  if (step.added.empty()) return kind + " " + names(step.removed);
  const std::string lemma = markup ? in_page(step.lemma) : step.lemma;
  return (step.kind == "join"  ? "joined"
          : step.kind == "use" ? "lemma " + lemma + ":"
                               : kind) +
         " " + names(step.removed) +
         (step.removed.empty() ? ""
          : markup             ? " -&gt; "
                               : " into ") +  // a live line is read out

         names(step.added);
}

}  // namespace cutproof
