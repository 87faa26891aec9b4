// SPDX-License-Identifier: GPL-3.0-or-later
// The comments of a text in YAML: whoever writes a plan anew must put them back.
#pragma once

#include "plan/source_text.hpp"

#include <cstddef>
#include <vector>

namespace cutproof {

/// From its `#` to the end of its line, as positions in the text.
struct Comment {
  std::size_t begin = 0, end = 0;
};

/// All comments, in the order of the text, of a tree that was read from it without an error. Every byte of such a text lies
/// in a scalar, in a comment, or is a mark that the tree needs; so what begins with `#` outside of scalars is a comment.
std::vector<Comment> comments_in(const SourceText& source, const Node& root);

}  // namespace cutproof
