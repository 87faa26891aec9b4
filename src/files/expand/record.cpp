// SPDX-License-Identifier: GPL-3.0-or-later
#include "files/expand/record.hpp"

#include "number/whole.hpp"

#include <algorithm>

namespace cutproof {

namespace {

Vector3 floors(const Vector3& point) {
  return {floor_of(point.x), floor_of(point.y), floor_of(point.z)};
}

/// The smallest box with whole corners around a box. Whole numbers of different fields can be compared.
Box whole_box(const Box& box) {
  return {floors(box.minimum), -floors(-box.maximum)};
}

Box around(const Box& a, const Box& b) {
  return box_around({a.minimum, a.maximum, b.minimum, b.maximum});
}

bool are_apart(const Box& a, const Box& b) {
  for (const int axis : {0, 1, 2})
    if (!(coordinate(b.minimum, axis) < coordinate(a.maximum, axis)) ||
        !(coordinate(a.minimum, axis) < coordinate(b.maximum, axis)))
      return true;
  return false;
}

}  // namespace

RecordedPiece RunRecord::recorded(const BenchPiece& piece) const {
  return {piece.identity, piece.name, keeps_solids_ ? piece.solid : nullptr};
}

void RunRecord::reach(const Solid& solid) {
  if (!keeps_solids_) return;
  const Box box = whole_box(engine_->box(solid));
  reached_ = reached_ ? around(*reached_, box) : box;
}

void RunRecord::on_start(const std::vector<NamedSolid>&, const std::vector<Solid>& start, const std::vector<NamedSolid>&,
                         const std::vector<Solid>& goals) {
  steps_.resize(plan_.steps.size() + 1);
  for (const Solid& solid : start) reach(solid);
  if (keeps_solids_) goals_ = goals;
}

void RunRecord::on_replaced(const std::vector<const BenchPiece*>& consumed, const std::vector<const BenchPiece*>& made) {
  RecordedChange change;
  for (const BenchPiece* piece : consumed) change.consumed.push_back(recorded(*piece));
  for (const BenchPiece* piece : made) change.made.push_back(recorded(*piece));
  now().changes.push_back(std::move(change));
}

void RunRecord::on_selected(const PlaceSelection& place, const std::vector<Bench::Position>& pieces) {
  std::vector<std::string> names;
  for (const Bench::Position& piece : pieces) names.push_back(piece->name);
  now().selected[&place] = std::move(names);
}

void RunRecord::on_found(const MoveEntry& entry, const Motion& motion) {
  (steps_.empty() ? found_before_ : now().found).insert_or_assign(&entry, motion);
}

void RunRecord::on_fitted(const UseStep&, const std::vector<Motion>& there, const Motion& back) {
  now().use = RecordedUse{there, back};
}

void RunRecord::on_used(const std::vector<const BenchPiece*>& consumed, const std::vector<const BenchPiece*>& made) {
  on_replaced(consumed, made);
  for (const BenchPiece* piece : made) reach(piece->solid);
}

void RunRecord::on_moved(const BenchPiece& piece, const Motion& motion) {
  now().moved.emplace_back(piece.identity, motion);
  reach(piece.solid);
}

void RunRecord::on_bench(int step, const Bench& bench) {
  done_ = step;
  RecordedStep& next = now();
  const bool is_use = static_cast<std::size_t>(step) < plan_.steps.size() &&
                      std::holds_alternative<UseStep>(plan_.steps[static_cast<std::size_t>(step)].action);
  for (const BenchPiece& piece : bench.pieces()) {
    next.bench.push_back(piece.name);
    if (is_use) next.places.emplace_back(piece.name, whole_box(engine_->box(piece.solid)));
    if (step == 0) first_.push_back(recorded(piece));
  }
}

void RunRecord::on_end(const Bench& bench) {
  for (const BenchPiece& piece : bench.pieces()) last_.push_back(recorded(piece));
  complete_ = true;
}

RunObserver* RunRecord::observer_of(const Lemma& lemma, const std::shared_ptr<Engine>& engine) {
  return &records_.add(lemma, engine);
}

const Box& RunRecord::extent() const {
  if (extent_) return *extent_;
  if (!reached_) throw ToolFault("a lemma that was not carried out has no extent");
  Box box = *reached_;
  for (std::size_t i = 0; i < plan_.steps.size(); ++i) {
    const auto* use = std::get_if<UseStep>(&plan_.steps[i].action);
    if (use == nullptr) continue;
    const Box& inner = records_.of(*use->lemma).extent();
    const Vector3 aside = way_aside(i);
    box = around(box, {inner.minimum + aside, inner.maximum + aside});
  }
  extent_ = box;
  return *extent_;
}

Vector3 RunRecord::way_aside(std::size_t step) const {
  const auto& use = std::get<UseStep>(plan_.steps.at(step).action);
  const Box& needed = records_.of(*use.lemma).extent();
  Vector3 aside{Number(0), Number(0), Number(0)};
  std::optional<Number> last;
  bool is_free = true;
  for (const auto& [name, box] : steps_.at(step).places) {
    const bool is_taken = std::any_of(use.taken.begin(), use.taken.end(),
                                      [&name = name](const UseStep::Taken& taken) { return taken.piece.text == name; });
    if (is_taken) continue;
    is_free = is_free && are_apart(box, needed);
    if (!last || *last < box.maximum.x) last = box.maximum.x;
  }
  if (!is_free) aside.x = *last - needed.minimum.x + Number(1);
  return aside;
}

RunRecord& RunRecords::add(const Lemma& lemma, const std::shared_ptr<Engine>& engine) {
  std::unique_ptr<RunRecord>& record = records_[&lemma];
  record = std::make_unique<RunRecord>(lemma.plan, engine, *this, true);
  return *record;
}

const RunRecord& RunRecords::of(const Lemma& lemma) const {
  const auto known = records_.find(&lemma);
  if (known == records_.end()) throw ToolFault("a lemma is written out that was not carried out");
  return *known->second;
}

}  // namespace cutproof
