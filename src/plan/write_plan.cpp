// SPDX-License-Identifier: GPL-3.0-or-later
// Plans as YAML that is good to read: short values in brackets, longer ones as blocks, quotes only where they are needed.
#include "plan/write_plan.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <cstdio>
#include <set>
#include <string_view>
#include <utility>

namespace cutproof {

namespace {

constexpr std::size_t widest = 100;         // columns
constexpr std::size_t comments_begin = 40;  // comments behind entries stand below each other up to this column

std::size_t width(std::string_view text) {
  return static_cast<std::size_t>(
      std::count_if(text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }));
}

bool is_word(char c) {
  return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_';
}

/// True where a text means itself without quotes, in brackets and as a key too. Errs on the side of quotes.
bool is_plain(std::string_view text) {
  static const std::string_view others = " .+-*/^()=<>;!";
  if (text.empty() || text.back() == ' ' || text == "null" || text == "Null" || text == "NULL") return false;
  const std::string_view behind_minus = text.front() == '-' ? text.substr(1) : text;
  if (behind_minus.empty() || (!is_word(behind_minus.front()) && behind_minus.front() != '(')) return false;
  int open = 0;
  for (const char c : text) {
    if (!is_word(c) && others.find(c) == std::string_view::npos) return false;
    open += c == '(' ? 1 : c == ')' ? -1 : 0;
    if (open < 0) return false;
  }
  return open == 0;
}

/// The length of a code point at the front that could not stand in a plan, or would change there: 0 for all others.
std::size_t must_escape(std::string_view text) {
  const auto byte = [&](std::size_t at) { return at < text.size() ? static_cast<unsigned char>(text[at]) : 0u; };
  if (byte(0) < 0x20 || byte(0) == 0x7F) return 1;
  if (byte(0) == 0xC2 && byte(1) >= 0x80 && byte(1) < 0xA0) return 2;                        // C1 controls
  if (byte(0) == 0xE2 && byte(1) == 0x80 && (byte(2) == 0xA8 || byte(2) == 0xA9)) return 3;  // line ends of Unicode
  if (byte(0) == 0xEF && byte(1) == 0xBB && byte(2) == 0xBF) return 3;                       // a byte order mark
  if (byte(0) == 0xEF && byte(1) == 0xBF && byte(2) >= 0xBE) return 3;                       // no characters
  return 0;
}

std::string in_quotes(std::string_view text) {
  std::string result = "\"";
  while (!text.empty()) {
    std::size_t length = must_escape(text);
    if (length > 0) {
      unsigned code = static_cast<unsigned char>(text[0]);
      if (length > 1) code &= length == 2 ? 0x1Fu : 0x0Fu;
      for (std::size_t i = 1; i < length; ++i) code = code << 6 | (static_cast<unsigned char>(text[i]) & 0x3Fu);
      std::array<char, 8> escape = {};
      std::snprintf(escape.data(), escape.size(), "\\u%04X", code);
      result += text[0] == '\n' ? "\\n" : text[0] == '\t' ? "\\t" : escape.data();
    } else {
      if (text[0] == '"' || text[0] == '\\') result += '\\';
      result += text[0];
      length = 1;
    }
    text.remove_prefix(length);
  }
  return result + "\"";
}

std::string scalar(std::string_view text) {
  return is_plain(text) ? std::string(text) : in_quotes(text);
}

/// On one line.
std::string in_brackets(const PlanValue& value) {
  if (value.kind() == PlanValue::Kind::text) return scalar(value.text());
  const bool is_mapping = value.kind() == PlanValue::Kind::mapping;
  if (value.entries().empty()) return is_mapping ? "{}" : "[]";
  std::string result;
  for (const PlanValue::Entry& entry : value.entries()) {
    if (!result.empty()) result += ", ";
    if (is_mapping) result += scalar(entry.key) + ": ";
    result += in_brackets(entry.value);
  }
  return is_mapping ? "{ " + result + " }" : "[" + result + "]";
}

/// True where a text means itself without quotes behind a key or a dash. Errs on the side of quotes.
bool is_plain_in_block(std::string_view text) {
  if (is_plain(text)) return true;
  if (text.empty() || text.back() == ' ' || text.back() == ':') return false;
  if (!is_word(text.front()) && text.front() != '(') return false;
  if (text.find(": ") != std::string_view::npos || text.find(" #") != std::string_view::npos) return false;
  for (; !text.empty(); text.remove_prefix(1))
    if (must_escape(text) > 0) return false;
  return true;
}

/// Whether a text of several lines can stand below a bar.
bool is_literal(std::string_view text) {
  const std::size_t lines_end = text.back() == '\n' ? text.size() - 1 : text.size();
  if (lines_end == 0 || text[lines_end - 1] == '\n') return false;
  bool begins_line = true;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (begins_line && text[i] == ' ') return false;
    begins_line = text[i] == '\n';
    if (i == 0 && begins_line) return false;
    if (!begins_line && must_escape(text.substr(i)) > 0) return false;
  }
  return true;
}

