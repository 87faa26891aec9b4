// SPDX-License-Identifier: GPL-3.0-or-later
// Which of the steps that put pieces where they lie is the likeliest to be wrong.
#pragma once

#include "cutproof/result.hpp"

namespace cutproof {

/// Sorts each finding's suspects, likeliest first, and keeps the first 100. What a plane misses stays in front; of the
/// others one that more findings point at is likelier, where lying outside the goal and sharing points weigh more than being
/// beside a hole; then a later step. Findings that are no statement about the plan's geometry lose theirs.
void rank_suspects(CheckResult* result);

}  // namespace cutproof
