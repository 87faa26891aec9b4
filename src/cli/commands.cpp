// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/commands.hpp"

#include <algorithm>
#include <filesystem>

namespace cutproof {

namespace {

namespace fs = std::filesystem;

std::vector<std::string> plans_below(const std::string& folder) {
  std::vector<std::string> plans;
  std::error_code error;
  fs::recursive_directory_iterator each(folder, error);
  for (; !error && each != fs::recursive_directory_iterator(); each.increment(error)) {
    std::error_code unknown;  // of a link that leads nowhere: checking it will tell
    const fs::path path = each->path();
    if (path.extension() == ".yaml" && !each->is_directory(unknown)) plans.push_back(path.string());
  }
  if (error) throw WrongUsage("the folder `" + folder + "` cannot be read: " + error.message());
  std::sort(plans.begin(), plans.end());
  return plans;
}

}  // namespace

std::vector<std::string> chosen_inputs(const Arguments& arguments) {
  std::vector<std::string> chosen;
  for (std::size_t i = arguments.shard.index - 1; i < arguments.inputs.size(); i += arguments.shard.count) {
    chosen.push_back(arguments.inputs[i]);
  }
  return chosen;
}

bool expand_folders(Arguments* arguments) {
  bool is_list = arguments->inputs.size() > 1 || arguments->shard.given;
  std::vector<std::string> plans;
  for (const std::string& input : arguments->inputs) {
    std::error_code error;
    if (input == "-" || !fs::is_directory(input, error)) {
      plans.push_back(input);
      continue;
    }
    is_list = true;
    const std::vector<std::string> below = plans_below(input);
    if (below.empty())
      throw WrongUsage("there is no plan below the folder `" + input + "`: no file there has a name that ends in .yaml");
    plans.insert(plans.end(), below.begin(), below.end());
  }
  arguments->inputs = std::move(plans);
  return is_list;
}

Results run_command(const Arguments& arguments) {
  switch (arguments.command) {
    case Command::measure:
      return run_measure(arguments);
    case Command::compare:
      return run_compare(arguments);
    default:
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
      const SolidReference reference = solid_reference(input);
      results.back().file = reference.file;
      results.back().place = reference.place ? plan_place_text(*reference.place) : "";
      results.back().solid = reference.name.value_or("");
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
