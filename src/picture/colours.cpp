// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/colours.hpp"

#include <algorithm>
#include <array>
#include <set>
#include <tuple>

namespace cutproof {

std::vector<Paint> painted(std::size_t count, const std::vector<std::pair<std::size_t, std::size_t>>& touching) {
  std::vector<Paint> paints(count);
  if (count <= static_cast<std::size_t>(colour_count)) {
    for (std::size_t i = 0; i < count; ++i) paints[i].colour = static_cast<int>(i);
    return paints;
  }
  std::vector<std::set<std::size_t>> neighbours(count);
  for (const auto& [a, b] : touching)
    if (a != b) {
      neighbours[a].insert(b);
      neighbours[b].insert(a);
    }
  std::vector<char> done(count, 0);
  std::vector<std::array<int, colour_count>> seen(count);  // of each piece: how many neighbours have each colour
  for (auto& each : seen) each.fill(0);
  const auto saturation = [&](std::size_t i) {
    return colour_count - static_cast<int>(std::count(seen[i].begin(), seen[i].end(), 0));
  };
  // The most constrained piece first: most colours around it, then most neighbours, then the first.
  std::set<std::tuple<int, int, std::size_t>> open;
  const auto key = [&](std::size_t i) { return std::tuple(-saturation(i), -static_cast<int>(neighbours[i].size()), i); };
  for (std::size_t i = 0; i < count; ++i) open.insert(key(i));
  std::array<std::size_t, colour_count> used{};
  while (!open.empty()) {
    const std::size_t piece = std::get<2>(*open.begin());
    open.erase(open.begin());
    done[piece] = 1;
    int best = 0;
    for (int colour = 1; colour < colour_count; ++colour)
      if (std::pair(static_cast<std::size_t>(seen[piece][colour]), used[colour]) <
          std::pair(static_cast<std::size_t>(seen[piece][best]), used[best]))
        best = colour;
    paints[piece].colour = best;
    ++used[best];
    for (const std::size_t other : neighbours[piece]) {
      if (done[other] != 0) continue;
      open.erase(key(other));
      ++seen[other][best];
      open.insert(key(other));
    }
  }
  std::array<int, colour_count> earlier{};
  for (Paint& paint : paints) {
    const int number = earlier[paint.colour]++;
    paint.hatching = number < hatching_count ? number : 1 + (number - hatching_count) % (hatching_count - 1);
  }
  return paints;
}

}  // namespace cutproof
