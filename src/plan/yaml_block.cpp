// SPDX-License-Identifier: GPL-3.0-or-later
// Block style: collections by indentation.
#include "plan/yaml_reader.hpp"

#include <string>

namespace cutproof {

Node YamlReader::value_after(int parent, bool in_mapping, Span owner) {
  const std::size_t begin = at_;
  if (!rest_of_line_is_empty()) {
    skip_blanks();
    if (in_mapping) {
      if (is_dash())
        fail(rest_of_line(), "a list under a key begins on a line of its own", "write the list below the key, or in [ ]");
      return inline_node(parent);
    }
    const bool collection_follows = is_dash() || at_implicit_key();
    if (collection_follows && text_.substr(begin, at_ - begin).find('\t') != std::string_view::npos)
      fail({begin, at_}, "a tab in the indentation: YAML indents with blanks only", "write blanks instead of the tab");
    return block_node(parent);
  }
  skip_to_content();
  if (!at_content_end()) {
    if (column() > parent) return block_node(parent);
    if (in_mapping && column() == parent && is_dash()) return block_sequence(parent, true);
  }
  if (in_mapping) {
    report(owner, quoted_text(source(owner)) + " has no value", "write one after the colon, or delete the key");
  } else {
    report(owner, "this entry of the list is empty", "write something after the dash, or delete it");
  }
  return broken(owner.begin);
}

Node YamlReader::block_node(int parent) {
  if (is_dash()) return block_sequence(column(), false);
  if (peek() == '?' && is_space_at(1))
    fail({at_, at_ + 1}, "`? ` begins a complex key, and the keys of a plan are words", "write `key: value`");
  if (at_implicit_key()) return block_mapping(column());
  return inline_node(parent);
}

Node YamlReader::block_sequence(int indent, bool shares_indent) {
  const Level level(*this);
  Node node = collection(Node::Kind::sequence);
  for (;;) {
    const Span dash{at_, at_ + 1};
    ++at_;
    node.entries.push_back({"", dash.begin, dash.end, value_after(indent, false, dash)});
    node.end = node.entries.back().value.end;
    skip_to_content();
    if (at_content_end() || column() < indent) break;
    if (column() > indent)
      fail(rest_of_line(), "the indentation of this line fits none of the lines above it",
           "indent it like the entries of its list or the keys of its mapping");
    if (is_dash()) continue;
    if (!shares_indent)
      fail(rest_of_line(), "every entry of this list begins with `- `, and this line does not",
           "write `- ` before it, or indent it like the lines it belongs to");
    break;
  }
  return node;
}

Node::Entry YamlReader::block_key(bool& good) {
  Node::Entry entry;
  good = true;
  entry.key_begin = at_;
  const char c = peek();
  if (c == '"' || c == '\'') {
    entry.key = quoted_scalar().text;
    entry.key_end = at_;
  } else {
    count_node(at_);
    std::size_t end = at_;
    while (!(text_[end] == ':' && (end + 1 == text_.size() || is_blank(text_[end + 1]) || is_break(text_[end + 1])))) ++end;
    at_ = end;
    while (end > entry.key_begin && is_blank(text_[end - 1])) --end;
    entry.key_end = end;
    entry.key = source({entry.key_begin, end});
    if (entry.key.empty()) fail({at_, at_ + 1}, "a key is missing before this colon", "write `key: value`");
    const Span span{entry.key_begin, entry.key_end};
    const std::string hint = "put quotes round it: \"" + entry.key + "\"";
    good = std::string_view("*&!%@`|>,]}").find(c) == std::string_view::npos;
    if (c == '*') {
      report(span, "unquoted, " + quoted_text(entry.key) + " is an alias in YAML, and a plan has none", hint);
    } else if (c == '&') {
      report(span, "unquoted, " + quoted_text(entry.key) + " begins with an anchor in YAML, and a plan has none", hint);
    } else if (c == '!') {
      report(span, "unquoted, " + quoted_text(entry.key) + " begins with a tag in YAML, and a plan has none", hint);
    } else if (!good) {
      report(span, std::string("a key cannot begin with `") + c + "` unquoted", hint);
    }
  }
  skip_blanks();
  ++at_;  // the colon
  return entry;
}

Node YamlReader::block_mapping(int indent) {
  const Level level(*this);
  Node node = collection(Node::Kind::mapping);
  std::unordered_map<std::string, std::size_t> seen;
  for (;;) {
    const bool quoted = peek() == '"' || peek() == '\'';
    bool good = true;
    Node::Entry entry = block_key(good);
    Node key;
    key.text = entry.key;
    key.quoted = quoted;
    good = good && check_key(entry, is_null_word(key), seen);
    entry.value = value_after(indent, true, {entry.key_begin, entry.key_end});
    node.end = entry.value.end;
    if (good) node.entries.push_back(std::move(entry));
    node.damaged |= !good;
    skip_to_content();
    if (at_content_end() || column() < indent) break;
    if (column() > indent)
      fail(rest_of_line(), "the indentation of this line fits none of the lines above it",
           "indent it like the entries of its list or the keys of its mapping");
    if (is_dash())
      fail(rest_of_line(), "an entry of a list among `key: value` lines", "indent the list deeper than its key");
    if (peek() == '?' && is_space_at(1))
      fail({at_, at_ + 1}, "`? ` begins a complex key, and the keys of a plan are words", "write `key: value`");
    if (!at_implicit_key()) {
      const Span line = rest_of_line();
      const std::size_t colon = source(line).find(':');
      fail(line, "`key: value` is wanted here",
           colon == std::string::npos ? "write a colon and a blank after the key" : "write a blank after the colon");
    }
  }
  return node;
}

Node YamlReader::end_of_line(Node node, std::size_t begin) {
  if (rest_of_line_is_empty()) return node;
  skip_blanks();
  const Span rest = rest_of_line();
  at_ = rest.end;
  if (text_[rest.begin] == ':' && rest.begin + 1 <= text_.size() &&
      (rest.end == rest.begin + 1 || is_blank(text_[rest.begin + 1]))) {
    report({begin, rest.end}, "a second key on one line, or a key that is no word",
           "write each `key: value` on its own line");
  } else if (text_[begin] == '"' || text_[begin] == '\'') {
    report(rest, "text after the closing quote", "put the whole text in one pair of quotes");
  } else if (text_[rest.begin] == ']' || text_[rest.begin] == '}') {
    report({rest.begin, rest.begin + 1}, std::string("this `") + text_[rest.begin] + "` closes nothing", "delete it");
  } else if (text_[rest.begin] == '#') {
    report({rest.begin, rest.begin + 1}, "a comment needs a blank before its `#`", "write ` #`");
  } else {
    const std::string whole = source({begin, rest.end});
    report({begin, rest.end}, "YAML ends this value at its bracket, and " + quoted_text(source(rest)) + " is left over",
           "put quotes round the expression: \"" + whole + "\"");
  }
  return broken(begin);
}

Node YamlReader::inline_node(int parent) {
  Node instead;
  const std::size_t first = at_;
  if (refuse_indicators(false, instead)) return instead;
  const std::size_t begin = at_;
  const char c = peek();
  if (c == '"' || c == '\'') return end_of_line(quoted_scalar(), begin);
  if (c == '|' || c == '>') return block_scalar(parent);
  if (c == '[' || c == '{') return end_of_line(flow_node(), begin);
  if (c == ',' || c == ']' || c == '}')
    fail({at_, at_ + 1}, std::string("`") + c + "` without its opening bracket", "delete it, or write the opening bracket");
  if (c == '?' && is_space_at(1))
    fail({at_, at_ + 1}, "`? ` begins a complex key, and the keys of a plan are words", "write `key: value`");
  if (at_implicit_key() && first != line_begin_)
    fail(rest_of_line(), "a second `key: value` on one line",
         "write it on a line of its own, in { }, or put quotes round the text");
  Node node = plain_scalar(parent, false);
  std::size_t colon = at_;
  while (colon < text_.size() && is_blank(text_[colon])) ++colon;
  if (colon < text_.size() && text_[colon] == ':') {
    std::size_t line = node.end;
    while (line > 0 && !is_break(text_[line - 1])) --line;
    while (line < node.end && is_blank(text_[line])) ++line;
    at_ = line;
    fail(rest_of_line(),
         "this line is indented deeper than the one above it, so that it goes on with the text that began in line " +
             std::to_string(source_.line(begin)),
         "indent it like the line above it");
  }
  return check_null(std::move(node));
}

}  // namespace cutproof
