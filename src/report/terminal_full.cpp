// SPDX-License-Identifier: GPL-3.0-or-later
// `--full`: everything that a check found, at length.
#include "report/terminal_full.hpp"

#include "plan/dimension_words.hpp"
#include "report/against_text.hpp"
#include "report/findings_text.hpp"
#include "report/layout.hpp"
#include "report/mends_text.hpp"
#include "report/sentences.hpp"
#include "report/verdict_text.hpp"

#include <fmt/format.h>

namespace cutproof {
namespace {

constexpr std::size_t all_lines = 20;  // more than that nobody reads

void write_sides(const CheckResult& result, Layout* out) {
  std::vector<std::vector<std::string>> rows;
  if (result.field && result.field->degree > 1) {
    std::string generators;
    for (const std::string& each : result.field->generators) generators += (generators.empty() ? "" : ", ") + each;
    rows.push_back({"numbers", fmt::format("degree {}, made from {}", result.field->degree, generators)});
  }
  const auto add_side = [&](const char* label, const std::optional<VolumeAndDehn>& side) {
    if (!side) return;
    rows.push_back({label, in_dimension(result.dimension, "volume ") + shown(side->volume)});
    if (side->dehn) rows.push_back({"", "Dehn invariant " + side->dehn->text});
  };
  add_side("start", result.start);
  add_side("goal", result.goal);
  if (!result.dissection.empty()) {
    rows.push_back({"dissection",
                    result.dissection + (dissection_reason_of(result).empty() ? "" : ": " + dissection_reason_of(result))});
  }
  if (rows.empty()) return;
  out->gap();
  out->table(2, rows);
}

void write_steps(const CheckResult& result, Layout* out) {
  if (result.steps.empty()) return;
  out->gap();
  out->line(0, "Steps", Tint::bold);
  for (const StepResult& step : result.steps) {
    std::string heading = step.kind;
    if (!step.title.empty()) heading += ": " + step.title;
    heading += fmt::format(" (line {})", step.line);
    if (step.skipped) {
      heading += ", skipped because of a finding";
    } else if (step.kind == "cut" && step.removed.empty()) {
      heading += ", no piece was cut";
    } else if (step.pieces_before != step.pieces_after) {
      heading += fmt::format(", {} -> {}", step.pieces_before, counted(step.pieces_after, "piece"));
    }
    out->paragraph(2, fmt::format("{:>3}  ", step.index), heading);
    const bool cut = step.kind == "cut";
    out->list(7, cut ? "cut:    " : "taken:  ", step.removed.first, Tint::plain, all_lines, step.removed.count);
    out->list(7, "made:   ", step.added.first, Tint::plain, all_lines, step.added.count);
    out->list(7, "moved:  ", step.moved.first, Tint::plain, all_lines, step.moved.count);
  }
}

void write_lemmas(const CheckResult& result, Layout* out) {
  if (result.lemmas.empty()) return;
  out->gap();
  out->line(0, "Lemmas, each checked by itself", Tint::bold);
  for (const LemmaResult& lemma : result.lemmas) {
    out->paragraph(2, "", lemma_text(lemma));
    out->paragraph(4, "", "sha256 " + lemma.plan_sha256, Tint::plain, Tint::dim);
    for (const Finding& each : lemma.findings)
      out->paragraph(4, "", fmt::format("{}, step {}, line {}: {}", each.code, each.step, each.line, message_of(each)));
  }
}

void write_pieces(const CheckResult& result, Layout* out) {
  if (result.pieces.empty()) return;
  constexpr std::size_t most = 40;
  out->gap();
  out->line(0, result.steps.size() == result.total_steps ? "Pieces at the end" : "Pieces where the run ended", Tint::bold);
  std::vector<std::vector<std::string>> rows;
  for (const PieceResult& piece : result.pieces) {
    if (rows.size() == most && result.pieces.size() > most + 1) break;
    rows.push_back(
        {piece.name, counted(piece.parts, "part"), in_dimension(result.dimension, "volume ") + shown(piece.volume)});
  }
  out->table(2, rows);
  if (rows.size() < result.pieces.size()) {
    out->line(2, fmt::format("and {} more, {} in all", result.pieces.size() - rows.size(), result.pieces.size()), Tint::dim);
  }
}

void write_meshes(const CheckResult& result, Layout* out) {
  if (result.meshes.empty()) return;
  out->gap();
  out->line(0, "Meshes", Tint::bold);
  const std::vector<std::string> words = mesh_words(result.meshes);
  for (std::size_t i = 0; i < words.size(); ++i)
    out->paragraph(2, "SHA-256 " + result.meshes[i].sha256.substr(0, 16) + "...  ", words[i]);
}

void write_notes(const CheckResult& result, Layout* out) {
  if (result.notes.empty()) return;
  out->gap();
  out->line(0, "Notes, which have no part in the verdict", Tint::bold);
  for (const NoteResult& note : result.notes) out->paragraph(2, fmt::format("line {}  ", note.line), note.message);
}

}  // namespace

std::string full_report(const CheckResult& result, const TextStyle& style) {
  Layout out(style);
  out.paragraph(0, std::string(outcome_word(result.outcome)) + ": ", plan_and_case(result), tint_of(result.outcome),
                Tint::bold);
  write_against(result, all_lines, &out);
  // No line begins with text from the plan, however it is wrapped: some servers obey lines that begin with `::`.
  if (!result.title.empty()) out.paragraph(2, "", "\"" + result.title + "\"");
  if (!result.source.empty()) out.paragraph(2, "source: ", result.source, Tint::plain, Tint::dim);
  out.paragraph(2, "", verdict_sentence(result));
  const bool decided = result.outcome == Outcome::verified || result.outcome == Outcome::refuted;
  if (const std::string note = idle_note(result); decided && !note.empty()) {
    out.gap();
    out.paragraph(2, "", note);
  }
  write_sides(result, &out);
  write_lemmas(result, &out);
  write_steps(result, &out);
  write_pieces(result, &out);
  write_meshes(result, &out);
  write_notes(result, &out);
  write_findings("Findings", result.plan, result.findings, result.counts, &out);
  if (result.mends_tried > 0) out.gap();
  write_mends(result, 0, &out);
  write_findings("Consequences of these", result.plan, result.consequences, {}, &out);
  return out.text();
}

}  // namespace cutproof
