// SPDX-License-Identifier: GPL-3.0-or-later
// The strict YAML reader behind Document: a recursive descent over the characters.
#pragma once

#include "plan/document.hpp"

#include <unordered_map>

namespace cutproof {

/// Reads a text into a tree. Errors after which reading can go on are added to the diagnostics, and a broken node
/// stands in their place; throws InvalidPlan with all errors found so far where it cannot.
Node read_yaml(const SourceText& source, Diagnostics& diagnostics, const DocumentLimits& limits);

/// The characters of a YAML text and its scalars (yaml_scalars.cpp).
class YamlScanner {
 protected:
  YamlScanner(const SourceText& source, Diagnostics& diagnostics, const DocumentLimits& limits)
      : source_(source), diagnostics_(diagnostics), limits_(limits), text_(source.counted()) {}

  struct Span {
    std::size_t begin, end;
  };

  char peek(std::size_t ahead = 0) const { return at_ + ahead < text_.size() ? text_[at_ + ahead] : '\0'; }
  bool at_end() const { return at_ >= text_.size(); }
  static bool is_blank(char c) { return c == ' ' || c == '\t'; }
  static bool is_break(char c) { return c == '\n' || c == '\r'; }
  static bool is_flow_indicator(char c) { return c == ',' || c == '[' || c == ']' || c == '{' || c == '}'; }
  /// True iff a blank, a line end or the end of the text stands there.
  bool is_space_at(std::size_t ahead) const {
    return at_ + ahead >= text_.size() || is_blank(peek(ahead)) || is_break(peek(ahead));
  }
  bool is_dash() const { return peek() == '-' && is_space_at(1); }
  int column() const { return static_cast<int>(at_ - line_begin_); }
  /// True at `---` or `...` at the beginning of a line.
  bool at_marker() const;
  bool at_content_end() const { return at_end() || at_marker(); }

  /// Records an error and gives up.
  [[noreturn]] void fail(Span span, const std::string& message, const std::string& hint = "");
  void report(Span span, const std::string& message, const std::string& hint = "");
  std::string source(Span span) const { return std::string(text_.substr(span.begin, span.end - span.begin)); }

  void skip_blanks() {
    while (is_blank(peek())) ++at_;
  }
  void skip_break();
  void skip_line();
  /// Skips blanks, comments and line ends up to the next content, a document marker or the end.
  void skip_to_content();
  /// True iff nothing but blanks and a comment is left on this line; does not move.
  bool rest_of_line_is_empty() const;
  Span rest_of_line() const;

  Node scalar_node(std::size_t begin);
  /// Counts one more node against the limit.
  void count_node(std::size_t begin);
  Node quoted_scalar();
  /// A plain scalar whose continuation lines are indented deeper than `parent`; in flow, brackets and commas end it.
  Node plain_scalar(int parent, bool in_flow);
  Node block_scalar(int parent);
  /// Null words of YAML, plain: `null`, `~`.
  static bool is_null_word(const Node& node);
  /// True iff a key and a colon stand here on this line.
  bool at_implicit_key() const;
  /// An expression that YAML would take to pieces: what it spans up to a comma or closing bracket outside its own brackets;
  /// false in `balanced` when its brackets do not match on this line.
  Span unquoted_expression(std::size_t begin, bool& balanced);

  const SourceText& source_;
  Diagnostics& diagnostics_;
  const DocumentLimits& limits_;
  CountedText text_;
  std::size_t at_ = 0, line_begin_ = 0;

 private:
  void double_quoted(Node& node, std::size_t open);
  void single_quoted(Node& node, std::size_t open);
  void escape(Node& node);
  void fold_quoted_lines(Node& node, std::size_t keep, std::size_t open);
  void origin(Node& node) const;
  /// The end of the plain text that begins here, on this line.
  std::size_t plain_end(bool in_flow) const;
  void find_expression_ends(std::size_t begin);
  std::size_t nodes_ = 0;
  /// For every byte of one line, from `ends_begin_`: where an expression that begins there ends, `no_end` if nowhere. Many
  /// expressions of one line may have to be tried, and none is to be walked along again.
  std::vector<std::size_t> ends_;
  std::size_t ends_begin_ = 0;
};

/// Block and flow collections, and the messages for what a plan may not hold.
class YamlReader : YamlScanner {
 public:
  YamlReader(const SourceText& source, Diagnostics& diagnostics, const DocumentLimits& limits)
      : YamlScanner(source, diagnostics, limits) {}
  Node read();

 private:
  /// Counts a level of nesting as long as it lives.
  class Level {
   public:
    explicit Level(YamlReader& reader) : reader_(reader) {
      if (++reader.depth_ > reader.limits_.max_nesting)
        throw PlanLimit("nesting",
                        reader.source_.diagnostic(
                            reader.at_, reader.at_ + 1,
                            "the plan is nested deeper than " + std::to_string(reader.limits_.max_nesting) + " levels",
                            "name the inner solids in `solids` and the inner values in `let`"));
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
  /// Goes to the next entry of a collection that began at `open`; false at its closing bracket. Reports commas without
  /// entries.
  bool next_flow_entry(Node& node, std::size_t open, char closing);
  void flow_separator(Node& value, std::size_t open, char close);
  Node flow_pair(const Node& key, std::size_t open);

  Node collection(Node::Kind kind);
  Node broken(std::size_t begin) const;
  /// Refuses anchors, tags, aliases and characters that cannot begin a text. True iff a broken node stands for the value.
  bool refuse_indicators(bool in_flow, Node& instead);
  /// Refuses keys that have no meaning; `seen` holds the keys of this mapping so far. True iff the key is good.
  bool check_key(const Node::Entry& entry, bool is_null, std::unordered_map<std::string, std::size_t>& seen);
  Node check_null(Node node);

  int depth_ = 0;
};

}  // namespace cutproof
