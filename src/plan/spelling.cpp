// SPDX-License-Identifier: GPL-3.0-or-later
#include "plan/spelling.hpp"

#include <algorithm>
#include <utility>

namespace cutproof {

namespace {

/// Letters to insert, delete, replace or swap with their neighbour (optimal string alignment).
std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> before, last(b.size() + 1), row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) row[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    before = last;
    last = row;
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      row[j] = std::min({row[j - 1] + 1, last[j] + 1, last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1)});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) row[j] = std::min(row[j], before[j - 2] + 1);
    }
  }
  return row[b.size()];
}

}  // namespace

std::string nearest_word(std::string_view word, const std::vector<std::string>& candidates) {
  std::string best;
  std::size_t best_distance = 3;
  if (word.size() > 100) return best;
  for (const std::string& candidate : candidates) {
    if (candidate.size() > word.size() + 2 || word.size() > candidate.size() + 2) continue;
    const std::size_t distance = edit_distance(word, candidate);
    if (distance < best_distance && 2 * distance < std::max(word.size(), candidate.size())) {
      best = candidate;
      best_distance = distance;
    }
  }
  if (!best.empty() || word.size() < 3) return best;
  const std::string part = "-" + std::string(word) + "-";
  for (const std::string& candidate : candidates)
    if (("-" + candidate + "-").find(part) != std::string::npos) return candidate;
  return best;
}

std::vector<std::string> nearest_first(std::string_view word, std::vector<std::string> words) {
  std::vector<std::pair<std::size_t, std::string>> ranked;
  const std::string_view start = word.substr(0, 40);
  for (std::string& each : words) {
    const std::size_t distance = edit_distance(start, std::string_view(each).substr(0, 40));
    ranked.emplace_back(distance, std::move(each));
  }
  std::stable_sort(ranked.begin(), ranked.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
  words.clear();
  for (auto& each : ranked) words.push_back(std::move(each.second));
  return words;
}

}  // namespace cutproof
