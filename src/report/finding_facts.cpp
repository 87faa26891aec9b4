// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/finding_facts.hpp"

#include "files/digest.hpp"
#include "report/findings_text.hpp"
#include "report/sentences.hpp"

#include <algorithm>
#include <set>

namespace cutproof {
namespace {

// Every part with its length before it, so that no two lists of parts become one text.
std::string identity(const CheckResult& result, const Finding& finding) {
  std::string kind = "start", title;
  if (concerns_goal(finding)) {
    kind = "goal";
  } else if (finding.step > 0) {
    kind = "step";
    const auto step = std::find_if(result.steps.begin(), result.steps.end(),
                                   [&](const StepResult& each) { return each.index == finding.step; });
    if (step != result.steps.end()) {
      kind = step->kind;
      title = step->title;
    }
  }
  std::string text;
  const auto add = [&](const std::string& part) { text += std::to_string(part.size()) + ":" + part; };
  add(kind);
  add(title);
  for (const std::string& piece : finding.pieces) add(piece);
  return finding.code + "-" + sha256(text).substr(0, 16);
}

}  // namespace

std::vector<std::string> finding_ids(const CheckResult& result) {
  std::map<std::string, std::size_t> seen;
  std::vector<std::string> ids;
  for (const Finding& finding : result.findings) {
    const std::string id = identity(result, finding);
    const std::size_t number = ++seen[id];
    ids.push_back(number == 1 ? id : id + "-" + std::to_string(number));
  }
  return ids;
}

FindingPlace place_of(const CheckResult& result, const Finding& finding) {
  if (finding.suspects.empty()) return own_place_of(result, finding);
  return {result.plan, finding.suspects.front().line, finding.suspects.front().column};
}

Finding at_suspect(Finding finding) {
  if (finding.suspects.empty()) return finding;
  const Suspect suspect = finding.suspects.front();
  finding.step = suspect.step;
  finding.line = suspect.line;
  finding.column = suspect.column;
  finding.excerpt = suspect.excerpt;
  finding.caret_length = suspect.caret_length;
  finding.path = suspect.path;
  return finding;
}

FindingPlace own_place_of(const CheckResult& result, const Finding& finding) {
  return {finding.file.empty() ? result.plan : finding.file, finding.line, finding.line > 0 ? finding.column : 0};
}

bool concerns_goal(const Finding& finding) {
  static const std::set<std::string> codes = {"missing", "excess", "straddles", "volume-differs", "dehn-differs"};
  return codes.count(finding.code) != 0;
}

bool is_about_a_step(const Finding& finding) {
  return kind_of(finding).of_plan && !concerns_goal(finding);
}

namespace {

// The message without what stands in back quotes.
std::string form_of(const Finding& finding) {
  std::string form = finding.code + " ";
  bool within = false;
  for (const char each : message_of(finding)) {
    if (each == '`') within = !within;
    if (!within) form += each;
  }
  return form;
}

// What stands in the message's first back quotes, with them.
std::string subject_of(const Finding& finding) {
  const std::string message = message_of(finding);
  const std::size_t begin = message.find('`');
  const std::size_t end = begin == std::string::npos ? begin : message.find('`', begin + 1);
  return end == std::string::npos ? "" : message.substr(begin, end + 1 - begin);
}

}  // namespace

std::string AlikeFindings::message() const {
  std::string text = message_of(*findings.front());
  if (findings.size() == 1) return text;
  constexpr std::size_t most = 8;
  text += " (and " + std::to_string(findings.size() - 1) + " more like it:";
  for (std::size_t i = 1; i < findings.size() && i <= most; ++i) {
    const std::string subject = subject_of(*findings[i]);
    text += (i == 1 ? " " : ", ") + subject + (subject.empty() ? "" : " ") + "line " + std::to_string(findings[i]->line);
  }
  return text + (findings.size() > most + 1 ? ", ...)" : ")");
}

std::vector<AlikeFindings> fold_alike(const std::vector<const Finding*>& findings) {
  std::vector<AlikeFindings> groups;
  std::map<std::pair<std::string, std::string>, std::size_t> known;
  for (const Finding* each : findings) {
    const auto [entry, fresh] = known.emplace(std::make_pair(form_of(*each), hint_of(*each)), groups.size());
    if (fresh) groups.emplace_back();
    groups[entry->second].findings.push_back(each);
  }
  return groups;
}

std::string finding_paragraphs(const CheckResult& result, const Finding& finding) {
  Layout out(TextStyle{100, false});
  write_findings("Finding", result.plan, {finding}, {}, &out);
  constexpr std::size_t most = 3;
  std::string places;
  for (std::size_t i = 0; i < std::min(most, finding.suspects.size()); ++i) {
    const Suspect& suspect = finding.suspects[i];
    places += places.empty() ? "" : "; ";
    places += "line " + std::to_string(suspect.line) +
              (suspect.step > 0 ? ", step " + std::to_string(suspect.step) : ", the start") + ", `" + suspect.piece + "`";
  }
  if (!places.empty()) out.paragraph(4, "look at: ", places);
  const std::string& text = out.text();
  const std::size_t begin = text.find_first_not_of('\n', std::min(text.find('\n'), text.size()));
  return begin == std::string::npos ? "" : text.substr(begin);
}

std::string shapes_text(const CheckResult& result) {
  if (result.shapes.empty()) return "";
  const auto mirrored = static_cast<std::size_t>(std::count_if(
      result.shapes.begin(), result.shapes.end(), [](const ShapeResult& shape) { return shape.mirror_of.has_value(); }));
  return shapes_text(result.pieces.size(), result.shapes.size() - mirrored, mirrored);
}

std::string shapes_text(std::size_t pieces, std::size_t plain, std::size_t mirrored) {
  const std::string shapes = counted(pieces, "piece") + " of " + (plain == 1 ? "one shape" : counted(plain, "shape"));
  if (mirrored == 0) return shapes;
  if (plain == 1) return shapes + " and its mirror image";
  return shapes + (mirrored == 1 ? " and the mirror image of one" : " and the mirror images of " + std::to_string(mirrored));
}

const std::vector<FindingKind>& finding_kinds() {
  static const std::vector<FindingKind> kinds = {
      {"plane-misses", "A cut's plane does not pass through its piece.",
       "Look for a wrong sign, or for an earlier step that moved the piece.", true},
      {"mirrored", "A motion turns a piece into its mirror image, and the plan does not allow that.",
       "Use a half-turn instead of a reflection where the piece is symmetric; otherwise say `mirror: allow`.", true},
      {"overlap", "Two pieces share interior points.",
       "Look for a wrong motion; with a tiny volume, for a decimal that should have been a root.", true},
      {"join-apart", "Pieces that are joined do not hang together by faces.", "Move them together first.", true},
      {"nothing-selected", "A selection by place takes no piece.",
       "Look for a wrong side of a plane, or for an earlier step that moved the pieces.", true},
      {"no-fit", "No motion does what `lay` or `onto` asks for, or a piece is not congruent to what a lemma takes.",
       "Compare the faces or solids that are to come to the same place; the message says how they differ.", true},
      {"lemma-fails", "A lemma that the plan uses does not hold for the values that it is used with.",
       "Mend the lemma or the values; the report lists its findings under the lemma.", true},
      {"ambiguous", "Several motions do what `lay` or `onto` asks for, and they put pieces to different places.",
       "Choose one by `corners`: where points of the moved pieces go.", true},
      {"straddles", "At the end a piece has interior points in two goals.",
       "Cut it where the goals meet, or make one goal of the two.", true},
      {"expectation-failed", "An `expect` does not hold, or a `split` has a wrong number of names.",
       "The message says what was found instead.", true},
      {"missing", "At the end a region of the goal is not filled.", "Look at the motions of the pieces named beside it.",
       true},
      {"excess", "At the end a region outside the goal is filled.", "Look at the motions of the pieces that reach into it.",
       true},
      {"volume-differs", "Start and goal differ in volume.", "No change of the steps can help; mend start or goal.", true},
      {"dehn-differs", "Start and goal differ in their Dehn invariant, so that no dissection exists.",
       "No change of the steps can help; mend start or goal.", true},
      {"invalid-input", "The plan cannot be read or asks for something without meaning.",
       "The message says what to write instead.", false},
      {"limit-reached", "A limit was reached or the run was interrupted; what was not reached is not decided.",
       "Raise the limit, or cut the plan into smaller ones.", false},
      {"volume-changed", "A step changed the total volume: a fault of the tool.", "Report it, with the plan.", false},
      {"dehn-changed", "A step changed the total Dehn invariant: a fault of the tool.", "Report it, with the plan.", false},
      {"engines-differ", "The two engines disagree: a fault of the tool.", "Report it, with the plan.", false},
      {"report-not-written", "A report could not be written.", "Make room or permission there and run again.", false},
      {"tool-fault", "The run died: a fault of the tool or of the machine.", "Report it, with the plan.", false}};
  return kinds;
}

const FindingKind& kind_of(const Finding& finding) {
  const auto& kinds = finding_kinds();
  const auto found =
      std::find_if(kinds.begin(), kinds.end(), [&](const FindingKind& each) { return finding.code == each.code; });
  return found == kinds.end() ? kinds.back() : *found;
}

}  // namespace cutproof
