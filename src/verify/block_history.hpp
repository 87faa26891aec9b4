// SPDX-License-Identifier: GPL-3.0-or-later
// Which points of the start lie where after each step: what pictures and other programs need to follow pieces through a
// plan.
//
// A block is a set of points that no cut of the plan parts, as far as the run came. It is kept where it lies at the start;
// in each state it lies under a motion of its own.
#pragma once

#include "solid/parts/convex.hpp"
#include "verify/observer.hpp"

#include <cstddef>
#include <list>
#include <map>
#include <memory>
#include <string>
#include <unordered_map>
#include <unordered_set>
#include <utility>
#include <vector>

namespace cutproof {

/// A block of `BlockHistory::blocks`, and the motion from where it lies at the start to where it lies now.
struct PlacedBlock {
  std::size_t block = 0;
  std::shared_ptr<const Motion> pose;
};

/// A piece on the bench after a step. Its blocks overlap only where pieces that overlapped were joined.
struct StatePiece {
  std::string name;
  std::vector<PlacedBlock> blocks;
};

struct BenchState {
  int step = 0;  ///< 0: the start
  std::vector<StatePiece> pieces;
};

/// What a step changed: pieces that came or moved, in the order of the bench, and the names of those that went, sorted (they
/// may have come again).
struct BenchChange {
  int step = 0;
  std::vector<StatePiece> pieces;
  std::vector<std::string> gone;
};

/// A region that a listed finding speaks of.
struct StateRegion {
  Finding finding;  ///< as it was when it was found; it has no number then
  Boundary boundary;
};

class BlockHistory final : public RunObserver {
 public:
  explicit BlockHistory(Engine& engine) : engine_(engine) {}

  void on_replaced(const std::vector<const BenchPiece*>& consumed, const std::vector<const BenchPiece*>& made) override;
  void on_used(const std::vector<const BenchPiece*>& consumed, const std::vector<const BenchPiece*>& made) override;
  void on_moved(const BenchPiece& piece, const Motion& motion) override;
  void on_bench(int step, const Bench& bench) override;
  void on_region(Finding& finding, const Region& region) override;

  /// How many states there are, by increasing step, the start first; steps that were not finished are not there.
  std::size_t state_count() const { return states_.size(); }
  int step_of(std::size_t state) const { return states_[state].step; }
  /// A whole state. Only changes are kept, so this takes work in proportion to all pieces that there ever were.
  BenchState state(std::size_t state) const;
  /// What differs from the state before.
  BenchChange change(std::size_t state) const;
  /// The state's pieces by blocks that no later step of this run parts.
  BenchState refined(const BenchState& state) const;
  /// The same of the blocks of one piece.
  std::vector<PlacedBlock> refined(const std::vector<PlacedBlock>& blocks) const;
  /// The parts of a block, where it lies at the start.
  const CellList& parts(std::size_t block) const { return blocks_[block].parts; }
  const std::vector<StateRegion>& regions() const { return regions_; }
  /// Pieces that lemmas took: the first state without each, and its blocks then.
  const std::vector<std::pair<std::size_t, std::vector<PlacedBlock>>>& taken() const { return taken_; }

 private:
  /// Blocks that a cut parts stay, and point to what became of them.
  struct Block {
    CellList parts;
    std::vector<std::size_t> became;
  };
  /// A piece from when it came to when it went, and where its blocks lay from which state on.
  struct Life {
    std::string name;
    std::vector<std::pair<std::size_t, std::vector<PlacedBlock>>> places;
    std::size_t last_seen = 0, end = ~std::size_t{0};
    bool lives_in(std::size_t state) const { return places.front().first <= state && state < end; }
    const std::vector<PlacedBlock>& blocks_in(std::size_t state) const;
  };
  struct State {
    int step = 0;
    std::vector<const Life*> changed, gone;
  };
  CellList parts_of(const Solid& solid) const;
  std::vector<PlacedBlock>& blocks_of(const BenchPiece& piece);
  void divide(const std::vector<PlacedBlock>& blocks, const std::vector<const BenchPiece*>& made);
  void add_leaves(const PlacedBlock& block, std::vector<PlacedBlock>& leaves) const;

  Engine& engine_;
  std::vector<Block> blocks_;
  std::map<long, std::vector<PlacedBlock>> of_piece_;  ///< by the piece's identity
  std::list<Life> lives_;  ///< all pieces that there ever were; those of a state in the order of the bench
  std::unordered_map<long, std::list<Life>::iterator> life_of_;  ///< by identity, of pieces on the bench
  std::unordered_set<long> moved_;                               ///< since the last state
  std::vector<State> states_;
  std::vector<StateRegion> regions_;
  std::vector<std::pair<std::size_t, std::vector<PlacedBlock>>> taken_;
};

}  // namespace cutproof
