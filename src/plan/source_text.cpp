// SPDX-License-Identifier: GPL-3.0-or-later
// Places in a plan's text, and what must hold before its YAML is looked at: size, UTF-8, no control characters.
#include "plan/source_text.hpp"

#include <utf8proc.h>

#include <algorithm>
#include <cstdio>

namespace cutproof {

namespace {

constexpr std::size_t longest_excerpt = 500;  // code points
constexpr std::size_t milestone = 1024;       // bytes

bool is_continuation(char c) {
  return (static_cast<unsigned char>(c) & 0xC0) == 0x80;
}

std::size_t code_points(std::string_view text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) { return !is_continuation(c); }));
}

/// The code point that begins at `at`, and its length in bytes; length 0 where the text is not UTF-8.
std::pair<utf8proc_int32_t, std::size_t> decode(std::string_view text, std::size_t at) {
  const auto* bytes = reinterpret_cast<const utf8proc_uint8_t*>(text.data() + at);
  utf8proc_int32_t code = 0;
  const auto left = static_cast<utf8proc_ssize_t>(std::min<std::size_t>(text.size() - at, 4));
  const utf8proc_ssize_t length = utf8proc_iterate(bytes, left, &code);
  return {code, static_cast<std::size_t>(std::max<utf8proc_ssize_t>(length, 0))};
}

bool is_control(utf8proc_int32_t c) {
  if (c == '\t' || c == '\n' || c == '\r' || c == 0x85) return false;
  return c < 0x20 || (c >= 0x7F && c < 0xA0) || c == 0xFFFE || c == 0xFFFF;
}

}  // namespace

int value_length(std::string_view line, std::size_t column) {
  std::size_t at = 0;
  for (std::size_t left = column; at < line.size() && left > 1; --left) do
      ++at;
    while (at < line.size() && is_continuation(line[at]));
  std::string closing;  // brackets that are open, as what will close them
  char quote = 0;
  std::size_t end = at;
  for (; end < line.size(); ++end) {
    const char each = line[end];
    if (quote != 0) {
      if (each == quote) quote = 0;
      if (quote == 0 && closing.empty()) return static_cast<int>(code_points(line.substr(at, end + 1 - at)));
      continue;
    }
    const bool ends_here = closing.empty() && end > at;
    if (each == '#' && end > at && line[end - 1] == ' ') break;
    if (each == '\'' || each == '"') {
      quote = each;
    } else if (each == '{' || each == '[' || each == '(') {
      closing += each == '{' ? '}' : each == '[' ? ']' : ')';
    } else if (each == '}' || each == ']' || each == ')') {
      if (closing.empty() || closing.back() != each) break;
      closing.pop_back();
      if (closing.empty() && line[at] != '(' && (line[at] == '{' || line[at] == '['))
        return static_cast<int>(code_points(line.substr(at, end + 1 - at)));
    } else if (each == ',' && ends_here) {
      break;
    }
  }
  std::string_view value = line.substr(at, end - at);
  while (!value.empty() && value.back() == ' ') value.remove_suffix(1);
  return std::max(static_cast<int>(code_points(value)), 1);
}

std::string quoted_text(std::string_view text) {
  std::string shown;
  std::size_t count = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (!is_continuation(text[i]) && ++count > 60) {
      shown += "...";
      break;
    }
    shown += text[i];
  }
  return "`" + shown + "`";
}

SourceText::SourceText(std::string text, std::size_t max_bytes) : text_(std::move(text)) {
  if (text_.size() > max_bytes) {
    Diagnostic found;
    found.message = "the plan has " + std::to_string(text_.size()) + " bytes, and the limit is " + std::to_string(max_bytes);
    found.hint = "a larger limit can be set with --max-plan-size";
    throw PlanLimit("plan-size", found);
  }
  line_starts_.push_back(0);
  for (std::size_t i = 0; i < text_.size(); ++i)
    if (text_[i] == '\n' || (text_[i] == '\r' && (i + 1 == text_.size() || text_[i + 1] != '\n')))
      line_starts_.push_back(i + 1);
  std::size_t before = 0;
  for (std::size_t from = 0; from <= text_.size(); from += milestone) {
    milestones_.push_back(before);
    before += code_points(std::string_view(text_).substr(from, milestone));
  }
  check_characters();
}

