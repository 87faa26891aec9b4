// SPDX-License-Identifier: GPL-3.0-or-later
// `cutproof check`: each plan in a child process of its own.
#include "cli/commands.hpp"
#include "cli/supervised.hpp"
#include "verify/check.hpp"

namespace cutproof {

std::vector<CheckResult> run_check(const Arguments& arguments) {
  const std::vector<std::string> plans = chosen_inputs(arguments);
  std::vector<CheckResult> results(plans.size());
  CheckSettings settings = arguments.settings;
  for (const RequestedReport& report : arguments.reports) {
    settings.geometry.add(report.format->geometry);
    settings.details.add(report.format->details);
  }
  SupervisedRun run(arguments, plans, "starting");
  run.run(
      [&](std::size_t task, const Supervisor::Send& send) {
        ProgressSender sender;
        return sender.last(
            check_plan_file(plans[task], settings, [&](const CheckProgress& progress) { send(sender.next(progress)); }));
      },
      [&](std::size_t task, const ChildEnd& end, RunState& state) {
        CheckResult& result = results[task];
        if (end.kind == ChildEnd::Kind::finished) state.receive(end.result);
        result = std::move(state.so_far);
        if (end.kind != ChildEnd::Kind::finished) {
          result.engine = arguments.settings.engine;
          const Finding finding = finding_for(end, arguments.limits, state);
          result.findings.push_back(finding);
          ++result.counts[finding.code];
          result.outcome = judge(result, /*complete=*/false);
        }
        result.plan = plans[task];  // byte for byte, also where it is no UTF-8
      });
  return results;
}

}  // namespace cutproof
