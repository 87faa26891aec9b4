// SPDX-License-Identifier: GPL-3.0-or-later
// Motions in the words of geometry.
#pragma once

#include "cutproof/result.hpp"
#include "solid/geometry.hpp"

namespace cutproof {

/// What the motion does, in words and numbers; pieces and place are left for who moves. Words hold exact numbers where these
/// are short, else about eight digits after `about`.
/// In dimension 2 it is told as a motion of the plane: rows, shift and points have no third number, the screw of a turn has
/// no direction, and its degrees are negative where it is clockwise.
MotionResult motion_result(const Motion& motion, int dimension = 3);

/// Ways in which pieces can come to lie, told one after the other: the first, `as it lies` when nothing is turned; and
/// others by what follows the first one, `half a turn about the face's middle (1/2, 1/2, 0)`. `middle` names the point,
/// given too, through which every way leads.
std::string first_way_words(const Motion& first, int dimension = 3);
std::string other_way_words(const Motion& first, const Motion& other, const std::string& middle, const Vector3& point,
                            bool flat, int dimension = 3);

}  // namespace cutproof
