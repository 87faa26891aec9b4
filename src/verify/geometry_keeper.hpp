// SPDX-License-Identifier: GPL-3.0-or-later
// Keeps the geometry that a check was asked for.
#pragma once

#include "verify/observer.hpp"
#include "verify/solid_data.hpp"

#include <unordered_map>

namespace cutproof {

class GeometryKeeper final : public RunObserver {
 public:
  GeometryKeeper(const GeometryWish& wish, Engine& engine) : wish_(wish), engine_(engine) {}
  CheckGeometry& kept() { return kept_; }

  void on_start(const std::vector<NamedSolid>& start_names, const std::vector<Solid>& start,
                const std::vector<NamedSolid>& goal_names, const std::vector<Solid>& goals) override;
  void on_bench(int step, const Bench& bench) override;
  void on_region(Finding& finding, const Region& region) override;
  void on_end(const Bench& bench) override;

 private:
  std::size_t index_of(const Solid& solid);
  std::vector<NamedSolidData> pieces_of(const Bench& bench);

  GeometryWish wish_;
  Engine& engine_;
  CheckGeometry kept_;
  AngleTexts texts_;
  std::unordered_map<Solid, std::size_t> known_;  ///< holds the solids, so that no address comes twice
};

}  // namespace cutproof
