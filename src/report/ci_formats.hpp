// SPDX-License-Identifier: GPL-3.0-or-later
// Reports in forms that CI servers and code reviews read (docs/reports.md); each is written in a file of its name.
#pragma once

#include "cutproof/result.hpp"

#include <string>
#include <vector>

namespace cutproof {

std::string annotations_report(const std::vector<CheckResult>& results);
std::string junit_report(const std::vector<CheckResult>& results);
std::string markdown_report(const std::vector<CheckResult>& results);
std::string scene_report(const std::vector<CheckResult>& results);
std::string sarif_report(const std::vector<CheckResult>& results);

}  // namespace cutproof
