// SPDX-License-Identifier: GPL-3.0-or-later
#include "verify/suspects.hpp"

#include <algorithm>
#include <map>
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

}  // namespace

void rank_suspects(CheckResult* result) {
  constexpr std::size_t most = 100;
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
