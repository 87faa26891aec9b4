// SPDX-License-Identifier: GPL-3.0-or-later
// Every change that is proposed is tried here: nothing else says that it mends the plan.
#pragma once

#include "cutproof/check.hpp"
#include "mend/plan_text.hpp"

#include <cstdint>
#include <functional>
#include <set>
#include <string>
#include <vector>

namespace cutproof {

/// How much a change asks of a reader: the least is told first.
enum class Weight { number, change, addition };

struct Proposal {
  std::string kind, words;
  std::vector<TextEdit> edits;
  Weight weight;
  bool changes_sides;
};

class Trials {
 public:
  Trials(const PlanText& plan, const CheckSettings& settings, CheckResult* result, std::function<void()> progress)
      : plan_(plan), settings_(settings), result_(result), progress_(std::move(progress)) {}

  /// Begins with the next kind, which may use half of the trials that are left.
  void begin_kind();
  /// True when enough was found, or nothing more may be tried for this kind.
  bool done() const;
  bool all_done() const;
  /// Counts the work of comparing so many pieces with the goal, which a look for a proposal takes.
  void note_look(std::size_t pieces);
  /// Checks the plan with these edits, unless that was done before; true when it is verified, which lists it as a mend.
  bool mends(const Proposal& proposal);

 private:
  /// Whether the changed plan is verified in all its cases, of which the one in the settings is known to be.
  bool other_cases_verify(const std::string& text, std::size_t count);

  const PlanText& plan_;
  CheckSettings settings_;
  CheckResult* result_;
  std::function<void()> progress_;
  std::set<std::string> tried_;
  std::vector<std::pair<Weight, std::size_t>> ranks_;  // of the mends, in the order in which they are told
  std::size_t limit_of_kind_ = 0;
  std::uint64_t work_ = 0, looks_ = 0;
};

}  // namespace cutproof
