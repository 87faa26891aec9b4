// SPDX-License-Identifier: GPL-3.0-or-later
// Which names of pieces a plan can make, judged from its text before anything is executed.
#pragma once

#include "cutproof/result.hpp"
#include "plan/exact_plan.hpp"

#include <cstddef>
#include <string>
#include <vector>

namespace cutproof {

/// True iff the pattern (`*`: any run of characters, dots too; `all`: everything) matches the whole name.
bool matches(const std::string& pattern, const std::string& name);

/// Names of pieces, as far as they are known.
struct BenchNames {
  std::vector<std::string> present;  ///< on the bench
  std::vector<std::string> perhaps;  ///< only the run tells which of these are
  bool more_perhaps = false;         ///< of the kind of those in `perhaps`
};

/// What to write instead of a name or pattern that takes nothing: the one that may be meant, else what is on the bench,
/// nearest names first. Names that differ in numbers only are listed: which of them is meant nobody can guess.
std::string bench_hint(const std::string& asked, BenchNames bench);
std::string bench_hint(const std::string& asked, std::vector<std::string> present);
/// The same for a name whose piece is gone, with the step that used it up: `step 2 (line 20) used it up`.
std::string bench_hint(const std::string& asked, BenchNames bench, int step, int line);
std::string bench_hint(const std::string& asked, std::vector<std::string> present, int step, int line);

/// Errors (`invalid-input`) for every name that no start and no earlier step, run fully, could have put on the bench, every
/// pattern that could match nothing, every piece that certainly is on the bench when a step makes another of its name, and
/// every piece named in two entries of one `move`. Errs on the side of silence: what only the run can tell is left to it.
/// Lists the first 100.
struct NameErrors {
  std::vector<Finding> listed;
  std::size_t count = 0;
};
NameErrors check_names(const ExactPlan& plan);

}  // namespace cutproof
