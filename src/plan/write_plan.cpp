// SPDX-License-Identifier: GPL-3.0-or-later
// Plans as YAML that is good to read: short values in brackets, longer ones as blocks, quotes only where they are needed.
#include "cutproof/plan.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <cstdio>
#include <string_view>

namespace cutproof {

namespace {

constexpr std::size_t widest = 100;  // columns

bool is_word(char c) {
  return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_';
}

/// True where a text means itself without quotes, in brackets and as a key too. Errs on the side of quotes.
bool is_plain(std::string_view text) {
  static const std::string_view others = " .+-*/^()=<>";
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

std::size_t width(std::string_view text) {
  return static_cast<std::size_t>(
      std::count_if(text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }));
}

class Writer {
 public:
  std::string write(const PlanValue& root) {
    if (root.kind() != PlanValue::Kind::mapping || root.entries().empty()) return in_brackets(root) + "\n";
    for (const PlanValue::Entry& section : root.entries()) {
      if (is_long(section.value) && !text_.empty()) text_ += '\n';
      text_ += scalar(section.key) + ":";
      behind_key(section.value, 0, is_long(section.value));
    }
    return std::move(text_);
  }

 private:
  /// A section that has its entries line by line.
  static bool is_long(const PlanValue& section) {
    const auto& entries = section.entries();
    if (section.kind() == PlanValue::Kind::list)
      return std::any_of(entries.begin(), entries.end(),
                         [](const PlanValue::Entry& entry) { return entry.value.kind() == PlanValue::Kind::mapping; });
    return entries.size() > 1;
  }

  /// What stands behind `key:` or `-`, which begin at a column.
  void behind_key(const PlanValue& value, std::size_t indent, bool by_lines) {
    const std::string short_form = in_brackets(value);
    const std::size_t column = text_.size() - (text_.rfind('\n') + 1);
    if (value.entries().empty() || (!by_lines && column + 1 + width(short_form) <= widest)) {
      text_ += ' ' + short_form + '\n';
      return;
    }
    text_ += '\n';
    write_entries(value, indent + 2);
  }

  void write_entries(const PlanValue& value, std::size_t indent) {
    for (const PlanValue::Entry& entry : value.entries()) {
      const std::size_t begin = text_.size();
      if (value.kind() == PlanValue::Kind::mapping) {
        text_ += std::string(indent, ' ') + scalar(entry.key) + ":";
        behind_key(entry.value, indent, false);
        continue;
      }
      const std::string short_form = in_brackets(entry.value);
      const bool is_block = entry.value.kind() == PlanValue::Kind::mapping && !entry.value.entries().empty() &&
                            indent + 2 + width(short_form) > widest;
      if (is_block) {
        write_entries(entry.value, indent + 2);
        text_[begin + indent] = '-';
      } else {
        text_ += std::string(indent, ' ') + "- " + short_form + '\n';
      }
    }
  }

  std::string text_;
};

}  // namespace

std::string write_plan(const Plan& plan) {
  return Writer().write(plan.value());
}

}  // namespace cutproof
