// SPDX-License-Identifier: GPL-3.0-or-later
// Walks over the bytes between and inside the values of a YAML text.
#pragma once

#include "plan/document.hpp"

namespace cutproof {

/// A stretch of a text: bytes, `end` behind the last one.
struct YamlSpan {
  std::size_t begin, end;
};

/// A place in a text that moves to and fro; what it looks at is counted.
class YamlCursor {
 public:
  explicit YamlCursor(CountedText text) : text_(text) {}

  std::size_t at() const { return at_; }
  /// Where the cursor is, to come back to.
  struct Spot {
    std::size_t at, line_begin;
  };
  Spot spot() const { return {at_, line_begin_}; }
  void go_to(Spot spot) {
    at_ = spot.at;
    line_begin_ = spot.line_begin;
  }
  std::string_view part(YamlSpan span) const { return text_.substr(span.begin, span.end - span.begin); }
  char peek(std::size_t ahead = 0) const { return at_ + ahead < text_.size() ? text_[at_ + ahead] : '\0'; }
  bool at_end() const { return at_ >= text_.size(); }
  static bool is_blank(char c) { return c == ' ' || c == '\t'; }
  static bool is_break(char c) { return c == '\n' || c == '\r'; }
  static bool is_flow_indicator(char c) { return c == ',' || c == '[' || c == ']' || c == '{' || c == '}'; }
  /// True iff a blank, a line end or the end of the text stands there.
  bool is_space_at(std::size_t ahead) const;
  bool is_dash() const { return peek() == '-' && is_space_at(1); }
  bool is_question() const { return peek() == '?' && is_space_at(1); }
  /// Of the cursor in its line, in bytes from 0.
  int column() const { return static_cast<int>(at_ - line_begin_); }
  bool begins_line() const { return at_ == line_begin_; }
  std::size_t line_begin() const { return line_begin_; }
  /// True at `---` or `...` at the beginning of a line.
  bool at_marker() const;
  bool at_content_end() const { return at_end() || at_marker(); }

  void step(std::size_t bytes = 1) { at_ += bytes; }
  void skip_blanks();
  void skip_break();
  void skip_line();

  /// True iff nothing but blanks and a comment is left on this line.
  bool rest_of_line_is_empty() const;
  YamlSpan rest_of_line() const;
  /// The word that begins here: up to a blank, a line end or, in brackets, one of `,[]{}`.
  YamlSpan word(bool in_brackets) const;
  /// True iff a key and a colon stand here on this line.
  bool at_implicit_key() const;
  /// The end of the plain text that begins here, on this line.
  std::size_t plain_end(bool in_brackets) const;
  /// An expression that YAML would take to pieces: what it spans up to a comma or closing bracket outside its own brackets;
  /// false in `balanced` when its brackets do not match on this line.
  YamlSpan unquoted_expression(std::size_t begin, bool& balanced);
  /// Where the quoted text that began at `open` ends, looked for from `from` on, which is inside it.
  std::size_t closing_quote(std::size_t open, std::size_t from) const;

  /// Why the bytes of a scalar could not be found in the text.
  enum class Trouble { none, unclosed_quote, bad_escape, text_behind_bar, tab, unknown };
  /// Goes over a scalar that begins here and has the given text, and finds out where it ends and which bytes its text comes
  /// from. `parent` is the column of the collection around a block scalar.
  Trouble pass_scalar(const std::string& value, int parent, Node& node);

 private:
  Trouble pass_plain(const std::string& value, Node& node);
  Trouble pass_quoted(const std::string& value, Node& node);
  Trouble pass_block(const std::string& value, int parent, Node& node);
  bool pass_blanks(const std::string& value, std::size_t& offset);
  std::size_t pass_breaks();
  void origin(Node& node, std::size_t offset) const;
  void find_expression_ends(std::size_t begin);

  CountedText text_;
  std::size_t at_ = 0, line_begin_ = 0;
  /// For every byte of one line, from `ends_begin_`: where an expression that begins there ends, `no_end` if nowhere. Many
  /// expressions of one line may have to be tried, and none is to be walked along again.
  std::vector<std::size_t> ends_;
  std::size_t ends_begin_ = 0;
};

}  // namespace cutproof
