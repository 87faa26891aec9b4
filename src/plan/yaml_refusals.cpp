// SPDX-License-Identifier: GPL-3.0-or-later
// What may not stand where it stands, or where yaml-cpp gave up: what is wrong with it, and what is crossed out to read on.
#include "plan/yaml_reader.hpp"

#include "plan/plan_index.hpp"

#include <algorithm>

namespace cutproof {

namespace {

constexpr std::size_t most_crossed_out = 20, most_bytes_read_again = 1u << 18;

}  // namespace

void YamlReader::cross_out(YamlSpan span, char by) {
  const std::string_view part = std::string_view(mended_.text).substr(span.begin, span.end - span.begin);
  const std::size_t count = mended_.crossed_out.size();
  if (part.find_first_of("\r\n") != std::string_view::npos || count >= most_crossed_out ||
      count * mended_.text.size() >= most_bytes_read_again)
    throw GivenUp{};
  mended_.problems.push_back(problems_.back());
  mended_.crossed_out.push_back(span);
  for (std::size_t at = span.begin; at < span.end; ++at)
    if (!YamlCursor::is_blank(mended_.text[at])) mended_.text[at] = by;
  throw Again{};
}

void YamlReader::fail_here() {
  const std::size_t at = cursor_.at();
  if ((cursor_.peek() == '[' || cursor_.peek() == '{') && at > 0 && source_.text()[at - 1] == ':')
    fail({at - 1, at}, "a colon needs a blank behind it", "write a blank after the colon");
  const std::size_t complaint = events_.complaint;
  if (events_.gave_up && complaint < source_.text().size() && source_.text()[complaint] == '?')
    fail({complaint, complaint + 1}, "unquoted, a question mark has a meaning of its own in YAML",
         "put quotes round the text that it stands in");
  if (!problems_.empty()) throw GivenUp{};
  YamlSpan span = cursor_.rest_of_line();
  if (events_.gave_up && complaint > span.end) span = {complaint, complaint};
  fail(span, "YAML cannot be read on from here", "put quotes round a text that is more than words and numbers");
}

void YamlReader::mend_escape() {
  if (!events_.bad_escape || events_.end <= cursor_.at()) return;
  const YamlSpan quoted{cursor_.at(), cursor_.closing_quote(cursor_.at(), cursor_.at() + 1)};
  if (events_.end >= quoted.end) return;
  const std::string rest = source({events_.end, std::min(quoted.end, events_.end + 10)});
  const std::size_t digits = rest[1] == 'x' ? 2 : rest[1] == 'u' ? 4 : rest[1] == 'U' ? 8 : 0;
  const std::size_t length = std::min(rest.find_first_not_of("0123456789abcdefABCDEF", 2), 2 + digits);
  refuse_escape({events_.end, events_.end + std::min(length, rest.size())}, quoted);
}

void YamlReader::refuse_escape(YamlSpan span, YamlSpan quoted) {
  report(span, "this is no escape of YAML", "write `\\\\` for a backslash, or use single quotes");
  cross_out(quoted);
}

void YamlReader::check_expression(const Node& node) {
  // YAML ends a plain text at a comma or bracket: an expression that holds one is in pieces now.
  int open = 0;
  for (const char letter : node.text) open += letter == '(' ? 1 : letter == ')' ? -1 : 0;
  const YamlCursor::Spot after = cursor_.spot();
  cursor_.skip_blanks();
  const bool bracket_follows = cursor_.peek() == '[' || cursor_.peek() == '{';
  cursor_.go_to(after);
  if (open <= 0 && !bracket_follows) return;
  bool balanced = true;
  const YamlSpan span = cursor_.unquoted_expression(node.begin, balanced);
  // Where no bracket follows this is no expression that goes on: its own reader tells which parenthesis is missing.
  if (!balanced && !bracket_follows) return;
  if (!balanced)
    fail({node.begin, after.at}, "this text goes on with a bracket that is never closed", "put quotes round the expression");
  report(span,
         bracket_follows ? "unquoted, YAML ends this expression at its bracket"
                         : "unquoted, YAML splits this expression at its comma",
         "put quotes round it: \"" + source(span) + "\"" +
             (bracket_follows ? "" : "; from version 2 on `;` may stand for the comma between arguments"));
  cross_out(span);
}

bool YamlReader::refuse_properties(const Brackets* around) {
  while (cursor_.peek() == '&' || cursor_.peek() == '!') {
    const YamlSpan property = cursor_.word(around != nullptr);
    const std::string text = quoted_text(source(property));
    if (cursor_.peek() == '&') {
      report(property, "unquoted, " + text + " is an anchor in YAML, and a plan has none",
             "delete it, and give values that are used twice a name under `let`");
    } else {
      report(property, "unquoted, " + text + " is a tag in YAML, and a plan has none", "delete it");
    }
    if (is_behind()) cross_out(property, ' ');
    cursor_.step(property.end - property.begin);
    skip_to_content();
    const char c = cursor_.peek();
    if (cursor_.at_content_end() || (around != nullptr && (c == ',' || c == ']' || c == '}')) || next_is(Kind::null))
      return !is_behind();
  }
  return false;
}

void YamlReader::refuse_start(bool in_brackets) {
  bool balanced = true;
  YamlSpan span = cursor_.rest_of_line();
  if (in_brackets) span = cursor_.unquoted_expression(cursor_.at(), balanced);
  if (!in_brackets && cursor_.at_implicit_key()) span.end = cursor_.plain_end(false);
  if (!balanced) span = cursor_.word(in_brackets);
  const std::string text = source(span);
  const bool is_alias_of_a_name = cursor_.peek() == '*' && is_wide_name(text.substr(1));
  report(
      span,
      cursor_.peek() == '*' ? "unquoted, " + quoted_text(text) + " is an alias in YAML, and a plan has none"
                            : std::string("a text cannot begin with `") + cursor_.peek() + "` unquoted",
      (is_alias_of_a_name ? "write `" + text.substr(1) + "` for what has this name; or, for a pattern, " : std::string()) +
          "put quotes round it: \"" + text + "\"");
  cross_out(span);
}

std::string YamlReader::for_list_as_key(const std::string& list, bool in_brackets) {
  const bool is_readable = list.size() <= 60 && list.find_first_of("\r\n") == std::string::npos;
  const std::string entry = "{ pieces: " + (is_readable ? list : "[A, B]") + ", by: MOTION }";
  return "for several pieces in `move`, write a list: `" + (in_brackets ? "[" + entry + "]" : "- " + entry) + "`";
}

void YamlReader::refuse_question(bool in_brackets) {
  const std::size_t mark = cursor_.at();
  const std::string line = source(cursor_.rest_of_line());
  const std::size_t open = std::min(line.find_first_not_of(" \t", 1), line.size()), close = line.find(']', open);
  const bool is_list = line[open] == '[' && close != std::string::npos;
  fail({mark, mark + 1}, "`? ` begins a complex key, and the keys of a plan are words",
       is_list ? for_list_as_key(line.substr(open, close + 1 - open), in_brackets) : "write `key: value`");
}

void YamlReader::explain(const Brackets* around) {
  const char c = cursor_.peek();
  const YamlSpan here{cursor_.at(), cursor_.at() + 1};
  if (c == '"') mend_escape();
  if (cursor_.is_question()) refuse_question(around != nullptr);
  if (cursor_.is_dash() && around != nullptr)
    fail(here, "a `- ` list cannot stand inside brackets", "write its entries in [ ], with commas");
  if (c == ':' && cursor_.is_space_at(1)) fail(here, "a key is missing before this colon", "write `key: value`");
  if (c == '*' || c == '%' || c == '@' || c == '`' || c == '?' || (around != nullptr && (c == '|' || c == '>')))
    refuse_start(around != nullptr);
  if (around == nullptr && (c == ',' || c == ']' || c == '}'))
    fail(here, std::string("`") + c + "` without its opening bracket", "delete it, or write the opening bracket");
  if ((c == '"' || c == '\'') && cursor_.closing_quote(here.begin, here.end) == source_.text().size())
    fail(here, "this quote is never closed", "write the same quote at the end of the text");
  if (around != nullptr) refuse_broken_text(*around);
  fail_here();
}

/// A plain text that goes on with a bracket; or in the next line, up to a colon: the bracket before it was never closed.
void YamlReader::refuse_broken_text(const Brackets& around) {
  const YamlCursor::Spot begin = cursor_.spot();
  Node text;
  text.begin = begin.at;
  cursor_.step(cursor_.plain_end(true) - begin.at);
  if (cursor_.at() > begin.at) check_expression(text);
  cursor_.go_to(begin);
  for (std::size_t before = begin.at + 1; cursor_.at() != before && !cursor_.at_content_end();) {
    before = cursor_.at();
    cursor_.step(cursor_.plain_end(true) - before);
    skip_to_content();
    if (cursor_.peek() != ':' || source_.line(cursor_.at()) == source_.line(begin.at)) continue;
    Node key;
    key.kind = Node::Kind::scalar;
    key.begin = begin.at;
    check_flow_key(key, around);
  }
  cursor_.go_to(begin);
}

bool YamlReader::check_key(const Node::Entry& entry, bool is_null, std::unordered_map<std::string, std::size_t>& seen) {
  const YamlSpan span{entry.key_begin, entry.key_end};
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

}  // namespace cutproof
