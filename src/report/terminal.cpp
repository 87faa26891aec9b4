// SPDX-License-Identifier: GPL-3.0-or-later
// The report of a check for people: the verdict, where to look, and step by step what was done and found.
#include "plan/dimension_words.hpp"
#include "report/against_text.hpp"
#include "report/escape.hpp"
#include "report/finding_facts.hpp"
#include "report/findings_text.hpp"
#include "report/layout.hpp"
#include "report/mends_text.hpp"
#include "report/refutation_text.hpp"
#include "report/sentences.hpp"
#include "report/step_text.hpp"
#include "report/terminal_full.hpp"
#include "report/verdict_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

namespace cutproof {
namespace {

// --- what stands under the verdict ---

// `2 cuts`, `1 move`: of the steps that did something.
std::vector<std::string> deeds(const CheckResult& result) {
  std::vector<std::string> counts;
  for (const char* kind : {"cut", "move", "join", "split", "use"}) {
    const std::size_t count = times_done(result, kind);
    if (count > 0) counts.push_back(counted(count, kind));
  }
  return counts;
}

std::string listed(const std::vector<std::string>& words) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) text += (i == 0 ? "" : i + 1 == words.size() ? " and " : ", ") + words[i];
  return text;
}

std::string making(const CheckResult& result) {
  const std::size_t before = result.steps.empty() ? result.pieces.size() : result.steps.front().pieces_before;
  const std::vector<std::string> done = deeds(result);
  std::string text = result.pieces.size() > 1 ? shapes_text(result) : "";
  if (text.empty()) text = counted(result.pieces.size(), "piece");
  text += ", from " + counted(before, in_dimension(result.dimension, "solid")) + (done.empty() ? "" : " by " + listed(done));
  return result.smallest ? text + "; shortest edge " + brief(result.smallest->edge) : text;
}

// `right = left = mirrored top 7/12`: congruent pieces together, the largest first; else in the bench's order.
std::vector<std::string> piece_words(const CheckResult& result, std::size_t width) {
  constexpr std::size_t most_names = 4, most_columns = 60;
  const std::size_t most_width = width > 60 ? width - 32 : 28;
  std::vector<std::string> words;
  if (result.shapes.empty()) {
    for (const PieceResult& piece : result.pieces)
      words.push_back(shortened(shortened(piece.name, most_columns) + " " + brief(piece.volume), most_width));
    return words;
  }
  bool together = false;
  for (std::size_t i = 0; i < result.shapes.size(); ++i) {
    if (result.shapes[i].mirror_of) continue;
    std::vector<std::string> names = result.shapes[i].pieces;
    for (const ShapeResult& other : result.shapes)
      if (other.mirror_of == i)
        for (const std::string& name : other.pieces) names.push_back("mirrored " + name);
    const std::string volume = " " + brief(result.shapes[i].volume);
    std::string text;
    for (std::size_t most = most_names; most > 0; --most) {
      const std::size_t count = names.size() > most + 1 ? most : names.size();
      text.clear();
      for (std::size_t k = 0; k < count; ++k) text += (k == 0 ? "" : " = ") + shortened(names[k], most_columns);
      if (count < names.size()) text += fmt::format(" = {} more", names.size() - count);
      if (display_width(text + volume) <= most_width) break;
    }
    together = together || names.size() > 1;
    words.push_back(shortened(text + volume, most_width));
  }
  if (together && width >= 80) words.back() += "      (= congruent)";
  return words;
}

std::string side(const VolumeAndDehn& side, int dimension) {
  return in_dimension(dimension, "volume ") + shown(side.volume) + (side.dehn ? ", Dehn invariant " + side.dehn->text : "");
}

bool alike(const VolumeAndDehn& a, const VolumeAndDehn& b, int dimension) {
  return a.volume.exact == b.volume.exact && (dimension == 2 || (a.dehn && b.dehn && a.dehn->text == b.dehn->text));
}

