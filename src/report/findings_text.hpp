// SPDX-License-Identifier: GPL-3.0-or-later
// Findings and values in words: shared by all reports for people.
#pragma once

#include "cutproof/result.hpp"
#include "report/layout.hpp"

#include <cstddef>
#include <map>
#include <string>
#include <vector>

namespace cutproof {

/// `1 piece`, `2 pieces`.
std::string counted(std::size_t count, const std::string& noun);

/// `sqrt(3) = 1.73205080757...`; just the number where it is short and rational; only the decimal where the exact form is
/// too long to read (it stands in the JSON report).
std::string shown(const Value& value);

/// `(1/2, 0, sqrt(2))`.
std::string shown(const ExactPoint& point);

/// `12*sqrt(2) (x) arccos(1/3), 1 distinct angle left`: the invariant, and over how many angles, after equal ones were
/// merged and supplementary ones cancelled, it was decided; only `0` where none was left.
std::string shown(const DehnValue& dehn);

/// The finding's line of the plan with what is at fault underlined; of a line that is too wide the part around it. Nothing
/// where the line is not known.
void write_excerpt(const Finding& finding, Layout* out);

/// All findings, also those that are only counted.
std::size_t total_count(const CheckResult& result);

/// Each finding with its place in the file, what is wrong, the offending line with a caret, amount, box, corners, and what
/// to do about it. `counts` tells how many there are where the list was cut.
/// An empty heading is left out.
void write_findings(const char* heading, const std::string& file, const std::vector<Finding>& findings,
                    const std::map<std::string, std::size_t>& counts, Layout* out);

}  // namespace cutproof
