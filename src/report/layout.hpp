// SPDX-License-Identifier: GPL-3.0-or-later
// Lines of text for people: wrapped to a width, with or without colour. Everything that is added is escaped first.
#pragma once

#include "cutproof/report.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace cutproof {

enum class Tint { plain, bold, green, red, yellow, dim };

class Layout {
 public:
  explicit Layout(const TextStyle& style) : style_(style) {}

  /// An empty line, unless the last one is empty or there is none.
  void gap();
  /// One paragraph, wrapped at spaces; the first line starts with `label` at `indent`, further lines stand under its end. No
  /// further line begins with `::` or `##[`, which servers obey.
  void paragraph(int indent, std::string_view label, std::string_view text, Tint label_tint = Tint::plain,
                 Tint text_tint = Tint::plain);
  /// A line that is not wrapped: what stands in columns or under a caret.
  void line(int indent, std::string_view text, Tint tint = Tint::plain);
  /// `label` and then the words, separated by commas, on at most `most_lines` lines; the rest is only counted. `count`: how
  /// many there are, where `words` are only the first.
  void list(int indent, std::string_view label, const std::vector<std::string>& words, Tint tint, std::size_t most_lines,
            std::size_t count = 0);
  /// Columns side by side, each as wide as its widest cell; the last one is wrapped.
  void table(int indent, const std::vector<std::vector<std::string>>& rows);

  std::size_t width() const { return room(0); }
  const std::string& text() const { return text_; }

 private:
  std::string tinted(std::string_view escaped_text, Tint tint) const;
  std::vector<std::string> wrapped(std::string_view escaped_text, std::size_t width) const;
  std::size_t room(std::size_t used) const;

  TextStyle style_;
  std::string text_;
};

}  // namespace cutproof
