// SPDX-License-Identifier: GPL-3.0-or-later
// Plans as text, with comments.
#pragma once

#include "cutproof/plan.hpp"

#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace cutproof {

/// Comments, each from its `#` on and without line ends, at the entries of a tree that is written. Where a list of lines is
/// told, an empty one is a blank line.
struct PlanComments {
  struct AtEntry {
    std::vector<std::string> before;  ///< lines
    std::string behind;               ///< at the end of the entry's line
    bool apart = false;               ///< a blank line stands before all of it
  };
  std::vector<std::string> head, tail;  ///< lines
  std::map<const PlanValue::Entry*, AtEntry> at;
  bool keeps_lines = false;  ///< texts of several lines stand below a bar, and more texts have no quotes
};

/// `write_plan` of cutproof/plan.hpp, with comments.
std::string write_plan(const PlanValue& root, const PlanComments& comments);
/// A text as a comment, on as many lines as it takes; what cannot stand in one becomes a blank.
std::vector<std::string> comment_lines(std::string_view text);
/// `{ box: { size: [1, 1, 2] } }`
std::string on_one_line(const PlanValue& value);

}  // namespace cutproof
