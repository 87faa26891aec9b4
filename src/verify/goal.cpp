// SPDX-License-Identifier: GPL-3.0-or-later
// The last question: do the pieces fill the goals exactly, each piece in one of them?
#include "verify/run.hpp"
#include "verify/text.hpp"

namespace cutproof {

void Run::compare_with_goal() {
  std::vector<std::string> names;
  for (const BenchPiece& piece : bench_.pieces()) names.push_back(piece.name);
  in_hand_ = names;
  const bool disjoint = result_.counts.count("overlap") == 0;
  const GoalComparison comparison =
      disjoint ? engine_.compare_disjoint(solids_on_bench(), goals_) : engine_.compare(solids_on_bench(), goals_);

  for (const auto& [piece, goals] : comparison.straddling) {
    std::vector<std::string> goal_names;
    for (const std::size_t goal : goals) goal_names.push_back(goal_names_[goal].name);
    Finding straddles = finding("straddles", plan_.goal_place, {names[piece]});
    straddles.facts = {{"goals", fact(std::move(goal_names))}};
    add(std::move(straddles));
  }
  const auto report = [&](const std::vector<DifferenceRegion>& regions, const std::string& code) {
    for (const DifferenceRegion& region : regions) {
      if (!has_room(code)) {
        ++result_.counts[code];
        continue;
      }
      std::vector<std::string> pieces;
      for (const std::size_t piece : region.pieces) pieces.push_back(names[piece]);
      Finding difference = finding(code, plan_.goal_place, std::move(pieces));
      describe(difference, region.region);
      add(std::move(difference));
    }
  };
  report(comparison.missing, "missing");
  report(comparison.excess, "excess");
}

void Run::list_pieces() {
  for (const BenchPiece& piece : bench_.pieces()) {
    in_hand_ = {piece.name};
    result_.pieces.push_back({piece.name, engine_.count_connected_components(piece.solid), value_text(piece.volume)});
  }
}

}  // namespace cutproof
