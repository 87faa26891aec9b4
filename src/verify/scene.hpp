// SPDX-License-Identifier: GPL-3.0-or-later
// The history of a run as data for programs that draw.
#pragma once

#include "cutproof/scene.hpp"
#include "verify/block_history.hpp"
#include "verify/observer.hpp"

#include <vector>

namespace cutproof {

/// Keeps a scene while it looks on.
class SceneKeeper final : public RunObserver {
 public:
  explicit SceneKeeper(Engine& engine) : engine_(engine), history_(engine) {}
  void on_start(const std::vector<NamedSolid>& start_names, const std::vector<Solid>& start,
                const std::vector<NamedSolid>& goal_names, const std::vector<Solid>& goals) override;
  void on_replaced(const std::vector<const BenchPiece*>& consumed, const std::vector<const BenchPiece*>& made) override;
  void on_used(const std::vector<const BenchPiece*>& consumed, const std::vector<const BenchPiece*>& made) override;
  void on_moved(const BenchPiece& piece, const Motion& motion) override;
  void on_bench(int step, const Bench& bench) override;
  void on_region(Finding& finding, const Region& region) override;

  /// The scene, as far as the run came. Kinds, titles and lines of steps come from the result.
  Scene scene(const CheckResult& result);

 private:
  Engine& engine_;
  BlockHistory history_;
  std::vector<SceneGoal> goals_;
  std::vector<SceneRegion> regions_;
};

}  // namespace cutproof
