// SPDX-License-Identifier: GPL-3.0-or-later
// `expect`: statements of the plan's author about the bench, each decided exactly.
#include "solid/congruence.hpp"
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
    result_.consequences.push_back(told(std::move(finding)));
    return;
  }
  add(std::move(finding));
}

std::vector<Bench::Position> Run::examined(const Selector& selector) {
  const std::optional<Selection> selection = take(selector);
  if (!selection) return {};
  examined_ += selection->all().size();
  return selection->all();
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
  if (step.congruent) expect_congruent(step);
  if (step.shape_count) expect_shapes(step);
  for (const DecidedCondition& condition : step.conditions) {
    if (condition.holds) continue;
    Finding finding = expectation("holds", condition.place);
    finding.facts["condition"].text = condition.text;
    expectation_failed(std::move(finding));
  }
  const bool about_the_whole_bench = !step.conditions.empty() || step.piece_count ||
                                     (step.filled != nullptr && step.filled_by.empty()) ||
                                     (step.shape_count && step.shapes_of.empty());
  if (examined_ == 0 && !about_the_whole_bench) skip();
}

void Run::expect_angles(const AngleAudit& audit) {
  for (const Bench::Position& piece : examined({audit.piece})) {
    in_hand_ = {piece->name};
    const AuditResult result =
        audit_angles(engine_.boundary(piece->solid), {audit.allowed, audit.exceptions}, plan_.dimension);
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

void Run::expect_congruent(const ExpectStep& step) {
  // To what each must be congruent: the given solid, or the first of the pieces.
  std::optional<SurfaceForm> model;
  std::string first;
  if (step.congruent_to != nullptr) model.emplace(engine_.boundary(built(step.congruent_to)));
  for (const Bench::Position& piece : examined(*step.congruent)) {
    in_hand_ = {piece->name};
    SurfaceForm form(engine_.boundary(piece->solid));
    if (!model) {
      model.emplace(std::move(form));
      first = piece->name;
      continue;
    }
    if (find_motion(*model, form, Sense::direct, ambient())) continue;
    const bool mirror_images = find_motion(*model, form, Sense::mirrored, ambient()).has_value();
    if (mirror_images && plan_.allow_mirror) continue;
    Finding finding = expectation(mirror_images ? "mirror images" : "congruent", step.congruent_place, {piece->name});
    if (first.empty()) {
      finding.statement += " with a solid";
    } else {
      finding.pieces = {first, piece->name};
      finding.facts = {{"first", fact(std::vector<std::string>{first})},
                       {"second", fact(std::vector<std::string>{piece->name})}};
    }
    expectation_failed(std::move(finding));
    return;
  }
}

void Run::expect_shapes(const ExpectStep& step) {
  ShapeCatalogue catalogue(ambient());
  std::vector<std::string> names;
  std::vector<std::size_t> class_of;
  const auto take_in = [&](const BenchPiece& piece) {
    in_hand_ = {piece.name};
    names.push_back(piece.name);
    class_of.push_back(catalogue.add(piece.volume, SurfaceForm(engine_.boundary(piece.solid))));
  };
  if (step.shapes_of.empty()) {
    for (const BenchPiece& piece : bench_.pieces()) take_in(piece);
  } else {
    for (const Bench::Position& piece : examined(step.shapes_of)) take_in(*piece);
    if (names.empty()) return;  // phantoms only
  }
  std::vector<std::vector<std::string>> classes(catalogue.shapes().size());
  for (std::size_t i = 0; i < names.size(); ++i) {
    const std::optional<std::size_t>& mirrored = catalogue.shapes()[class_of[i]].mirror_of;
    classes[plan_.allow_mirror && mirrored ? *mirrored : class_of[i]].push_back(names[i]);
  }
  classes.erase(std::remove_if(classes.begin(), classes.end(), [](const auto& each) { return each.empty(); }),
                classes.end());
  if (classes.size() == static_cast<std::size_t>(*step.shape_count)) return;
  Finding finding = expectation("shapes", step.shapes_place, std::move(names));
  finding.facts = {{"expected", fact(static_cast<std::size_t>(*step.shape_count))}, {"found", fact(classes.size())}};
  finding.classes = std::move(classes);
  expectation_failed(std::move(finding));
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
