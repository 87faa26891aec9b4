// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/page/plan_sheet.hpp"

#include "cutproof/version.hpp"
#include "plan/dimension_words.hpp"
#include "report/against_text.hpp"
#include "report/finding_facts.hpp"
#include "report/findings_text.hpp"
#include "report/mends_text.hpp"
#include "report/page/markup.hpp"
#include "report/page/sheet_parts.hpp"
#include "report/refutation_text.hpp"
#include "report/sentences.hpp"
#include "report/verdict_text.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace cutproof {
namespace {

// How many pieces, cuts and moves, between the start and the end.
std::string pair_part(const Sheet& sheet, PagePictures& pictures) {
  const CheckResult& result = sheet.result;
  if (!result.start) return "";
  const std::string shapes = shapes_text(result);
  std::string between =
      "<strong>" + (shapes.empty() ? counted(result.pieces.size(), "piece") : in_page(shapes)) + "</strong>\n";
  between +=
      "by " + counted(times_done(result, "cut"), "cut") + " and " + counted(times_done(result, "move"), "move") + "<br>\n";
  if (result.smallest) between += "shortest edge " + in_page(result.smallest->edge.exact) + "<br>\n";
  const std::string volume = in_dimension(result.dimension, "volume ");
  between += volume + in_page(shown(result.start->volume));
  if (result.start->dehn) between += "<br>Dehn invariant " + in_page(result.start->dehn->text);
  const std::string start = pictures.start("The start, " + volume + in_page(result.start->volume.exact));
  const std::string end = pictures.end(result.outcome == Outcome::verified ? "The end: the goal is filled" : "The end");
  std::string text = part(sheet, "pair", "Start and end");
  if (start.empty() || end.empty()) {
    text += "<div class=\"pair bare\"><p class=\"between\">" + between + "</p>" + start + end + "</div>\n";
  } else {
    between += "<svg viewBox=\"0 0 60 12\" aria-hidden=\"true\"><path d=\"M0 6h58M52 1l6 5-6 5\"/></svg>";
    text += "<div class=\"pair\">\n" + start + "<p class=\"between\">" + between + "</p>\n" + end + "</div>\n";
  }
  if (result.pictures && !result.pictures->left_out.empty())
    text += "<p class=\"soft\">Pictures are missing: " + in_page(result.pictures->left_out) + ".</p>\n";
  return text;
}

std::string rests_part(const Sheet& sheet) {
  const CheckResult& result = sheet.result;
  std::string facts;
  if (result.outcome == Outcome::verified) {
    facts += fact("Decided", "cuts split, motions are rigid, " + counted(result.bench_checks, "pair") +
                                 " of pieces disjoint, the goal is filled: all of it exactly");
  }
  facts += fact("Not examined", "the paths of motions: whether a piece can get to its place");
  constexpr std::size_t most_lemmas = 40;
  for (std::size_t i = 0; i < std::min(most_lemmas, result.lemmas.size()); ++i)
    facts += fact("Lemma", in_page(lemma_text(result.lemmas[i])));
  if (result.lemmas.size() > most_lemmas)
    facts += fact("Lemmas", fmt::format("{} more", result.lemmas.size() - most_lemmas));
  if (!result.source.empty()) facts += fact("Source", in_page(result.source));
  for (const std::string& each : mesh_words(result.meshes)) facts += fact("Mesh", in_page(each));
  constexpr std::size_t most_notes = 5;
  for (std::size_t i = 0; i < std::min(most_notes, result.notes.size()); ++i)
    facts += fact("Note", prose_in_page(result.notes[i].message) + fmt::format(" (line {})", result.notes[i].line));
  if (result.field) {
    std::string generators;
    for (const std::string& each : result.field->generators) generators += (generators.empty() ? "" : ", ") + in_page(each);
    facts += fact("Numbers", result.field->degree == 1
                                 ? std::string("rational")
                                 : fmt::format("a field of degree {}, made from {}", result.field->degree, generators));
  }
  const auto side = [&](const char* name, const std::optional<VolumeAndDehn>& of) {
    if (!of) return;
    facts += fact(name, in_dimension(result.dimension, "volume ") + in_page(shown(of->volume)) +
                            (of->dehn ? ", Dehn invariant " + in_page(of->dehn->text) : std::string()));
  };
  side("Start", result.start);
  side("Goal", result.goal);
  if (!result.dissection.empty()) {
    facts +=
        fact("Dissection", in_page(result.dissection) +
                               (dissection_reason_of(result).empty() ? "" : ": " + in_page(dissection_reason_of(result))));
  }
  std::string plan = in_page(plan_and_case(result));
  if (!result.plan_sha256.empty()) plan += "<br>SHA-256 <span class=\"digest\">" + in_page(result.plan_sha256) + "</span>";
  facts += fact("Plan", plan);
  facts += fact("Program", "cutproof " CUTPROOF_VERSION +
                               (result.engine ? std::string(", engine ") + engine_word(*result.engine) : ""));
  facts += fact("Pictures", "drawn from rounded coordinates; the verdict is not");
  return part(sheet, "rests", "What this rests on") + "<dl class=\"rests\">\n" + facts + "</dl>\n";
}

// Of a refuted plan where to look first and what is wrong there, as the text for a terminal begins.
std::string leading_sentence(const CheckResult& result) {
  if (result.outcome != Outcome::refuted || result.findings.empty()) return "";
  const Lead lead = lead_of(result);
  std::string where = concerns_goal(lead.shown) && lead.shown.suspects.empty() ? "The goal"
                      : lead.shown.step == 0                                   ? "The start"
                                                                               : fmt::format("Step {}", lead.shown.step);
  if (lead.shown.line > 0) where += fmt::format(", line {}", lead.shown.line);
  return "<strong>" + where + ".</strong> " + prose_in_page(lead.sentence);
}

// What a reader must not miss who believes the leading sentence: the step that it names may be in order.
std::string mend_elsewhere(const CheckResult& result) {
  if (result.outcome != Outcome::refuted || result.findings.empty() || result.mends.empty()) return "";
  const Mend& mend = result.mends.front();
  const std::string where = in_step(mend, result, lead_of(result).shown.step);
  if (where.empty()) return "";
  return fmt::format("<p class=\"sentence\">With a change{}, line {}, the plan verifies (tried): {}.</p>\n", where,
                     mend.lines.front().line, prose_in_page(mend.words));
}

}  // namespace

