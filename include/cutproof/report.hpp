// SPDX-License-Identifier: GPL-3.0-or-later
// Results as text: for people and for programs. The same result always gives the same bytes.
#pragma once

#include "cutproof/result.hpp"

#include <string>
#include <vector>

namespace cutproof {

/// How text for people is laid out.
struct TextStyle {
  int width = 100;      ///< columns; lists and sentences are wrapped
  bool colour = false;  ///< with ANSI escape sequences
};

/// For people: the verdict first, then pieces, the bench after each step as a difference, and findings.
std::string terminal_report(const CheckResult& result, const TextStyle& style = {});
std::string terminal_report(const MeasureResult& result, const TextStyle& style = {});
std::string terminal_report(const CompareResult& result, const TextStyle& style = {});

/// One JSON object (docs/reports.md), ASCII only. One result gives the object of a plan or solid; any other number of them
/// an object with the list `plans` or `solids`.
std::string json_report(const std::vector<CheckResult>& results);
std::string json_report(const std::vector<MeasureResult>& results);
std::string json_report(const CompareResult& result);

}  // namespace cutproof
