// SPDX-License-Identifier: GPL-3.0-or-later
// Flow style: collections in brackets.
#include "plan/yaml_reader.hpp"

namespace cutproof {

namespace {

/// True where a colon stands that ends a key.
bool is_colon(const YamlCursor& cursor, const Node& key) {
  return cursor.peek() == ':' && !cursor.at_content_end() &&
         (key.quoted || cursor.is_space_at(1) || YamlCursor::is_flow_indicator(cursor.peek(1)));
}

}  // namespace

void YamlReader::flow_separator(const Node& value, std::size_t open, char close) {
  const std::size_t after = cursor_.at();
  skip_to_content();
  const char opening = close == ']' ? '[' : '{', c = cursor_.peek();
  const YamlSpan here{cursor_.at(), cursor_.at() + 1};
  const std::string to_close = std::string("write `") + close + "`";
  if (cursor_.at_content_end())
    fail({open, open + 1}, std::string("this `") + opening + "` is never closed", to_close + " at its end");
  if (c == ',' || c == close) return;
  if (c == ']' || c == '}')
    fail(here, std::string("`") + c + "` closes the `" + opening + "` of line " + std::to_string(source_.line(open)),
         to_close);
  if (c == '?') fail_here();
  if (c == ':')
    fail({value.begin, here.end}, "a second colon, or a key that is no word", "put quotes round a text with `: ` in it");
  if (cursor_.part({after, here.begin}).find_first_of("\r\n") != std::string_view::npos)
    fail({open, open + 1},
         std::string("this `") + opening + "` is not closed, and no comma stands before line " +
             std::to_string(source_.line(here.begin)),
         cursor_.part({open + 1, after}).find('{') == std::string_view::npos
             ? to_close + " at its end"
             : to_close + " at its end, or behind what one of the `{` inside it holds");
  bool balanced = true;
  const YamlSpan span = cursor_.unquoted_expression(value.begin, balanced);
  if (!balanced || span.end <= after)
    fail(cursor_.rest_of_line(), std::string("a comma or `") + close + "` is wanted before this",
         "write it, or put quotes round the expression");
  const std::string text = source(span);
  if (value.quoted) {
    report({here.begin, span.end}, "text after the closing quote", "put the whole text in one pair of quotes");
  } else {
    report(span, "unquoted, YAML ends this expression at its bracket", "put quotes round it: \"" + text + "\"");
  }
  cross_out(span);
}

bool YamlReader::next_flow_entry(Node& node, std::size_t open, char closing) {
  const std::string own(1, closing), opening = closing == ']' ? "[" : "{", other = closing == ']' ? "}" : "]";
  for (;;) {
    skip_to_content();
    const YamlSpan here{cursor_.at(), cursor_.at() + 1};
    if (cursor_.at_content_end())
      fail({open, open + 1}, "this `" + opening + "` is never closed", "write `" + own + "` at its end");
    if (cursor_.peek() == closing) return false;
    if (cursor_.peek() == other[0])
      fail(here, "`" + other + "` closes the `" + opening + "` of line " + std::to_string(source_.line(open)),
           "write `" + own + "`");
    if (cursor_.peek() != ',') return true;
    report(here, "an entry is missing before this comma", "delete the comma, or write the entry");
    node.damaged = true;
    skip_nulls();
    cursor_.step();
  }
}

Node YamlReader::flow_value(YamlSpan key, const Brackets& brackets) {
  cursor_.step();
  skip_to_content();
  const char c = cursor_.peek();
  if (!cursor_.at_content_end() && c != ',' && c != '}' && c != ']') return node(-1, &brackets);
  if (next_is(Kind::null)) ++next_;
  if (!cursor_.at_content_end() && !mended_.holds(key.end, cursor_.at()))
    report(key, quoted_text(source(key)) + " has no value", "write one after the colon, or delete the key");
  return broken(key.begin);
}

/// At the colon behind a key.
void YamlReader::check_flow_key(const Node& key, const Brackets& brackets) {
  const char opening = source_.text()[brackets.open];
  if (key.is_sequence())
    fail({key.begin, key.end}, "a list cannot be a key", for_list_as_key(source({key.begin, key.end}), true));
  if (!key.is_scalar() && !key.is_broken()) fail({key.begin, key.end}, "a key must be a word", "write `key: value`");
  if (source_.line(key.begin) != source_.line(cursor_.at()))
    fail({brackets.open, brackets.open + 1}, std::string("this `") + opening + "` is not closed before the next key",
         std::string("write `") + (opening == '[' ? ']' : '}') + "` at its end");
}

Node YamlReader::flow_pair(const Brackets& brackets) {
  Node pair = collection(Node::Kind::mapping);
  ++next_;
  Node::Entry entry;
  const bool is_null = next_is(Kind::null) && at_null_word(true);
  const Node key = is_null ? key_of_null() : node(-1, &brackets);
  skip_to_content();
  if (!is_colon(cursor_, key)) fail_here();
  check_flow_key(key, brackets);
  entry.key = key.text;
  entry.key_begin = key.begin;
  entry.key_end = key.end;
  entry.value = flow_value({key.begin, key.end}, brackets);
  pair.end = cursor_.at();
  expect_end();
  std::unordered_map<std::string, std::size_t> seen;
  if (key.is_broken() || !check_key(entry, is_null, seen)) return broken(key.begin);
  pair.entries.push_back(std::move(entry));
  return pair;
}

Node YamlReader::flow_sequence() {
  Node node = collection(Node::Kind::sequence);
  const std::size_t open = cursor_.at();
  const Brackets brackets{open};
  cursor_.step();
  ++next_;
  while (next_flow_entry(node, open, ']')) {
    Node value = this->node(-1, &brackets);
    const YamlCursor::Spot after = cursor_.spot();
    skip_to_content();
    if (!value.is_mapping() && is_colon(cursor_, value)) check_flow_key(value, brackets);
    cursor_.go_to(after);
    flow_separator(value, open, ']');
    node.entries.push_back({"", value.begin, value.begin, std::move(value)});
    if (cursor_.peek() == ',') cursor_.step();
  }
  cursor_.step();
  node.end = cursor_.at();
  expect_end();
  return node;
}

Node YamlReader::flow_mapping() {
  Node node = collection(Node::Kind::mapping);
  const std::size_t open = cursor_.at();
  const Brackets brackets{open};
  cursor_.step();
  ++next_;
  std::unordered_map<std::string, std::size_t> seen;
  while (next_flow_entry(node, open, '}')) {
    const bool is_null = next_is(Kind::null) && at_null_word(true);
    const Node key = is_null ? key_of_null() : this->node(-1, &brackets);
    const YamlCursor::Spot after = cursor_.spot();
    skip_to_content();
    Node value = broken(key.begin);
    if (is_colon(cursor_, key)) {
      check_flow_key(key, brackets);
      Node::Entry entry{key.text, key.begin, key.end, {}};
      const bool good = !key.is_broken() && check_key(entry, is_null, seen);
      entry.value = flow_value({key.begin, key.end}, brackets);
      flow_separator(entry.value, open, '}');
      if (good) node.entries.push_back(std::move(entry));
      node.damaged |= !good;
    } else {
      node.damaged = true;
      cursor_.go_to(after);
      if (next_is(Kind::null)) {
        ++next_;
      } else if (next() != nullptr && next()->kind != Kind::end) {
        fail_here();
      }
      if (!key.is_broken()) {
        const std::size_t colon = key.quoted ? std::string::npos : key.text.find(':');
        const std::string text = source({key.begin, key.end});
        report({key.begin, key.end}, quoted_text(text) + " has no value: in { } stand `key: value` pairs",
               colon == std::string::npos ? "write `" + text + ": ...`, or use [ ] for a list"
                                          : "write a blank after the colon");
      }
      flow_separator(key, open, '}');
    }
    if (cursor_.peek() == ',') cursor_.step();
  }
  cursor_.step();
  node.end = cursor_.at();
  expect_end();
  return node;
}

}  // namespace cutproof
