// SPDX-License-Identifier: GPL-3.0-or-later
// The document as a whole, values, and what both styles of YAML share.
#include "plan/yaml_reader.hpp"

#include <algorithm>

namespace cutproof {

namespace {

bool is_null_word(std::string_view text) {
  return text == "null" || text == "Null" || text == "NULL" || text == "~";
}

}  // namespace

bool MendedText::holds(std::size_t begin, std::size_t end) const {
  return std::any_of(crossed_out.begin(), crossed_out.end(),
                     [&](const YamlSpan& span) { return span.begin <= end && begin < span.end; });
}

void YamlReader::report(YamlSpan span, const std::string& message, const std::string& hint) {
  problems_.push_back({span, message, hint});
}

void YamlReader::fail(YamlSpan span, const std::string& message, const std::string& hint) {
  report(span, message, hint);
  throw GivenUp{};
}

std::string YamlReader::source(YamlSpan span) const {
  return std::string(source_.counted().substr(span.begin, span.end - span.begin));
}

void YamlReader::expect_end() {
  if (next_is(Kind::end)) {
    ++next_;
  } else if (next() != nullptr && !is_behind()) {
    fail_here();
  }
}

void YamlReader::skip_nulls() {
  while (next_is(Kind::null) && next()->position == cursor_.at()) ++next_;
}

Node YamlReader::collection(Node::Kind kind) {
  Node node;
  node.kind = kind;
  node.begin = cursor_.at();
  return node;
}

Node YamlReader::broken(std::size_t begin) const {
  Node node;
  node.begin = begin;
  node.end = cursor_.at();
  return node;
}

void YamlReader::skip_to_content() {
  for (;;) {
    const std::size_t begin = cursor_.at();
    const bool is_new_line = cursor_.begins_line();
    cursor_.skip_blanks();
    const std::size_t at = cursor_.at();
    if (cursor_.at_end()) return;
    if (cursor_.peek() == '#') {
      if (at == begin && !is_new_line)
        fail({at, at + 1}, "a comment needs a blank before its `#`", "write ` #`, or put quotes round the whole text");
      cursor_.skip_line();
    } else if (YamlCursor::is_break(cursor_.peek())) {
      cursor_.skip_break();
    } else {
      const std::size_t tab = is_new_line ? cursor_.part({begin, at}).find('\t') : std::string_view::npos;
      if (tab != std::string_view::npos)
        fail({begin + tab, begin + tab + 1}, "a tab in the indentation: YAML indents with blanks only",
             "write blanks instead of the tab");
      return;
    }
  }
}

// --- the document ---------------------------------------------------------------------------------------------------------

Node YamlReader::read() {
  if (cursor_.part({0, 3}) == "\xEF\xBB\xBF") cursor_.go_to({3, 3});
  directives();
  bool on_marker_line = false;
  if (cursor_.at_marker() && cursor_.peek() == '-') {
    cursor_.step(3);
    on_marker_line = !cursor_.rest_of_line_is_empty();
  }
  skip_to_content();
  if (cursor_.at_content_end()) fail({cursor_.at(), cursor_.at()}, "the plan is empty", "a plan begins with `cutproof: 1`");
  if (on_marker_line && next() != nullptr && (next_is(Kind::sequence) || next_is(Kind::mapping)) && !next()->in_brackets)
    fail(cursor_.rest_of_line(), "a list or `key: value` behind `---`", "begin a new line after `---`");
  Node root = node(-1, nullptr);
  epilogue();
  if (events_.gave_up) fail_here();
  return root;
}

void YamlReader::directives() {
  bool any = false;
  for (skip_to_content(); cursor_.peek() == '%' && cursor_.begins_line() && !cursor_.at_end(); skip_to_content()) {
    const YamlSpan line = cursor_.rest_of_line();
    const std::string text = source(line);
    const std::size_t version = text.find_first_not_of(' ', 6);
    if (text.compare(0, 6, "%YAML ") != 0 || version == std::string::npos || text.compare(version, 2, "1.") != 0 ||
        version + 2 == text.size() || text.find_first_not_of("0123456789", version + 2) != std::string::npos)
      fail(line, "the directive " + quoted_text(text) + " has no meaning in a plan", "delete it; `%YAML 1.2` is fine");
    if (any) fail(line, "a second %YAML line", "delete it");
    any = true;
    cursor_.step(line.end - line.begin);
    cursor_.skip_line();
  }
  if (any && !(cursor_.at_marker() && cursor_.peek() == '-'))
    fail({cursor_.at(), cursor_.at()}, "after a %YAML line a line `---` must begin the document",
         "write `---` before this line");
}

void YamlReader::epilogue() {
  skip_to_content();
  if (!cursor_.at_content_end())
    fail(cursor_.rest_of_line(), "this text stands after the end of the document, or its indentation fits nothing above it",
         "delete it, or indent it like the lines it belongs to");
  const std::string message = "this text stands after the end of the document";
  while (cursor_.at_marker() && cursor_.peek() == '.') {
    cursor_.step(3);
    if (!cursor_.rest_of_line_is_empty()) fail(cursor_.rest_of_line(), message, "delete it");
    skip_to_content();
  }
  if (cursor_.at_marker())
    fail({cursor_.at(), cursor_.at() + 3}, "a second document begins here, and a plan is one document",
         "delete this line, or put the rest in a file of its own");
  if (!cursor_.at_end()) fail(cursor_.rest_of_line(), message, "delete it");
}

// --- values ---------------------------------------------------------------------------------------------------------------

Node YamlReader::node(int parent, const Brackets* around) {
  const std::size_t first = cursor_.at();
  if (refuse_properties(around)) {
    if (next_is(Kind::null)) ++next_;
    return broken(first);
  }
  // Where yaml-cpp gave up inside brackets it may have told of a mapping of which they are a key.
  while (events_.gave_up && around != nullptr && next_is(Kind::mapping) && next_ + 1 < events_.list.size() &&
         events_.list[next_ + 1].in_brackets && events_.list[next_ + 1].position == next()->position)
    ++next_;
  const YamlEvent* event = next();
  if (event == nullptr || event->kind == Kind::end) explain(around);
  if (event->kind == Kind::null && !at_null_word(around != nullptr)) explain(around);
  if (event->kind == Kind::alias) refuse_start(around != nullptr);
  if (event->position != cursor_.at() && event->position != first) explain(around);
  if (event->kind == Kind::null) return null_word(around);
  if (event->kind == Kind::scalar) {
    Node found = scalar(parent, around);
    if (around != nullptr || found.is_broken()) return found;
    if (cursor_.begins_line()) return found;  // behind a block scalar
    if (found.quoted) return end_of_line(std::move(found));
    refuse_second_colon(found);
    return found;
  }
  const char c = cursor_.peek();
  if (around != nullptr) {
    if (c == '[' && event->kind == Kind::sequence) return flow_sequence();
    if (event->kind != Kind::mapping) explain(around);
    return c == '{' ? flow_mapping() : flow_pair(*around);
  }
  if (c == '[' || c == '{') {
    if (!event->in_brackets) ++next_;  // a mapping of which this is the first key
    if (next() == nullptr || !next()->in_brackets) fail_here();
    return end_of_line(c == '[' ? flow_sequence() : flow_mapping());
  }
  if (first != cursor_.at() && first >= cursor_.line_begin())
    fail({first, cursor_.at()}, "after an anchor or a tag the plan cannot be read on", "delete it");
  if (event->kind == Kind::sequence && cursor_.is_dash()) return block_sequence(cursor_.column() == parent);
  if (event->kind != Kind::mapping || event->in_brackets) explain(around);
  return block_mapping();
}

Node YamlReader::scalar(int parent, const Brackets* around) {
  const std::size_t begin = cursor_.at();
  if (cursor_.peek() == '"') mend_escape();
  Node node;
  const auto trouble = cursor_.pass_scalar(next()->text, parent, node);
  if (trouble == YamlCursor::Trouble::unclosed_quote)
    fail({begin, begin + 1}, "this quote is never closed", "write the same quote at the end of the text");
  if (trouble == YamlCursor::Trouble::bad_escape)
    refuse_escape({cursor_.at(), cursor_.at() + 2}, {begin, cursor_.closing_quote(begin, cursor_.at())});
  if (trouble == YamlCursor::Trouble::text_behind_bar)
    fail({begin, cursor_.rest_of_line().end}, "a text after `|` or `>` begins on the next line",
         "put quotes round the text");
  if (trouble == YamlCursor::Trouble::tab) {
    const std::size_t tab = cursor_.line_begin() + cursor_.part({cursor_.line_begin(), cursor_.at()}).find('\t');
    fail({tab, tab + 1}, "a tab in the indentation: YAML indents with blanks only", "write blanks instead of the tab");
  }
  if (trouble != YamlCursor::Trouble::none) {
    cursor_.go_to({begin, begin});
    fail_here();
  }
  ++next_;
  if (is_crossed_out(node)) return broken(begin);
  if (around != nullptr && !node.quoted) check_expression(node);
  return node;
}

bool YamlReader::at_null_word(bool in_brackets) const {
  if (next_ + 1 < events_.list.size()) {
    const YamlEvent& behind = events_.list[next_ + 1];
    if (behind.kind != Kind::end && behind.position == next()->position) return false;
  }
  return is_null_word(cursor_.part({cursor_.at(), cursor_.plain_end(in_brackets)}));
}

Node YamlReader::null_word(const Brackets* around) {
  const YamlSpan span{cursor_.at(), cursor_.plain_end(around != nullptr)};
  ++next_;
  cursor_.step(span.end - span.begin);
  report(span, "`" + source(span) + "` is YAML's null, and a plan has none",
         "write a value, or put quotes round it if it is a name");
  return broken(span.begin);
}

Node YamlReader::key_of_null() {
  Node key = collection(Node::Kind::scalar);
  ++next_;
  cursor_.step(cursor_.plain_end(true) - key.begin);
  key.end = cursor_.at();
  key.text = source({key.begin, key.end});
  return key;
}

// --- all of it ------------------------------------------------------------------------------------------------------------

Node read_yaml(const SourceText& source, Diagnostics& diagnostics, const DocumentLimits& limits) {
  MendedText mended{source.text(), {}, {}};
  // YAML lets a carriage return end a line by itself, and yaml-cpp does not.
  for (std::size_t at = mended.text.find('\r'); at != std::string::npos; at = mended.text.find('\r', at + 1))
    if (at + 1 == mended.text.size() || mended.text[at + 1] != '\n') {
      diagnostics.error(at, at, "a carriage return stands here without a line feed",
                        "end each line with a line feed, or with both");
      diagnostics.give_up();
    }
  for (;;) {
    std::vector<YamlProblem> problems = mended.problems;
    const auto tell = [&] {
      std::stable_sort(problems.begin(), problems.end(),
                       [](const YamlProblem& a, const YamlProblem& b) { return a.span.begin < b.span.begin; });
      for (YamlProblem& each : problems)
        diagnostics.error(each.span.begin, each.span.end, std::move(each.message), std::move(each.hint));
    };
    const auto before = [&](std::size_t end) {
      return yaml_events(mended.text.substr(0, end) + "\n#\n", source, limits);  // so that its last value ends
    };
    YamlEvents events = yaml_events(mended.text, source, limits);
    if (events.gave_up) {
      // What stands before, once more: yaml-cpp looks ahead, and its complaint may come before it has told of all that.
      const bool bad_escape = events.bad_escape;
      const std::size_t complaint = events.complaint;
      std::size_t end = bad_escape && complaint >= 2 ? mended.text.rfind('\\', complaint - 2) : complaint;
      events = before(end);
      if (events.gave_up && events.complaint <= end && !bad_escape) {  // it complained of what stands before it
        while (end > 0 && !YamlCursor::is_blank(mended.text[end - 1]) && !YamlCursor::is_break(mended.text[end - 1]) &&
               !YamlCursor::is_flow_indicator(mended.text[end - 1]))
          --end;
        events = before(end);
      }
      events.gave_up = true;
      events.complaint = complaint;
      events.end = end;
      events.bad_escape = bad_escape;
    }
    try {
      Node root = YamlReader(source, mended, events, problems).read();
      tell();
      return root;
    } catch (const YamlReader::Again&) {
    } catch (const YamlReader::GivenUp&) {
      tell();
      diagnostics.give_up();
    }
  }
}

}  // namespace cutproof
