// SPDX-License-Identifier: GPL-3.0-or-later
// The program: usage is judged first, old reports go, work is done, reports and text are written, and one number says it
// all.
#include "cli/arguments.hpp"
#include "cli/commands.hpp"
#include "cli/interrupt.hpp"
#include "cli/older_report.hpp"
#include "cli/progress.hpp"
#include "cli/report_files.hpp"
#include "cli/writing_commands.hpp"
#include "report/escape.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <exception>

namespace {

using namespace cutproof;

// A closed standard descriptor would be given to the next file opened, and text for people would end up in it. What takes
// its place here cannot be written to (or read from, for standard input), so that trying to is an error as it should be.
void occupy_standard_descriptors() {
  for (const int descriptor : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO}) {
    if (fcntl(descriptor, F_GETFD) != -1) continue;
    [[maybe_unused]] const int same = open("/dev/null", descriptor == STDIN_FILENO ? O_WRONLY : O_RDONLY);
  }
}

int run(Arguments arguments) {
  if (is_for_writers(arguments.command)) return run_for_writers(arguments);
  ReportStyle report_style;
  if (arguments.command == Command::check) report_style.always_list = expand_folders(&arguments);
  std::vector<std::string> files;
  for (const auto* side : {&arguments.inputs, &arguments.with}) {
    for (const std::string& each : *side)
      files.push_back(arguments.command == Command::check ? each : solid_reference(each).file);
  }
  ReportFiles reports(arguments.reports, files, report_style);
  const OlderReport older(arguments.against);  // before an old report is removed: it may be the same file

  Results results;
  if (const auto problem = reports.remove_old()) {
    Finding fault;
    fault.code = "report-not-written";
    fault.message = *problem;
    fault.hint = "nothing was checked; make the old report removable and run again";
    results = results_without_run(arguments, fault);
  } else {
    results = run_command(arguments);
  }
  if (!arguments.certificates) drop_certificates(&results);

  const int people = reports.takes_standard_output() ? STDERR_FILENO : STDOUT_FILENO;
  const TextStyle style{columns_of(people), wants_colour(people), arguments.full};
  reports.publish(
      &results,
      [&](const Results& final_results) {
        return arguments.quiet ? summary_lines(final_results) : terminal_report(final_results, style);
      },
      [&](Results* final_results) { older.hold_against(final_results); });
  if (reports.text_failed()) write_fully(STDERR_FILENO, "cutproof: standard output could not be written\n");
  return highest_exit_code(results);
}

}  // namespace

int main(int count, char** words) {
  try {
    occupy_standard_descriptors();
    note_interrupts();
    const ParsedCommandLine command_line = parse_command_line(count, words);
    return command_line.arguments ? run(*command_line.arguments) : print_text(command_line.text);
  } catch (const WrongUsage& error) {
    write_fully(STDERR_FILENO, "cutproof: wrong usage: " + escaped(error.what()) + "\nTry cutproof --help.\n");
    return exit_code(Outcome::invalid);
  } catch (const std::exception& error) {
    write_fully(STDERR_FILENO, "cutproof: fault of the tool: " + escaped(error.what()) + "; please report this\n");
    return exit_code(Outcome::failed);
  }
}
