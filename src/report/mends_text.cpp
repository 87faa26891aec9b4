// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/mends_text.hpp"

#include "report/escape.hpp"

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

void write_mends(const CheckResult& result, Layout* out) {
  if (result.mends_tried == 0 && result.mends_ended_early.empty()) return;
  for (const Mend& mend : result.mends) {
    const char* sides = !mend.changes_sides           ? ""
                        : mend.kind == "remove-piece" ? "; it changes the start"
                                                      : "; it changes the goal";
    out->paragraph(2, "", fmt::format("With this the plan verifies (tried{}):", sides));
    for (const MendLines& lines : mend.lines) {
      write_lines(lines.line, '-', lines.before, Tint::red, out);
      write_lines(lines.line, '+', lines.after, Tint::green, out);
    }
  }
  if (result.mends.empty()) out->paragraph(2, "", fmt::format("No mend found: {} tried.", result.mends_tried));
  if (!result.mends_ended_early.empty())
    out->paragraph(2, "", "The search for mends ended early: " + result.mends_ended_early);
}

}  // namespace cutproof
