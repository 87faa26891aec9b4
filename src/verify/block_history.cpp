// SPDX-License-Identifier: GPL-3.0-or-later
#include "verify/block_history.hpp"

#include "solid/parts/algebra.hpp"
#include "solid/parts/build.hpp"
#include "solid/parts/motion.hpp"
#include "solid/parts/piece.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

namespace cutproof {

CellList BlockHistory::parts_of(const Solid& solid) const {
  if (const auto* parts = dynamic_cast<const PartsSolid*>(solid.get())) return parts->region();
  return build_parts(engine_.boundary(solid));
}

std::vector<PlacedBlock>& BlockHistory::blocks_of(const BenchPiece& piece) {
  const auto [known, is_new] = of_piece_.try_emplace(piece.identity);
  if (is_new) {  // of the start, or brought by the step
    known->second.push_back({blocks_.size(), std::make_shared<const Motion>()});
    blocks_.push_back({parts_of(piece.solid), {}});
  }
  return known->second;
}

void BlockHistory::on_replaced(const std::vector<const BenchPiece*>& consumed, const std::vector<const BenchPiece*>& made) {
  std::vector<PlacedBlock> blocks;
  for (const BenchPiece* piece : consumed) {
    const std::vector<PlacedBlock>& old = blocks_of(*piece);
    blocks.insert(blocks.end(), old.begin(), old.end());
    of_piece_.erase(piece->identity);
  }
  if (made.size() == 1) {
    of_piece_[made.front()->identity] = std::move(blocks);
  } else {
    divide(blocks, made);
  }
}

void BlockHistory::on_used(const std::vector<const BenchPiece*>& consumed, const std::vector<const BenchPiece*>&) {
  for (const BenchPiece* piece : consumed) {
    taken_.emplace_back(states_.size(), blocks_of(*piece));
    of_piece_.erase(piece->identity);
  }
}

void BlockHistory::divide(const std::vector<PlacedBlock>& blocks, const std::vector<const BenchPiece*>& made) {
  std::vector<CellList> parts;
  for (const BenchPiece* piece : made) {
    parts.push_back(parts_of(piece->solid));
    of_piece_[piece->identity];
  }
  for (const PlacedBlock& block : blocks) {
    CellMap there(*block.pose), back(block.pose->inverse());
    const CellList whole = there(blocks_[block.block].parts);
    std::vector<std::pair<std::size_t, CellList>> shares;
    for (std::size_t i = 0; i < made.size(); ++i) {
      // All of a piece's points are its own where the piece that was divided is one block.
      CellList share = blocks.size() == 1 ? parts[i] : intersection(whole, parts[i]);
      if (!share.empty()) shares.emplace_back(i, std::move(share));
    }
    for (const auto& [i, share] : shares) {
      PlacedBlock placed = block;
      if (shares.size() > 1) {
        placed.block = blocks_.size();
        blocks_[block.block].became.push_back(placed.block);
        blocks_.push_back({back(share), {}});
      }
      of_piece_[made[i]->identity].push_back(std::move(placed));
    }
  }
}

void BlockHistory::on_moved(const BenchPiece& piece, const Motion& motion) {
  std::map<const Motion*, std::shared_ptr<const Motion>> poses;  // blocks that lay together are shared on
  for (PlacedBlock& block : blocks_of(piece)) {
    std::shared_ptr<const Motion>& pose = poses[block.pose.get()];
    if (!pose) pose = std::make_shared<const Motion>(block.pose->then(motion));
    block.pose = pose;
  }
  moved_.insert(piece.identity);
}

void BlockHistory::on_bench(int step, const Bench& bench) {
  const std::size_t now = states_.size();
  State state;
  state.step = step;
  // Pieces never change places, so what is new stands behind the piece that it follows on the bench.
  auto place = lives_.begin();
  for (const BenchPiece& piece : bench.pieces()) {
    const auto [known, is_new] = life_of_.try_emplace(piece.identity, place);
    if (is_new) {
      known->second = lives_.insert(place, {piece.name, {{now, blocks_of(piece)}}});
    } else if (moved_.count(piece.identity) != 0) {
      known->second->places.emplace_back(now, blocks_of(piece));
    }
    known->second->last_seen = now;
    place = std::next(known->second);
    if (known->second->places.back().first == now) state.changed.push_back(&*known->second);
  }
  if (life_of_.size() > bench.size())
    for (auto each = life_of_.begin(); each != life_of_.end();) {
      Life& life = *each->second;
      if (life.last_seen == now) {
        ++each;
        continue;
      }
      life.end = now;
      state.gone.push_back(&life);
      each = life_of_.erase(each);
    }
  std::sort(state.gone.begin(), state.gone.end(), [](const Life* a, const Life* b) { return a->name < b->name; });
  moved_.clear();
  states_.push_back(std::move(state));
}

const std::vector<PlacedBlock>& BlockHistory::Life::blocks_in(std::size_t state) const {
  const auto later = std::upper_bound(places.begin(), places.end(), state,
                                      [](std::size_t now, const auto& each) { return now < each.first; });
  return std::prev(later)->second;
}

BenchState BlockHistory::state(std::size_t state) const {
  BenchState result;
  result.step = states_[state].step;
  for (const Life& life : lives_)
    if (life.lives_in(state)) result.pieces.push_back({life.name, life.blocks_in(state)});
  return result;
}

BenchChange BlockHistory::change(std::size_t state) const {
  BenchChange result;
  result.step = states_[state].step;
  for (const Life* life : states_[state].changed) result.pieces.push_back({life->name, life->blocks_in(state)});
  for (const Life* life : states_[state].gone) result.gone.push_back(life->name);
  return result;
}

void BlockHistory::on_region(Finding& finding, const Region& region) {
  regions_.push_back({finding, region.boundary});
}

void BlockHistory::add_leaves(const PlacedBlock& block, std::vector<PlacedBlock>& leaves) const {
  if (blocks_[block.block].became.empty()) leaves.push_back(block);
  for (const std::size_t part : blocks_[block.block].became) add_leaves({part, block.pose}, leaves);
}

std::vector<PlacedBlock> BlockHistory::refined(const std::vector<PlacedBlock>& blocks) const {
  std::vector<PlacedBlock> leaves;
  for (const PlacedBlock& block : blocks) add_leaves(block, leaves);
  return leaves;
}

BenchState BlockHistory::refined(const BenchState& state) const {
  BenchState result;
  result.step = state.step;
  for (const StatePiece& piece : state.pieces) result.pieces.push_back({piece.name, refined(piece.blocks)});
  return result;
}

}  // namespace cutproof
