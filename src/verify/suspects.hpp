// SPDX-License-Identifier: GPL-3.0-or-later
// Which of the steps that put pieces where they lie is the likeliest to be wrong.
#pragma once

#include "cutproof/result.hpp"
#include "verify/bench.hpp"

namespace cutproof {

/// Of each finding's suspects, which are the motions of its pieces from the last one back, keeps one a piece: the last
/// motion that did not also carry a piece against which nothing was found, else the last one. Sorts them, likeliest first,
/// and keeps the first 100. What a plane misses stays in front; of the others one that more findings point at is likelier,
/// where lying outside the goal and sharing points weigh more than being beside a hole; then a later step. Findings that are
/// no statement about the plan's geometry lose theirs. `bench` is what lay there at the end.
void rank_suspects(const Bench& bench, CheckResult* result);

}  // namespace cutproof
