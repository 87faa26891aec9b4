// SPDX-License-Identifier: GPL-3.0-or-later
#include "plan/comments.hpp"

#include <algorithm>
#include <utility>

namespace cutproof {

namespace {

class CommentFinder {
 public:
  explicit CommentFinder(const std::string& text) : text_(text) {}

  void pass(const Node& node) {
    if (node.is_scalar()) pass_scalar(node.begin, node.end);
    for (const Node::Entry& entry : node.entries) {
      if (node.is_mapping()) pass_scalar(entry.key_begin, entry.key_end);
      pass(entry.value);
    }
  }

  std::vector<Comment> all() {
    look_up_to(text_.size());
    return std::move(found_);
  }

 private:
  void look_up_to(std::size_t end) {
    while (at_ < end) {
      at_ = std::min(text_.find('#', at_), end);
      if (at_ == end) return;
      const std::size_t behind = line_end(at_);
      found_.push_back({at_, behind});
      at_ = behind;
    }
  }

  void pass_scalar(std::size_t begin, std::size_t end) {
    look_up_to(begin);
    if (begin < end && (text_[begin] == '|' || text_[begin] == '>')) look_up_to(line_end(begin));  // behind the bar
    at_ = std::max(at_, end);
  }

  std::size_t line_end(std::size_t at) const { return std::min(text_.find_first_of("\r\n", at), text_.size()); }

  const std::string& text_;
  std::size_t at_ = 0;
  std::vector<Comment> found_;
};

}  // namespace

std::vector<Comment> comments_in(const SourceText& source, const Node& root) {
  CommentFinder finder(source.text());
  finder.pass(root);
  return finder.all();
}

}  // namespace cutproof