class Writer {
 public:
  explicit Writer(const PlanComments& comments) : comments_(comments) {}

  std::string write(const PlanValue& root) {
    for (const std::string& line : comments_.head) text_ += line + '\n';
    if (root.kind() != PlanValue::Kind::mapping || root.entries().empty()) {
      text_ += in_brackets(root) + '\n';
    } else {
      for (const PlanValue::Entry& section : root.entries()) note_inner_comments(section);
      for (const PlanValue::Entry& section : root.entries())
        write_key(section, 0, is_long(section), /*is_first=*/text_.empty());
    }
    for (const std::string& line : comments_.tail) text_ += line + '\n';
    return with_comments_aligned();
  }

 private:
  /// A comment behind an entry, which blanks are still missing before.
  struct Behind {
    std::size_t at, block,
        width;  ///< the place in the text, the block that its entry is of, and the width of its line so far
  };

  /// The comments behind the entries of one block stand below each other, where their lines are short enough.
  std::string with_comments_aligned() const {
    std::map<std::size_t, std::size_t> columns;  // of blocks
    for (const Behind& each : behind_)
      if (each.width + 2 <= comments_begin) columns[each.block] = std::max(columns[each.block], each.width + 2);
    std::string result;
    std::size_t done = 0;
    for (const Behind& each : behind_) {
      const auto column = columns.find(each.block);
      result.append(text_, done, each.at - done);
      result.append(std::max(column == columns.end() ? 0 : column->second, each.width + 2) - each.width, ' ');
      done = each.at;
    }
    return result.append(text_, done);
  }

  /// A section that has its entries line by line.
  bool is_long(const PlanValue::Entry& section) const {
    const auto& entries = section.value.entries();
    if (section.value.kind() == PlanValue::Kind::list)
      return (!comments_.keeps_lines || section.key == "steps") &&
             std::any_of(entries.begin(), entries.end(),
                         [](const PlanValue::Entry& entry) { return entry.value.kind() == PlanValue::Kind::mapping; });
    return entries.size() > 1;
  }

  const PlanComments::AtEntry* comments_at(const PlanValue::Entry& entry) const {
    const auto found = comments_.at.find(&entry);
    return found == comments_.at.end() ? nullptr : &found->second;
  }

  /// Notes the values that do not stand on one line because of what stands in them; true when the entry makes that so.
  bool note_inner_comments(const PlanValue::Entry& entry) {
    const std::string& text = entry.value.text();
    const bool are_moves = entry.key == "move" && entry.value.kind() == PlanValue::Kind::mapping;
    const bool has_lines = text.find('\n') != std::string::npos && is_literal(text);
    // A motion is looked for by its piece: each has a line of its own.
    bool inside = comments_.keeps_lines && (has_lines || (are_moves && entry.value.entries().size() > 1));
    for (const PlanValue::Entry& each : entry.value.entries()) inside = note_inner_comments(each) || inside;
    if (inside) by_lines_.insert(&entry.value);
    const PlanComments::AtEntry* own = comments_at(entry);
    if (own == nullptr) return inside;
    const bool has_line =
        std::any_of(own->before.begin(), own->before.end(), [](const std::string& line) { return !line.empty(); });
    return inside || has_line || !own->behind.empty();
  }

  /// Adds a value's form on one line, unless the line would be too long.
  bool add_short(const PlanValue& value, std::string* line) const {
    if (by_lines_.count(&value) != 0 || shortest(value) > widest) return false;
    const std::string form = value.kind() == PlanValue::Kind::text ? text_form(value.text()) : in_brackets(value);
    if (width(*line) + width(form) > widest && !value.entries().empty()) return false;
    *line += form;
    return true;
  }
  std::string text_form(const std::string& text) const {
    return comments_.keeps_lines && is_plain_in_block(text) ? text : scalar(text);
  }
  /// A lower bound of the width on one line, found without looking at more than is needed.
  static std::size_t shortest(const PlanValue& value) {
    if (value.entries().empty()) return 0;
    std::size_t sum = 2 * value.entries().size();
    for (const PlanValue::Entry& entry : value.entries()) {
      if (sum > widest) break;
      sum += entry.key.size() / 4 + entry.value.text().size() / 4 + shortest(entry.value);
    }
    return sum;
  }

  void write_before(const PlanValue::Entry& entry, std::size_t indent, bool apart, bool is_first) {
    const PlanComments::AtEntry* own = comments_at(entry);
    if (!is_first && (apart || (own != nullptr && own->apart))) text_ += '\n';
    if (own == nullptr) return;
    for (const std::string& line : own->before) text_ += line.empty() ? "\n" : std::string(indent, ' ') + line + '\n';
  }
  /// Writes the one line of an entry, and what stands behind it; one that takes several lines has it before them.
  void write_line(const std::string& line, const PlanValue::Entry& entry, std::size_t block) {
    text_ += line;
    const PlanComments::AtEntry* own = comments_at(entry);
    if (own != nullptr && !own->behind.empty()) {
      behind_.push_back({text_.size(), block, width(line)});
      text_ += own->behind;
    }
    text_ += '\n';
  }
  void write_behind_before(const PlanValue::Entry& entry, std::size_t indent) {
    const PlanComments::AtEntry* own = comments_at(entry);
    if (own != nullptr && !own->behind.empty()) text_ += std::string(indent, ' ') + own->behind + '\n';
  }

