// SPDX-License-Identifier: GPL-3.0-or-later
// The steps of a plan that was carried out, written down in the words of version 1.
#pragma once

#include "files/expand/plain_text.hpp"
#include "files/expand/record.hpp"

#include <string>

namespace cutproof {

/// What the steps of a lemma become where a plan uses it: each of its pieces has a name with this prefix, and everything is
/// done this far from where the lemma's text has it. Of the plan itself both are empty.
struct Setting {
  std::string prefix;
  Vector3 aside;
};

class StepWriter {
 public:
  /// All of them are referred to.
  StepWriter(PlainSteps& text, const RunRecords& records, const RunRecord& record, Setting setting)
      : text_(text), records_(records), record_(record), plan_(record.plan()), setting_(std::move(setting)) {}

  /// Writes all steps. Throws InvalidInput where version 1 has no words for a lemma, LimitReached for too many steps.
  void write_steps();

 private:
  /// The names and patterns of a selection, as the plan has them; of one by place the pieces that it took, or those among
  /// them that `keep` has.
  template <class Keep>
  PieceNames named(const Selector& selector, const Keep& keep) const;
  PieceNames named(const Selector& selector) const;

  std::string written(const std::string& name) const;
  PieceNames written(PieceNames names) const;
  PlanValue written(const Plane& plane) const;
  PlanValue written(const Motion& motion) const;
  PlanValue written(const SolidPointer& solid) const;
  bool is_of_lemma() const { return !setting_.prefix.empty(); }

  void write(const CutStep& cut);
  void write(const MoveStep& move);
  void write(const JoinStep& join);
  void write(const SplitStep& split);
  void write(const UseStep& use);
  void write(const ExpectStep& expect);

  PlainSteps& text_;
  const RunRecords& records_;
  const RunRecord& record_;
  const ExactPlan& plan_;
  Setting setting_;
  std::size_t index_ = 0;               ///< of the step
  const RecordedStep* done_ = nullptr;  ///< what happened in it
};

}  // namespace cutproof
