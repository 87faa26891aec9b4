// SPDX-License-Identifier: GPL-3.0-or-later
// The document as a whole, and what both styles of YAML share.
#include "plan/yaml_reader.hpp"

#include <string>

namespace cutproof {

Node YamlReader::collection(Node::Kind kind) {
  count_node(at_);
  Node node;
  node.kind = kind;
  node.begin = at_;
  return node;
}

Node YamlReader::broken(std::size_t begin) const {
  Node node;
  node.begin = begin;
  node.end = at_;
  return node;
}

Node YamlReader::read() {
  if (text_.has(0, "\xEF\xBB\xBF")) at_ = line_begin_ = 3;
  directives();
  bool on_marker_line = false;
  if (at_marker() && peek() == '-') {
    at_ += 3;
    on_marker_line = !rest_of_line_is_empty();
  }
  skip_to_content();
  if (at_content_end()) fail({at_, at_}, "the plan is empty", "a plan begins with `cutproof: 1`");
  Node root = on_marker_line ? inline_node(-1) : block_node(-1);
  skip_to_content();
  if (!at_content_end())
    fail(rest_of_line(), "this text stands after the end of the document, or its indentation fits nothing above it",
         "delete it, or indent it like the lines it belongs to");
  while (at_marker() && peek() == '.') {
    at_ += 3;
    if (!rest_of_line_is_empty()) fail(rest_of_line(), "this text stands after the end of the document", "delete it");
    skip_to_content();
  }
  if (at_marker())
    fail({at_, at_ + 3}, "a second document begins here, and a plan is one document",
         "delete this line, or put the rest in a file of its own");
  if (!at_end()) fail(rest_of_line(), "this text stands after the end of the document", "delete it");
  return root;
}

void YamlReader::directives() {
  bool any = false;
  for (skip_to_content(); peek() == '%' && at_ == line_begin_ && !at_end(); skip_to_content()) {
    const Span line = rest_of_line();
    const std::string text = source(line);
    if (text.compare(0, 6, "%YAML ") != 0 || text.find("1.", 6) != text.find_first_not_of(' ', 6))
      fail(line, "the directive " + quoted_text(text) + " has no meaning in a plan", "delete it; `%YAML 1.2` is fine");
    if (any) fail(line, "a second %YAML line", "delete it");
    any = true;
    at_ = line.end;
    skip_line();
  }
  if (any && !(at_marker() && peek() == '-'))
    fail({at_, at_}, "after a %YAML line a line `---` must begin the document", "write `---` before this line");
}

bool YamlReader::check_key(const Node::Entry& entry, bool is_null, std::unordered_map<std::string, std::size_t>& seen) {
  const Span span{entry.key_begin, entry.key_end};
  if (entry.key == "<<") {
    report(span, "`<<` is a merge key, and a plan has none", "write the merged keys out");
    return false;
  }
  if (is_null) {
    report(span, "`" + entry.key + "` as a key is YAML's null", "put quotes round it if it is a name");
    return false;
  }
  const auto [earlier, is_new] = seen.emplace(entry.key, entry.key_begin);
  if (!is_new)
    report(span,
           "the key " + quoted_text(entry.key) + " stands twice here (first in line " +
               std::to_string(source_.line(earlier->second)) + ")",
           "delete one of the two, or rename it");
  return is_new;
}

Node YamlReader::check_null(Node node) {
  if (!is_null_word(node)) return node;
  report({node.begin, node.end}, "`" + node.text + "` is YAML's null, and a plan has none",
         "write a value, or put quotes round it if it is a name");
  return broken(node.begin);
}

bool YamlReader::refuse_indicators(bool in_flow, Node& instead) {
  const std::size_t begin = at_;
  const auto token = [&] {
    std::size_t end = at_;
    while (end < text_.size() && !is_blank(text_[end]) && !is_break(text_[end]) &&
           !(in_flow && is_flow_indicator(text_[end])))
      ++end;
    return Span{at_, end};
  };
  while (peek() == '&' || peek() == '!') {
    const Span property = token();
    const std::string text = source(property);
    if (peek() == '&') {
      report(property, "unquoted, " + quoted_text(text) + " is an anchor in YAML, and a plan has none",
             "delete it, and give values that are used twice a name under `let`");
    } else {
      report(property, "unquoted, " + quoted_text(text) + " is a tag in YAML, and a plan has none", "delete it");
    }
    at_ = property.end;
    skip_to_content();
    if (at_content_end() || (in_flow && (peek() == ',' || peek() == ']' || peek() == '}')) || at_ == line_begin_) {
      instead = broken(begin);
      return true;
    }
    if (!in_flow && peek() != '&' && peek() != '!' && (is_dash() || at_implicit_key()))
      fail(property, "after an anchor or a tag the plan cannot be read on", "delete it");
  }
  const char c = peek();
  if (c != '*' && c != '%' && c != '@' && c != '`' && !(in_flow && (c == '|' || c == '>'))) return false;
  bool balanced = true;
  Span span = in_flow ? unquoted_expression(at_, balanced) : rest_of_line();
  if (!balanced) span = token();
  const std::string text = source(span);
  at_ = span.end;
  report(span,
         c == '*' ? "unquoted, " + quoted_text(text) + " is an alias in YAML, and a plan has none"
                  : std::string("a text cannot begin with `") + c + "` unquoted",
         "put quotes round it: \"" + text + "\"");
  instead = broken(begin);
  return true;
}

Node read_yaml(const SourceText& source, Diagnostics& diagnostics, const DocumentLimits& limits) {
  return YamlReader(source, diagnostics, limits).read();
}

}  // namespace cutproof
