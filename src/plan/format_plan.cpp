// SPDX-License-Identifier: GPL-3.0-or-later
// The tree is written anew, with each comment at the entry where it stood. What was written is read again and compared, so
// that no plan can be changed by its layout.
#include "plan/format_plan.hpp"

#include "number/errors.hpp"
#include "plan/plan_value.hpp"
#include "plan/write_plan.hpp"

#include <algorithm>
#include <utility>

namespace cutproof {

namespace {

/// Puts comments to the entries of a tree.
class CommentPlacer {
 public:
  CommentPlacer(const SourceText& source, const Node& root, const PlanValue& tree) : text_(source.text()) {
    collect(root, tree, nowhere);
  }

  PlanComments placed(const std::vector<Comment>& comments) {
    PlanComments result;
    result.keeps_lines = true;
    for (const Item& item : items_) {
      const bool apart = blank_line_before(item.begin);
      if (apart && outermost_at(item.begin) == &item) result.at[item.entry].apart = true;
    }
    for (std::size_t i = 0; i < comments.size(); ++i) place(comments, i, &result);
    return result;
  }

 private:
  static constexpr std::size_t nowhere = static_cast<std::size_t>(-1);
  struct Item {
    std::size_t begin, value_begin, end;
    const PlanValue::Entry* entry;
    std::size_t around;  ///< the item that it lies in
  };

  void collect(const Node& node, const PlanValue& tree, std::size_t around) {
    for (std::size_t i = 0; i < node.entries.size(); ++i) {
      const Node::Entry& entry = node.entries[i];
      items_.push_back({node.is_mapping() ? entry.key_begin : entry.value.begin, entry.value.begin, entry.value.end,
                        &tree.entries()[i], around});
      collect(entry.value, tree.entries()[i].value, items_.size() - 1);
    }
  }

  /// The first item that begins at a position or behind it; null at the end.
  const Item* first_from(std::size_t position) const {
    const auto found =
        std::partition_point(items_.begin(), items_.end(), [&](const Item& item) { return item.begin < position; });
    return found == items_.end() ? nullptr : &*found;
  }
  const Item* outermost_at(std::size_t begin) const { return first_from(begin); }

  std::size_t line_begin(std::size_t at) const {
    const std::size_t end_before = at == 0 ? std::string::npos : text_.rfind('\n', at - 1);
    return end_before == std::string::npos ? 0 : end_before + 1;
  }
  bool has_line_of_its_own(const Comment& comment) const {
    const std::size_t begin = line_begin(comment.begin);
    return std::all_of(text_.begin() + static_cast<long>(begin), text_.begin() + static_cast<long>(comment.begin),
                       [](char c) { return c == ' ' || c == '\t' || (static_cast<unsigned char>(c) & 0x80) != 0; });
  }
  /// Whether a blank line stands before what begins at a position.
  bool blank_line_before(std::size_t position) const {
    std::size_t ends = 0;  // of lines with nothing between them
    for (; position > 0; --position) {
      const char before = text_[position - 1];
      if (std::string_view(" \t-\r\n").find(before) == std::string_view::npos) break;
      if (before == '\n' && ++ends > 1) return true;
      if (before == '-') ends = 0;
    }
    return false;
  }
  std::string text_of(const Comment& comment) const {
    std::string text = text_.substr(comment.begin, comment.end - comment.begin);
    while (text.back() == ' ' || text.back() == '\t') text.pop_back();
    return text;
  }

  void place(const std::vector<Comment>& comments, std::size_t number, PlanComments* result) {
    const Comment& comment = comments[number];
    const bool own_line = has_line_of_its_own(comment);
    if (!own_line) {
      if (const Item* item = ended_before(comment)) {
        std::string& behind = result->at[item->entry].behind;
        if (behind.empty()) {
          behind = text_of(comment);
          return;
        }
      }
    }
    const Item* next = own_line ? first_from(comment.end) : outermost_at(last_before(comment).begin);
    const bool apart = own_line && blank_line_before(comment.begin);
    if (next == nullptr) {
      if (apart) result->tail.emplace_back();
      result->tail.push_back(text_of(comment));
      return;
    }
    PlanComments::AtEntry& at = result->at[next->entry];
    if (at.before.empty()) {
      at.before.push_back(text_of(comment));
      if (own_line && std::exchange(at.apart, apart)) at.before.emplace_back();  // between the comment and the entry
      return;
    }
    // A blank line behind the last comment stands at the end so far.
    const bool ends_apart = at.before.back().empty();
    if (ends_apart) at.before.pop_back();
    if (apart && own_line) at.before.emplace_back();
    at.before.push_back(text_of(comment));
    if (ends_apart) at.before.emplace_back();
  }

  const Item& last_before(const Comment& comment) const {
    const auto behind =
        std::partition_point(items_.begin(), items_.end(), [&](const Item& item) { return item.begin < comment.begin; });
    return behind == items_.begin() ? items_.front() : *std::prev(behind);
  }
  /// What ends on the comment's line, before it: the whole of what began on this line, or of what has brackets.
  const Item* ended_before(const Comment& comment) const {
    const Item* item = &last_before(comment);
    if (item->begin > comment.begin || item->value_begin > comment.begin || item->end > comment.begin) return nullptr;
    const std::size_t line = line_begin(comment.begin);
    while (item->around != nowhere) {
      const Item& outer = items_[item->around];
      const bool has_brackets = text_[outer.value_begin] == '[' || text_[outer.value_begin] == '{';
      if (outer.end > comment.begin || (outer.begin < line && !has_brackets)) break;
      item = &outer;
    }
    return item;
  }

  const std::string& text_;
  std::vector<Item> items_;  ///< in the order of the text, outer ones first
};

bool same(const Node& a, const Node& b) {
  return a.kind == b.kind && a.text == b.text &&
         std::equal(a.entries.begin(), a.entries.end(), b.entries.begin(), b.entries.end(),
                    [](const Node::Entry& x, const Node::Entry& y) { return x.key == y.key && same(x.value, y.value); });
}

Document read_or_give_up(const std::string& text, const DocumentLimits& limits) {
  Document document = read_document(text, limits);
  if (!document.diagnostics().empty()) throw InvalidPlan(document.diagnostics(), document.error_count());
  return document;
}

std::vector<std::string> sorted_comments(const Document& document) {
  const std::string& text = dynamic_cast<const SourceText&>(document.places()).text();
  std::vector<std::string> comments;
  for (const Comment& comment : document.comments()) {
    comments.push_back(text.substr(comment.begin, comment.end - comment.begin));
    comments.back().erase(comments.back().find_last_not_of(" \t") + 1);
  }
  std::sort(comments.begin(), comments.end());
  return comments;
}

}  // namespace

std::string formatted_plan(const std::string& text, const DocumentLimits& limits) {
  const Document document = read_or_give_up(text, limits);
  const PlanValue tree = value_of(document.root());
  const auto& source = dynamic_cast<const SourceText&>(document.places());
  std::string result = write_plan(tree, CommentPlacer(source, document.root(), tree).placed(document.comments()));
  DocumentLimits roomier = limits;  // a layout may take more room than another
  roomier.max_bytes = std::max(limits.max_bytes, result.size());
  const Document again = read_document(result, roomier);
  if (!again.diagnostics().empty() || !same(document.root(), again.root()) ||
      sorted_comments(document) != sorted_comments(again))
    throw ToolFault("the plan's new layout does not say the same");
  return result;
}

}  // namespace cutproof
