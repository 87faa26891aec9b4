// SPDX-License-Identifier: GPL-3.0-or-later
// `cutproof check`: each plan in a child process of its own.
#include "cli/commands.hpp"
#include "cli/supervised.hpp"
#include "cutproof/mend.hpp"
#include "files/check_text.hpp"
#include "files/digest.hpp"
#include "files/read_file.hpp"
#include "picture/plan_pictures.hpp"

#include <algorithm>
#include <stdexcept>

namespace cutproof {
namespace {

bool could_be_mended(const CheckResult& result) {
  return result.outcome == Outcome::refuted || result.outcome == Outcome::invalid || result.outcome == Outcome::stopped;
}

// The file is read once more; one that has changed since is left alone.
void look_for_mends(const std::string& path, const CheckSettings& settings, CheckResult* result,
                    const std::function<void()>& progress) {
  std::string text;
  try {
    text = read_file(path, settings.max_plan_size);
  } catch (const std::runtime_error&) {
    return;
  }
  if (sha256(text) == result->plan_sha256) add_mends(text, settings, result, progress);
}

}  // namespace

std::vector<CheckResult> run_check(const Arguments& arguments) {
  const std::vector<std::string> plans = chosen_inputs(arguments);
  std::vector<CheckResult> results(plans.size());
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
  SupervisedRun run(arguments, plans, "starting");
  run.run(
      [&](std::size_t task, const Supervisor::Send& send) {
        ProgressSender sender;
        CheckResult result = check_plan_file(
            plans[task], settings, [&](const CheckProgress& progress) { send(sender.next(progress)); }, history);
        if (!settings.details.mends || !could_be_mended(result)) return sender.last(result);
        send(sender.last(result));  // from here on nothing can change it
        look_for_mends(plans[task], settings, &result, [&] { send(sender.mends(result)); });
        return sender.mends(result);
      },
      [&](std::size_t task, const ChildEnd& end, RunState& state) {
        CheckResult& result = results[task];
        if (end.kind == ChildEnd::Kind::finished) state.receive(end.result);
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
        result.plan = plans[task];  // byte for byte, also where it is no UTF-8
      });
  return results;
}

}  // namespace cutproof
