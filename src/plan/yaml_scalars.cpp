// SPDX-License-Identifier: GPL-3.0-or-later
// Characters, white space and scalars of the YAML reader.
#include "plan/yaml_reader.hpp"

#include <algorithm>

namespace cutproof {

namespace {

void append_utf8(std::string& text, std::uint32_t code) {
  if (code < 0x80) {
    text += static_cast<char>(code);
  } else if (code < 0x800) {
    text += static_cast<char>(0xC0 | (code >> 6));
    text += static_cast<char>(0x80 | (code & 0x3F));
  } else if (code < 0x10000) {
    text += static_cast<char>(0xE0 | (code >> 12));
    text += static_cast<char>(0x80 | ((code >> 6) & 0x3F));
    text += static_cast<char>(0x80 | (code & 0x3F));
  } else {
    text += static_cast<char>(0xF0 | (code >> 18));
    text += static_cast<char>(0x80 | ((code >> 12) & 0x3F));
    text += static_cast<char>(0x80 | ((code >> 6) & 0x3F));
    text += static_cast<char>(0x80 | (code & 0x3F));
  }
}

int hexadecimal(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  if (c >= 'A' && c <= 'F') return c - 'A' + 10;
  return -1;
}

constexpr std::size_t no_end = static_cast<std::size_t>(-1);

/// What lies between two lines of a folded text: one line end is a blank, more are one less.
std::string folded(std::size_t breaks) {
  return breaks == 1 ? " " : std::string(breaks - 1, '\n');
}

}  // namespace

void YamlScanner::fail(Span span, const std::string& message, const std::string& hint) {
  report(span, message, hint);
  diagnostics_.give_up();
}

void YamlScanner::report(Span span, const std::string& message, const std::string& hint) {
  diagnostics_.error(span.begin, span.end, message, hint);
}

bool YamlScanner::at_marker() const {
  return at_ == line_begin_ && (text_.has(at_, "---") || text_.has(at_, "...")) && is_space_at(3);
}

void YamlScanner::skip_break() {
  if (peek() == '\r' && peek(1) == '\n') ++at_;
  ++at_;
  line_begin_ = at_;
}

void YamlScanner::skip_line() {
  while (!at_end() && !is_break(peek())) ++at_;
}

void YamlScanner::skip_to_content() {
  for (;;) {
    const std::size_t begin = at_;
    skip_blanks();
    if (at_end()) return;
    if (peek() == '#') {
      if (at_ == begin && at_ != line_begin_)
        fail({at_, at_ + 1}, "a comment needs a blank before its `#`", "write ` #`, or put quotes round the whole text");
      skip_line();
      continue;
    }
    if (is_break(peek())) {
      skip_break();
      continue;
    }
    const std::size_t tab = text_.substr(begin, at_ - begin).find('\t');
    if (begin == line_begin_ && tab != std::string_view::npos)
      fail({begin + tab, begin + tab + 1}, "a tab in the indentation: YAML indents with blanks only",
           "write blanks instead of the tab");
    return;
  }
}

bool YamlScanner::rest_of_line_is_empty() const {
  std::size_t end = at_;
  while (end < text_.size() && is_blank(text_[end])) ++end;
  return end == text_.size() || is_break(text_[end]) || (text_[end] == '#' && (end > at_ || at_ == line_begin_));
}

YamlScanner::Span YamlScanner::rest_of_line() const {
  std::size_t end = at_;
  while (end < text_.size() && !is_break(text_[end]) && !(text_[end] == '#' && end > at_ && is_blank(text_[end - 1]))) ++end;
  while (end > at_ && is_blank(text_[end - 1])) --end;
  return {at_, end};
}

void YamlScanner::count_node(std::size_t begin) {
  if (++nodes_ > limits_.max_nodes)
    throw PlanLimit("nodes", source_.diagnostic(begin, begin,
                                                "the plan holds more than " + std::to_string(limits_.max_nodes) + " values",
                                                "a plan is a short text; cut this one into several"));
}

Node YamlScanner::scalar_node(std::size_t begin) {
  count_node(begin);
  Node node;
  node.kind = Node::Kind::scalar;
  node.begin = begin;
  return node;
}

void YamlScanner::origin(Node& node) const {
  node.origins.emplace_back(static_cast<std::uint32_t>(node.text.size()), static_cast<std::uint32_t>(at_));
}

Node YamlScanner::quoted_scalar() {
  Node node = scalar_node(at_);
  node.quoted = true;
  const std::size_t open = at_;
  const char quote = text_[at_++];
  origin(node);
  if (quote == '"') {
    double_quoted(node, open);
  } else {
    single_quoted(node, open);
  }
  node.end = at_;
  return node;
}

void YamlScanner::fold_quoted_lines(Node& node, std::size_t keep, std::size_t open) {
  while (node.text.size() > keep && is_blank(node.text.back())) node.text.pop_back();
  std::size_t breaks = 0;
  while (is_break(peek())) {
    skip_break();
    ++breaks;
    if (at_marker()) fail({open, open + 1}, "this quote is never closed", "write the same quote at the end of the text");
    skip_blanks();
  }
  node.text += folded(breaks);
  origin(node);
}

void YamlScanner::double_quoted(Node& node, std::size_t open) {
  std::size_t keep = 0;  // blanks that were escaped are not folded away
  while (peek() != '"') {
    if (at_end()) fail({open, open + 1}, "this quote is never closed", "write the same quote at the end of the text");
    if (peek() == '\\' && is_break(peek(1))) {
      ++at_;
      skip_break();
      skip_blanks();
      origin(node);
      keep = node.text.size();
    } else if (peek() == '\\') {
      escape(node);
      keep = node.text.size();
    } else if (is_break(peek())) {
      fold_quoted_lines(node, keep, open);
    } else {
      node.text += text_[at_++];
    }
  }
  ++at_;
}

void YamlScanner::single_quoted(Node& node, std::size_t open) {
  for (;;) {
    if (at_end()) fail({open, open + 1}, "this quote is never closed", "write the same quote at the end of the text");
    if (peek() == '\'' && peek(1) == '\'') {
      node.text += '\'';
      at_ += 2;
      origin(node);
    } else if (peek() == '\'') {
      ++at_;
      return;
    } else if (is_break(peek())) {
      fold_quoted_lines(node, 0, open);
    } else {
      node.text += text_[at_++];
    }
  }
}

void YamlScanner::escape(Node& node) {
  static constexpr std::string_view letters = "0abtnvfre \"/\\N_LP\t";
  static constexpr std::uint32_t codes[] = {0,   7,   8,   9,    10,   11,   12,     13,     27,
                                            ' ', '"', '/', '\\', 0x85, 0xA0, 0x2028, 0x2029, '\t'};
  const std::size_t begin = at_;
  const char letter = peek(1);
  const std::size_t index = at_ + 1 < text_.size() ? letters.find(letter) : std::string_view::npos;
  const std::size_t digits = letter == 'x' ? 2 : letter == 'u' ? 4 : letter == 'U' ? 8 : 0;
  at_ += 2;
  std::uint32_t code = 0;
  bool good = true;
  if (index != std::string_view::npos) {
    code = codes[index];
  } else {
    good = digits > 0;
    for (std::size_t i = 0; i < digits && good; ++i) {
      const int digit = hexadecimal(peek());
      good = digit >= 0;
      if (good) {
        code = code * 16 + static_cast<std::uint32_t>(digit);
        ++at_;
      }
    }
    good = good && code <= 0x10FFFF && !(code >= 0xD800 && code <= 0xDFFF);
  }
  at_ = std::min(at_, text_.size());
  if (!good) {
    report({begin, at_}, "this is no escape of YAML", "write `\\\\` for a backslash, or use single quotes");
    node.kind = Node::Kind::broken;
  } else {
    append_utf8(node.text, code);
  }
  origin(node);
}

std::size_t YamlScanner::plain_end(bool in_flow) const {
  std::size_t end = at_;
  for (; end < text_.size() && !is_break(text_[end]); ++end) {
    const char c = text_[end];
    const bool last = end + 1 == text_.size();
    if (c == '#' && end > at_ && is_blank(text_[end - 1])) break;
    if (c == ':' &&
        (last || is_blank(text_[end + 1]) || is_break(text_[end + 1]) || (in_flow && is_flow_indicator(text_[end + 1]))))
      break;
    if (in_flow && is_flow_indicator(c)) break;
  }
  while (end > at_ && is_blank(text_[end - 1])) --end;
  return end;
}

Node YamlScanner::plain_scalar(int parent, bool in_flow) {
  Node node = scalar_node(at_);
  std::size_t breaks = 0;
  for (;;) {
    const std::size_t end = plain_end(in_flow);
    if (breaks > 0) {
      node.text += folded(breaks);
      origin(node);
    }
    node.text += text_.substr(at_, end - at_);
    at_ = end;
    node.end = end;
    // Does the text go on in the next line?
    const std::size_t saved_at = at_, saved_line = line_begin_;
    breaks = 0;
    skip_blanks();
    while (is_break(peek())) {
      skip_break();
      ++breaks;
      skip_blanks();
    }
    const char c = peek();
    const bool goes_on = breaks > 0 && !at_content_end() && c != '#' && (in_flow || column() > parent) &&
                         !(in_flow && is_flow_indicator(c)) && !(c == ':' && is_space_at(1));
    if (goes_on && text_.substr(line_begin_, at_ - line_begin_).find('\t') != std::string_view::npos) {
      at_ = line_begin_;
      skip_to_content();  // complains of the tab
    }
    if (goes_on) continue;
    at_ = saved_at;
    line_begin_ = saved_line;
    break;
  }
  return node;
}

Node YamlScanner::block_scalar(int parent) {
  Node node = scalar_node(at_);
  node.quoted = true;
  const bool is_folded = text_[at_++] == '>';
  char chomping = 0;
  int indent = 0;
  for (int i = 0; i < 2; ++i) {
    if ((peek() == '+' || peek() == '-') && chomping == 0) chomping = text_[at_++];
    if (peek() >= '1' && peek() <= '9' && indent == 0) indent = text_[at_++] - '0';
  }
  if (!rest_of_line_is_empty())
    fail({node.begin, rest_of_line().end}, "a text after `|` or `>` begins on the next line", "put quotes round the text");
  skip_line();
  const int base = std::max(parent, 0);
  // Without an indicator the first line that is not empty tells the indentation.
  const auto line_indent = [&](std::size_t begin) {
    std::size_t end = begin;
    while (end < text_.size() && text_[end] == ' ') ++end;
    return static_cast<int>(end - begin);
  };
  if (!at_end()) skip_break();
  if (indent != 0) {
    indent += base;
  } else {
    std::size_t line = at_;
    while (line < text_.size()) {
      indent = line_indent(line);
      const std::size_t content = line + static_cast<std::size_t>(indent);
      if (content < text_.size() && !is_break(text_[content])) break;
      line = content;
      if (line < text_.size()) line += text_.has(line, "\r\n") ? 2 : 1;
    }
    indent = std::max(indent, parent + 1);
  }
  std::string breaks;  // of empty lines not yet added
  bool first = true, previous_flush = false;
  node.end = at_;
  while (!at_end()) {
    const int here = line_indent(at_);
    const std::size_t content = at_ + static_cast<std::size_t>(here);
    if (here <= indent && (content >= text_.size() || is_break(text_[content]))) {  // an empty line
      at_ = content;
      if (at_end()) break;
      skip_break();
      breaks += '\n';
      continue;
    }
    if (here < indent || at_marker()) break;
    at_ += static_cast<std::size_t>(indent);
    const bool flush = !is_blank(peek());
    if (!first) {
      // `breaks` begins with the end of the previous line.
      if (is_folded && previous_flush && flush) {
        node.text += folded(breaks.size());
      } else {
        node.text += breaks;
      }
    } else {
      node.text += breaks;
    }
    origin(node);
    const std::size_t begin = at_;
    skip_line();
    node.text += text_.substr(begin, at_ - begin);
    node.end = at_;
    breaks.clear();
    first = false;
    previous_flush = flush;
    if (at_end()) break;
    skip_break();
    breaks = "\n";
  }
  if (chomping == '+') {
    node.text += breaks;
  } else if (chomping == 0 && !first && !breaks.empty()) {
    node.text += '\n';
  }
  return node;
}

bool YamlScanner::is_null_word(const Node& node) {
  return !node.quoted && (node.text == "null" || node.text == "Null" || node.text == "NULL" || node.text == "~");
}

bool YamlScanner::at_implicit_key() const {
  std::size_t end = at_;
  if (peek() == '[' || peek() == '{') return false;
  if (peek() == '"' || peek() == '\'') {
    const char quote = text_[end++];
    for (;; ++end) {
      if (end >= text_.size() || is_break(text_[end])) return false;
      if (text_[end] == '\\' && quote == '"') {
        ++end;
      } else if (text_[end] == quote) {
        if (quote == '"' || end + 1 >= text_.size() || text_[end + 1] != quote) break;
        ++end;
      }
    }
    ++end;
  } else {
    end = plain_end(false);
  }
  while (end < text_.size() && is_blank(text_[end])) ++end;
  return end < text_.size() && text_[end] == ':' && is_space_at(end - at_ + 1);
}

void YamlScanner::find_expression_ends(std::size_t begin) {
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

YamlScanner::Span YamlScanner::unquoted_expression(std::size_t begin, bool& balanced) {
  if (begin < ends_begin_ || begin - ends_begin_ >= ends_.size()) find_expression_ends(begin);
  std::size_t end = ends_[begin - ends_begin_];
  balanced = end != no_end;
  if (!balanced) return {begin, begin};
  while (end > begin && is_blank(text_[end - 1])) --end;
  return {begin, end};
}

}  // namespace cutproof
