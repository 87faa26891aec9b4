// SPDX-License-Identifier: GPL-3.0-or-later
// The kinds of mends. Each proposes changes of the text to the trials, likeliest first, until these have enough.
#pragma once

#include "mend/evidence.hpp"
#include "mend/plan_text.hpp"
#include "mend/trials.hpp"
#include "plan/read_plan.hpp"

#include <string>
#include <vector>

namespace cutproof {

/// What every kind of mend looks at.
struct Failure {
  const PlanText& text;
  const ExactPlan* plan;     ///< null where the plan cannot be read
  const Evidence* evidence;  ///< null where the run did not reach its end
  CheckResult* result;
  Trials& trials;

  bool found(const char* code) const { return result->counts.count(code) != 0; }
  /// Pieces at the end that findings speak of, likeliest first; at most so many. Indices of the evidence.
  std::vector<std::size_t> suspects(std::size_t most) const;
};

// motions.cpp: a piece is carried into the hole that the others leave.
void mend_motions(const Failure& failure);
void mend_mirrored(const Failure& failure);
void mend_exchanged(const Failure& failure);
void mend_steps_apart(const Failure& failure);
/// Where nothing was found: that no motion, or only a reflection, puts the likeliest piece into a hole, as a hint.
void tell_what_fits(const Failure& failure);

// maps.cpp
/// A map of points that is no motion, which makes a plan invalid: the motion that puts the piece into its hole.
void mend_maps(const Failure& failure, const ReadLimits& limits, const CheckSettings& settings);

// cuts.cpp
void mend_halves(const Failure& failure);
void mend_planes(const Failure& failure);
void mend_missing_cut(const Failure& failure);

// numbers.cpp
/// A decimal that stands for a radical, and what a message about the text says should be written.
void mend_numbers(const Failure& failure);
void mend_as_told(const Failure& failure);
/// Other angles, where one made a field too large.
void mend_angles(const Failure& failure);

// sides.cpp: start and goal.
void mend_goal_place(const Failure& failure);
void mend_goal_size(const Failure& failure);
void mend_extra_pieces(const Failure& failure);

}  // namespace cutproof
