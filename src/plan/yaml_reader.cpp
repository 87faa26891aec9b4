// SPDX-License-Identifier: GPL-3.0-or-later
// Block and flow collections of YAML 1.2, and the messages for what a plan may not hold.
#include "plan/yaml_reader.hpp"

#include <string>
#include <unordered_map>

namespace cutproof {

namespace {

class YamlReader : YamlScanner {
 public:
  YamlReader(Document& document, const DocumentLimits& limits) : YamlScanner(document, limits) {}
  Node read();

 private:
  /// Counts a level of nesting as long as it lives.
  class Level {
   public:
    explicit Level(YamlReader& reader) : reader_(reader) {
      if (++reader.depth_ > reader.limits_.max_nesting)
        throw PlanLimit("nesting", reader.document_.diagnostic(reader.at_, reader.at_ + 1,
                                                               "the plan is nested deeper than " +
                                                                   std::to_string(reader.limits_.max_nesting) + " levels"));
    }
    ~Level() { --reader_.depth_; }
    Level(const Level&) = delete;
    Level& operator=(const Level&) = delete;

   private:
    YamlReader& reader_;
  };

  void directives();
  Node value_after(int parent, bool in_mapping, Span owner);
  Node block_node(int parent);
  Node block_sequence(int indent, bool shares_indent);
  Node block_mapping(int indent);
  Node::Entry block_key(bool& good);
  Node inline_node(int parent);
  Node end_of_line(Node node, std::size_t begin);

  Node flow_node();
  Node flow_sequence();
  Node flow_mapping();
  Node flow_value(std::size_t colon, Span key);
  void flow_separator(Node& value, std::size_t open, char close);
  Node flow_pair(Node key, std::size_t open);

  Node collection(Node::Kind kind);
  Node broken(std::size_t begin) const;
  /// Refuses anchors, tags, aliases and characters that cannot begin a text. True iff a broken node stands for the value.
  bool refuse_indicators(bool in_flow, Node& instead);
  /// Refuses keys that have no meaning; `seen` holds the keys of this mapping so far. True iff the key is good.
  bool check_key(const Node::Entry& entry, bool is_null, std::unordered_map<std::string, std::size_t>& seen);
  Node check_null(Node node);

  int depth_ = 0;
};

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
  if (text_.substr(0, 3) == "\xEF\xBB\xBF") at_ = line_begin_ = 3;
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

// ---- block style

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
    if (in_mapping && column() == parent && is_dash()) {
      const Level level(*this);
      return block_sequence(parent, true);
    }
  }
  if (in_mapping) {
    report(owner, quoted_text(source(owner)) + " has no value", "write one after the colon, or delete the key");
  } else {
    report(owner, "this entry of the list is empty", "write something after the dash, or delete it");
  }
  return broken(owner.begin);
}

Node YamlReader::block_node(int parent) {
  const Level level(*this);
  if (is_dash()) return block_sequence(column(), false);
  if (peek() == '?' && is_space_at(1))
    fail({at_, at_ + 1}, "`? ` begins a complex key, and the keys of a plan are words", "write `key: value`");
  if (at_implicit_key()) return block_mapping(column());
  return inline_node(parent);
}

Node YamlReader::block_sequence(int indent, bool shares_indent) {
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
    report(span, "the key " + quoted_text(entry.key) + " stands twice here (first in line " +
                     std::to_string(document_.place(earlier->second).line) + ")",
           "delete one of the two, or rename it");
  return is_new;
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
  if (text_[rest.begin] == ':' && rest.begin + 1 <= text_.size() && (rest.end == rest.begin + 1 || is_blank(text_[rest.begin + 1]))) {
    report({begin, rest.end}, "a second key on one line, or a key that is no word", "write each `key: value` on its own line");
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
    while (end < text_.size() && !is_blank(text_[end]) && !is_break(text_[end]) && !(in_flow && is_flow_indicator(text_[end])))
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
    if (!in_flow && (is_dash() || at_implicit_key()))
      fail(property, "after an anchor or a tag the plan cannot be read on", "delete it");
  }
  const char c = peek();
  if (c != '*' && c != '%' && c != '@' && c != '`' && !(in_flow && (c == '|' || c == '>'))) return false;
  bool balanced = true;
  Span span = in_flow ? unquoted_expression(at_, balanced) : rest_of_line();
  if (!balanced) span = token();
  const std::string text = source(span);
  at_ = span.end;
  report(span, c == '*' ? "unquoted, " + quoted_text(text) + " is an alias in YAML, and a plan has none"
                        : std::string("a text cannot begin with `") + c + "` unquoted",
         "put quotes round it: \"" + text + "\"");
  instead = broken(begin);
  return true;
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
    fail(rest_of_line(), "a second `key: value` on one line", "write it on a line of its own, in { }, or put quotes round the text");
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
             std::to_string(document_.place(begin).line),
         "indent it like the line above it");
  }
  return check_null(std::move(node));
}

