// SPDX-License-Identifier: GPL-3.0-or-later
// Errors are collected, and a text becomes a document.
#include "plan/document.hpp"

#include "plan/frame.hpp"
#include "plan/yaml_reader.hpp"

namespace cutproof {

namespace {

constexpr std::size_t most_diagnostics = 100;

}  // namespace

const Node* Node::find(std::string_view key) const {
  for (const Entry& entry : entries)
    if (entry.key == key) return &entry.value;
  return nullptr;
}

void Diagnostics::error(std::size_t begin, std::size_t end, std::string message, std::string hint) {
  if (++count_ <= most_diagnostics) found_.push_back(places_->diagnostic(begin, end, std::move(message), std::move(hint)));
}

void Diagnostics::error(Diagnostic diagnostic) {
  if (++count_ <= most_diagnostics) found_.push_back(std::move(diagnostic));
}

TextPlace Document::place(const Node& node) const {
  TextPlace result = places_->place(node.begin);
  result.pass = pass_of(node.frame);
  return result;
}

void Diagnostics::give_up() const {
  throw InvalidPlan(found_, count_);
}

Document read_document(std::string text, const DocumentLimits& limits) {
  auto source = std::make_unique<const SourceText>(std::move(text), limits.max_bytes);
  Diagnostics diagnostics(*source);
  Node root = read_yaml(*source, diagnostics, limits);
  std::vector<Comment> comments;
  if (diagnostics.empty()) comments = comments_in(*source, root);
  return Document(std::move(source), std::move(root), std::move(diagnostics), std::move(comments));
}

}  // namespace cutproof
