// SPDX-License-Identifier: GPL-3.0-or-later
#include "verify/block_history.hpp"

#include "solid/parts/algebra.hpp"
#include "solid/parts/build.hpp"
#include "solid/parts/motion.hpp"
#include "solid/parts/piece.hpp"

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
}

void BlockHistory::on_bench(int step, const Bench& bench) {
  BenchState state;
  state.step = step;
  for (const BenchPiece& piece : bench.pieces()) state.pieces.push_back({piece.name, blocks_of(piece)});
  states_.push_back(std::move(state));
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
