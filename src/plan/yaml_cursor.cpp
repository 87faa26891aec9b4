// SPDX-License-Identifier: GPL-3.0-or-later
// Characters and white space of a YAML text.
#include "plan/yaml_cursor.hpp"

namespace cutproof {

namespace {

constexpr std::size_t no_end = static_cast<std::size_t>(-1);

}  // namespace

bool YamlCursor::is_space_at(std::size_t ahead) const {
  return at_ + ahead >= text_.size() || is_blank(peek(ahead)) || is_break(peek(ahead));
}

bool YamlCursor::at_marker() const {
  return begins_line() && (text_.has(at_, "---") || text_.has(at_, "...")) && is_space_at(3);
}

void YamlCursor::skip_blanks() {
  while (is_blank(peek())) ++at_;
}

void YamlCursor::skip_break() {
  if (peek() == '\r' && peek(1) == '\n') ++at_;
  line_begin_ = ++at_;
}

void YamlCursor::skip_line() {
  while (!at_end() && !is_break(peek())) ++at_;
}

bool YamlCursor::rest_of_line_is_empty() const {
  std::size_t end = at_;
  while (end < text_.size() && is_blank(text_[end])) ++end;
  return end == text_.size() || is_break(text_[end]) || (text_[end] == '#' && (end > at_ || at_ == line_begin_));
}

YamlSpan YamlCursor::rest_of_line() const {
  std::size_t end = at_;
  while (end < text_.size() && !is_break(text_[end]) && !(text_[end] == '#' && end > at_ && is_blank(text_[end - 1]))) ++end;
  while (end > at_ && is_blank(text_[end - 1])) --end;
  return {at_, end};
}

YamlSpan YamlCursor::word(bool in_brackets) const {
  std::size_t end = at_;
  while (end < text_.size() && !is_blank(text_[end]) && !is_break(text_[end]) &&
         !(in_brackets && is_flow_indicator(text_[end])))
    ++end;
  return {at_, end};
}

std::size_t YamlCursor::plain_end(bool in_brackets) const {
  std::size_t end = at_;
  for (; end < text_.size() && !is_break(text_[end]); ++end) {
    const char c = text_[end];
    const bool last = end + 1 == text_.size();
    if (c == '#' && end > at_ && is_blank(text_[end - 1])) break;
    if (c == ':' &&
        (last || is_blank(text_[end + 1]) || is_break(text_[end + 1]) || (in_brackets && is_flow_indicator(text_[end + 1]))))
      break;
    if (in_brackets && is_flow_indicator(c)) break;
  }
  while (end > at_ && is_blank(text_[end - 1])) --end;
  return end;
}

std::size_t YamlCursor::closing_quote(std::size_t open, std::size_t from) const {
  const char quote = text_[open];
  for (std::size_t at = from; at < text_.size(); ++at) {
    if (text_[at] == '\\' && quote == '"') {
      ++at;
    } else if (text_[at] == quote) {
      if (quote == '"' || at + 1 == text_.size() || text_[at + 1] != quote) return at + 1;
      ++at;
    }
  }
  return text_.size();
}

bool YamlCursor::at_implicit_key() const {
  if (peek() == '[' || peek() == '{') return false;
  std::size_t end = plain_end(false);
  if (peek() == '"' || peek() == '\'') {
    end = closing_quote(at_, at_ + 1);
    for (std::size_t at = at_; at < end; ++at)
      if (is_break(text_[at])) return false;
  }
  while (end < text_.size() && is_blank(text_[end])) ++end;
  return end < text_.size() && text_[end] == ':' && is_space_at(end - at_ + 1);
}

void YamlCursor::find_expression_ends(std::size_t begin) {
  std::size_t from = begin;
  while (from > 0 && !is_break(text_[from - 1])) --from;
  std::size_t to = begin;
  while (to < text_.size() && !is_break(text_[to])) ++to;
  // What ends every expression, wherever it began. (It may also stand inside quotes, and expressions may follow.)
  const auto is_comment = [&](std::size_t at) { return text_[at] == '#' && at > from && is_blank(text_[at - 1]); };
  // First the partners of the opening brackets. A wrong bracket leaves all that are open without one.
  ends_.assign(to - from + 1, no_end);
  ends_begin_ = from;
  std::vector<std::size_t> open;
  for (std::size_t at = from; at < to; ++at) {
    const char c = text_[at];
    if (c == '(' || c == '[' || c == '{') open.push_back(at);
    if (is_comment(at)) open.clear();
    if (open.empty() || (c != ')' && c != ']' && c != '}')) continue;
    const char opening = text_[open.back()];
    if (c == (opening == '(' ? ')' : opening == '[' ? ']' : '}')) {
      ends_[open.back() - from] = at;
      open.pop_back();
    } else {
      open.clear();
    }
  }
  // Then, from the back, where one comes to that passes over brackets with their partners. (A `)` too many is for the reader
  // of expressions.)
  ends_[to - from] = to;
  for (std::size_t at = to; at-- > from;) {
    std::size_t& end = ends_[at - from];
    const char c = text_[at];
    if (c == '(' || c == '[' || c == '{') {
      if (end != no_end) end = ends_[end + 1 - from];
    } else {
      end = is_flow_indicator(c) || is_comment(at) ? at : ends_[at + 1 - from];
    }
  }
}

YamlSpan YamlCursor::unquoted_expression(std::size_t begin, bool& balanced) {
  if (begin < ends_begin_ || begin - ends_begin_ >= ends_.size()) find_expression_ends(begin);
  std::size_t end = ends_[begin - ends_begin_];
  balanced = end != no_end;
  if (!balanced) return {begin, begin};
  while (end > begin && is_blank(text_[end - 1])) --end;
  return {begin, end};
}

}  // namespace cutproof
