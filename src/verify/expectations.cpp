// SPDX-License-Identifier: GPL-3.0-or-later
// `expect`: statements of the plan's author about the bench, each decided exactly.
#include "verify/measure.hpp"
#include "verify/run.hpp"
#include "verify/text.hpp"

#include <algorithm>

namespace cutproof {

Finding Run::expectation(const std::string& statement, const TextPlace& place, std::vector<std::string> pieces) const {
  Finding result = finding("expectation-failed", place, std::move(pieces));
  result.statement = statement;
  return result;
}

Finding Run::expectation(const TextPlace& place, const std::string& message, std::vector<std::string> pieces) const {
  return finding_in_words("expectation-failed", place, message, std::move(pieces));
}

void Run::expectation_failed(Finding finding) {
  if (bench_.has_phantoms()) {
    result_.consequences.push_back(std::move(finding));
    return;
  }
  add(std::move(finding));
}

std::vector<Bench::Position> Run::examined(const Selector& selector) {
  const Selection selection = bench_.select(selector);
  note_failures(selection);
  examined_ += selection.all().size();
  return selection.all();
}

void Run::apply(const ExpectStep& step) {
  examined_ = 0;
  if (step.piece_count && static_cast<std::size_t>(*step.piece_count) != bench_.size()) {
    Finding finding = expectation("pieces", step.piece_count_place);
    finding.facts = {{"expected", fact(static_cast<std::size_t>(*step.piece_count))}, {"found", fact(bench_.size())}};
    expectation_failed(std::move(finding));
  }
  for (const auto& [entry, volume, place] : step.volumes) {
    for (const Bench::Position& piece : examined({entry})) {
      if (piece->volume == volume) continue;
      const Number difference = piece->volume - volume;
      Finding finding = expectation(difference.sign() > 0 ? "more volume" : "less volume", place, {piece->name});
      finding.facts = {{"expected", fact(volume)}, {"difference", fact(absolute(difference))}};
      finding.volume = value_text(piece->volume);
      expectation_failed(std::move(finding));
    }
  }
  if (step.connected) {
    for (const Bench::Position& piece : examined(*step.connected)) {
      in_hand_ = {piece->name};
      const std::size_t parts = engine_.count_connected_components(piece->solid);
      if (parts == 1) continue;
      Finding finding = expectation("connected", step.connected_place, {piece->name});
      finding.facts = {{"parts", fact(parts)}};
      expectation_failed(std::move(finding));
    }
  }
  if (step.filled != nullptr) expect_filled(step);
  for (const AngleAudit& audit : step.angles) expect_angles(audit);
  for (const auto& [piece, place] : step.dehn_zero) expect_zero_invariant(piece, place);
  const bool about_the_whole_bench = step.piece_count || (step.filled != nullptr && step.filled_by.empty());
  if (examined_ == 0 && !about_the_whole_bench) skip();
}

void Run::expect_angles(const AngleAudit& audit) {
  for (const Bench::Position& piece : examined({audit.piece})) {
    in_hand_ = {piece->name};
    const AuditResult result = audit_angles(engine_.boundary(piece->solid), {audit.allowed, audit.exceptions});
    if (result.passed) continue;
    Finding finding = expectation("angles", audit.place, {piece->name});
    for (const AuditedEdge& edge : result.edges) {
      finding.corners.push_back(edge.from);
      finding.corners.push_back(edge.to);
    }
    finding.audit = result;
    expectation_failed(std::move(finding));
  }
}

void Run::expect_zero_invariant(const SelectorEntry& entry, const TextPlace& place) {
  for (const Bench::Position& piece : examined({entry})) {
    in_hand_ = {piece->name};
    const DehnValue value = to_value(invariant_of(counted_edges(engine_.boundary(piece->solid)), *plan_.field));
    if (value.zero) continue;
    Finding finding = expectation("dehn", place, {piece->name});
    finding.facts["invariant"].text = value.text;
    expectation_failed(std::move(finding));
  }
}

void Run::expect_filled(const ExpectStep& step) {
  std::vector<std::string> names;
  std::vector<Solid> solids;
  const auto take = [&](const BenchPiece& piece) {
    names.push_back(piece.name);
    solids.push_back(piece.solid);
  };
  if (step.filled_by.empty()) {
    for (const BenchPiece& piece : bench_.pieces()) take(piece);
  } else {
    for (const Bench::Position& piece : examined(step.filled_by)) take(*piece);
    if (solids.empty()) return;  // phantoms only
  }
  in_hand_ = names;
  const GoalComparison comparison = engine_.compare(solids, {expected_.at(step.filled.get())});
  if (comparison.filled()) return;
  std::vector<Number> missing, excess;
  std::vector<char> involved(names.size(), 0);
  for (const DifferenceRegion& region : comparison.missing) {
    missing.push_back(region.region.volume);
    for (const std::size_t piece : region.pieces) involved[piece] = 1;
  }
  for (const DifferenceRegion& region : comparison.excess) {
    excess.push_back(region.region.volume);
    for (const std::size_t piece : region.pieces) involved[piece] = 1;
  }
  std::vector<std::string> pieces;
  for (std::size_t i = 0; i < names.size(); ++i)
    if (involved[i]) pieces.push_back(names[i]);
  const Number missing_volume = balanced_sum(missing), excess_volume = balanced_sum(excess);
  Finding finding = expectation("filled", step.filled_place, std::move(pieces));
  finding.missing = value_text(missing_volume);
  finding.excess = value_text(excess_volume);
  expectation_failed(std::move(finding));
}

}  // namespace cutproof
