// SPDX-License-Identifier: GPL-3.0-or-later
// Which colour each piece has, the same in every picture of a plan.
#pragma once

#include <cstddef>
#include <utility>
#include <vector>

namespace cutproof {

/// How many colours there are, and ways of hatching (0, none, among them).
constexpr int colour_count = 7, hatching_count = 7;

struct Paint {
  int colour = 0, hatching = 0;
};

/// Paints `count` pieces. Up to seven get a colour each. Of more, those that touch (pairs of pieces, in any order) get
/// different colours as far as a greedy choice in the order of saturation finds any (D. Brélaz, Communications of the ACM 22
/// (1979) 251-256); pieces of equal colour get different hatchings, the first none, while there are any left.
std::vector<Paint> painted(std::size_t count, const std::vector<std::pair<std::size_t, std::size_t>>& touching);

}  // namespace cutproof
