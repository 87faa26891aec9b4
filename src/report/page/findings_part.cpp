// SPDX-License-Identifier: GPL-3.0-or-later
#include "plan/dimension_words.hpp"
#include "report/escape.hpp"
#include "report/finding_facts.hpp"
#include "report/findings_text.hpp"
#include "report/mends_text.hpp"
#include "report/page/markup.hpp"
#include "report/page/sheet_parts.hpp"
#include "report/refutation_text.hpp"
#include "report/sentences.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>
#include <string>
#include <vector>

namespace cutproof {
namespace {

// The line with what is at fault marked; of a long one what stands near it.
std::string excerpt(const Finding& finding) {
  if (finding.excerpt.empty()) return "";
  constexpr std::size_t around = 120, most_marked = 200;
  const auto before = static_cast<std::size_t>(std::max(finding.column - 1, 0));
  const std::size_t marked = std::min(most_marked, static_cast<std::size_t>(std::max(finding.caret_length, 0)));
  const auto between = [&](std::size_t from, std::size_t to) {
    return in_markup(escaped_prefix(finding.excerpt, to).substr(escaped_prefix(finding.excerpt, from).size()));
  };
  const std::size_t from = before > around ? before - around : 0, to = before + marked + around;
  const bool goes_on = escaped_prefix(finding.excerpt, to + 1).size() > escaped_prefix(finding.excerpt, to).size();
  std::string line = (from > 0 ? "..." : "") + between(from, before);
  if (marked > 0) line += "<mark>" + between(before, before + marked) + "</mark>";
  line += between(before + marked, to) + (goes_on ? "..." : "");
  return fmt::format("<pre class=\"excerpt\"><span class=\"soft\">{:>4} </span>{}</pre>\n", finding.line, line);
}

std::string finding_facts(const Finding& finding) {
  std::string facts;
  if (finding.volume) facts += fact(in_dimension(finding.dimension, "Volume").c_str(), in_page(shown(*finding.volume)));
  if (finding.missing) facts += fact("Missing", in_page(shown(*finding.missing)));
  if (finding.excess) facts += fact("Too much", in_page(shown(*finding.excess)));
  if (finding.box)
    facts += fact("Inside", in_page(shown(finding.box->minimum)) + " to " + in_page(shown(finding.box->maximum)));
  if (!finding.corners.empty()) {
    std::string corners;
    constexpr std::size_t most = 40;
    for (std::size_t i = 0; i < std::min(most, finding.corners.size()); ++i)
      corners += (i == 0 ? "" : ", ") + in_page(shown(finding.corners[i]));
    if (finding.corners.size() > most) corners += fmt::format(" and {} more", finding.corners.size() - most);
    facts += fact("Corners", fmt::format("<details><summary>{}</summary>{}</details>",
                                         counted(finding.corners.size(), "point"), corners));
  }
  return facts.empty() ? "" : "<dl class=\"facts\">\n" + facts + "</dl>\n";
}

// `figure` may be empty.
std::string finding_item(const Sheet& sheet, const Finding& finding, const std::string& figure) {
  const FindingPlace place = place_of(sheet.result, finding);
  std::string where;
  if (concerns_goal(finding)) {
    where = "at the goal";
  } else if (finding.step > 0) {
    where = "at step " + std::to_string(finding.step);
  } else if (kind_of(finding).of_plan) {
    where = "at the start";
  }
  if (place.line > 0) where += std::string(where.empty() ? "" : ", ") + "line " + std::to_string(place.line);
  std::string text =
      figure.empty() ? "<li class=\"finding\"><div>\n" : "<li class=\"finding pictured\">" + figure + "<div>\n";
  text +=
      fmt::format("<p><span class=\"code\">{}</span> <span class=\"where\">{}</span></p>\n", in_page(finding.code), where);
  text += "<p>" + prose_in_page(message_of(finding)) + "</p>\n" + excerpt(at_suspect(finding)) + finding_facts(finding);
  if (const std::string hint = hint_of(finding); !hint.empty()) text += "<p>Try: " + prose_in_page(hint) + "</p>\n";
  if (kind_of(finding).of_plan) text += "<p>" + view_button(sheet, finding.step, "Show this step in the view") + "</p>\n";
  return text + "</div></li>\n";
}

// The findings of the list that `order` names; the first of them stands alone, with `behind_first` behind it.
std::string finding_list(const Sheet& sheet, const std::vector<Finding>& findings, const std::vector<std::size_t>& order,
                         const std::string& behind_first, PagePictures* pictures) {
  constexpr std::size_t open = 10;
  std::string text;
  for (std::size_t i = 0; i < order.size(); ++i) {
    const Finding& finding = findings[order[i]];
    if (i == 0) text += "<ol class=\"findings\">\n";
    if (i == 1 && !behind_first.empty()) text += "</ol>\n" + behind_first + "<ol class=\"findings\" start=\"2\">\n";
    if (i == open) {
      text += fmt::format("</ol>\n<details class=\"fold\"><summary>{} more</summary><ol class=\"findings\" start=\"{}\">\n",
                          order.size() - open, open + 1);
    }
    const std::string caption =
        in_page(finding.code) + (concerns_goal(finding) ? " at the goal" : fmt::format(" at step {}", finding.step));
    text += finding_item(sheet, finding, pictures == nullptr ? "" : pictures->of_finding(order[i], caption));
  }
  if (!order.empty()) text += order.size() > open ? "</ol></details>\n" : "</ol>\n";
  return order.size() == 1 ? text + behind_first : text;
}

std::vector<std::size_t> in_turn(std::size_t count) {
  std::vector<std::size_t> order(count);
  std::iota(order.begin(), order.end(), std::size_t{0});
  return order;
}

std::string edit_lines(char sign, int first, const std::vector<std::string>& lines) {
  std::string text;
  for (const std::string& line : lines) text += fmt::format("{:>4} {} {}\n", first++, sign, in_page(line));
  return text;
}

// Changes of the plan's text that were tried, line by line.
std::string mends(const CheckResult& result) {
  std::string text;
  for (const Mend& mend : result.mends) {
    text += "<div class=\"edit\"><p><strong>With this" + in_step(mend, result, lead_of(result).shown.step) +
            " the plan verifies</strong> (tried";
    text += std::string(mend.changes_sides ? "; it changes the start or the goal" : "") + "): ";
    text += prose_in_page(mend.words) + "</p>\n<pre>";
    for (const MendLines& lines : mend.lines)
      text += edit_lines('-', lines.line, lines.before) + edit_lines('+', lines.line, lines.after);
    text += "</pre></div>\n";
  }
  if (result.mends.empty() && result.mends_tried > 0)
    text = fmt::format("<p>No mend was found: {} tried.</p>\n", counted(result.mends_tried, "change"));
  return text;
}

}  // namespace

std::string findings_part(const Sheet& sheet, PagePictures& pictures) {
  const CheckResult& result = sheet.result;
  if (result.findings.empty()) return "";
  // The one to begin with, and what mends it, before all others.
  std::vector<std::size_t> order = in_turn(result.findings.size());
  if (result.outcome == Outcome::refuted) {
    const auto lead = order.begin() + static_cast<std::ptrdiff_t>(lead_of(result).finding);
    std::rotate(order.begin(), lead, lead + 1);
  }
  std::string text =
      part(sheet, "found", "What was found") + finding_list(sheet, result.findings, order, mends(result), &pictures);
  for (const auto& [code, count] : result.counts) {
    const auto listed =
        static_cast<std::size_t>(std::count_if(result.findings.begin(), result.findings.end(),
                                               [&, name = code](const Finding& each) { return each.code == name; }));
    if (count > listed)
      text += fmt::format("<p>{} more of the kind {}, {} in all.</p>\n", count - listed, in_page(code), count);
  }
  if (!result.consequences.empty()) {
    text += fmt::format("<details class=\"fold\"><summary>What follows from these: {}</summary>\n",
                        counted(result.consequences.size(), "consequence"));
    text += finding_list(sheet, result.consequences, in_turn(result.consequences.size()), "", nullptr) + "</details>\n";
  }
  return text;
}

}  // namespace cutproof