std::string outcome_mark(Outcome outcome) {
  static const char* const shapes[] = {
      "<path d=\"M0 0h10v10h-10z\"/>", "<path d=\"M5 0l5 10h-10z\"/>",
      "<path d=\"M1.5 0L5 3.5 8.5 0 10 1.5 6.5 5 10 8.5 8.5 10 5 6.5 1.5 10 0 8.5 3.5 5 0 1.5z\"/>",
      "<path d=\"M0 0h4v10h-4zM6 0h4v10h-4z\"/>", "<path d=\"M4 0h2v6h-2zM4 8h2v2h-2z\"/>"};
  std::string word = outcome_word(outcome);
  std::string text = "<svg viewBox=\"0 0 10 10\" aria-hidden=\"true\">" + std::string(shapes[exit_code(outcome)]) + "</svg>";
  word[0] = static_cast<char>(word[0] - 'a' + 'A');
  return text + word;
}

std::string title_of(const CheckResult& result) {
  return in_page(result.title.empty() ? result.plan : result.title);
}

std::string sheet_head(const Sheet& sheet) {
  const CheckResult& result = sheet.result;
  const char* level = sheet.alone ? "h1" : "h2";
  std::string text = "<header class=\"head\">\n";
  text += fmt::format("<p class=\"stamp {}\">{}</p>\n", outcome_word(result.outcome),
                      outcome_mark(result.outcome) + proof_text(result));
  text += fmt::format("<div><{0} class=\"title\" dir=\"auto\">{1}</{0}>\n", level, title_of(result));
  if (!result.title.empty()) text += "<p class=\"plan-path\">" + name_in_page(result.plan) + "</p>\n";
  text += "</div>\n";
  const std::string lead = leading_sentence(result);
  text += "<p class=\"sentence\">" + (lead.empty() ? verdict_sentence(result) : lead) + "</p>\n";
  if (!lead.empty()) text += "<p class=\"soft\">" + verdict_sentence(result) + "</p>\n";
  text += mend_elsewhere(result);
  std::string differences;
  for (const AgainstPhrase& phrase : against_phrases(result)) {
    differences += differences.empty() ? "" : "; ";
    for (const AgainstWords& each : phrase)
      differences += each.quoted ? "<code>" + name_in_page(each.text) + "</code>" : in_page(each.text);
  }
  if (!differences.empty()) text += "<p class=\"against\">Against the older report: " + differences + ".</p>\n";
  return text + "</header>\n";
}

SheetBody sheet_body(const Sheet& sheet) {
  PagePictures pictures(sheet);
  SheetBody body;  // in the order in which figures are numbered
  body.before_view = findings_part(sheet, pictures);
  body.before_view += pair_part(sheet, pictures);
  body.after_view = steps_part(sheet, pictures);
  body.after_view += pieces_part(sheet) + rests_part(sheet);
  return body;
}

}  // namespace cutproof
