// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/mends_text.hpp"

#include "report/escape.hpp"
#include "report/refutation_text.hpp"

#include <fmt/format.h>

namespace cutproof {
namespace {

void write_lines(int first, char sign, const std::vector<std::string>& lines, Tint tint, Layout* out) {
  constexpr std::size_t longest = 500;
  int number = first;
  for (const std::string& line : lines) {
    std::string shown = escaped(line);
    if (shown.size() > longest) shown = escaped_prefix(shown, longest) + "...";
    out->line(2, fmt::format("{:>5} {} {}", number++, sign, shown), tint);
  }
}

}  // namespace

namespace {

// The step whose lines a mend changes first; 0: it changes something else.
int step_of(const Mend& mend, const CheckResult& result) {
  if (mend.changes_sides || mend.lines.empty()) return 0;
  int step = 0, line = 0;
  for (std::size_t i = 0; i < result.steps.size(); ++i) {
    const StepResult& each = result.steps[i];
    if (each.line > mend.lines.front().line || each.line < line) continue;
    step = static_cast<int>(i) + 1;
    line = each.line;
  }
  return step;
}

// Only of pieces whose motions turn them into mirror images the search says more, where it finds nothing.
std::string only_mirror_images_fit(const CheckResult& result) {
  std::vector<std::string> pieces;
  for (const Finding& finding : result.findings)
    if (finding.code == "mirrored" && !finding.hint.empty())
      pieces.insert(pieces.end(), finding.pieces.begin(), finding.pieces.end());
  if (pieces.empty()) return "";
  return (pieces.size() == 1 ? " Only the mirror image fits the hole of " : " Only the mirror images fit the holes of ") +
         quoted_list(pieces) + "; `mirror: allow` would permit it.";
}

}  // namespace

std::string in_step(const Mend& mend, const CheckResult& result, int named_step) {
  // The report's first line names the motion that put a piece there; at fault may be the cut that made it.
  const int step = step_of(mend, result);
  return step == 0 || step == named_step ? "" : fmt::format(" in step {}", step);
}

void write_mends(const CheckResult& result, int named_step, Layout* out) {
  if (result.mends_tried == 0 && result.mends_ended_early.empty()) return;
  for (const Mend& mend : result.mends) {
    const char* sides = !mend.changes_sides           ? ""
                        : mend.kind == "remove-piece" ? "; it changes the start"
                                                      : "; it changes the goal";
    out->paragraph(2, "", fmt::format("With this{} the plan verifies (tried{}):", in_step(mend, result, named_step), sides));
    for (const MendLines& lines : mend.lines) {
      write_lines(lines.line, '-', lines.before, Tint::red, out);
      write_lines(lines.line, '+', lines.after, Tint::green, out);
    }
  }
  if (result.mends.empty() && result.mends_tried > 0)
    out->paragraph(2, "", fmt::format("No mend found: {} tried.{}", result.mends_tried, only_mirror_images_fit(result)));
  if (!result.mends_ended_early.empty())
    out->paragraph(2, "", "The search for mends ended early: " + result.mends_ended_early);
}

}  // namespace cutproof