void write_sides(const CheckResult& result, Layout* out) {
  if (result.start && result.goal && alike(*result.start, *result.goal, result.dimension)) {
    out->paragraph(2, "start and goal: ", side(*result.start, result.dimension));
    return;
  }
  if (result.start) out->paragraph(2, "start: ", side(*result.start, result.dimension));
  if (result.goal) out->paragraph(2, "goal: ", side(*result.goal, result.dimension));
}

void write_title(const CheckResult& result, Layout* out) {
  if (!result.title.empty()) out->line(2, "\"" + shortened(result.title, out->width() - 4) + "\"");
}

// The first few lemmas, those that do not hold before others.
void write_lemmas(const CheckResult& result, Layout* out) {
  constexpr std::size_t most = 3;
  std::vector<const LemmaResult*> lemmas;
  for (const LemmaResult& lemma : result.lemmas) lemmas.push_back(&lemma);
  std::stable_sort(lemmas.begin(), lemmas.end(),
                   [](const LemmaResult* a, const LemmaResult* b) { return exit_code(a->outcome) > exit_code(b->outcome); });
  const std::size_t shown = lemmas.size() > most + 1 ? most : lemmas.size();
  for (std::size_t i = 0; i < shown; ++i) out->line(2, "lemma " + shortened(lemma_text(*lemmas[i]), out->width() - 8));
  if (shown < lemmas.size())
    out->line(2, fmt::format("and {} more lemmas, {} in all", lemmas.size() - shown, lemmas.size()));
}

// --- step by step ---

constexpr std::size_t most_steps = 12;

bool has_findings(const CheckResult& result, int step) {
  return std::any_of(result.findings.begin(), result.findings.end(),
                     [&](const Finding& each) { return each.step == step && is_about_a_step(each); });
}

// Indices of the steps that get a line each; the step where the reader is told to look first is one.
std::set<std::size_t> remarkable(const CheckResult& result, const Lead* lead) {
  std::set<std::size_t> chosen;
  const std::size_t count = result.steps.size();
  for (std::size_t i = 0; i < count; ++i)
    if (count <= most_steps || i < 2 || i + 2 >= count || (lead != nullptr && result.steps[i].index == lead->shown.step))
      chosen.insert(i);
  std::size_t with_findings = 0;
  for (std::size_t i = 0; i < count && with_findings < most_steps; ++i)
    if (has_findings(result, result.steps[i].index)) {
      chosen.insert(i);
      ++with_findings;
    }
  return chosen;
}

void write_run(const CheckResult& result, std::size_t from, std::size_t to, Layout* out) {
  std::vector<std::string> kinds;
  std::size_t found = 0;
  for (std::size_t i = from; i < to; ++i) {
    const StepResult& step = result.steps[i];
    if (std::find(kinds.begin(), kinds.end(), step.kind) == kinds.end()) kinds.push_back(step.kind);
    found += has_findings(result, step.index) ? 1 : 0;
  }
  const std::string label = fmt::format("  {} to {}  ", result.steps[from].index, result.steps[to - 1].index);
  std::string text;
  for (std::size_t i = 0; i < kinds.size(); ++i) text += (i == 0 ? "" : ", ") + kinds[i];
  text += found == 0 ? ": nothing found" : ": " + counted(found, "step") + " with findings";
  out->paragraph(0, label, text);
}

void write_steps(const CheckResult& result, const Lead* lead, Layout* out) {
  const std::set<std::size_t> chosen = remarkable(result, lead);
  const std::size_t digits = std::to_string(result.total_steps).size();
  const std::string indent(digits + 6, ' ');
  if (lead != nullptr && has_findings(result, 0)) {
    out->line(0, "> start", Tint::red);
    write_step_findings(result, *lead, 0, false, indent, out);
  }
  for (std::size_t i = 0; i < result.steps.size();) {
    std::size_t end = i;
    while (end < result.steps.size() && chosen.count(end) == 0) ++end;
    if (end > i + 1) {
      write_run(result, i, end, out);
      i = end;
      continue;
    }
    const StepResult& step = result.steps[i++];
    const bool found = lead != nullptr && has_findings(result, step.index);
    const std::string label = fmt::format("{} {:>{}}  ", found ? '>' : ' ', step.index, digits);
    // Where even the shortest words are too wide, they are wrapped.
    out->paragraph(0, label, step_text(step, !found, out->width() - label.size()), found ? Tint::red : Tint::plain,
                   found ? Tint::red : Tint::plain);
    if (found) write_step_findings(result, *lead, step.index, false, indent, out);
  }
  if (lead != nullptr) write_step_findings(result, *lead, 0, true, "> goal ", out);
  if (result.steps.size() < result.total_steps)
    out->paragraph(
        2, "",
        fmt::format("{} of {} done; the rest was not looked at", result.steps.size(), counted(result.total_steps, "step")));
}

