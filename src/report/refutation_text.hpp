// SPDX-License-Identifier: GPL-3.0-or-later
// What is wrong with a refuted plan, for people: one sentence about where to begin, and a line or two for everything else.
#pragma once

#include "cutproof/result.hpp"
#include "report/brief.hpp"
#include "report/layout.hpp"

#include <cstddef>
#include <string>
#include <vector>

namespace cutproof {

/// Where a reader should begin: the finding that explains most of the others.
struct Lead {
  std::size_t finding = 0;           ///< index into the result's findings
  Finding shown;                     ///< it, with its likeliest suspect's place, step and line of the plan
  std::vector<std::string> pieces;   ///< that are likely at fault; empty where the goal or a whole step is
  std::string sentence;              ///< what is wrong, with what it causes
  std::vector<std::size_t> covered;  ///< findings that the sentence tells wholly
};

/// For a refuted plan with at least one finding about it. Differences between start and goal come first, since no step can
/// mend them; then the first step that has a finding.
Lead lead_of(const CheckResult& result);

/// The result's findings at one step (0: at the start; `at_goal`: those about the goal), but without those that are covered:
/// a line each, `overlap  rest, sliver 29/324     box (5/12, -1/2, -1) to (1, -5/12, 1)`, and alike ones on one line.
void write_step_findings(const CheckResult& result, const Lead& lead, int step, bool at_goal, const std::string& first_label,
                         Layout* out);

/// `a`, `b` and `c`, in backquotes; of many the first five, and how many more there are.
std::string quoted_list(const std::vector<std::string>& names);

}  // namespace cutproof
