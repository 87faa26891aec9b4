// SPDX-License-Identifier: GPL-3.0-or-later
// The steps of a plan of version 1, as they are written one after the other.
#pragma once

#include "cutproof/plan.hpp"
#include "plan/write_plan.hpp"

#include <cstddef>
#include <map>
#include <string>
#include <utility>
#include <vector>

namespace cutproof {

using PieceNames = std::vector<std::string>;

/// The value of a key that takes pieces: one name, or a list of them.
PlanValue pieces_value(const PieceNames& names);
PlanValue list_value(const PieceNames& names);
/// Adds the lines of a comment.
void add_comment(const std::string& text, std::vector<std::string>* lines);

class PlainSteps {
 public:
  /// Throws LimitReached (`max-passes`) when more steps are written.
  explicit PlainSteps(std::size_t most) : most_(most) {}

  /// A comment before the next step.
  void comment(std::string text) { before_[steps_.entries().size()].push_back(std::move(text)); }
  /// For the next step that is written; one that has none yet.
  void title(std::string title) { title_ = std::move(title); }
  void note(std::string note) { note_ = std::move(note); }
  bool has_title() const { return !title_.empty(); }
  /// Adds a step, with the title and the note that wait for one.
  void add(const PlanValue& step);
  void cut(const PieceNames& pieces, const std::vector<PlanValue>& planes, const PieceNames& into);
  void join(const PieceNames& pieces, const std::string& as);
  /// Moves all of them at once.
  void move(const std::vector<std::pair<PieceNames, PlanValue>>& entries);

  const PlanValue& steps() const { return steps_; }
  /// By the number of the step that they stand before.
  const std::map<std::size_t, PieceNames>& comments() const { return before_; }

 private:
  std::size_t most_;
  PlanValue steps_ = PlanValue::list();
  std::map<std::size_t, PieceNames> before_;
  std::string title_, note_;
};

}  // namespace cutproof
