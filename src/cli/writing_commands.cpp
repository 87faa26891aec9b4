// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/writing_commands.hpp"

#include "cli/commands.hpp"
#include "cli/explanations.hpp"
#include "cli/progress.hpp"
#include "cli/report_files.hpp"
#include "cli/starter_plan.hpp"
#include "cli/supervised.hpp"
#include "cutproof/report.hpp"
#include "cutproof/writing.hpp"
#include "files/endings.hpp"
#include "files/read_file.hpp"
#include "files/replace_file.hpp"
#include "report/escape.hpp"
#include "verify/check.hpp"

#include <unistd.h>

#include <algorithm>
#include <cstring>

namespace cutproof {

namespace {

void tell(const std::string& text) {
  write_fully(STDERR_FILENO, text);
}

// The child sends the text, or why there is none, behind one of these.
constexpr char text_mark = 'T', reason_mark = 'R';

int run_expand(const Arguments& arguments) {
  const std::string& path = arguments.inputs.front();
  CheckResult result;
  std::string told;
  SupervisedRun run(arguments, {path}, "starting");
  run.run(
      [&](std::size_t, const Supervisor::Send& send) {
        ProgressSender sender;
        const ExpandedPlan expanded =
            expand_plan_file(path, arguments.settings, [&](const CheckProgress& so_far) { send(sender.next(so_far)); });
        sender.plan_text = expanded.text.empty() ? reason_mark + expanded.why_not : text_mark + expanded.text;
        return sender.last(expanded.result);
      },
      [&](std::size_t, const ChildEnd& end, RunState& state) {
        if (end.kind == ChildEnd::Kind::finished) state.receive(end.result);
        told = state.plan_text;
        result = std::move(state.so_far);
        if (end.kind != ChildEnd::Kind::finished) {
          told.clear();
          result.findings.push_back(finding_for(end, arguments.limits, state));
          result.outcome = judge(result, /*complete=*/false);
        }
        result.plan = path;
      });
  if (!told.empty() && told.front() == text_mark) {
    if (result.outcome == Outcome::refuted)
      tell("cutproof: " + escaped(path) + " is refuted, and so is what it is written out to\n");
    return print_text(told.substr(1));
  }
  tell(terminal_report(result, TextStyle{columns_of(STDERR_FILENO), wants_colour(STDERR_FILENO), false}));
  if (told.size() > 1) tell("cutproof: " + escaped(path) + " is not expanded: " + escaped(told.substr(1)) + "\n");
  return exit_code(result.outcome);
}

int tell_findings(const std::string& path, std::vector<Finding> findings) {
  CheckResult result;
  result.plan = path;
  for (const Finding& finding : findings) ++result.counts[finding.code];
  result.findings = std::move(findings);
  result.outcome = judge(result, /*complete=*/false);
  tell(terminal_report(result, TextStyle{columns_of(STDERR_FILENO), wants_colour(STDERR_FILENO), false}));
  return exit_code(result.outcome);
}

int format_file(const std::string& path, const Arguments& arguments) {
  std::string text;
  FormattedPlan formatted;
  if (completes([&] { text = read_file(path, arguments.settings.max_plan_size); },
                [&](const Finding& finding) { formatted.findings.push_back(finding); }))
    formatted = format_plan_text(text, arguments.settings);
  if (!formatted.findings.empty()) return tell_findings(path, std::move(formatted.findings));
  if (path == "-" && !arguments.only_check) return print_text(formatted.text);
  if (formatted.text == text) return 0;
  if (arguments.only_check) return std::max(print_text("would change: " + escaped(path) + "\n"), 1);
  const std::string problem = replace_file(path, formatted.text);
  if (problem.empty()) return print_text("changed: " + escaped(path) + "\n");
  tell("cutproof: " + escaped(path) + " could not be written: " + problem + "\n");
  return exit_code(Outcome::failed);
}

int run_format(Arguments arguments) {
  expand_folders(&arguments);
  int code = 0;
  for (const std::string& path : arguments.inputs) code = std::max(code, format_file(path, arguments));
  return code;
}

int run_new(const Arguments& arguments) {
  const std::string path = arguments.inputs.empty() ? "plan.yaml" : arguments.inputs.front();
  if (path == "-") return print_text(std::string(starter_plan));
  bool is_there = false;
  const std::string problem = create_file(path, std::string(starter_plan), &is_there);
  if (problem.empty()) return print_text("written: " + escaped(path) + "\nNow try: cutproof check " + escaped(path) + "\n");
  if (is_there) throw WrongUsage("`" + path + "` is there already, and nothing is written over it");
  tell("cutproof: " + escaped(path) + " could not be written: " + problem + "\n");
  return exit_code(Outcome::failed);
}

int run_explain(const Arguments& arguments) {
  const std::string list = "Findings:\n\n" + list_of_codes();
  if (arguments.inputs.empty()) return print_text(list);
  const std::string text = explanation(arguments.inputs.front());
  if (!text.empty()) return print_text(text);
  tell("cutproof: there is no finding `" + escaped(arguments.inputs.front()) + "`\n" + list);
  return exit_code(Outcome::invalid);
}

}  // namespace

int print_text(const std::string& text) {
  const int error = write_fully(STDOUT_FILENO, text);
  if (error == 0) return 0;
  tell(std::string("cutproof: standard output could not be written: ") + std::strerror(error) + "\n");
  return exit_code(Outcome::failed);
}

int run_for_writers(const Arguments& arguments) {
  switch (arguments.command) {
    case Command::format:
      return run_format(arguments);
    case Command::start_new:
      return run_new(arguments);
    case Command::explain:
      return run_explain(arguments);
    default:
      return run_expand(arguments);
  }
}

}  // namespace cutproof
