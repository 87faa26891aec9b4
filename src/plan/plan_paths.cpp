// SPDX-License-Identifier: GPL-3.0-or-later
#include "plan/plan_paths.hpp"

#include "plan/yaml_reader.hpp"

#include <algorithm>
#include <iterator>

namespace cutproof {

namespace {

std::string step_to(const Node& node, const Node::Entry& entry, bool is_root) {
  if (node.is_sequence()) return "[" + std::to_string(&entry - node.entries.data()) + "]";
  static const char* const word = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_-";
  if (entry.key.find_first_not_of(word) != std::string::npos) return "[\"" + entry.key + "\"]";
  return (is_root ? "" : ".") + entry.key;
}

}  // namespace

PlanPaths::PlanPaths(const std::string& text) {
  try {
    source_.emplace(text, text.size());
    Diagnostics diagnostics(*source_);
    root_ = read_yaml(*source_, diagnostics, {});
  } catch (const InvalidPlan&) {
  } catch (const PlanLimit&) {
  }
}

std::string PlanPaths::at(const TextPlace& place, int length) const {
  if (!source_ || place.line <= 0) return "";
  const auto is_before = [&](std::size_t position) {
    const TextPlace begin = source_->place(position);
    return begin.line != place.line ? begin.line < place.line : begin.column <= place.column;
  };
  std::string path;
  for (const Node* node = &root_; node->is_sequence() || node->is_mapping();) {
    const auto behind = std::partition_point(node->entries.begin(), node->entries.end(), [&](const Node::Entry& entry) {
      return is_before(node->is_mapping() ? entry.key_begin : entry.value.begin);
    });
    if (behind == node->entries.begin()) break;
    const Node::Entry* inside = &*std::prev(behind);
    const TextPlace end = source_->place(inside->value.end);
    if (end.line < place.line || (end.line == place.line && end.column < place.column)) break;  // of what was left out
    if (node->is_mapping() && inside == &node->entries.front() && !is_before(inside->value.begin)) {
      // The key, or the mapping that begins with it.
      const std::size_t key_length = inside->key_end - inside->key_begin;
      if (node->begin == inside->key_begin && static_cast<std::size_t>(std::max(length, 0)) > key_length) break;
    }
    path += step_to(*node, *inside, node == &root_);
    if (!is_before(inside->value.begin)) break;
    node = &inside->value;
  }
  return path;
}

}  // namespace cutproof