void SourceText::check_characters() const {
  const auto fail = [this](std::size_t begin, std::size_t length, const std::string& message, const std::string& hint) {
    Diagnostic found = SourceText::diagnostic(begin, begin + length, message, hint);
    found.excerpt.clear();  // it could not be shown
    throw InvalidPlan({found});
  };
  if (text_.compare(0, 2, "\xFF\xFE") == 0 || text_.compare(0, 2, "\xFE\xFF") == 0)
    fail(0, 0, "this file is UTF-16, and a plan is UTF-8", "save it as UTF-8");
  for (std::size_t at = 0; at < text_.size();) {
    const auto [code, length] = decode(text_, at);
    if (length == 0)
      fail(at, 0,
           "this is not UTF-8: the byte " + std::to_string(static_cast<unsigned char>(text_[at])) + " has no meaning here",
           "save the file as UTF-8");
    if (code == 0) fail(at, 0, "a zero byte: this is not a text file", "a plan is a text in YAML");
    if (is_control(code)) {
      char name[16];
      std::snprintf(name, sizeof name, "U+%04X", static_cast<unsigned>(code));
      fail(at, 0, std::string("the control character ") + name + " cannot stand in a plan",
           "delete it (inside double quotes it can be written as an escape, \\x..)");
    }
    at += length;
  }
}

std::string_view SourceText::line_at(std::size_t line) const {
  const std::size_t begin = line_starts_[line];
  std::size_t end = line + 1 < line_starts_.size() ? line_starts_[line + 1] : text_.size();
  while (end > begin && (text_[end - 1] == '\n' || text_[end - 1] == '\r')) --end;
  return std::string_view(text_).substr(begin, end - begin);
}

std::size_t SourceText::code_points_before(std::size_t position) const {
  const std::size_t index = position / milestone, from = index * milestone;
  return milestones_[index] + code_points(counted().substr(from, position - from));
}

int SourceText::line(std::size_t position) const {
  const auto next = std::upper_bound(line_starts_.begin(), line_starts_.end(), std::min(position, text_.size()));
  return static_cast<int>(next - line_starts_.begin());
}

TextPlace SourceText::place(std::size_t offset) const {
  offset = std::min(offset, text_.size());
  const int line_number = line(offset);
  std::size_t begin = line_starts_[static_cast<std::size_t>(line_number - 1)];
  if (begin == 0 && text_.compare(0, 3, "\xEF\xBB\xBF") == 0) begin = std::min<std::size_t>(3, offset);
  return {line_number, static_cast<int>(1 + code_points_before(offset) - code_points_before(begin))};
}

Diagnostic SourceText::diagnostic(std::size_t begin, std::size_t end, std::string message, std::string hint) const {
  Diagnostic result;
  result.message = std::move(message);
  result.hint = std::move(hint);
  const TextPlace where = SourceText::place(begin);
  result.line = where.line;
  result.column = where.column;
  const std::string_view line = line_at(static_cast<std::size_t>(where.line - 1));
  const std::size_t line_begin = static_cast<std::size_t>(line.data() - text_.data());
  const std::size_t line_end = line_begin + line.size();
  const std::size_t from = std::min(begin, line_end), to = std::min(std::max(end, begin), line_end);
  result.length = static_cast<int>(code_points_before(to) - code_points_before(from));
  std::string_view shown = line;
  if (line_begin == 0 && shown.substr(0, 3) == "\xEF\xBB\xBF") shown.remove_prefix(3);
  if (static_cast<std::size_t>(where.column) > longest_excerpt) {
    result.length = 0;
    return result;
  }
  std::size_t kept = 0, count = 0;
  while (kept < shown.size() && (is_continuation(shown[kept]) || ++count <= longest_excerpt)) ++kept;
  result.excerpt = std::string(shown.substr(0, kept));
  result.length = std::min(result.length, static_cast<int>(longest_excerpt) + 1 - where.column);
  return result;
}

std::string SourceText::in_words(std::size_t position) const {
  return "in line " + std::to_string(line(position));
}

std::size_t SourceText::origin(const Node& scalar, std::size_t offset) const {
  const auto next = std::upper_bound(scalar.origins.begin(), scalar.origins.end(), offset,
                                     [](std::size_t value, const auto& piece) { return value < piece.first; });
  if (next == scalar.origins.begin()) return scalar.begin + offset;
  const auto& piece = *std::prev(next);
  return std::min<std::size_t>(piece.second + (offset - piece.first), scalar.end);
}

}  // namespace cutproof
