// SPDX-License-Identifier: GPL-3.0-or-later
// Measuring and comparing the solids of plan files from a program, in the calling process.
#pragma once

#include "cutproof/check.hpp"
#include "cutproof/result.hpp"

#include <optional>
#include <string>
#include <vector>

namespace cutproof {

/// Where in a plan: what it starts from, what it is to make, and what lies on the bench after a step or at the end.
struct PlanPlace {
  enum class Kind { start, goal, after_step, end };
  Kind kind = Kind::start;
  std::size_t step = 0;  ///< of `after_step`; 0 is the start
};
/// `start`, `goal`, `7`, `end`.
std::string plan_place_text(const PlanPlace& place);

/// A solid of a file. Without a name it stands for every solid of the file (to measure), or for the only one (to compare).
/// With a place it stands for the piece (or goal) of that name there, and without a name for all that is there, whatever the
/// plan's solids are called. Only the start and the goal can be compared, all of it, and no plan is carried out for that.
struct SolidReference {
  std::string file;
  std::optional<std::string> name = {};
  std::optional<PlanPlace> place = {};
};

/// An audit of dihedral angles: `90 deg, 270 deg` allowed, and exceptions with exact numbers of edges, `45 deg: 1`.
struct AngleAuditText {
  std::string allowed, exceptions;
};

/// Measures one solid or all solids of a file, each in a number field of its own. With a place the plan is carried out so
/// far, whether it holds or not; without a name what is there is listed in one result. Of a plan with `cases` that is
/// its first case, unless values are set. Nothing is thrown but std::bad_alloc.
std::vector<MeasureResult> measure_solids(const SolidReference& reference, const std::optional<AngleAuditText>& audit,
                                          const CheckSettings& settings = {});

/// Compares the solids on the left, taken together, with those on the right, in one number field. With an empty right side
/// and one file on the left, that plan's start is compared with its goal. The answer is whether a dissection exists, or,
/// with a demand, whether the two sides, each one set of points, are so related. Unless values are set, the start and the
/// goal of a plan with `cases` are compared case by case, each case in a field of its own: two plans that both have some,
/// in order, as many of the one as of the other; what has none is the same in every case. The answer is yes iff it is that
/// in every case. Nothing is thrown but std::bad_alloc.
CompareResult compare_files(const std::vector<SolidReference>& left, const std::vector<SolidReference>& right,
                            const CheckSettings& settings = {}, std::optional<Congruence> demand = {});

}  // namespace cutproof
