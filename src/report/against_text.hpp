// SPDX-License-Identifier: GPL-3.0-or-later
// What differs from an older report, in words, for every format for people.
#pragma once

#include "cutproof/result.hpp"
#include "report/layout.hpp"

#include <string>
#include <vector>

namespace cutproof {

/// A part of a sentence: ours, or text that comes from a plan or a report, as it is there.
struct AgainstWords {
  std::string text;
  bool quoted = false;
};
/// One difference, such as `verified before, now refuted`.
using AgainstPhrase = std::vector<AgainstWords>;

/// The most important first; one that says that nothing changed, where that is so; none where the result was not held
/// against a report.
std::vector<AgainstPhrase> against_phrases(const CheckResult& result);

/// All of it on one line, with back quotes around what is quoted; empty where there is none.
std::string against_line(const CheckResult& result);

/// The same as lines of a report for people; of more than `most_lines` the rest is counted.
void write_against(const CheckResult& result, std::size_t most_lines, Layout* out);

}  // namespace cutproof
