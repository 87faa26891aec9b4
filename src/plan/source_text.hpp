// SPDX-License-Identifier: GPL-3.0-or-later
// The text of a plan and the places in it. Positions are bytes.
#pragma once

#include "plan/node.hpp"

namespace cutproof {

class SourceText : public Places {
 public:
  /// Throws InvalidPlan where the text is not UTF-8 or holds characters that no plan may hold (with their place), and
  /// PlanLimit (`plan-size`) for more than `max_bytes` bytes.
  SourceText(std::string text, std::size_t max_bytes);

  const std::string& text() const { return text_; }
  TextPlace place(std::size_t position) const override;
  std::string in_words(std::size_t position) const override;
  /// Underlines the first line of what stands between the positions.
  Diagnostic diagnostic(std::size_t begin, std::size_t end, std::string message, std::string hint) const override;
  std::size_t origin(const Node& scalar, std::size_t offset) const override;

 private:
  void check_characters() const;
  std::string_view line_at(std::size_t line) const;
  std::string text_;
  std::vector<std::size_t> line_starts_;
  mutable std::size_t last_offset_ = 0, last_line_ = 0, last_column_ = 1;
};

/// Strangers' text inside a message: shortened to a readable length, on one line, in back quotes.
std::string quoted_text(std::string_view text);

}  // namespace cutproof
