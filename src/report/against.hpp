// SPDX-License-Identifier: GPL-3.0-or-later
// What differs from an older report. Both runs are read from their JSON reports, so that what is told is what those say, and
// a report held against itself differs in nothing.
#pragma once

#include "report/report_reader.hpp"

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

namespace cutproof {

/// For each new plan its index in the old list, if it is there: by path (the first plan of a path with the first, and so
/// on), else by digest, else, with one plan each, to each other.
std::vector<std::optional<std::size_t>> matched_plans(const std::vector<ReportedPlan>& old,
                                                      const std::vector<ReportedPlan>& now);

/// The longest common run of two lists: pairs of indices, increasing in both. (The first ones in order instead, where both
/// lists have more than some thousands of entries that differ.)
std::vector<std::pair<std::size_t, std::size_t>> common_run(const std::vector<std::string>& old,
                                                            const std::vector<std::string>& now);

AgainstResult difference(const ReportedPlan& old, const ReportedPlan& now);

/// Puts into each result what differs from its plan in the older report.
void hold_against(const std::vector<ReportedPlan>& old, std::vector<CheckResult>* results);

}  // namespace cutproof
