// SPDX-License-Identifier: GPL-3.0-or-later
#include "mend/evidence.hpp"

#include "solid/both_engines.hpp"
#include "solid/edges.hpp"
#include "verify/check.hpp"

#include <algorithm>
#include <utility>

namespace cutproof {

Boundary together(const std::vector<Boundary>& surfaces) {
  Boundary all;
  for (const Boundary& surface : surfaces) {
    const int offset = static_cast<int>(all.vertices.size());
    all.vertices.insert(all.vertices.end(), surface.vertices.begin(), surface.vertices.end());
    for (Facet facet : surface.facets) {
      for (std::vector<int>& cycle : facet.cycles)
        for (int& corner : cycle) corner += offset;
      all.facets.push_back(std::move(facet));
    }
  }
  return surfaces.size() < 2 ? all : normalised(all);
}

Boundary moved(Boundary surface, const Motion& motion) {
  for (Vector3& corner : surface.vertices) corner = motion(corner);
  for (Facet& facet : surface.facets) {
    facet.plane = motion(facet.plane);
    if (motion.is_proper()) continue;
    // A mirror image runs round its faces the other way.
    for (std::vector<int>& cycle : facet.cycles) std::reverse(cycle.begin(), cycle.end());
  }
  return normalised(surface);
}

Evidence::Evidence(const ExactPlan& plan, EngineChoice engine, std::size_t max_bits)
    : plan_(plan), engine_(make_engine(engine)) {
  CheckOptions options;
  options.max_bits = max_bits;
  options.observer = this;
  check_plan(plan, *engine_, options);
}

std::optional<std::size_t> Evidence::index_of(const std::string& name) const {
  const auto found =
      std::find_if(pieces_.begin(), pieces_.end(), [&](const BenchPiece& piece) { return piece.name == name; });
  if (found == pieces_.end()) return std::nullopt;
  return static_cast<std::size_t>(found - pieces_.begin());
}

const MoveEntry* Evidence::last_move(const BenchPiece& piece) const {
  if (piece.placed.step == 0) return nullptr;
  const auto* move = std::get_if<MoveStep>(&plan_.steps[static_cast<std::size_t>(piece.placed.step) - 1].action);
  if (move == nullptr) return nullptr;
  for (const MoveEntry& entry : move->entries)
    if (entry.motion_place.line == piece.placed.place.line && entry.motion_place.column == piece.placed.place.column)
      return &entry;
  return nullptr;
}

const std::vector<const MoveEntry*>& Evidence::moves(const BenchPiece& piece) const {
  static const std::vector<const MoveEntry*> none;
  const auto known = moves_.find(piece.identity);
  return known == moves_.end() ? none : known->second;
}

Boundary Evidence::boundary(const std::vector<std::size_t>& pieces) const {
  if (pieces.size() == 1) return engine_->boundary(pieces_[pieces.front()].solid);
  std::vector<Solid> solids;
  for (const std::size_t piece : pieces) solids.push_back(pieces_[piece].solid);
  return engine_->boundary(engine_->joined(solids));
}

std::vector<Boundary> Evidence::holes(const std::vector<std::size_t>& without) const {
  std::vector<Solid> others;
  for (std::size_t i = 0; i < pieces_.size(); ++i)
    if (std::find(without.begin(), without.end(), i) == without.end()) others.push_back(pieces_[i].solid);
  std::vector<Boundary> regions;
  for (DifferenceRegion& region : engine_->compare(others, goals_).missing)
    regions.push_back(std::move(region.region.boundary));
  return regions;
}

Boundary Evidence::goals() const {
  return engine_->boundary(goals_.size() == 1 ? goals_.front() : engine_->joined(goals_));
}

Number Evidence::goal_volume() const {
  std::vector<Number> volumes;
  for (const Solid& goal : goals_) volumes.push_back(engine_->volume(goal));
  return balanced_sum(volumes);
}

std::optional<Boundary> Evidence::before_cut(int step) const {
  for (const auto& [at, solid] : cut_)
    if (at == step) return engine_->boundary(solid);
  return std::nullopt;
}

bool Evidence::comes_from_cut(const BenchPiece& piece, int step) const {
  const auto known = cuts_.find(piece.identity);
  return known != cuts_.end() && std::find(known->second.begin(), known->second.end(), step) != known->second.end();
}

int Evidence::step_of(const MoveEntry& entry) const {
  for (std::size_t i = 0; i < plan_.steps.size(); ++i) {
    const auto* move = std::get_if<MoveStep>(&plan_.steps[i].action);
    if (move == nullptr || move->entries.empty()) continue;
    if (&entry >= &move->entries.front() && &entry <= &move->entries.back()) return static_cast<int>(i) + 1;
  }
  return 0;
}

Motion Evidence::since(const BenchPiece& piece, int step) const {
  Motion all;
  for (const MoveEntry* entry : moves(piece))
    if (step_of(*entry) > step) all = all.then(entry->motion);
  return all;
}

std::vector<Boundary> Evidence::excess(std::size_t piece) const {
  std::vector<Boundary> regions;
  for (DifferenceRegion& region : engine_->compare({pieces_[piece].solid}, goals_).excess)
    regions.push_back(std::move(region.region.boundary));
  return regions;
}

std::optional<std::pair<Number, Number>> Evidence::halves(std::size_t piece, const Plane& plane) const {
  const Halves halves = engine_->cut(pieces_[piece].solid, plane);
  if (halves.positive == nullptr || halves.negative == nullptr) return std::nullopt;
  return std::pair(engine_->volume(halves.positive), engine_->volume(halves.negative));
}

void Evidence::on_start(const std::vector<NamedSolid>&, const std::vector<Solid>& start, const std::vector<NamedSolid>&,
                        const std::vector<Solid>& goals) {
  start_ = start;
  goals_ = goals;
}

void Evidence::on_replaced(const std::vector<const BenchPiece*>& consumed, const std::vector<const BenchPiece*>& made) {
  if (consumed.size() != 1) return;  // what was joined has no way of its own
  cut_.emplace_back(step_, consumed.front()->solid);
  const std::vector<const MoveEntry*> way = moves(*consumed.front());
  std::vector<int> cuts = cuts_[consumed.front()->identity];
  cuts.push_back(step_);
  for (const BenchPiece* piece : made) {
    moves_[piece->identity] = way;
    cuts_[piece->identity] = cuts;
  }
}

void Evidence::on_moved(const BenchPiece& piece, const Motion& motion) {
  const auto* move = std::get_if<MoveStep>(&plan_.steps[static_cast<std::size_t>(step_) - 1].action);
  if (move == nullptr) return;
  for (const MoveEntry& entry : move->entries)
    if (&entry.motion == &motion) moves_[piece.identity].push_back(&entry);
}

void Evidence::on_bench(int step, const Bench&) {
  step_ = step + 1;
}

void Evidence::on_end(const Bench& bench) {
  pieces_.assign(bench.pieces().begin(), bench.pieces().end());
  complete_ = true;
}

}  // namespace cutproof