  void write_key(const PlanValue::Entry& entry, std::size_t indent, bool by_lines, bool is_first, std::size_t block = 0) {
    const bool is_section = indent == 0;
    write_before(entry, indent, is_section && by_lines, is_first);
    const std::string key = std::string(indent, ' ') + scalar(entry.key) + ":";
    std::string line = key + ' ';
    const PlanValue& value = entry.value;
    const bool fits = (value.entries().empty() || !by_lines) && add_short(value, &line);
    if (fits) {
      write_line(line, entry, block);
    } else if (value.entries().empty()) {
      write_literal(key, value.text(), indent, entry);
    } else {
      write_behind_before(entry, indent);
      text_ += key + '\n';
      write_entries(value, indent + 2, /*are_steps=*/comments_.keeps_lines && entry.key == "steps");
    }
  }

  void write_literal(const std::string& opening, const std::string& text, std::size_t indent,
                     const PlanValue::Entry& entry) {
    write_behind_before(entry, indent);
    text_ += opening + (text.back() == '\n' ? " |\n" : " |-\n");
    for (std::size_t begin = 0; begin < text.size();) {
      const std::size_t end = std::min(text.find('\n', begin), text.size());
      if (end > begin) text_ += std::string(indent + 2, ' ') + text.substr(begin, end - begin);
      text_ += '\n';
      begin = end + 1;
    }
  }

  void write_entries(const PlanValue& value, std::size_t indent, bool are_steps = false) {
    const std::size_t block = ++blocks_;
    bool is_first = true;
    for (const PlanValue::Entry& entry : value.entries()) {
      if (value.kind() == PlanValue::Kind::mapping) {
        write_key(entry, indent, false, is_first, block);
      } else {
        write_item(entry, indent, is_first, block, are_steps);
      }
      is_first = false;
    }
  }

  /// A step with a title has a line for each of its keys, and one with a single key needs no braces.
  static bool is_step_by_lines(const PlanValue& step) {
    const auto& entries = step.entries();
    return step.kind() == PlanValue::Kind::mapping &&
           (entries.size() == 1 ||
            std::any_of(entries.begin(), entries.end(), [](const PlanValue::Entry& entry) { return entry.key == "title"; }));
  }

  void write_item(const PlanValue::Entry& entry, std::size_t indent, bool is_first, std::size_t block, bool is_step) {
    write_before(entry, indent, false, is_first);
    const std::string dash = std::string(indent, ' ') + "-";
    std::string line = dash + ' ';
    const PlanValue& value = entry.value;
    const bool by_lines = is_step && is_step_by_lines(value);
    if (by_lines && value.entries().size() == 1 && by_lines_.count(&value) == 0) {
      const PlanValue::Entry& only = value.entries().front();
      line += scalar(only.key) + ": ";
      if (add_short(only.value, &line)) return write_line(line, entry, block);
    }
    if (!by_lines && add_short(value, &line)) {
      write_line(line, entry, block);
    } else if (value.entries().empty()) {
      write_literal(dash, value.text(), indent, entry);
    } else if (value.kind() == PlanValue::Kind::list && !comments_.keeps_lines) {
      text_ += dash + ' ' + in_brackets(value) + '\n';
    } else {
      write_behind_before(entry, indent);
      const std::size_t begin = text_.size();
      write_entries(value, indent + 2);
      text_[begin + indent] = '-';
    }
  }

  const PlanComments& comments_;
  std::set<const PlanValue*> by_lines_;
  std::vector<Behind> behind_;  ///< in the order of the text
  std::size_t blocks_ = 0;
  std::string text_;
};

}  // namespace

std::vector<std::string> comment_lines(std::string_view text) {
  const std::string begin = "#";
  std::vector<std::string> result;
  std::string line = begin;
  const auto end_line = [&] { result.push_back(std::exchange(line, begin)); };
  std::string word;
  const auto end_word = [&] {
    if (word.empty()) return;
    if (line != begin && width(line) + 1 + width(word) > widest) end_line();
    line += ' ' + std::exchange(word, "");
  };
  while (!text.empty()) {
    const std::size_t length = must_escape(text);  // nothing that could end a line stays
    if (length > 0 || text[0] == ' ') {
      end_word();
    } else {
      word += text[0];
    }
    text.remove_prefix(std::max<std::size_t>(length, 1));
  }
  end_word();
  end_line();
  return result;
}

std::string on_one_line(const PlanValue& value) {
  return in_brackets(value);
}

std::string write_plan(const PlanValue& root, const PlanComments& comments) {
  return Writer(comments).write(root);
}

std::string write_plan(const Plan& plan) {
  return write_plan(plan.value(), {});
}

}  // namespace cutproof
