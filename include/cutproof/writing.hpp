// SPDX-License-Identifier: GPL-3.0-or-later
// Help for people who write plans, as texts.
#pragma once

#include "cutproof/check.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace cutproof {

struct ExpandedPlan {
  /// The plan in version 1 of the language, with exact numbers and one step after the other; empty when there is none.
  std::string text;
  CheckResult result;  ///< of the plan itself
  /// Why a plan that was carried out to its end has no such text; else empty.
  std::string why_not;
};

/// Writes a plan out: loops pass by pass, definitions and parameters as the numbers that they are, selections by place as
/// names, motions that were found as maps, lemmas as their own steps. The text has the outcome, the start, the goal and the
/// final pieces of the plan; what is `added` stands in its start and its goal.
/// What only version 2 can expect becomes a comment; a plan that fails by it, or by a finding of version 2, has no such
/// text, because what would be left could be verified. `cases` are left out.
ExpandedPlan expand_plan_text(std::string_view text, const std::string& path, const CheckSettings& settings = {},
                              const ProgressReceiver& progress = {});
/// The same for a file (`-`: standard input).
ExpandedPlan expand_plan_file(const std::string& path, const CheckSettings& settings = {},
                              const ProgressReceiver& progress = {});

struct FormattedPlan {
  std::string text;               ///< empty when there are findings
  std::vector<Finding> findings;  ///< why a text is left alone: it is not the YAML of a plan, or a limit was reached
};

/// The canonical layout of a plan's text: the same plan with the same comments. Formatting it again changes nothing. Whether
/// the plan makes sense is not asked.
FormattedPlan format_plan_text(std::string_view text, const CheckSettings& settings = {});

}  // namespace cutproof
