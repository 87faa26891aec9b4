// SPDX-License-Identifier: GPL-3.0-or-later
// Results as text: for people and for programs. The same result always gives the same bytes.
#pragma once

#include "cutproof/result.hpp"

#include <string>
#include <vector>

namespace cutproof {

/// What a finding says, in a sentence without a full stop, and what to do about it (may be empty).
std::string message_of(const Finding& finding);
std::string hint_of(const Finding& finding);

/// How text for people is laid out.
struct TextStyle {
  int width = 100;      ///< columns; lists and sentences are wrapped
  bool colour = false;  ///< with ANSI escape sequences
  bool full = false;    ///< of a check: every step with all its pieces, and every finding with its hint and corners
};

/// For people: the verdict first; of a refuted plan where to look, and what is wrong there; then what each step did, with
/// the findings that it led to. A verified plan of any size takes at most 24 lines of 100 columns.
std::string terminal_report(const CheckResult& result, const TextStyle& style = {});
std::string terminal_report(const MeasureResult& result, const TextStyle& style = {});
std::string terminal_report(const CompareResult& result, const TextStyle& style = {});

/// One JSON object (docs/reports.md), ASCII only. One result gives the object of a plan or solid; any other number of them,
/// and `always_list`, an object with the list `plans` or `solids`.
std::string json_report(const std::vector<CheckResult>& results, bool always_list = false);
std::string json_report(const std::vector<MeasureResult>& results);
std::string json_report(const CompareResult& result);

}  // namespace cutproof
