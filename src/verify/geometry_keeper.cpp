// SPDX-License-Identifier: GPL-3.0-or-later
#include "verify/geometry_keeper.hpp"

#include <algorithm>

namespace cutproof {

std::size_t GeometryKeeper::index_of(const Solid& solid) {
  const auto [place, is_new] = known_.emplace(solid, kept_.solids.size());
  if (is_new) kept_.solids.push_back(solid_data(engine_.boundary(solid), &texts_));
  return place->second;
}

std::vector<NamedSolidData> GeometryKeeper::pieces_of(const Bench& bench) {
  std::vector<NamedSolidData> pieces;
  for (const BenchPiece& piece : bench.pieces()) pieces.push_back({piece.name, index_of(piece.solid)});
  return pieces;
}

void GeometryKeeper::on_start(const std::vector<NamedSolid>& start_names, const std::vector<Solid>& start,
                              const std::vector<NamedSolid>& goal_names, const std::vector<Solid>& goals) {
  if (wish_.start)
    for (std::size_t i = 0; i < start.size(); ++i) kept_.start.push_back({start_names[i].name, index_of(start[i])});
  if (wish_.goals)
    for (std::size_t i = 0; i < goals.size(); ++i) kept_.goals.push_back({goal_names[i].name, index_of(goals[i])});
}

void GeometryKeeper::on_bench(int step, const Bench& bench) {
  if (wish_.every_step || std::find(wish_.steps.begin(), wish_.steps.end(), step) != wish_.steps.end())
    kept_.after.push_back({step, pieces_of(bench)});
}

void GeometryKeeper::on_region(Finding& finding, const Region& region) {
  if (!wish_.regions) return;
  finding.region = kept_.regions.size();
  kept_.regions.push_back({finding.code, finding.step, finding.pieces, kept_.solids.size()});
  kept_.solids.push_back(solid_data(region.boundary, &texts_));
}

void GeometryKeeper::on_end(const Bench& bench) {
  if (wish_.end) kept_.end = pieces_of(bench);
}

}  // namespace cutproof
