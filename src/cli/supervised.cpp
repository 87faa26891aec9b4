// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/supervised.hpp"

#include "report/escape.hpp"

#include <fmt/format.h>
#include <spdlog/sinks/stdout_sinks.h>
#include <spdlog/spdlog.h>

#include <algorithm>

namespace cutproof {
namespace {

std::string size_text(std::size_t bytes) {
  return bytes % (1u << 30) == 0 ? fmt::format("{} GB", bytes >> 30) : fmt::format("{} MB", bytes >> 20);
}

std::string kind_text(const ChildEnd& end) {
  switch (end.kind) {
    case ChildEnd::Kind::finished:
      return "finished";
    case ChildEnd::Kind::time_limit:
      return "stopped at the time limit";
    case ChildEnd::Kind::memory_limit:
      return "stopped at the memory limit";
    case ChildEnd::Kind::too_much_told:
      return "stopped: its results are too long";
    case ChildEnd::Kind::interrupted:
      return "interrupted";
    case ChildEnd::Kind::died:
      break;
  }
  return "died: " + end.how;
}

}  // namespace

Finding finding_for(const ChildEnd& end, const SupervisorLimits& limits, const RunState& state) {
  Finding finding;
  finding.code = "limit-reached";
  finding.step = state.step;
  finding.line = state.line;
  const std::string where = " (" + state.activity + ")";
  switch (end.kind) {
    case ChildEnd::Kind::time_limit:
      finding.message = fmt::format("the time limit of {} s was reached{}", limits.time->count() / 1000.0, where);
      finding.hint = "raise --time-limit, or cut the plan into smaller ones";
      break;
    case ChildEnd::Kind::memory_limit:
      finding.message = limits.memory ? fmt::format("the memory limit of {} was reached{}", size_text(*limits.memory), where)
                                      : "the machine's memory is used up" + where;
      finding.hint = "raise --memory-limit, or cut the plan into smaller ones";
      break;
    case ChildEnd::Kind::too_much_told:
      finding.message = fmt::format("the results take more than {}{}{}", size_text(limits.most_told()),
                                    limits.memory ? ", a tenth of the memory limit" : "", where);
      finding.hint = limits.memory
                         ? "raise --memory-limit, or cut the plan into smaller ones"
                         : "its numbers or its lists of pieces are too long to be reported; cut the plan into smaller ones";
      break;
    case ChildEnd::Kind::interrupted:
      finding.message = end.started ? "interrupted" + where : "interrupted before this one was begun";
      break;
    default:
      finding.code = "tool-fault";
      finding.message = "the process that did the work died of " + (end.how.empty() ? "an unknown cause" : end.how) + where;
      finding.hint = "this is a fault of the tool or of the machine, not of the plan: please report it, with the plan";
  }
  return finding;
}

SupervisedRun::SupervisedRun(const Arguments& arguments, std::vector<std::string> names, const std::string& activity)
    : arguments_(arguments), names_(std::move(names)), states_(names_.size()), ended_(names_.size(), 0) {
  for (RunState& state : states_) state.activity = activity;
  log_ = std::make_shared<spdlog::logger>("cutproof", std::make_shared<spdlog::sinks::stderr_sink_mt>());
  log_->set_pattern("[%H:%M:%S.%e] %v");
  log_->set_level(arguments.verbose ? spdlog::level::info : spdlog::level::off);
}

SupervisedRun::~SupervisedRun() = default;

std::string SupervisedRun::status() const {
  const std::size_t done = static_cast<std::size_t>(std::count(ended_.begin(), ended_.end(), 1));
  const std::string many = names_.size() > 1 ? fmt::format("{} of {} done; ", done, names_.size()) : "";
  return many + names_[last_told_] + ": " + states_[last_told_].activity;
}

void SupervisedRun::run(const Supervisor::Work& work,
                        const std::function<void(std::size_t, const ChildEnd&, RunState&)>& on_end) {
  ProgressLine line(!arguments_.quiet && !arguments_.verbose);
  Supervisor supervisor(arguments_.limits);
  supervisor.on_line = [&](std::size_t task, std::string_view text) {
    states_[task].receive(text);
    last_told_ = task;
    log_->info("{}: {}", escaped(names_[task]), states_[task].activity);
  };
  supervisor.on_end = [&](std::size_t task, const ChildEnd& end) {
    ended_[task] = 1;
    log_->info("{}: {}", escaped(names_[task]), kind_text(end));
    on_end(task, end, states_[task]);
    states_[task] = RunState();
  };
  supervisor.on_tick = [&] { line.show(status()); };
  supervisor.run(names_.size(), work);
}

}  // namespace cutproof