// ---- flow style

Node YamlReader::flow_node() {
  const Level level(*this);
  Node instead;
  if (refuse_indicators(true, instead)) return instead;
  const char c = peek();
  if (c == '[') return flow_sequence();
  if (c == '{') return flow_mapping();
  if (c == '"' || c == '\'') return quoted_scalar();
  if (c == '?' && is_space_at(1))
    fail({at_, at_ + 1}, "`? ` begins a complex key, and the keys of a plan are words", "write `key: value`");
  if (is_dash())
    fail({at_, at_ + 1}, "a `- ` list cannot stand inside brackets", "write its entries in [ ], with commas");
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
  if (!balanced) fail({begin, after}, "this text goes on with a bracket that is never closed", "put quotes round the expression");
  const std::string text = source(span);
  report(span,
         bracket_follows ? "unquoted, YAML ends this expression at its bracket" : "unquoted, YAML splits this expression at its comma",
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
    fail({at_, at_ + 1}, std::string("`") + peek() + "` closes the `" + text_[open] + "` of line " +
                             std::to_string(document_.place(open).line),
         std::string("write `") + close + "`");
  if (peek() == ':')
    fail({value.begin, at_ + 1}, "a second colon, or a key that is no word", "put quotes round a text with `: ` in it");
  if (text_.substr(after, at_ - after).find_first_of("\r\n") != std::string_view::npos)
    fail({open, open + 1}, std::string("this `") + text_[open] + "` is not closed, and no comma stands before line " +
                               std::to_string(document_.place(at_).line),
         std::string("write `") + close + "` at its end");
  const Span here = rest_of_line();
  bool balanced = true;
  const Span span = unquoted_expression(value.begin, balanced);
  if (!balanced || span.end <= after)
    fail(here, std::string("a comma or `") + close + "` is wanted before this", "write it, or put quotes round the expression");
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

Node YamlReader::flow_pair(Node key, std::size_t open) {
  const Span span{key.begin, key.end};
  if (!key.is_scalar() && !key.is_broken()) fail(span, "a key must be a word", "write `key: value`");
  if (document_.place(key.begin).line != document_.place(at_).line)
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

Node YamlReader::flow_sequence() {
  Node node = collection(Node::Kind::sequence);
  const std::size_t open = at_++;
  for (;;) {
    skip_to_content();
    if (at_content_end()) fail({open, open + 1}, "this `[` is never closed", "write `]` at its end");
    if (peek() == ']') break;
    if (peek() == '}')
      fail({at_, at_ + 1}, "`}` closes the `[` of line " + std::to_string(document_.place(open).line), "write `]`");
    if (peek() == ',') {
      report({at_, at_ + 1}, "an entry is missing before this comma", "delete the comma, or write the entry");
      node.damaged = true;
      ++at_;
      continue;
    }
    const bool quoted = peek() == '"' || peek() == '\'';
    Node value = flow_node();
    const std::size_t after = at_, line = line_begin_;
    skip_to_content();
    if (peek() == ':' && !at_content_end() && (quoted || is_space_at(1) || is_flow_indicator(peek(1)))) {
      value = flow_pair(std::move(value), open);
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
  Node node = collection(Node::Kind::mapping);
  const std::size_t open = at_++;
  std::unordered_map<std::string, std::size_t> seen;
  for (;;) {
    skip_to_content();
    if (at_content_end()) fail({open, open + 1}, "this `{` is never closed", "write `}` at its end");
    if (peek() == '}') break;
    if (peek() == ']')
      fail({at_, at_ + 1}, "`]` closes the `{` of line " + std::to_string(document_.place(open).line), "write `}`");
    if (peek() == ',') {
      report({at_, at_ + 1}, "an entry is missing before this comma", "delete the comma, or write the entry");
      node.damaged = true;
      ++at_;
      continue;
    }
    const bool quoted = peek() == '"' || peek() == '\'';
    Node key = flow_node();
    const std::size_t after = at_, line = line_begin_;
    skip_to_content();
    Node value;
    if (peek() == ':' && !at_content_end() && (quoted || is_space_at(1) || is_flow_indicator(peek(1)))) {
      if (!key.is_scalar() && !key.is_broken()) fail({key.begin, key.end}, "a key must be a word", "write `key: value`");
      if (document_.place(key.begin).line != document_.place(at_).line)
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
               colon == std::string::npos ? "write `" + text + ": ...`, or use [ ] for a list" : "write a blank after the colon");
      }
      value = broken(key.begin);
      flow_separator(value, open, '}');
    }
    if (peek() == ',') ++at_;
  }
  node.end = ++at_;
  return node;
}

}  // namespace

Node read_yaml(Document& document, const DocumentLimits& limits) { return YamlReader(document, limits).read(); }

}  // namespace cutproof
