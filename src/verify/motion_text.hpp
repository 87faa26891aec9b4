// SPDX-License-Identifier: GPL-3.0-or-later
// Motions in the words of geometry.
#pragma once

#include "cutproof/result.hpp"
#include "solid/geometry.hpp"

namespace cutproof {

/// What the motion does, in words and numbers; pieces and place are left for who moves. Words hold exact numbers where these
/// are short, else about eight digits after `about`.
MotionResult motion_result(const Motion& motion);

}  // namespace cutproof
