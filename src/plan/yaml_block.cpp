// SPDX-License-Identifier: GPL-3.0-or-later
// Block style: collections by indentation.
#include "plan/yaml_reader.hpp"

#include <algorithm>

namespace cutproof {

Node YamlReader::block_value(int parent, bool in_mapping, YamlSpan owner) {
  const bool on_line = !cursor_.rest_of_line_is_empty();
  const std::size_t begin = cursor_.at();
  skip_to_content();
  const bool is_list_below = in_mapping && !on_line && cursor_.column() == parent && cursor_.is_dash();
  if (!cursor_.at_content_end() && (on_line || cursor_.column() > parent || is_list_below)) {
    if (on_line && in_mapping && cursor_.is_dash())
      fail(cursor_.rest_of_line(), "a list under a key begins on a line of its own",
           "write the list below the key, or in [ ]");
    const bool is_collection = next_is(Kind::sequence) || next_is(Kind::mapping);
    if (on_line && is_collection && !next()->in_brackets &&
        cursor_.part({begin, cursor_.at()}).find('\t') != std::string_view::npos)
      fail({begin, cursor_.at()}, "a tab in the indentation: YAML indents with blanks only",
           "write blanks instead of the tab");
    return node(parent, nullptr);
  }
  if (next_is(Kind::null)) {
    ++next_;
  } else if (next() != nullptr && next()->kind != Kind::end) {
    fail(cursor_.rest_of_line(), "the indentation of this line fits none of the lines above it",
         "indent it deeper than the line it belongs to");
  }
  if (mended_.holds(owner.end, cursor_.at())) {
  } else if (in_mapping) {
    report(owner, quoted_text(source(owner)) + " has no value", "write one after the colon, or delete the key");
  } else {
    report(owner, "this entry of the list is empty", "write something after the dash, or delete it");
  }
  return broken(owner.begin);
}

Node YamlReader::block_sequence(bool shares_indent) {
  Node node = collection(Node::Kind::sequence);
  const int indent = cursor_.column();
  ++next_;
  for (;;) {
    const YamlSpan dash{cursor_.at(), cursor_.at() + 1};
    cursor_.step();
    node.entries.push_back({"", dash.begin, dash.end, block_value(indent, false, dash)});
    node.end = node.entries.back().value.end;
    skip_to_content();
    if (cursor_.at_content_end() || cursor_.column() < indent) break;
    check_block_line(indent, false);
    if (cursor_.is_dash()) continue;
    if (!shares_indent)
      fail(cursor_.rest_of_line(), "every entry of this list begins with `- `, and this line does not",
           "write `- ` before it, or indent it like the lines it belongs to");
    break;
  }
  expect_end();
  return node;
}

Node YamlReader::block_mapping() {
  Node node = collection(Node::Kind::mapping);
  const int indent = cursor_.column();
  ++next_;
  std::unordered_map<std::string, std::size_t> seen;
  for (;;) {
    bool good = true;
    Node::Entry entry = block_key(good);
    good = good && check_key(entry, false, seen);
    entry.value = block_value(indent, true, {entry.key_begin, entry.key_end});
    node.end = entry.value.end;
    if (good) node.entries.push_back(std::move(entry));
    node.damaged |= !good;
    skip_to_content();
    if (cursor_.at_content_end() || cursor_.column() < indent) break;
    check_block_line(indent, true);
  }
  expect_end();
  return node;
}

/// A line at the indentation of a collection, or deeper.
void YamlReader::check_block_line(int indent, bool of_mapping) {
  if (cursor_.column() > indent)
    fail(cursor_.rest_of_line(), "the indentation of this line fits none of the lines above it",
         "indent it like the entries of its list or the keys of its mapping");
  if (of_mapping && cursor_.is_dash())
    fail(cursor_.rest_of_line(), "an entry of a list among `key: value` lines", "indent the list deeper than its key");
}

Node::Entry YamlReader::block_key(bool& good) {
  const char c = cursor_.peek();
  const std::size_t begin = cursor_.at();
  if (cursor_.is_question()) refuse_question(false);
  if (!cursor_.at_implicit_key()) {
    const YamlSpan line = cursor_.rest_of_line();
    fail(line, "`key: value` is wanted here",
         source(line).find(':') == std::string::npos ? "write a colon and a blank after the key"
                                                     : "write a blank after the colon");
  }
  YamlSpan span{begin, cursor_.plain_end(false)};
  if (std::string_view("*&!%@`|>,]}").find(c) != std::string_view::npos) {
    const std::string key = source(span), hint = "put quotes round it: \"" + key + "\"";
    report(span,
           c == '*'   ? "unquoted, " + quoted_text(key) + " is an alias in YAML, and a plan has none"
           : c == '&' ? "unquoted, " + quoted_text(key) + " begins with an anchor in YAML, and a plan has none"
           : c == '!' ? "unquoted, " + quoted_text(key) + " begins with a tag in YAML, and a plan has none"
                      : std::string("a key cannot begin with `") + c + "` unquoted",
           hint);
    cross_out(span);
  }
  if (span.begin == span.end) fail({begin, begin + 1}, "a key is missing before this colon", "write `key: value`");
  Node::Entry entry;
  entry.key_begin = begin;
  if (next_is(Kind::null) && next()->position == begin && at_null_word(false)) {
    ++next_;
    entry.key = source(span);
    entry.key_end = span.end;
    cursor_.step(span.end - span.begin);
    report(span, "`" + entry.key + "` as a key is YAML's null", "put quotes round it if it is a name");
    good = false;
  } else {
    if (!next_is(Kind::scalar) || next()->position != begin) fail_here();
    const Node key = scalar(-1, nullptr);
    good = !key.is_broken();
    entry.key = key.text;
    entry.key_end = cursor_.at();
  }
  cursor_.skip_blanks();
  if (cursor_.peek() != ':') fail_here();
  cursor_.step();
  return entry;
}

Node YamlReader::end_of_line(Node node) {
  if (cursor_.rest_of_line_is_empty()) return node;
  const std::size_t begin = node.begin;
  cursor_.skip_blanks();
  const YamlSpan rest = cursor_.rest_of_line();
  const char c = cursor_.peek();
  if (c == ':' && cursor_.is_space_at(1)) {
    const std::string written = source({begin, cursor_.at()});
    const bool is_list = written.front() == '[' && written.find_last_of(']') != std::string::npos;
    report({begin, rest.end}, is_list ? "a list cannot be a key" : "a second key on one line, or a key that is no word",
           is_list ? for_list_as_key(written.substr(0, written.find_last_of(']') + 1), false)
                   : "write each `key: value` on its own line");
  } else if (node.quoted) {
    report(rest, "text after the closing quote", "put the whole text in one pair of quotes");
  } else if (c == ']' || c == '}') {
    report({rest.begin, rest.begin + 1}, std::string("this `") + c + "` closes nothing", "delete it");
  } else if (c == '#') {
    report({rest.begin, rest.begin + 1}, "a comment needs a blank before its `#`", "write ` #`");
    cursor_.go_to({rest.begin, cursor_.line_begin()});
    cursor_.skip_line();
    return broken(begin);
  } else {
    report({begin, rest.end}, "YAML ends this value at its bracket, and " + quoted_text(source(rest)) + " is left over",
           "put quotes round the expression: \"" + source({begin, rest.end}) + "\"");
  }
  cross_out({begin, rest.end});
}

/// Behind a plain text that is a value.
void YamlReader::refuse_second_colon(const Node& node) {
  const YamlCursor::Spot after = cursor_.spot();
  cursor_.skip_blanks();
  const bool is_colon = cursor_.peek() == ':';
  cursor_.go_to(after);
  if (!is_colon) return;
  const std::size_t end = cursor_.rest_of_line().end, line_begin = cursor_.line_begin();
  if (node.begin >= line_begin)
    fail({node.begin, end}, "a second `key: value` on one line",
         "write it on a line of its own, in { }, or put quotes round the text");
  std::size_t line = line_begin;
  while (YamlCursor::is_blank(source_.text()[line])) ++line;
  fail({line, end},
       "this line is indented deeper than the one above it, so that it goes on with the text that began in line " +
           std::to_string(source_.line(node.begin)),
       "indent it like the line above it");
}

}  // namespace cutproof
