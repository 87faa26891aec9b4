// SPDX-License-Identifier: GPL-3.0-or-later
#include "plan/comments.hpp"

#include <algorithm>
#include <utility>

namespace cutproof {

namespace {

class CommentFinder {
 public:
  explicit CommentFinder(const SourceText& source) : text_(source.counted()) {}

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
    for (; at_ < end; ++at_) {
      if (text_[at_] != '#') continue;
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

  std::size_t line_end(std::size_t at) const {
    while (at < text_.size() && text_[at] != '\r' && text_[at] != '\n') ++at;
    return at;
  }

  const CountedText text_;  // no byte is looked at twice, and the growth tests count
  std::size_t at_ = 0;
  std::vector<Comment> found_;
};

}  // namespace

std::vector<Comment> comments_in(const SourceText& source, const Node& root) {
  CommentFinder finder(source);
  finder.pass(root);
  return finder.all();
}

}  // namespace cutproof
