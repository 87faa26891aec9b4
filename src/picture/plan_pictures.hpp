// SPDX-License-Identifier: GPL-3.0-or-later
// Which pictures a plan gets, and what each shows of the bench.
#pragma once

#include "cutproof/result.hpp"
#include "verify/block_history.hpp"

namespace cutproof {

/// How many pictures of steps a plan gets at most: of more steps those with findings, then those with the largest changes.
constexpr std::size_t most_step_pictures = 200;

/// The start, whole; each step that changed something: after a cut or split the pieces apart, the new ones in colour, after
/// a move or join in place, the moved or joined ones in colour; the end; and a picture for each finding with pieces, in
/// place, with its region. `result` is complete. Where something cannot be drawn, `left_out` says so.
PictureSet plan_pictures(const BlockHistory& history, const CheckResult& result);

}  // namespace cutproof
