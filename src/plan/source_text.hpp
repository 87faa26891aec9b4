// SPDX-License-Identifier: GPL-3.0-or-later
// The text of a plan and the places in it. Positions are bytes.
#pragma once

#include "plan/node.hpp"

#include <algorithm>

namespace cutproof {

/// A text whose readers are watched: every byte that is looked at counts, so that a test can tell how the work grows.
class CountedText {
 public:
  CountedText(std::string_view text, std::uint64_t& steps) : text_(text), steps_(&steps) {}
  std::size_t size() const { return text_.size(); }
  char operator[](std::size_t at) const {
    ++*steps_;
    return text_[at];
  }
  /// As with std::string_view; each byte of the part counts.
  std::string_view substr(std::size_t begin, std::size_t length) const {
    const std::string_view part = text_.substr(begin, length);
    *steps_ += part.size();
    return part;
  }
  /// How often a byte stands there one after the other.
  std::size_t run(std::size_t begin, char byte) const {
    const std::size_t end = std::min(text_.find_first_not_of(byte, begin), text_.size());
    *steps_ += end - begin + 1;
    return end - begin;
  }
  /// True iff `part` stands at a place of the text.
  bool has(std::size_t at, std::string_view part) const { return at <= size() && substr(at, part.size()) == part; }

 private:
  std::string_view text_;
  std::uint64_t* steps_;
};

class SourceText : public Places {
 public:
  /// Throws InvalidPlan where the text is not UTF-8 or holds characters that no plan may hold (with their place), and
  /// PlanLimit (`plan-size`) for more than `max_bytes` bytes.
  SourceText(std::string text, std::size_t max_bytes);

  const std::string& text() const { return text_; }
  /// The text, or one like it, for a reader whose steps are counted with those of this class.
  CountedText counted() const { return CountedText(text_, steps_); }
  CountedText counted(std::string_view text) const { return CountedText(text, steps_); }
  /// How many bytes were looked at since the text was taken over.
  std::uint64_t steps() const { return steps_; }
  /// The line of a position, from 1.
  int line(std::size_t position) const;
  TextPlace place(std::size_t position) const override;
  std::string in_words(std::size_t position) const override;
  /// Underlines the first line of what stands between the positions.
  Diagnostic diagnostic(std::size_t begin, std::size_t end, std::string message, std::string hint) const override;
  std::size_t origin(const Node& scalar, std::size_t offset) const override;

 private:
  void check_characters() const;
  std::string_view line_at(std::size_t line) const;
  std::string text_;
  /// Code points before a position; looks at few bytes, wherever it is.
  std::size_t code_points_before(std::size_t position) const;
  std::vector<std::size_t> line_starts_;
  std::vector<std::size_t> milestones_;  // code points before each `milestone` bytes: a plan may be one long line
  mutable std::uint64_t steps_ = 0;
};

/// How many code points the value takes that begins at a column (from 1) of a line of YAML, as far as it stands on this
/// line; at least 1. A list or a mapping in brackets ends with them, quoted text with its quote, other text before a comma,
/// a closing bracket or a comment.
int value_length(std::string_view line, std::size_t column);

/// Strangers' text inside a message: shortened to a readable length, on one line, in back quotes.
std::string quoted_text(std::string_view text);

}  // namespace cutproof
