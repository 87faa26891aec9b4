// SPDX-License-Identifier: GPL-3.0-or-later
// What can be seen of a plan that fails: its pieces at the end, and the holes in which they should lie.
#pragma once

#include "plan/exact_plan.hpp"
#include "solid/engine.hpp"
#include "verify/bench.hpp"
#include "verify/observer.hpp"

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace cutproof {

/// Runs the plan once more and keeps what mends are made from. Holds the engine; the plan must outlive it.
class Evidence final : public RunObserver {
 public:
  Evidence(const ExactPlan& plan, EngineChoice engine, std::size_t max_bits);

  /// False when the run ended before the goal was compared: then there is nothing to be seen.
  bool complete() const { return complete_; }
  const std::vector<BenchPiece>& pieces() const { return pieces_; }
  /// Index into `pieces`; none where there is no such piece at the end.
  std::optional<std::size_t> index_of(const std::string& name) const;
  /// The entry of the `move` that put the piece where it is; null when a cut or the start did.
  const MoveEntry* last_move(const BenchPiece& piece) const;

  /// All entries of `move` steps that moved the piece, or what it was cut from, first to last.
  const std::vector<const MoveEntry*>& moves(const BenchPiece& piece) const;

  Boundary boundary(const std::vector<std::size_t>& pieces) const;
  /// What is left of the goals without all other pieces, in connected regions.
  std::vector<Boundary> holes(const std::vector<std::size_t>& without) const;
  Boundary goals() const;
  Boundary goal(std::size_t index) const { return engine_->boundary(goals_[index]); }
  Number goal_volume() const;
  /// A piece before a cut takes it; none where no step cuts a piece of this name.
  std::optional<Boundary> before_cut(int step) const;
  /// Whether the piece, or what it was cut from, was made by the cut of that step.
  bool comes_from_cut(const BenchPiece& piece, int step) const;
  /// What all motions of the piece after that step do together.
  Motion since(const BenchPiece& piece, int step) const;
  int step_of(const MoveEntry& entry) const;
  /// What of one piece lies outside the goals, in connected regions.
  std::vector<Boundary> excess(std::size_t piece) const;
  /// Volumes of the halves of a piece, in front of the plane and behind it; none where the plane does not part it.
  std::optional<std::pair<Number, Number>> halves(std::size_t piece, const Plane& plane) const;

  void on_start(const std::vector<NamedSolid>&, const std::vector<Solid>& start, const std::vector<NamedSolid>&,
                const std::vector<Solid>& goals) override;
  void on_replaced(const std::vector<const BenchPiece*>& consumed, const std::vector<const BenchPiece*>& made) override;
  void on_moved(const BenchPiece& piece, const Motion& motion) override;
  void on_bench(int step, const Bench& bench) override;
  void on_end(const Bench& bench) override;

 private:
  const ExactPlan& plan_;
  std::unique_ptr<Engine> engine_;
  std::vector<Solid> start_, goals_;
  std::vector<BenchPiece> pieces_;
  std::vector<std::pair<int, Solid>> cut_;               // what each cut with one piece took
  std::map<long, std::vector<const MoveEntry*>> moves_;  // by the piece's identity
  std::map<long, std::vector<int>> cuts_;                // the same: steps
  int step_ = 1;
  bool complete_ = false;
};

/// The surfaces as one: regions of points that belong together.
Boundary together(const std::vector<Boundary>& surfaces);

/// The surface of what a motion, or a reflection, makes of a solid.
Boundary moved(Boundary surface, const Motion& motion);

}  // namespace cutproof