// Remarks on the plan's text: the first three numbers, each with its first line and how often it stands there more.
void write_notes(const CheckResult& result, Layout* out) {
  constexpr std::size_t most = 3;
  std::vector<std::pair<const NoteResult*, std::size_t>> numbers;
  for (const NoteResult& note : result.notes) {
    const auto same = std::find_if(numbers.begin(), numbers.end(),
                                   [&](const auto& known) { return known.first->message == note.message; });
    if (same == numbers.end())
      numbers.emplace_back(&note, 1);
    else
      ++same->second;
  }
  for (std::size_t i = 0; i < std::min(most, numbers.size()); ++i) {
    const auto& [first, times] = numbers[i];
    const std::string again = times == 1   ? ""
                              : times == 2 ? ", and once more"
                                           : fmt::format(", and {} times more", times - 1);
    std::string text = shortened(first->message, 120) + fmt::format(" (line {}{})", first->line, again);
    if (i + 1 == most && numbers.size() > most)
      text += fmt::format(", and {} more such", counted(numbers.size() - most, "number"));
    out->paragraph(2, "note: ", text);
  }
}

void write_meshes(const CheckResult& result, Layout* out) {
  if (!result.meshes.empty()) out->list(2, "meshes: ", mesh_words(result.meshes), Tint::plain, 3);
}

// --- the outcomes ---

void write_verified(const CheckResult& result, Layout* out) {
  out->paragraph(2, "", making(result));
  write_sides(result, out);
  if (result.equicomplement)
    out->paragraph(2, "", "start and goal are equicomplementary: with the same added to both, the one becomes the other");
  write_lemmas(result, out);
  if (const std::string text = idle_note(result); !text.empty()) out->paragraph(2, "", text);
  write_steps(result, nullptr, out);
  out->list(2, "pieces: ", piece_words(result, out->width()), Tint::plain, 3);
  write_meshes(result, out);
  write_notes(result, out);
  out->paragraph(
      2, "",
      fmt::format("Decided exactly: cuts split, motions are rigid, {} disjoint, the goal is filled. Not examined: "
                  "paths.",
                  counted(result.bench_checks, "pair")));
}

void write_refuted(const CheckResult& result, const Lead& lead, Layout* out) {
  const Finding& first = result.findings[lead.finding];
  out->paragraph(2, "", lead.sentence);
  write_excerpt(lead.shown, out);
  const bool searched_in_vain = result.mends.empty() && result.mends_tried > 0;
  const bool mirrored = first.code == "mirrored";  // where nothing is found, that sentence says which mirror images fit
  if (const std::string hint = hint_of(first); !hint.empty() && !(mirrored && searched_in_vain))
    out->paragraph(2, "try: ", hint, Tint::green);
  write_mends(result, lead.shown.step, out);
  if (result.dissection == "exists" && result.start && !mirrored) {
    out->paragraph(2, "",
                   result.start->dehn || result.dimension == 2
                       ? "A dissection exists: " + side(*result.start, result.dimension) + " on both sides."
                       : "A dissection exists.");
  } else if (result.dissection == "does not exist" && first.code != "volume-differs" && first.code != "dehn-differs") {
    out->paragraph(2, "", "No dissection exists: " + dissection_reason_of(result) + ".");
  }
  write_lemmas(result, out);
  for (const Finding& each : result.findings)
    if (each.code == "limit-reached")
      out->paragraph(2, "",
                     fmt::format("A limit was reached after {} of {}; the rest was not looked at: {}", result.steps.size(),
                                 counted(result.total_steps, "step"), message_of(each)));
  if (!result.steps.empty() || lead.covered.size() < result.findings.size()) out->gap();
  write_steps(result, &lead, out);
  write_meshes(result, out);
  write_notes(result, out);
  for (const auto& [code, count] : result.counts) {
    const auto in_list =
        static_cast<std::size_t>(std::count_if(result.findings.begin(), result.findings.end(),
                                               [&, name = code](const Finding& each) { return each.code == name; }));
    if (count > in_list)
      out->paragraph(2, "", fmt::format("and {} more of the kind {}, {} in all", count - in_list, code, count));
  }
  if (!result.consequences.empty())
    out->paragraph(
        2, "",
        fmt::format("{} of these, left out here (--full has {})", counted(result.consequences.size(), "consequence"),
                    result.consequences.size() == 1 ? "it" : "them"));
}

