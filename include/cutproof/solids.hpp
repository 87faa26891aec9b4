// SPDX-License-Identifier: GPL-3.0-or-later
// Measuring and comparing the solids of plan files from a program, in the calling process.
#pragma once

#include "cutproof/check.hpp"
#include "cutproof/result.hpp"

#include <optional>
#include <string>
#include <vector>

namespace cutproof {

enum class PlanSide { start, goal };

/// A solid of a file. Without a name it stands for every solid of the file (to measure), or for the only one (to compare).
/// With a side (only to compare) it stands for all pieces that the plan starts from, or for all goals that it makes,
/// whatever they are defined by.
struct SolidReference {
  std::string file;
  std::optional<std::string> name = {};
  std::optional<PlanSide> side = {};
};

/// An audit of dihedral angles: `90 deg, 270 deg` allowed, and exceptions with exact numbers of edges, `45 deg: 1`.
struct AngleAuditText {
  std::string allowed, exceptions;
};

/// Measures one solid or all solids of a file, each in a number field of its own. Nothing is thrown but std::bad_alloc.
std::vector<MeasureResult> measure_solids(const SolidReference& reference, const std::optional<AngleAuditText>& audit,
                                          const CheckSettings& settings = {});

/// Compares the solids on the left, taken together, with those on the right, in one number field. With an empty right side
/// and one file on the left, that plan's start is compared with its goal. The answer is whether a dissection exists, or,
/// with a demand, whether the two sides, each one set of points, are so related. Nothing is thrown but std::bad_alloc.
CompareResult compare_files(const std::vector<SolidReference>& left, const std::vector<SolidReference>& right,
                            const CheckSettings& settings = {}, std::optional<Congruence> demand = {});

}  // namespace cutproof
