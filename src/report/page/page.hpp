// SPDX-License-Identifier: GPL-3.0-or-later
// One page for people, in one file that needs nothing else: the verdict, what was found, pictures, and a view in space. It
// works from a disk and without a network; its policy lets nothing be fetched and no script run but its own (docs/pages.md).
#pragma once

#include "cutproof/result.hpp"

#include <string>
#include <vector>

namespace cutproof {

std::string html_report(const std::vector<CheckResult>& results);

}  // namespace cutproof
