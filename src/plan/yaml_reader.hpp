// SPDX-License-Identifier: GPL-3.0-or-later
// The strict reader of YAML: yaml-cpp's events make the tree, and every byte of the text must lie in a value that they tell
// of, in a comment, or be the mark that the tree needs in this place. Nothing that yaml-cpp swallows passes this rule.
#pragma once

#include "plan/yaml_cursor.hpp"
#include "plan/yaml_events.hpp"

#include <unordered_map>

namespace cutproof {

/// Reads a text into a tree. Errors after which reading can go on are added to the diagnostics, and a broken node
/// stands in their place; throws InvalidPlan with all errors found so far where it cannot.
Node read_yaml(const SourceText& source, Diagnostics& diagnostics, const DocumentLimits& limits);

/// An error, not yet told.
struct YamlProblem {
  YamlSpan span;
  std::string message, hint;
};

/// A text in which what cannot be read has been crossed out, to be read once more for its other errors.
struct MendedText {
  std::string text;  ///< as long as the source
  std::vector<YamlSpan> crossed_out;
  std::vector<YamlProblem> problems;  ///< those for which something was crossed out
  bool holds(std::size_t begin, std::size_t end) const;
};

/// One walk along a text and its events.
class YamlReader {
 public:
  /// Thrown when something more was crossed out.
  struct Again {};
  /// Thrown when nothing more can be said.
  struct GivenUp {};

  /// The events may end at `events.end`, before which yaml-cpp had no complaint.
  YamlReader(const SourceText& source, MendedText& mended, const YamlEvents& events, std::vector<YamlProblem>& problems)
      : source_(source), mended_(mended), events_(events), problems_(problems), cursor_(source.counted(mended.text)) {}
  Node read();

 private:
  using Kind = YamlEvent::Kind;
  /// The collection in brackets around a value: where it was opened.
  struct Brackets {
    std::size_t open;
  };

  void report(YamlSpan span, const std::string& message, const std::string& hint = "");
  [[noreturn]] void fail(YamlSpan span, const std::string& message, const std::string& hint = "");
  /// Crosses out what was reported last: text by letters, an anchor or tag by blanks.
  [[noreturn]] void cross_out(YamlSpan span, char by = 'x');
  [[noreturn]] void fail_here();
  std::string source(YamlSpan span) const;
  bool is_crossed_out(const Node& node) const { return mended_.holds(node.begin, node.begin); }

  const YamlEvent* next() const { return next_ < events_.list.size() ? &events_.list[next_] : nullptr; }
  bool next_is(Kind kind) const { return next() != nullptr && next()->kind == kind; }
  void expect_end();
  /// Passes over the nulls that stand for what is missing here.
  void skip_nulls();
  /// True where yaml-cpp gave up before or at the cursor.
  bool is_behind() const { return events_.gave_up && cursor_.at() >= events_.end; }

  void directives();
  void epilogue();
  void skip_to_content();
  Node broken(std::size_t begin) const;
  Node collection(Node::Kind kind);

  /// The value at the cursor. `parent` is the column of the block around it, `around` its brackets, null in a block.
  Node node(int parent, const Brackets* around);
  Node scalar(int parent, const Brackets* around);
  void mend_escape();
  [[noreturn]] void refuse_escape(YamlSpan span, YamlSpan quoted);
  void check_expression(const Node& node);
  Node null_word(const Brackets* around);
  /// The null word at the cursor as a key, which `check_key` refuses.
  Node key_of_null();
  bool at_null_word(bool in_brackets) const;
  /// Goes over anchors and tags, which are refused. True iff nothing follows them.
  bool refuse_properties(const Brackets* around);
  [[noreturn]] void refuse_start(bool in_brackets);
  [[noreturn]] void explain(const Brackets* around);
  /// At a `? `, which begins a key that is more than a word.
  [[noreturn]] void refuse_question(bool in_brackets);
  /// What to write instead of a key that is a list.
  static std::string for_list_as_key(const std::string& list, bool in_brackets);
  void refuse_broken_text(const Brackets& around);

  Node block_value(int parent, bool in_mapping, YamlSpan owner);
  Node block_sequence(bool shares_indent);
  Node block_mapping();
  Node::Entry block_key(bool& good);
  void check_block_line(int indent, bool of_mapping);
  Node end_of_line(Node node);
  void refuse_second_colon(const Node& node);

  Node flow_sequence();
  Node flow_mapping();
  Node flow_pair(const Brackets& brackets);
  Node flow_value(YamlSpan key, const Brackets& brackets);
  void check_flow_key(const Node& key, const Brackets& brackets);
  bool next_flow_entry(Node& node, std::size_t open, char closing);
  void flow_separator(const Node& value, std::size_t open, char close);

  /// Refuses keys that have no meaning; `seen` holds the keys of this mapping so far. True iff the key is good.
  bool check_key(const Node::Entry& entry, bool is_null, std::unordered_map<std::string, std::size_t>& seen);

  const SourceText& source_;
  MendedText& mended_;
  const YamlEvents& events_;
  std::vector<YamlProblem>& problems_;
  YamlCursor cursor_;
  std::size_t next_ = 0;
};

}  // namespace cutproof
