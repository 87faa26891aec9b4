// SPDX-License-Identifier: GPL-3.0-or-later
// Which bytes a scalar's text comes from: yaml-cpp tells the text and where it begins, and nothing else.
#include "plan/yaml_cursor.hpp"

#include <algorithm>

namespace cutproof {

namespace {

/// The bytes of the code point that begins at an offset.
std::size_t code_point_length(const std::string& text, std::size_t offset) {
  const auto first = static_cast<unsigned char>(text[offset]);
  return first < 0x80 ? 1 : first < 0xE0 ? 2 : first < 0xF0 ? 3 : 4;
}

/// What lies between two lines of a folded text: one line end is a blank, more are one less.
std::string folded(std::size_t breaks) {
  return breaks == 1 ? " " : std::string(breaks - 1, '\n');
}

}  // namespace

void YamlCursor::origin(Node& node, std::size_t offset) const {
  node.origins.emplace_back(static_cast<std::uint32_t>(offset), static_cast<std::uint32_t>(at_));
}

YamlCursor::Trouble YamlCursor::pass_scalar(const std::string& value, int parent, Node& node) {
  node.kind = Node::Kind::scalar;
  node.text = value;
  node.begin = at_;
  const char first = peek();
  const bool is_quoted = first == '"' || first == '\'', is_block = first == '|' || first == '>';
  node.quoted = is_quoted || is_block;
  return is_quoted ? pass_quoted(value, node) : is_block ? pass_block(value, parent, node) : pass_plain(value, node);
}

/// Goes over blanks and line ends, to what follows them. Without a line end it stays where it is. Counts line ends.
std::size_t YamlCursor::pass_breaks() {
  std::size_t end = at_;
  while (end < text_.size() && is_blank(text_[end])) ++end;
  if (end == text_.size() || !is_break(text_[end])) return 0;
  at_ = end;
  std::size_t breaks = 0;
  while (is_break(peek())) {
    skip_break();
    ++breaks;
    if (at_marker()) break;
    skip_blanks();
  }
  return breaks;
}

/// Goes over blanks that stand in the value, too.
bool YamlCursor::pass_blanks(const std::string& value, std::size_t& offset) {
  const std::size_t begin = at_;
  for (; is_blank(peek()) && offset < value.size() && value[offset] == peek(); ++offset) ++at_;
  return at_ > begin;
}

YamlCursor::Trouble YamlCursor::pass_plain(const std::string& value, Node& node) {
  std::size_t offset = 0;
  while (offset < value.size()) {
    if (at_end()) return Trouble::unknown;
    if (!is_break(peek()) && !is_blank(peek())) {
      if (peek() != value[offset]) return Trouble::unknown;
      ++at_;
      ++offset;
      continue;
    }
    const std::size_t breaks = pass_breaks();
    if (breaks == 0) {
      if (!pass_blanks(value, offset)) return Trouble::unknown;
      continue;
    }
    for (std::size_t at = line_begin_; at < at_; ++at)
      if (text_[at] == '\t') return Trouble::tab;
    const std::string between = folded(breaks);
    if (value.compare(offset, between.size(), between) != 0) return Trouble::unknown;
    offset += between.size();
    origin(node, offset);
  }
  node.end = at_;
  return Trouble::none;
}

YamlCursor::Trouble YamlCursor::pass_quoted(const std::string& value, Node& node) {
  const char quote = peek();
  ++at_;
  std::size_t offset = 0;
  origin(node, 0);
  for (;;) {
    if (at_content_end()) return Trouble::unclosed_quote;
    if (peek() == quote && !(quote == '\'' && peek(1) == quote)) break;
    const std::size_t breaks = is_blank(peek()) || is_break(peek()) ? pass_breaks() : 0;
    if (breaks > 0) {
      if (at_content_end()) return Trouble::unclosed_quote;
      const std::string between = folded(breaks);
      if (value.compare(offset, between.size(), between) != 0) return Trouble::unknown;
      offset += between.size();
      origin(node, offset);
    } else if (quote == '"' && peek() == '\\' && is_break(peek(1))) {
      ++at_;
      skip_break();
      skip_blanks();
      origin(node, offset);
    } else if (is_blank(peek())) {
      if (!pass_blanks(value, offset)) return Trouble::unknown;
    } else if (offset >= value.size()) {
      return Trouble::unknown;
    } else if (quote == '"' && peek() == '\\') {
      const char letter = peek(1);
      if (letter == '\'') return Trouble::bad_escape;  // which yaml-cpp lets pass
      at_ += letter == 'x' ? 4 : letter == 'u' ? 6 : letter == 'U' ? 10 : 2;
      offset += code_point_length(value, offset);
      origin(node, offset);
    } else {
      if (peek() != value[offset]) return Trouble::unknown;
      const bool is_doubled = peek() == quote;
      at_ += is_doubled ? 2 : 1;
      ++offset;
      if (is_doubled) origin(node, offset);
    }
  }
  ++at_;
  node.end = at_;
  return offset == value.size() ? Trouble::none : Trouble::unknown;
}

YamlCursor::Trouble YamlCursor::pass_block(const std::string& value, int parent, Node& node) {
  ++at_;
  std::size_t indent = 0;
  bool keeps_or_strips = false;
  for (int i = 0; i < 2; ++i) {
    if ((peek() == '+' || peek() == '-') && !keeps_or_strips) {
      keeps_or_strips = true;
      ++at_;
    } else if (peek() >= '1' && peek() <= '9' && indent == 0) {
      indent = static_cast<std::size_t>(std::max(parent, 0) + peek() - '0');
      ++at_;
    }
  }
  if (!rest_of_line_is_empty()) return Trouble::text_behind_bar;
  skip_line();
  if (!at_end()) skip_break();
  node.end = at_;
  std::size_t offset = 0;
  while (offset < value.size()) {
    // The next line that holds text, or blanks beyond the indentation.
    const std::size_t blanks = text_.run(at_, ' ');
    const std::size_t content = at_ + blanks;
    if (content == text_.size()) break;
    if (is_break(text_[content]) && (indent == 0 || blanks <= indent)) {
      at_ = content;
      skip_break();
      continue;
    }
    if (indent == 0) indent = blanks;
    if (blanks < indent || at_marker()) break;
    at_ += indent;
    while (offset < value.size() && (value[offset] == '\n' || (value[offset] == ' ' && !is_blank(peek())))) ++offset;
    origin(node, offset);
    const std::size_t begin = at_;
    skip_line();
    const std::string_view line = text_.substr(begin, at_ - begin);
    if (value.compare(offset, line.size(), line) != 0) return Trouble::unknown;
    offset += line.size();
    node.end = at_;
    if (at_end()) break;
    skip_break();
    if (value.find_first_not_of('\n', offset) == std::string::npos) break;  // nothing but empty lines
  }
  return value.find_first_not_of('\n', offset) == std::string::npos ? Trouble::none : Trouble::unknown;
}

}  // namespace cutproof
