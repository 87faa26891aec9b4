// SPDX-License-Identifier: GPL-3.0-or-later
// A person reads these to mend a plan: where first, then what, then how much, then what to write instead.
#include "report/findings_text.hpp"
#include "plan/dimension_words.hpp"

#include "report/brief.hpp"
#include "report/escape.hpp"
#include "report/sentences.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>

namespace cutproof {
namespace {

std::string place(const std::string& file, const Finding& finding) {
  std::string text = finding.file.empty() ? file : finding.file;
  if (!finding.path.empty()) return text + ": " + finding.path;
  if (finding.line > 0) text += fmt::format(":{}", finding.line);
  if (finding.line > 0 && finding.column > 0) text += fmt::format(":{}", finding.column);
  return text;
}

// Text that was escaped already, without its first code points.
std::string without(const std::string& escaped_text, std::size_t code_points) {
  return escaped_text.substr(escaped_prefix(escaped_text, code_points).size());
}

void write(const std::string& file, const Finding& finding, Layout* out) {
  out->gap();
  std::string where = place(file, finding);
  if (!where.empty()) where = " at " + where;
  if (finding.step > 0 && finding.excerpt.empty()) where += fmt::format(", step {}", finding.step);
  out->paragraph(2, "", finding.code + where, Tint::plain, Tint::red);
  out->paragraph(4, "", message_of(finding));
  write_excerpt(finding, out);
  if (finding.pieces.size() > 3) out->list(4, "pieces: ", finding.pieces, Tint::plain, 3);
  if (finding.volume) out->paragraph(4, in_dimension(finding.dimension, "volume: "), shown(*finding.volume));
  if (finding.missing) out->paragraph(4, "missing: ", shown(*finding.missing));
  if (finding.excess) out->paragraph(4, "excess: ", shown(*finding.excess));
  if (finding.box && message_of(finding).find(brief(*finding.box)) == std::string::npos)
    out->paragraph(4, "inside: ", brief(*finding.box));
  std::vector<std::string> corners;
  for (const ExactPoint& corner : finding.corners) corners.push_back(brief(corner));
  out->list(4, "corners: ", corners, Tint::plain, 20);
  if (const std::string hint = hint_of(finding); !hint.empty()) out->paragraph(4, "try: ", hint, Tint::green);
}

}  // namespace

void write_excerpt(const Finding& finding, Layout* out) {
  if (finding.excerpt.empty()) return;
  const std::string number = fmt::format("{:>5} | ", finding.line);
  const std::size_t room = std::max<std::size_t>(out->width(), number.size() + 32) - number.size() - 2;
  const std::size_t before = static_cast<std::size_t>(std::max(finding.column - 1, 0));
  const std::size_t length = static_cast<std::size_t>(std::max(finding.caret_length, 0));
  std::string line = escaped(finding.excerpt);
  std::string left = escaped_prefix(finding.excerpt, before);
  std::string marked = escaped_prefix(finding.excerpt, before + length).substr(left.size());
  if (display_width(line) > room) {
    std::size_t dropped = 0;
    while (display_width(left) - dropped > room / 3) ++dropped;
    const std::string lead = dropped > 0 ? "..." : "";
    line = lead + without(line, dropped);
    left = lead + without(left, dropped);
    for (std::size_t kept = room; display_width(line) > room; --kept) line = escaped_prefix(line, kept - 3) + "...";
    while (display_width(left + marked) > room) marked = escaped_prefix(marked, room - display_width(left));
  }
  out->line(2, number + line);
  if (length == 0 || finding.column <= 0) return;
  const std::string caret(std::max<std::size_t>(display_width(marked), 1), '^');
  out->line(2, std::string(number.size() - 2, ' ') + "| " + std::string(display_width(left), ' ') + caret, Tint::red);
}

std::size_t total_count(const CheckResult& result) {
  return std::accumulate(result.counts.begin(), result.counts.end(), std::size_t{0},
                         [](std::size_t sum, const auto& each) { return sum + each.second; });
}

std::string counted(std::size_t count, const std::string& noun) {
  return fmt::format("{} {}{}", count, noun, count == 1 ? "" : "s");
}

std::string shown(const Value& value) {
  constexpr std::size_t readable = 90;  // a line, beside a name
  if (value.exact.size() > readable) return "about " + readable_decimal(value);
  const std::string decimal = readable_decimal(value);
  return decimal.empty() || decimal == value.exact ? value.exact : value.exact + " = " + decimal;
}

std::string shown(const ExactPoint& point) {
  return "(" + coordinates_text(point) + ")";
}

std::string shown(const DehnValue& dehn) {
  return dehn.distinct_angles == 0 ? dehn.text
                                   : dehn.text + ", " + counted(dehn.distinct_angles, "distinct angle") + " left";
}

void write_findings(const char* heading, const std::string& file, const std::vector<Finding>& findings,
                    const std::map<std::string, std::size_t>& counts, Layout* out) {
  if (findings.empty()) return;
  out->gap();
  if (*heading != '\0') out->line(0, heading, Tint::bold);
  for (const Finding& finding : findings) write(file, finding, out);
  for (const auto& [code, count] : counts) {
    const auto listed = static_cast<std::size_t>(std::count_if(
        findings.begin(), findings.end(), [&, name = code](const Finding& each) { return each.code == name; }));
    if (count > listed) {
      out->gap();
      out->paragraph(2, "", fmt::format("and {} more of the kind {}, {} in all", count - listed, code, count));
    }
  }
}

}  // namespace cutproof
