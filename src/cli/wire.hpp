// SPDX-License-Identifier: GPL-3.0-or-later
// Results on their way from the process that made them to the one that reports them: one line of JSON each. This is no
// report format; it holds every field and changes whenever the structures do.
#pragma once

#include "cutproof/check.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace cutproof {

/// One line without a line end. Bytes that are no UTF-8 become U+FFFD.
std::string to_wire(const std::vector<MeasureResult>& results);
std::string to_wire(const CompareResult& result);

/// Exactly what `to_wire` was given. Throws ToolFault for anything else.
void from_wire(std::string_view line, std::vector<MeasureResult>* results);
void from_wire(std::string_view line, CompareResult* result);

/// Sends a check's progress and its result without repeating what was sent before: a plan of many steps is told once, not
/// once a step. Not sent: the plan's path, which the parent knows byte for byte.
class ProgressSender {
 public:
  std::string next(const CheckProgress& progress);
  /// The result. Its findings are sent anew, because the end of a run sorts them; told steps never change.
  std::string last(const CheckResult& result);
  /// Told with the result, where the parent needs it.
  std::string plan_text;
  /// Behind the result: its mends and the hints of its findings.
  std::string mends(const CheckResult& result);

 private:
  std::string message_of(const CheckProgress& progress, bool judged);
  std::size_t steps_ = 0, findings_ = 0, consequences_ = 0;
  bool field_told_ = false, start_told_ = false, goal_told_ = false, difference_told_ = false;
};

/// What the parent knows of a run: all that was sent so far.
struct RunState {
  CheckResult so_far;
  std::string activity;
  std::string plan_text;  ///< where it was told
  int step = 0, line = 0;
  bool judged = false;  ///< the result is there: whatever happens to the process, its verdict stands
  /// Throws ToolFault for what no ProgressSender sent.
  void receive(std::string_view line);
};

}  // namespace cutproof
