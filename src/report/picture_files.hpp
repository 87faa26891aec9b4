// SPDX-License-Identifier: GPL-3.0-or-later
// The report `svg`: a folder of pictures, and what each is called and says in words.
#pragma once

#include "report/formats.hpp"
#include "report/svg.hpp"

#include <string>
#include <vector>

namespace cutproof {

/// `start`, `step-003`, `end`, `finding-001`: unique among the pictures of a plan; steps and findings are counted from 1.
std::string picture_stem(const Picture& picture);
/// The picture's title and description, in plain words.
SvgText picture_words(const CheckResult& result, const Picture& picture);

/// The pictures of one plan, or of several in the folders `001`, `002`, ..., and `index.json` with what each shows. A plan
/// without pictures stands in it with the reason.
std::vector<ReportFile> svg_report(const std::vector<CheckResult>& results);

}  // namespace cutproof
