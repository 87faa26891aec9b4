// SPDX-License-Identifier: GPL-3.0-or-later
// Checking a plan from a program: text in, result out, in the calling process.
#pragma once

#include "cutproof/engine.hpp"
#include "cutproof/geometry.hpp"
#include "cutproof/result.hpp"

#include <cstddef>
#include <functional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace cutproof {

/// What a run may use. A limit that is reached ends it as `stopped`.
struct CheckSettings {
  EngineChoice engine = EngineChoice::parts;
  int max_degree = 48;                   ///< of the plan's number field
  std::size_t max_bits = 1u << 20;       ///< of a numerator coefficient or denominator of a number
  std::size_t max_plan_size = 16 << 20;  ///< bytes of text, and of each file that the plan names
  /// Passes of all loops of a plan; and ten times as many evaluations of definitions with arguments.
  std::size_t max_passes = 100000;
  bool outside = false;  ///< whether files that a plan names may lie outside its folder, and be named by absolute paths
  /// Names of parameters and expressions for their values: then the plan's `cases` are left out.
  std::vector<std::pair<std::string, std::string>> set = {};
  std::size_t case_number = 1;  ///< which of the plan's `cases` is checked, where it has any
  GeometryWish geometry;        ///< what `CheckResult::geometry` is to hold; nothing unless asked for
  DetailWish details;           ///< shapes of pieces, motions in words; nothing unless asked for
};

/// Where a run stands: all that was proved so far, and what it does now.
struct CheckProgress {
  const CheckResult& so_far;    ///< its outcome is not decided yet; plan, digest and engine may be empty
  const std::string& activity;  ///< `reading the plan: adjoining sqrt(3) to a field of degree 2`, `step 3 of 12: cut`
  int step = 0, line = 0;       ///< of that activity; 0 where there is none
};
using ProgressReceiver = std::function<void(const CheckProgress&)>;

/// Reads, executes and judges the plan in `text`; `path` names it, and files that the plan names are looked for in the
/// folder of that path: in the working folder where it has none. Every way in which a plan can be wrong, a limit that is
/// reached and a fault of the tool end as an outcome with findings; nothing is thrown but std::bad_alloc. Not for threads
/// that share results: a run keeps its numbers to itself, but the libraries below may not be entered by two threads at once.
/// Time and memory are not limited here; the program `cutproof` runs each plan in a process of its own for that.
CheckResult check_plan_text(std::string_view text, const std::string& path, const CheckSettings& settings = {},
                            const ProgressReceiver& progress = {});

/// Each of the plan's `cases`, in order; a plan without cases, or with other values set, has one result.
std::vector<CheckResult> check_plan_cases(std::string_view text, const std::string& path, const CheckSettings& settings = {},
                                          const ProgressReceiver& progress = {});

/// The same for a file (`-`: standard input); one that cannot be read, is no regular file or is too large ends as an
/// outcome, too.
CheckResult check_plan_file(const std::string& path, const CheckSettings& settings = {},
                            const ProgressReceiver& progress = {});

}  // namespace cutproof
