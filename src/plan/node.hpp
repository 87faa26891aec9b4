// SPDX-License-Identifier: GPL-3.0-or-later
// A plan as a tree of lists, mappings and texts, whatever it was made from. A tree knows positions, numbers that only the
// Places it came with can interpret: bytes of a text, or paths into a plan that was given as data.
#pragma once

#include "plan/diagnostic.hpp"

#include <cstddef>
#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace cutproof {

struct Frame;
using FramePointer = std::shared_ptr<const Frame>;

/// A value in the tree. `broken` stands where an error was reported already: whoever meets one stays silent.
struct Node {
  enum class Kind { scalar, sequence, mapping, broken };
  Kind kind = Kind::broken;
  bool quoted = false;             ///< a scalar in quotes or a block scalar
  bool damaged = false;            ///< a mapping that lost a key to an error: nothing more can be said about missing keys
  std::string text;                ///< of a scalar, folded and unescaped
  std::size_t begin = 0, end = 0;  ///< positions; `end` is behind the last one
  /// Where the bytes of `text` come from, as (offset in `text`, position); each holds up to the next. Empty where the whole
  /// text stands at one place.
  std::vector<std::pair<std::uint32_t, std::uint32_t>> origins;
  struct Entry;
  std::vector<Entry> entries;  ///< of a sequence (the keys are empty) or mapping, in order
  /// What names mean here beside those of the plan (plan/frame.hpp); null outside of loops and of definitions with
  /// arguments.
  FramePointer frame;
  bool repeats = false;  ///< a list or mapping of which some entries were written as loops: it may have become empty

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

/// The key of an entry of a mapping as a scalar of its own.
inline Node key_node(const Node::Entry& entry) {
  Node key;
  key.kind = Node::Kind::scalar;
  key.text = entry.key;
  key.begin = entry.key_begin;
  key.end = entry.key_end;
  key.frame = entry.value.frame;
  return key;
}

/// What the positions of a tree mean.
class Places {
 public:
  Places() = default;
  Places(const Places&) = delete;
  Places& operator=(const Places&) = delete;
  virtual ~Places() = default;

  virtual TextPlace place(std::size_t position) const = 0;
  /// The place in words, as they stand behind "it was seen first": "in line 6", "at `steps[2].by`".
  virtual std::string in_words(std::size_t position) const = 0;
  /// A diagnostic about what stands between two positions.
  virtual Diagnostic diagnostic(std::size_t begin, std::size_t end, std::string message, std::string hint) const = 0;
  /// The position of a byte of a scalar's text.
  virtual std::size_t origin(const Node& scalar, std::size_t offset) const = 0;
};

}  // namespace cutproof
