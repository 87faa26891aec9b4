// SPDX-License-Identifier: GPL-3.0-or-later
// `--full`: everything that a check found, at length.
#include "report/terminal_full.hpp"

#include "report/findings_text.hpp"
#include "report/layout.hpp"
#include "report/mends_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>

namespace cutproof {
namespace {

constexpr std::size_t all_lines = 20;  // more than that nobody reads

std::string meaning(const CheckResult& result) {
  // A limit says nothing about the plan, so it is no finding about it.
  const bool half_way = result.counts.count("limit-reached") != 0 && result.outcome == Outcome::refuted;
  const std::size_t count =
      std::accumulate(result.counts.begin(), result.counts.end(), std::size_t{0}, [&](std::size_t sum, const auto& each) {
        return half_way && each.first == "limit-reached" ? sum : sum + each.second;
      });
  const std::string findings = counted(half_way ? count : std::max(count, result.findings.size()), "finding");
  switch (result.outcome) {
    case Outcome::verified:
      return "Decided exactly, without a tolerance: every cut splits its piece, every motion is rigid, no two pieces ever "
             "share "
             "interior points, and at the end they fill the goal. The paths of motions were not examined.";
    case Outcome::refuted:
      if (half_way)
        return fmt::format("The plan does not hold: {}. A limit was reached after {} of {}; the rest was not looked at.",
                           findings, result.steps.size(), counted(result.total_steps, "step"));
      return "The plan was executed exactly and does not hold: " + findings + ".";
    case Outcome::invalid:
      return "The plan cannot be read, or asks for something that has no meaning: " + findings + ".";
    case Outcome::stopped:
      if (result.steps.empty()) return "A limit was reached before the first step was done, so nothing is decided.";
      return fmt::format("A limit was reached after {} of {}, so nothing is decided.", result.steps.size(),
                         counted(result.total_steps, "step"));
    case Outcome::failed:
      break;
  }
  return "This is a fault of the tool or of its surroundings and says nothing about the plan.";
}

void write_sides(const CheckResult& result, Layout* out) {
  std::vector<std::vector<std::string>> rows;
  if (result.field && result.field->degree > 1) {
    std::string generators;
    for (const std::string& each : result.field->generators) generators += (generators.empty() ? "" : ", ") + each;
    rows.push_back({"numbers", fmt::format("degree {}, made from {}", result.field->degree, generators)});
  }
  const auto add_side = [&](const char* label, const std::optional<VolumeAndDehn>& side) {
    if (!side) return;
    rows.push_back({label, "volume " + shown(side->volume)});
    if (side->dehn) rows.push_back({"", "Dehn invariant " + side->dehn->text});
  };
  add_side("start", result.start);
  add_side("goal", result.goal);
  if (!result.dissection.empty()) {
    rows.push_back(
        {"dissection", result.dissection + (result.dissection_reason.empty() ? "" : ": " + result.dissection_reason)});
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
      heading += ", skipped as a consequence of an earlier finding";
    } else if (step.kind == "cut" && step.removed.empty()) {
      heading += ", no piece was cut";
    } else if (step.pieces_before != step.pieces_after) {
      heading += fmt::format(", {} -> {}", step.pieces_before, counted(step.pieces_after, "piece"));
    }
    out->paragraph(2, fmt::format("{:>3}  ", step.index), heading);
    const bool cut = step.kind == "cut";
    out->list(7, cut ? "cut:    " : "taken:  ", step.removed, Tint::plain, all_lines);
    out->list(7, "made:   ", step.added, Tint::plain, all_lines);
    out->list(7, "moved:  ", step.moved, Tint::plain, all_lines);
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
    rows.push_back({piece.name, counted(piece.parts, "part"), "volume " + shown(piece.volume)});
  }
  out->table(2, rows);
  if (rows.size() < result.pieces.size()) {
    out->line(2, fmt::format("and {} more, {} in all", result.pieces.size() - rows.size(), result.pieces.size()), Tint::dim);
  }
}

void write_notes(const CheckResult& result, Layout* out) {
  if (result.outcome != Outcome::verified && result.outcome != Outcome::refuted) return;
  const auto did = [&](const char* kind) {
    return std::any_of(result.steps.begin(), result.steps.end(), [&](const StepResult& step) {
      return step.kind == kind && !(step.added.empty() && step.moved.empty());
    });
  };
  if (result.steps.size() < result.total_steps || (did("cut") && did("move"))) return;
  const char* what = did("cut") ? "moves nothing" : did("move") ? "cuts nothing" : "cuts nothing and moves nothing";
  out->gap();
  out->paragraph(0, "", fmt::format("Note: this plan {}.", what));
}

}  // namespace

std::string full_report(const CheckResult& result, const TextStyle& style) {
  Layout out(style);
  out.paragraph(0, std::string(outcome_word(result.outcome)) + ": ", result.plan, tint_of(result.outcome), Tint::bold);
  if (!result.title.empty()) out.paragraph(0, "", result.title);
  if (!result.source.empty()) out.paragraph(0, "", "source: " + result.source, Tint::plain, Tint::dim);
  out.paragraph(0, "", meaning(result));
  write_notes(result, &out);
  write_sides(result, &out);
  write_steps(result, &out);
  write_pieces(result, &out);
  write_findings("Findings", result.plan, result.findings, result.counts, &out);
  if (result.mends_tried > 0) out.gap();
  write_mends(result, &out);
  write_findings("Consequences of these", result.plan, result.consequences, {}, &out);
  return out.text();
}

}  // namespace cutproof
