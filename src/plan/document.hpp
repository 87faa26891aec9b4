// SPDX-License-Identifier: GPL-3.0-or-later
// The YAML of a plan as a tree that keeps every place, read strictly: nothing is dropped, guessed, aliased or null.
//
// This is a reader of our own rather than yaml-cpp's, which ignores text after a document, accepts quotes that never close,
// reads `[A, , B]` and `{a, b}` with nulls in them, keeps doubled keys, and gives no places of keys and no ends of anything.
// What is accepted here is YAML 1.2 with the same meaning as in every other reader (tests/plan compares with yaml-cpp).
#pragma once

#include "plan/diagnostic.hpp"

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace cutproof {

struct DocumentLimits {
  std::size_t max_bytes = 16u << 20;
  int max_nesting = 100;
  std::size_t max_nodes = 1000000;
};

/// A value in the tree. `broken` stands where an error was reported already: whoever meets one stays silent.
struct Node {
  enum class Kind { scalar, sequence, mapping, broken };
  Kind kind = Kind::broken;
  bool quoted = false;             ///< a scalar in quotes or a block scalar
  bool damaged = false;            ///< a mapping that lost a key to an error: nothing more can be said about missing keys
  std::string text;                ///< of a scalar, folded and unescaped
  std::size_t begin = 0, end = 0;  ///< bytes in the document's text
  /// Where the bytes of `text` come from, as (offset in `text`, offset in the document); each holds up to the next.
  std::vector<std::pair<std::uint32_t, std::uint32_t>> origins;
  struct Entry;
  std::vector<Entry> entries;  ///< of a sequence (the keys are empty) or mapping, in order

  bool is_scalar() const { return kind == Kind::scalar; }
  bool is_sequence() const { return kind == Kind::sequence; }
  bool is_mapping() const { return kind == Kind::mapping; }
  bool is_broken() const { return kind == Kind::broken; }
  /// The value of a key; null when a mapping has no such key.
  const Node* find(std::string_view key) const;
};

struct Node::Entry {
  std::string key;
  std::size_t key_begin = 0, key_end = 0;
  Node value;
};

/// A text, its tree and the errors found in it so far.
class Document {
 public:
  /// Throws InvalidPlan when the text cannot be read at all; errors after which reading can go on are in `diagnostics`.
  /// Throws PlanLimit (`plan-size`, `nesting`, `nodes`).
  explicit Document(std::string text, DocumentLimits limits = {});

  const Node& root() const { return root_; }
  const std::string& text() const { return text_; }
  std::vector<Diagnostic>& diagnostics() { return diagnostics_; }
  std::size_t error_count() const { return error_count_; }

  TextPlace place(std::size_t offset) const;
  TextPlace place(const Node& node) const { return place(node.begin); }
  /// A diagnostic that underlines the text between two bytes (its first line).
  Diagnostic diagnostic(std::size_t begin, std::size_t end, std::string message, std::string hint = "") const;
  /// Adds an error; beyond the first 100 it is only counted.
  void error(std::size_t begin, std::size_t end, std::string message, std::string hint = "");
  /// Where a byte of a scalar's text stands in the document.
  std::size_t origin(const Node& scalar, std::size_t offset) const;

 private:
  std::string_view line_at(std::size_t line) const;
  std::string text_;
  std::vector<std::size_t> line_starts_;
  Node root_;
  std::vector<Diagnostic> diagnostics_;
  std::size_t error_count_ = 0;
  mutable std::size_t last_offset_ = 0, last_line_ = 0, last_column_ = 1;
};

/// Strangers' text inside a message: shortened to a readable length, on one line, in back quotes.
std::string quoted_text(std::string_view text);

}  // namespace cutproof
