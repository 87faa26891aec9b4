// SPDX-License-Identifier: GPL-3.0-or-later
// A comment for a code review. All text that may come from a plan stands in code spans and code blocks, in which there are
// no links, images, mentions, headings or cells; the rest is ours. Its length is held, since such comments have a limit.
#include "plan/dimension_words.hpp"
#include "report/against_text.hpp"
#include "report/ci_formats.hpp"
#include "report/escape.hpp"
#include "report/finding_facts.hpp"
#include "report/findings_text.hpp"
#include "report/mends_text.hpp"
#include "report/verdict_text.hpp"

#include <algorithm>
#include <string_view>

namespace cutproof {
namespace {

constexpr std::size_t most_bytes = 58'000;  // room for the last lines under 60,000 characters
constexpr std::size_t most_of_text = 4'000;
constexpr std::size_t most_of_path = 300;

std::size_t longest_run(std::string_view text, char of) {
  std::size_t longest = 0, run = 0;
  for (const char each : text) {
    run = each == of ? run + 1 : 0;
    longest = std::max(longest, run);
  }
  return longest;
}

// Cut at a code point, with the number of bytes that were left out.
std::string held(std::string text, std::size_t most) {
  if (text.size() <= most) return text;
  std::size_t end = most;
  while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xc0) == 0x80) --end;
  return text.substr(0, end) + "... (" + std::to_string(text.size() - end) + " more bytes)";
}

// CommonMark 0.30, section 6.1: one blank at each end is taken off again.
std::string code_span(std::string_view raw, std::size_t most) {
  const std::string shown = held(escaped(raw), most);
  const std::string ticks(longest_run(shown, '`') + 1, '`');
  return ticks + " " + shown + " " + ticks;
}

std::string code_block(const std::string& shown_lines) {
  std::string text = held(shown_lines, most_of_text);
  if (text.empty() || text.back() != '\n') text += '\n';
  const std::string fence(std::max<std::size_t>(longest_run(text, '`') + 1, 3), '`');
  return fence + "\n" + text + fence + "\n";
}

std::string verdict(const CheckResult& result) {
  std::string line =
      std::string("**") + outcome_word(result.outcome) + "**: " + code_span(plan_and_case(result), most_of_path);
  std::string counts;
  for (const auto& [code, count] : result.counts)
    counts += (counts.empty() ? "" : ", ") + code + " " + std::to_string(count);
  return line + (counts.empty() ? "" : " (" + counts + ")");
}

// Of several plans only for those of which something changed.
std::string against(const CheckResult& result, bool several) {
  if (!result.against || (several && !result.against->any())) return "";
  std::string text;
  for (const AgainstPhrase& phrase : against_phrases(result)) {
    text += text.empty() ? "against the older report: " : "; ";
    for (const AgainstWords& each : phrase) text += each.quoted ? code_span(each.text, most_of_path) : each.text;
  }
  return several ? ", " + text : "\n" + text + "\n";
}

std::string shapes_line(const CheckResult& result) {
  std::string line = shapes_text(result);
  if (result.smallest) {
    line += "; shortest edge " + code_span(shown(result.smallest->edge), most_of_path) + " (" +
            code_span(result.smallest->edge_of, most_of_path) + "), least " + in_dimension(result.dimension, "volume") +
            " " + code_span(shown(result.smallest->volume), most_of_path) + " (" +
            code_span(result.smallest->volume_of, most_of_path) + ")";
  }
  return line + "\n";
}

std::string finding_section(const CheckResult& result, const Finding& finding) {
  const FindingPlace place = place_of(result, finding);
  std::string where = place.file;
  if (place.line > 0) where += ":" + std::to_string(place.line);
  if (place.column > 0) where += ":" + std::to_string(place.column);
  std::string head = "**" + finding.code + "** at " + code_span(where, most_of_path);
  if (!finding.suspects.empty()) {
    const Suspect& first = finding.suspects.front();
    head += (first.step > 0 ? ", step " + std::to_string(first.step) : ", the start") + ", piece " +
            code_span(first.piece, most_of_path);
  } else if (concerns_goal(finding)) {
    head += ", at the goal";
  } else if (finding.step > 0) {
    head += ", step " + std::to_string(finding.step);
  }
  return head + "\n\n" + code_block(finding_paragraphs(result, finding));
}

}  // namespace

std::string markdown_report(const std::vector<CheckResult>& results) {
  if (results.empty()) return "No plan falls to this shard.\n";
  std::string text;
  std::size_t plans_left_out = 0, findings_left_out = 0;
  const bool several = results.size() > 1;
  // Verdicts come first, the worst of them before all others, on at most half of the room.
  std::vector<const CheckResult*> order;
  for (const CheckResult& result : results) order.push_back(&result);
  std::stable_sort(order.begin(), order.end(),
                   [](const CheckResult* a, const CheckResult* b) { return exit_code(a->outcome) > exit_code(b->outcome); });
  for (const CheckResult* result : order) {
    const std::string changes = against(*result, several);
    const std::string line = several ? "- " + verdict(*result) + changes + "\n" : verdict(*result) + "\n" + changes;
    if (text.size() + line.size() > most_bytes / 2) {
      ++plans_left_out;
    } else {
      text += line;
    }
  }
  if (plans_left_out > 0)
    text += "\nand " + counted(plans_left_out, "plan") + " more, " + std::to_string(results.size()) + " in all\n";
  for (const CheckResult* result : order) {
    std::string section = several ? "\n### " + code_span(plan_and_case(*result), most_of_path) + "\n" : std::string();
    if (!result->title.empty()) section += "\n" + code_span(result->title, most_of_text) + "\n";
    if (!result->shapes.empty() && !(several && result->findings.empty())) section += "\n" + shapes_line(*result);
    if (!result->lemmas.empty() && !(several && result->findings.empty())) {
      constexpr std::size_t most_lemmas = 20;
      section += "\n";
      for (std::size_t i = 0; i < std::min(most_lemmas, result->lemmas.size()); ++i)
        section += "- lemma " + code_span(lemma_text(result->lemmas[i]), most_of_text) + "\n";
      if (result->lemmas.size() > most_lemmas)
        section += "- and " + std::to_string(result->lemmas.size() - most_lemmas) + " more lemmas\n";
    }
    Layout mends(TextStyle{100, false});
    write_mends(*result, 0, &mends);
    if (const std::string lines = mends.text(); !lines.empty())
      section += "\n" + code_block(lines.substr(lines[0] == '\n' ? 1 : 0));
    std::size_t unlisted = 0;
    for (const auto& [code, count] : result->counts) unlisted += count;
    unlisted -= std::min(unlisted, result->findings.size());
    findings_left_out += unlisted;
    if (several && result->findings.empty()) continue;
    for (const Finding& finding : result->findings) {
      section += "\n" + finding_section(*result, finding);
      if (text.size() + section.size() > most_bytes) {
        ++findings_left_out;
      } else {
        text += section;
      }
      section.clear();
    }
    if (text.size() + section.size() <= most_bytes) text += section;
  }
  if (findings_left_out > 0) text += "\n" + counted(findings_left_out, "finding") + " left out here\n";
  return text;
}

}  // namespace cutproof
