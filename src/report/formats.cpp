// SPDX-License-Identifier: GPL-3.0-or-later
// What all formats share: which there are, and what a list of results means together.
#include "report/formats.hpp"

#include "report/ci_formats.hpp"
#include "report/log.hpp"
#include "report/page/page.hpp"
#include "report/picture_files.hpp"
#include "verify/check.hpp"

#include <algorithm>

namespace cutproof {
namespace {

const std::vector<CheckResult>& each(const std::vector<CheckResult>& results) {
  return results;
}
const std::vector<MeasureResult>& each(const std::vector<MeasureResult>& results) {
  return results;
}
std::vector<CompareResult> each(const CompareResult& result) {
  return {result};
}

int code(const CheckResult& result) {
  return exit_code(result.outcome);
}
int code(const MeasureResult& result) {
  return exit_code(result.answer);
}
int code(const CompareResult& result) {
  return exit_code(result.answer);
}

void spoil(CheckResult* result, const Finding& finding) {
  result->findings.push_back(finding);
  ++result->counts[finding.code];
  result->outcome = judge(*result, /*complete=*/false);
}
void spoil(MeasureResult* result, const Finding& finding) {
  result->findings.push_back(finding);
  result->answer = Answer::failed;
}
void spoil(CompareResult* result, const Finding& finding) {
  result->findings.push_back(finding);
  result->answer = Answer::failed;
}

std::string json(const Results& results, const ReportStyle& style) {
  if (const auto* checks = std::get_if<std::vector<CheckResult>>(&results)) return json_report(*checks, style.always_list);
  return std::visit([](const auto& some) { return json_report(some); }, results);
}

// A format that only `check` writes.
template <std::string (*write)(const std::vector<CheckResult>&)>
std::string of_checks(const Results& results, const ReportStyle&) {
  return write(std::get<std::vector<CheckResult>>(results));
}

// The same for a folder.
template <std::vector<ReportFile> (*write)(const std::vector<CheckResult>&)>
std::vector<ReportFile> folder_of_checks(const Results& results) {
  return write(std::get<std::vector<CheckResult>>(results));
}

}  // namespace

const std::vector<ReportFormat>& report_formats() {
  static constexpr std::size_t most_pieces = 10'000;  // of which shapes are told
  static constexpr std::size_t most_extents = 2'000;  // exact numbers may be long
  DetailWish shapes, everything, scene, page;
  shapes.shapes_up_to = everything.shapes_up_to = page.shapes_up_to = most_pieces;
  shapes.mends = everything.mends = page.mends = true;
  everything.motions = page.motions = true;
  everything.extents_up_to = most_extents;
  scene.scene = page.scene = true;
  GeometryWish angles_of_page;
  angles_of_page.end = true;
  static const std::vector<ReportFormat> formats = {
      {"json", "for programs: one JSON object", {"check", "measure", "compare"}, json, everything},
      {"scene",
       "geometry for other programs: what pieces are made of, and where it lies",
       {"check"},
       of_checks<scene_report>,
       scene},
      {"svg",
       "a folder of pictures: the start, the steps, findings, the end",
       {"check"},
       nullptr,
       {},
       {},
       folder_of_checks<svg_report>,
       /*pictures=*/true},
      {"junit", "test results in XML, as most CI servers read them", {"check"}, of_checks<junit_report>, shapes},
      {"sarif", "findings in SARIF 2.1.0, for code reviews", {"check"}, of_checks<sarif_report>, shapes},
      {"annotations", "a workflow command for each finding", {"check"}, of_checks<annotations_report>},
      {"markdown", "a comment for a code review", {"check"}, of_checks<markdown_report>, shapes},
      {"html",
       "one page for people, with pictures and a view in space",
       {"check"},
       of_checks<html_report>,
       page,
       angles_of_page,
       nullptr,
       /*pictures=*/true}};
  return formats;
}

bool is_for(const ReportFormat& format, std::string_view command) {
  return std::find(format.commands.begin(), format.commands.end(), command) != format.commands.end();
}

std::string report_format_names(std::string_view command) {
  std::string names;
  for (const ReportFormat& each : report_formats()) {
    if (is_for(each, command)) names += (names.empty() ? "" : ", ") + std::string(each.name);
  }
  return names;
}

const ReportFormat* find_report_format(std::string_view name) {
  const auto& formats = report_formats();
  const auto found =
      std::find_if(formats.begin(), formats.end(), [&](const ReportFormat& each) { return each.name == name; });
  return found == formats.end() ? nullptr : &*found;
}

std::string terminal_report(const Results& results, const TextStyle& style) {
  const auto* checks = std::get_if<std::vector<CheckResult>>(&results);
  if (checks != nullptr && checks->size() != 1) return check_reports(*checks, style);
  std::string text;
  std::visit(
      [&](const auto& some) {
        for (const auto& result : each(some)) text += (text.empty() ? "" : "\n\n") + terminal_report(result, style);
      },
      results);
  return text;
}

std::string summary_lines(const Results& results) {
  if (const auto* checks = std::get_if<std::vector<CheckResult>>(&results)) return log_lines(*checks);
  // The first line of the report for people, unwrapped.
  std::string text;
  std::visit(
      [&](const auto& some) {
        for (const auto& result : each(some)) {
          const std::string report = terminal_report(result, TextStyle{1 << 20, false});
          text += report.substr(0, report.find('\n') + 1);
        }
      },
      results);
  return text;
}

int highest_exit_code(const Results& results) {
  int highest = 0;
  std::visit(
      [&](const auto& some) {
        for (const auto& result : each(some)) highest = std::max(highest, code(result));
      },
      results);
  return highest;
}

void drop_certificates(Results* results) {
  const auto drop = [](std::optional<DehnValue>* dehn) {
    if (*dehn) (*dehn)->certificate.reset();
  };
  const auto drop_of_side = [&](std::optional<VolumeAndDehn>* side) {
    if (*side) drop(&(*side)->dehn);
  };
  if (auto* checks = std::get_if<std::vector<CheckResult>>(results)) {
    for (CheckResult& result : *checks) {
      drop_of_side(&result.start);
      drop_of_side(&result.goal);
      drop(&result.dehn_difference);
    }
  } else if (auto* measures = std::get_if<std::vector<MeasureResult>>(results)) {
    for (MeasureResult& result : *measures) drop(&result.dehn);
  } else {
    const auto drop_of = [&](CompareResult* result) {
      for (std::optional<DehnValue>* each : {&result->left_dehn, &result->right_dehn, &result->dehn_difference}) drop(each);
    };
    auto& result = std::get<CompareResult>(*results);
    drop_of(&result);
    for (CompareResult& of_case : result.cases) drop_of(&of_case);
  }
}

void add_fault(Results* results, const Finding& finding) {
  if (auto* checks = std::get_if<std::vector<CheckResult>>(results)) {
    for (CheckResult& result : *checks) spoil(&result, finding);
  } else if (auto* measures = std::get_if<std::vector<MeasureResult>>(results)) {
    for (MeasureResult& result : *measures) spoil(&result, finding);
  } else {
    spoil(&std::get<CompareResult>(*results), finding);
  }
}

}  // namespace cutproof
