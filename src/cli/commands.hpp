// SPDX-License-Identifier: GPL-3.0-or-later
// The three commands, each from arguments to results. Every piece of work runs in a child process under the limits.
#pragma once

#include "cli/arguments.hpp"
#include "report/formats.hpp"

#include <string>
#include <vector>

namespace cutproof {

/// The plans that this run checks: all, or its shard. Folders must have been expanded.
std::vector<std::string> chosen_inputs(const Arguments& arguments);

/// Puts in place of every folder among the inputs the plans below it: all files `*.yaml`, in the order of their paths; links
/// to folders are not followed. True when the run is one of a list of plans: more than one was named, or a folder, or a
/// shard of a list. Throws WrongUsage for a folder that cannot be read or has no plans.
bool expand_folders(Arguments* arguments);

std::vector<CheckResult> run_check(const Arguments& arguments);
std::vector<MeasureResult> run_measure(const Arguments& arguments);
CompareResult run_compare(const Arguments& arguments);
/// The one of these that the arguments ask for.
Results run_command(const Arguments& arguments);

/// Results for a run that could not begin: every plan, solid or comparison asked for, with this fault.
Results results_without_run(const Arguments& arguments, const Finding& fault);

}  // namespace cutproof
