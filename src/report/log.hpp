// SPDX-License-Identifier: GPL-3.0-or-later
// The last lines of a run, as a log of continuous integration is read: by machines line by line, by people from the end.
#pragma once

#include "cutproof/report.hpp"

#include <string>
#include <vector>

namespace cutproof {

/// `FILE:LINE:COLUMN: refuted: step 8: sentence`, a line for each finding of each plan, at most ten a plan (what is beyond
/// is counted); then how many plans had which outcome. `./` stands before a file's name that begins with `:` or `#`, so that
/// no line begins like a command to a CI server.
std::string log_lines(const std::vector<CheckResult>& results);

/// The texts for people of several plans, a verified one in one line, and the log below.
std::string check_reports(const std::vector<CheckResult>& results, const TextStyle& style);

}  // namespace cutproof
