// SPDX-License-Identifier: GPL-3.0-or-later
// Names of the parts of a piece while a cut with many planes goes through it: a parent and a digit. A piece that is cut 135
// times has a name of 270 characters, and most parts on the way are cut again.
#pragma once

#include <memory>
#include <string>
#include <utility>
#include <vector>

namespace cutproof {

class PieceName {
 public:
  PieceName(std::string root) : node_(std::make_shared<Node>(std::move(root), nullptr)) {}
  /// `T.1` or `T.2` of `T`.
  PieceName half(int number) const { return PieceName(std::make_shared<Node>("." + std::to_string(number), node_)); }
  std::string text() const {
    std::vector<const std::string*> parts;
    for (const Node* node = node_.get(); node != nullptr; node = node->parent.get()) parts.push_back(&node->own);
    std::string text;
    for (std::size_t i = parts.size(); i-- > 0;) text += *parts[i];
    return text;
  }

 private:
  struct Node {
    std::string own;
    std::shared_ptr<Node> parent;
    Node(std::string text, std::shared_ptr<Node> above) : own(std::move(text)), parent(std::move(above)) {}
    Node(const Node&) = delete;
    Node& operator=(const Node&) = delete;
    ~Node() {  // without recursion: a plan may cut as often as it likes
      while (parent != nullptr && parent.use_count() == 1) {
        std::shared_ptr<Node> above = std::move(parent->parent);
        parent = std::move(above);
      }
    }
  };
  explicit PieceName(std::shared_ptr<Node> node) : node_(std::move(node)) {}

  std::shared_ptr<Node> node_;
};

}  // namespace cutproof
