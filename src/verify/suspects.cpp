// SPDX-License-Identifier: GPL-3.0-or-later
#include "verify/suspects.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

namespace cutproof {
namespace {

using Key = std::tuple<std::string, int, int, int>;

Key key_of(const Suspect& suspect) {
  return {suspect.piece, suspect.step, suspect.line, suspect.column};
}

// How much a finding says against each of its pieces; 0: it is not about geometry.
int weight(const Finding& finding) {
  static const std::map<std::string, int> weights = {
      {"missing", 1}, {"overlap", 2},  {"straddles", 2},          {"join-apart", 2},
      {"excess", 3},  {"mirrored", 3}, {"expectation-failed", 2}, {"plane-misses", 1}};
  const auto known = weights.find(finding.code);
  return known == weights.end() ? 0 : known->second;
}

using Place = std::tuple<int, int, int>;

// Motions that carried pieces against which nothing was found: if they are wrong, it does not show.
std::set<Place> harmless_motions(const Bench& bench, const CheckResult& result) {
  std::set<std::string> concerned;
  for (const Finding& finding : result.findings)
    if (weight(finding) > 1) concerned.insert(finding.pieces.begin(), finding.pieces.end());
  std::set<Place> places;
  for (const BenchPiece& piece : bench.pieces()) {
    if (concerned.count(piece.name) != 0) continue;
    const auto add = [&](const Placement& placed) { places.emplace(placed.step, placed.place.line, placed.place.column); };
    add(piece.placed);
    std::for_each(piece.earlier.begin(), piece.earlier.end(), add);
  }
  return places;
}

// Suspects of one piece stand together, the last motion first; before them the planes that missed their pieces.
void keep_one_a_piece(const std::set<Place>& harmless, Finding* finding) {
  std::vector<Suspect> kept;
  const std::vector<Suspect>& all = finding->suspects;
  std::size_t i = 0;
  for (; finding->code == "plane-misses" && i < all.size() && all[i].step == finding->step; ++i) kept.push_back(all[i]);
  for (std::size_t end = i; i < all.size(); i = end) {
    while (end < all.size() && all[end].piece == all[i].piece) ++end;
    std::size_t chosen = i;
    while (chosen < end && harmless.count({all[chosen].step, all[chosen].line, all[chosen].column}) != 0) ++chosen;
    kept.push_back(all[chosen < end ? chosen : i]);
  }
  finding->suspects = std::move(kept);
}

}  // namespace

void rank_suspects(const Bench& bench, CheckResult* result) {
  constexpr std::size_t most = 100;
  const std::set<Place> harmless = harmless_motions(bench, *result);
  for (Finding& finding : result->findings) keep_one_a_piece(harmless, &finding);
  std::map<Key, int> against;
  for (const Finding& finding : result->findings)
    for (const Suspect& suspect : finding.suspects) against[key_of(suspect)] += weight(finding);
  for (Finding& finding : result->findings) {
    if (weight(finding) == 0) {
      finding.suspects.clear();
      continue;
    }
    const bool own_first = finding.code == "plane-misses";
    std::stable_sort(finding.suspects.begin(), finding.suspects.end(), [&](const Suspect& a, const Suspect& b) {
      if (own_first && (a.step == finding.step) != (b.step == finding.step)) return a.step == finding.step;
      const int more = against[key_of(a)] - against[key_of(b)];
      return more != 0 ? more > 0 : a.step > b.step;
    });
    if (finding.suspects.size() > most) finding.suspects.resize(most);
  }
}

}  // namespace cutproof
