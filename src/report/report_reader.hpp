// SPDX-License-Identifier: GPL-3.0-or-later
// Reads what a JSON report of `check` tells, to hold it against another one. Files of this kind come from anywhere: whatever
// is wrong with one is told by an exception, and only what is asked for is kept of it.
#pragma once

#include "cutproof/result.hpp"

#include <cstddef>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace cutproof {

/// The text is no report of `check` that this program can read; a sentence that begins with what is wrong.
class NoReport : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// A list of names as a report has it: the first ones, and how many there are.
struct ReportedNames {
  std::vector<std::string> names;
  std::size_t count = 0;
};

struct ReportedStep {
  StepLabel label;
  ReportedNames removed, added, moved;
  std::string content;  ///< its motions and planes, and whether it was skipped: equal texts for equal contents
};

struct ReportedPiece {
  std::string name;
  std::size_t parts = 0;
  Value volume;
  std::optional<std::size_t> shape;
};

/// What a report tells of one plan, as far as two reports are compared by it.
struct ReportedPlan {
  std::string path, digest;
  std::size_t case_number = 0;  ///< of a plan with `cases`, from 1
  Outcome outcome = Outcome::failed;
  std::optional<Value> start_volume, goal_volume;
  std::string start_dehn, goal_dehn;  ///< empty where they are not told
  std::vector<ReportedStep> steps;
  std::vector<ReportedPiece> pieces;
  std::vector<std::string> findings;  ///< their identities
  std::string shapes;                 ///< in words; empty where they are not told
};

/// Throws NoReport for anything but a whole report of `check` in this version of the format. Keys that are not known are
/// passed over; a key that stands twice in one object is not.
std::vector<ReportedPlan> read_check_report(std::string_view json);

}  // namespace cutproof
