// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/commands.hpp"

namespace cutproof {

std::vector<std::string> chosen_inputs(const Arguments& arguments) {
  std::vector<std::string> chosen;
  for (std::size_t i = arguments.shard.index - 1; i < arguments.inputs.size(); i += arguments.shard.count) {
    chosen.push_back(arguments.inputs[i]);
  }
  return chosen;
}

Results run_command(const Arguments& arguments) {
  switch (arguments.command) {
    case Command::measure:
      return run_measure(arguments);
    case Command::compare:
      return run_compare(arguments);
    case Command::check:
      break;
  }
  return run_check(arguments);
}

Results results_without_run(const Arguments& arguments, const Finding& fault) {
  Results all;
  if (arguments.command == Command::compare) {
    all = CompareResult();
  } else if (arguments.command == Command::measure) {
    std::vector<MeasureResult> results;
    for (const std::string& input : chosen_inputs(arguments)) {
      results.emplace_back();
      results.back().file = file_part(input);
    }
    all = std::move(results);
  } else {
    std::vector<CheckResult> results;
    for (const std::string& plan : chosen_inputs(arguments)) {
      results.emplace_back();
      results.back().plan = plan;
    }
    all = std::move(results);
  }
  add_fault(&all, fault);
  return all;
}

}  // namespace cutproof
