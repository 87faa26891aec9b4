// SPDX-License-Identifier: GPL-3.0-or-later
// What supervised runs have in common: how each end is told to people, progress on a terminal, and the log of `--verbose`.
#pragma once

#include "cli/arguments.hpp"
#include "cli/progress.hpp"
#include "cli/supervisor.hpp"
#include "cli/wire.hpp"

#include <spdlog/fwd.h>

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace cutproof {

/// The finding for a run that did not come to its end: `limit-reached` or `tool-fault`, and where it stood.
Finding finding_for(const ChildEnd& end, const SupervisorLimits& limits, const RunState& state);

/// Supervises one task for each name. `work` runs in the child and returns its result as a line for the wire; `on_end` gets,
/// in the parent, what became of the task and what was known of it last, which it may take.
class SupervisedRun {
 public:
  /// `activity` is what a task is said to do until it tells.
  SupervisedRun(const Arguments& arguments, std::vector<std::string> names, const std::string& activity);
  ~SupervisedRun();
  void run(const Supervisor::Work& work,
           const std::function<void(std::size_t task, const ChildEnd& end, RunState& state)>& on_end);

 private:
  std::string status() const;

  const Arguments& arguments_;
  std::vector<std::string> names_;
  std::vector<RunState> states_;
  std::vector<char> ended_;
  std::size_t last_told_ = 0;
  std::shared_ptr<spdlog::logger> log_;
};

}  // namespace cutproof
