// SPDX-License-Identifier: GPL-3.0-or-later
// Flow style: collections in brackets, and expressions that their commas and brackets would take to pieces.
#include "plan/yaml_reader.hpp"

#include <string>

namespace cutproof {

Node YamlReader::flow_node() {
  Node instead;
  if (refuse_indicators(true, instead)) return instead;
  const char c = peek();
  if (c == '[') return flow_sequence();
  if (c == '{') return flow_mapping();
  if (c == '"' || c == '\'') return quoted_scalar();
  if (c == '?' && is_space_at(1))
    fail({at_, at_ + 1}, "`? ` begins a complex key, and the keys of a plan are words", "write `key: value`");
  if (is_dash()) fail({at_, at_ + 1}, "a `- ` list cannot stand inside brackets", "write its entries in [ ], with commas");
  const std::size_t begin = at_;
  Node node = plain_scalar(-1, true);
  // YAML ends a plain text at a comma or bracket: an expression that holds one is in pieces now.
  int open = 0;
  for (const char letter : node.text) open += letter == '(' ? 1 : letter == ')' ? -1 : 0;
  const std::size_t after = at_;
  skip_blanks();
  const bool bracket_follows = peek() == '[' || peek() == '{';
  at_ = after;
  if (open <= 0 && !bracket_follows) return node;
  bool balanced = true;
  const Span span = unquoted_expression(begin, balanced);
  if (!balanced && !bracket_follows) {
    // Not an expression that goes on: its own reader tells which parenthesis is missing.
    return node;
  }
  if (!balanced)
    fail({begin, after}, "this text goes on with a bracket that is never closed", "put quotes round the expression");
  const std::string text = source(span);
  report(span,
         bracket_follows ? "unquoted, YAML ends this expression at its bracket"
                         : "unquoted, YAML splits this expression at its comma",
         "put quotes round it: \"" + text + "\"");
  at_ = span.end;
  return broken(begin);
}

void YamlReader::flow_separator(Node& value, std::size_t open, char close) {
  const std::size_t after = at_;
  skip_to_content();
  if (at_content_end())
    fail({open, open + 1}, std::string("this `") + text_[open] + "` is never closed",
         std::string("write `") + close + "` at its end");
  if (peek() == ',' || peek() == close) return;
  if (peek() == ']' || peek() == '}')
    fail({at_, at_ + 1},
         std::string("`") + peek() + "` closes the `" + text_[open] + "` of line " + std::to_string(source_.line(open)),
         std::string("write `") + close + "`");
  if (peek() == ':')
    fail({value.begin, at_ + 1}, "a second colon, or a key that is no word", "put quotes round a text with `: ` in it");
  if (text_.substr(after, at_ - after).find_first_of("\r\n") != std::string_view::npos)
    fail({open, open + 1},
         std::string("this `") + text_[open] + "` is not closed, and no comma stands before line " +
             std::to_string(source_.line(at_)),
         std::string("write `") + close + "` at its end");
  bool balanced = true;
  const Span span = unquoted_expression(value.begin, balanced);
  if (!balanced || span.end <= after)
    fail(rest_of_line(), std::string("a comma or `") + close + "` is wanted before this",
         "write it, or put quotes round the expression");
  const std::string text = source(span);
  if (text[0] == '"' || text[0] == '\'') {
    report({at_, span.end}, "text after the closing quote", "put the whole text in one pair of quotes");
  } else {
    report(span, "unquoted, YAML ends this expression at its bracket", "put quotes round it: \"" + text + "\"");
  }
  at_ = span.end;
  value = broken(value.begin);
  flow_separator(value, open, close);
}

Node YamlReader::flow_value(std::size_t colon, Span key) {
  at_ = colon + 1;
  skip_to_content();
  if (!at_content_end() && peek() != ',' && peek() != '}' && peek() != ']') return check_null(flow_node());
  if (!at_content_end())
    report(key, quoted_text(source(key)) + " has no value", "write one after the colon, or delete the key");
  return broken(key.begin);
}

Node YamlReader::flow_pair(const Node& key, std::size_t open) {
  const Span span{key.begin, key.end};
  if (!key.is_scalar() && !key.is_broken()) fail(span, "a key must be a word", "write `key: value`");
  if (source_.line(key.begin) != source_.line(at_))
    fail({open, open + 1}, std::string("this `") + text_[open] + "` is not closed before the next key",
         std::string("write `") + (text_[open] == '[' ? ']' : '}') + "` at its end");
  Node pair = collection(Node::Kind::mapping);
  pair.begin = key.begin;
  Node value = flow_value(at_, span);
  pair.end = at_;
  pair.entries.push_back({key.text, key.begin, key.end, std::move(value)});
  if (key.is_broken()) return broken(key.begin);
  std::unordered_map<std::string, std::size_t> seen;
  return check_key(pair.entries.back(), is_null_word(key), seen) ? pair : broken(key.begin);
}

bool YamlReader::next_flow_entry(Node& node, std::size_t open, char closing) {
  const std::string own(1, closing), opening = closing == ']' ? "[" : "{", other = closing == ']' ? "}" : "]";
  for (;;) {
    skip_to_content();
    if (at_content_end()) fail({open, open + 1}, "this `" + opening + "` is never closed", "write `" + own + "` at its end");
    if (peek() == closing) return false;
    if (peek() == other[0])
      fail({at_, at_ + 1}, "`" + other + "` closes the `" + opening + "` of line " + std::to_string(source_.line(open)),
           "write `" + own + "`");
    if (peek() != ',') return true;
    report({at_, at_ + 1}, "an entry is missing before this comma", "delete the comma, or write the entry");
    node.damaged = true;
    ++at_;
  }
}

Node YamlReader::flow_sequence() {
  const Level level(*this);
  Node node = collection(Node::Kind::sequence);
  const std::size_t open = at_++;
  while (next_flow_entry(node, open, ']')) {
    const bool quoted = peek() == '"' || peek() == '\'';
    Node value = flow_node();
    const std::size_t after = at_, line = line_begin_;
    skip_to_content();
    if (peek() == ':' && !at_content_end() && (quoted || is_space_at(1) || is_flow_indicator(peek(1)))) {
      value = flow_pair(value, open);
    } else {
      at_ = after;
      line_begin_ = line;
      value = check_null(std::move(value));
    }
    flow_separator(value, open, ']');
    node.entries.push_back({"", value.begin, value.begin, std::move(value)});
    if (peek() == ',') ++at_;
  }
  node.end = ++at_;
  return node;
}

Node YamlReader::flow_mapping() {
  const Level level(*this);
  Node node = collection(Node::Kind::mapping);
  const std::size_t open = at_++;
  std::unordered_map<std::string, std::size_t> seen;
  while (next_flow_entry(node, open, '}')) {
    const bool quoted = peek() == '"' || peek() == '\'';
    Node key = flow_node();
    const std::size_t after = at_, line = line_begin_;
    skip_to_content();
    Node value;
    if (peek() == ':' && !at_content_end() && (quoted || is_space_at(1) || is_flow_indicator(peek(1)))) {
      if (!key.is_scalar() && !key.is_broken()) fail({key.begin, key.end}, "a key must be a word", "write `key: value`");
      if (source_.line(key.begin) != source_.line(at_))
        fail({open, open + 1}, "this `{` is not closed before the next key", "write `}` at its end");
      Node::Entry entry{key.text, key.begin, key.end, {}};
      const bool good = !key.is_broken() && check_key(entry, is_null_word(key), seen);
      entry.value = flow_value(at_, {key.begin, key.end});
      flow_separator(entry.value, open, '}');
      if (good) node.entries.push_back(std::move(entry));
      node.damaged |= !good;
    } else {
      node.damaged = true;
      at_ = after;
      line_begin_ = line;
      if (!key.is_broken()) {
        const std::size_t colon = key.quoted ? std::string::npos : key.text.find(':');
        const std::string text = source({key.begin, key.end});
        report({key.begin, key.end}, quoted_text(text) + " has no value: in { } stand `key: value` pairs",
               colon == std::string::npos ? "write `" + text + ": ...`, or use [ ] for a list"
                                          : "write a blank after the colon");
      }
      value = broken(key.begin);
      flow_separator(value, open, '}');
    }
    if (peek() == ',') ++at_;
  }
  node.end = ++at_;
  return node;
}

}  // namespace cutproof
