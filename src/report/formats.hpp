// SPDX-License-Identifier: GPL-3.0-or-later
// The one table of report formats for files: a new format is a new line here and a file of its own beside it.
#pragma once

#include "cutproof/report.hpp"

#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace cutproof {

/// What a command found: one result a plan, one a solid, or a single comparison.
using Results = std::variant<std::vector<CheckResult>, std::vector<MeasureResult>, CompareResult>;

/// How reports are written, whatever they hold.
struct ReportStyle {
  bool always_list = false;  ///< in JSON a list of plans also where there is one
};

/// One file of a report that is a folder.
struct ReportFile {
  std::string path;  ///< in the folder, with `/` between folders
  std::string content;
};

/// Writes either one text or a folder of files.
struct ReportFormat {
  std::string_view name;
  std::string_view purpose;                ///< for `--help`
  std::vector<std::string_view> commands;  ///< that write it, by name
  std::string (*write)(const Results&, const ReportStyle&);
  DetailWish details = {};                                            ///< what it tells beyond what every check finds out
  GeometryWish geometry = {};                                         ///< what it shows of a check's solids
  std::vector<ReportFile> (*write_folder)(const Results&) = nullptr;  ///< where it is a folder; `write` is null then
  bool pictures = false;                                              ///< whether it shows `CheckResult::pictures`
};

const std::vector<ReportFormat>& report_formats();
/// Null when there is none of this name.
const ReportFormat* find_report_format(std::string_view name);
/// The names of those that the command writes, separated by commas.
std::string report_format_names(std::string_view command);
bool is_for(const ReportFormat& format, std::string_view command);

/// The text for people of all results, one after the other. Of several plans a verified one takes one line (unless `full`),
/// and below all stands the log.
std::string terminal_report(const Results& results, const TextStyle& style);
/// Of checks the log alone; of others a line for each result: its word and what it is about.
std::string summary_lines(const Results& results);

/// The process's exit code: the highest of all results; 0 when there are none.
int highest_exit_code(const Results& results);
/// Takes the certificates out of every result: they are most of a report's length.
void drop_certificates(Results* results);
/// Adds the finding to every result and judges each again: with the code of a fault, no result is anything but `failed`.
void add_fault(Results* results, const Finding& finding);

}  // namespace cutproof