void write_undecided(const CheckResult& result, Layout* out) {
  out->paragraph(2, "", verdict_sentence(result));
  std::vector<const Finding*> all;
  for (const Finding& each : result.findings) all.push_back(&each);
  std::vector<Finding> folded;
  std::map<std::string, std::size_t> unlisted = result.counts;
  for (const AlikeFindings& group : fold_alike(all)) {
    folded.push_back(*group.findings.front());
    folded.back().message = group.message();
    // What a fold tells need not be counted as left out.
    if (const auto count = unlisted.find(folded.back().code); count != unlisted.end())
      count->second -= std::min(count->second, group.findings.size() - 1);
  }
  write_findings("", result.plan, folded, unlisted, out);
  if (result.mends_tried > 0) out->gap();
  write_mends(result, 0, out);
  if (result.steps.empty()) return;
  out->gap();
  write_steps(result, nullptr, out);
}

// `plan.yaml:85, step 8, piece `sliver``: where to look first.
std::string headline(const CheckResult& result, const Lead& lead) {
  const Finding& finding = lead.shown;
  std::string text = finding.file.empty() ? result.plan : finding.file;
  if (!finding.path.empty()) {
    text += ": " + finding.path;
  } else if (finding.line > 0) {
    text += fmt::format(":{}", finding.line);
  }
  text += case_text(result);
  if (concerns_goal(finding) && finding.suspects.empty()) {
    text += ", the goal";
  } else {
    text += finding.step == 0 ? ", the start" : fmt::format(", step {}", finding.step);
  }
  if (lead.pieces.empty()) return text;
  std::string pieces;
  const std::size_t most = std::min<std::size_t>(lead.pieces.size(), 6);
  for (std::size_t i = 0; i < most; ++i) pieces += (i == 0 ? "`" : ", `") + shortened(lead.pieces[i], 60) + "`";
  if (most < lead.pieces.size()) pieces += fmt::format(" and {} more", lead.pieces.size() - most);
  return text + (lead.pieces.size() == 1 ? ", piece " : ", pieces ") + pieces;
}

}  // namespace

Tint tint_of(Outcome outcome) {
  if (outcome == Outcome::verified) return Tint::green;
  return outcome == Outcome::stopped ? Tint::yellow : Tint::red;
}

std::string terminal_report(const CheckResult& result, const TextStyle& style) {
  if (style.full) return full_report(result, style);
  Layout out(style);
  const bool refuted = result.outcome == Outcome::refuted && !result.findings.empty();
  const Lead lead = refuted ? lead_of(result) : Lead();
  out.paragraph(0, std::string(outcome_word(result.outcome)) + ": ",
                refuted ? headline(result, lead) : plan_and_case(result), tint_of(result.outcome), Tint::bold);
  write_against(result, result.outcome == Outcome::verified ? 2 : 3, &out);
  write_title(result, &out);
  if (result.outcome == Outcome::verified) {
    write_verified(result, &out);
  } else if (refuted) {
    write_refuted(result, lead, &out);
  } else {
    write_undecided(result, &out);
  }
  return out.text();
}

}  // namespace cutproof
