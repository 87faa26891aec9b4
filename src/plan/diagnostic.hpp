// SPDX-License-Identifier: GPL-3.0-or-later
// What is wrong with a plan's text, as a good compiler says it: place, offending text, what is wrong, what to write instead.
#pragma once

#include "number/errors.hpp"
#include "plan/exact_plan.hpp"

#include <cstddef>
#include <memory>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

namespace cutproof {

/// One error in a text. Lines and columns count from 1, columns and `length` in Unicode code points.
struct Diagnostic {
  int line = 1, column = 1;
  int length = 0;  ///< of the offending text on its line; 0 where there is nothing to underline
  std::string message;
  std::string hint;                       ///< what to write instead; may be empty
  std::string excerpt;                    ///< the line as it stands in the text, shortened when it is very long
  std::shared_ptr<const Pass> pass = {};  ///< of the loops around it; null outside
  TextPlace used_at = {};                 ///< of a fault in a definition with arguments: where it is used; else line 0
};

/// The text of a plan (or its meaning, as far as it can be judged without executing it) is wrong: outcome `invalid`.
/// Holds at least one diagnostic, sorted by place; `count` is the number of errors found, which may be larger.
class InvalidPlan : public InvalidInput {
 public:
  explicit InvalidPlan(std::vector<Diagnostic> diagnostics, std::size_t count = 1);
  const std::vector<Diagnostic>& diagnostics() const { return diagnostics_; }
  std::size_t count() const { return count_; }

 private:
  std::vector<Diagnostic> diagnostics_;
  std::size_t count_;
};

/// A limit was reached at a place of the plan's text: outcome `stopped`.
class PlanLimit : public LimitReached {
 public:
  PlanLimit(const std::string& limit, Diagnostic diagnostic, std::string file = "");
  const Diagnostic& diagnostic() const { return diagnostic_; }
  const std::string& file() const { return file_; }
  /// What was read of the plan all the same: every step with the names in it, but blanks for values that were not computed.
  /// It is there to judge the names of pieces, never to be run. May be null.
  std::shared_ptr<const ExactPlan> draft;

 private:
  Diagnostic diagnostic_;
  std::string file_;
};

}  // namespace cutproof
