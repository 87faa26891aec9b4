// SPDX-License-Identifier: GPL-3.0-or-later
// `cutproof check`: each plan in a child process of its own.
#include "cli/commands.hpp"
#include "cli/supervised.hpp"
#include "cutproof/mend.hpp"
#include "files/check_text.hpp"
#include "picture/plan_pictures.hpp"

#include <algorithm>
#include <iterator>

namespace cutproof {
namespace {

bool could_be_mended(const CheckResult& result) {
  return result.outcome == Outcome::refuted || result.outcome == Outcome::invalid || result.outcome == Outcome::stopped;
}

}  // namespace

std::vector<CheckResult> run_check(const Arguments& arguments) {
  const std::vector<std::string> plans = chosen_inputs(arguments);
  CheckSettings settings = arguments.settings;
  for (const RequestedReport& report : arguments.reports) {
    settings.geometry.add(report.format->geometry);
    settings.details.add(report.format->details);
  }
  // What the two reports are compared by.
  if (arguments.against) settings.details.add(find_report_format("json")->details);
  // What the text for people tells of shapes; in a list a verified plan has one line.
  constexpr std::size_t shapes_told_up_to = 200;
  if (!arguments.quiet && (plans.size() == 1 || arguments.full))
    settings.details.shapes_up_to = std::max(settings.details.shapes_up_to, shapes_told_up_to);
  if (!arguments.quiet) settings.details.mends = true;
  if (arguments.no_mends) settings.details.mends = false;
  HistoryReceiver history;
  for (const RequestedReport& report : arguments.reports)
    if (report.format->pictures)
      history = [](const BlockHistory& blocks, CheckResult* result) { result->pictures = plan_pictures(blocks, *result); };
  // The first run of a plan tells how many cases it has; the others are run when all plans have told.
  struct Task {
    std::size_t plan, case_number;
  };
  std::vector<std::vector<CheckResult>> results(plans.size(), std::vector<CheckResult>(1));
  std::vector<std::string> from_standard_input(plans.size());  // that can be read only once
  std::vector<Task> tasks;
  for (std::size_t i = 0; i < plans.size(); ++i) tasks.push_back({i, 1});
  while (!tasks.empty()) {
    std::vector<std::string> names;
    for (const Task& task : tasks)
      names.push_back(plans[task.plan] + (task.case_number == 1 ? "" : ", case " + std::to_string(task.case_number)));
    SupervisedRun run(arguments, names, "starting");
    run.run(
        [&](std::size_t number, const Supervisor::Send& send) {
          const Task& task = tasks[number];
          const std::string& path = plans[task.plan];
          CheckSettings own = settings;
          own.case_number = task.case_number;
          ProgressSender sender;
          const auto progress = [&](const CheckProgress& so_far) { send(sender.next(so_far)); };
          std::string text = from_standard_input[task.plan];
          CheckResult result = text.empty() ? check_plan_file(path, own, progress, history, &text)
                                            : check_plan_text(text, path, own, progress, history);
          if (path == "-" && result.case_count > 1) sender.plan_text = text;
          // Nothing is looked for in what could not be read, or not be written to.
          const bool is_file = !result.plan_sha256.empty() && path != "-";
          if (!own.details.mends || !is_file || !could_be_mended(result)) return sender.last(result);
          send(sender.last(result));  // from here on nothing can change it
          add_mends(text, own, &result, [&] { send(sender.mends(result)); });
          return sender.mends(result);
        },
        [&](std::size_t number, const ChildEnd& end, RunState& state) {
          const Task& task = tasks[number];
          CheckResult& result = results[task.plan].at(task.case_number - 1);
          if (end.kind == ChildEnd::Kind::finished) state.receive(end.result);
          from_standard_input[task.plan] += state.plan_text;
          result = std::move(state.so_far);
          if (end.kind != ChildEnd::Kind::finished && state.judged) {
            result.mends_ended_early = finding_for(end, arguments.limits, state).message;
          } else if (end.kind != ChildEnd::Kind::finished) {
            result.engine = arguments.settings.engine;
            const Finding finding = finding_for(end, arguments.limits, state);
            result.findings.push_back(finding);
            ++result.counts[finding.code];
            result.outcome = judge(result, /*complete=*/false);
          }
          result.plan = plans[task.plan];  // byte for byte, also where it is no UTF-8
          if (task.case_number > 1) result.case_number = task.case_number;
        });
    const bool was_first = tasks.front().case_number == 1;
    tasks.clear();
    if (!was_first) break;
    for (std::size_t i = 0; i < plans.size(); ++i) {
      const std::size_t count = results[i].front().case_count;
      for (std::size_t k = 2; k <= count; ++k) tasks.push_back({i, k});
      results[i].resize(std::max<std::size_t>(count, 1));
    }
  }
  std::vector<CheckResult> all;
  for (std::vector<CheckResult>& each : results)
    all.insert(all.end(), std::make_move_iterator(each.begin()), std::make_move_iterator(each.end()));
  return all;
}

}  // namespace cutproof
