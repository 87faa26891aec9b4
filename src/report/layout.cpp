// SPDX-License-Identifier: GPL-3.0-or-later
// Widths are counted in columns of a terminal, never in bytes; colour sequences are added after wrapping.
#include "report/layout.hpp"

#include "report/escape.hpp"

#include <algorithm>

namespace cutproof {
namespace {

// Servers that read a job's log obey lines that begin with such a word; some pass over blanks before it.
bool is_command(std::string_view word) {
  return word.substr(0, 2) == "::" || word.substr(0, 3) == "##[";
}

}  // namespace

std::string Layout::tinted(std::string_view escaped_text, Tint tint) const {
  static const char* const starts[] = {"", "\033[1m", "\033[32m", "\033[31m", "\033[33m", "\033[2m"};
  std::string text(escaped_text);
  if (!style_.colour || tint == Tint::plain || text.empty()) return text;
  return starts[static_cast<int>(tint)] + text + "\033[0m";
}

// However narrow the terminal is, some room is left for text.
std::size_t Layout::room(std::size_t used) const {
  const std::size_t width = static_cast<std::size_t>(std::max(style_.width, 0));
  return width > used + 20 ? width - used : 20;
}

std::vector<std::string> Layout::wrapped(std::string_view escaped_text, std::size_t width) const {
  std::vector<std::string> lines(1);
  std::size_t column = 0;
  while (!escaped_text.empty()) {
    const std::size_t end = std::min(escaped_text.find(' '), escaped_text.size());
    const std::string_view word = escaped_text.substr(0, end);
    escaped_text.remove_prefix(std::min(end + 1, escaped_text.size()));
    const std::size_t word_width = display_width(word);
    if (column > 0 && column + 1 + word_width > width) {
      lines.emplace_back();
      column = 0;
    }
    if (lines.size() > 1 && lines.back().empty() && is_command(word)) {
      lines.pop_back();  // it stays on the line before, however long that becomes
      column = display_width(lines.back());
    }
    if (column > 0) {
      lines.back() += ' ';
      ++column;
    }
    lines.back() += word;
    column += word_width;
  }
  return lines;
}

void Layout::gap() {
  if (!text_.empty() && (text_.size() < 2 || text_.compare(text_.size() - 2, 2, "\n\n") != 0)) text_ += '\n';
}

void Layout::line(int indent, std::string_view text, Tint tint) {
  text_ += std::string(indent, ' ') + tinted(escaped(text), tint) + "\n";
}

void Layout::paragraph(int indent, std::string_view label, std::string_view text, Tint label_tint, Tint text_tint) {
  const std::string shown_label = escaped(label);
  const std::size_t hanging = indent + display_width(shown_label);
  bool first = true;
  for (const std::string& each : wrapped(escaped(text), room(hanging))) {
    text_ += first ? std::string(indent, ' ') + tinted(shown_label, label_tint) : std::string(hanging, ' ');
    text_ += tinted(each, text_tint) + "\n";
    first = false;
  }
}

void Layout::list(int indent, std::string_view label, const std::vector<std::string>& words, Tint tint,
                  std::size_t most_lines, std::size_t count) {
  if (words.empty()) return;
  count = std::max(count, words.size());
  const std::size_t hanging = indent + label.size(), width = room(hanging);
  std::vector<std::string> lines(1);
  std::size_t column = 0;
  bool told_rest = words.size() == count;
  const auto rest = [count](std::size_t told) {
    return "and " + std::to_string(count - told) + " more, " + std::to_string(count) + " in all";
  };
  for (std::size_t i = 0; i < words.size(); ++i) {
    const std::string word = escaped(words[i]) + (i + 1 < count ? "," : "");
    const std::size_t word_width = display_width(word);
    if (column > 0 && column + 1 + word_width > width) {
      if (lines.size() == most_lines && count - i > 1) {
        lines.push_back(rest(i));
        told_rest = true;
        break;
      }
      lines.push_back(word);
      column = word_width;
    } else {
      lines.back() += (column > 0 ? " " : "") + word;
      column += (column > 0 ? 1 : 0) + word_width;
    }
  }
  if (!told_rest) lines.push_back(rest(words.size()));
  for (std::size_t i = 0; i < lines.size(); ++i) {
    text_ += std::string(indent, ' ') + tinted(i == 0 ? label : std::string(label.size(), ' '), tint);
    text_ += tinted(lines[i], tint) + "\n";
  }
}

void Layout::table(int indent, const std::vector<std::vector<std::string>>& rows) {
  std::vector<std::size_t> widths;
  for (const auto& row : rows) {
    widths.resize(std::max(widths.size(), row.size()));
    for (std::size_t i = 0; i < row.size(); ++i) widths[i] = std::max(widths[i], display_width(escaped(row[i])));
  }
  for (const auto& row : rows) {
    std::string left;
    for (std::size_t i = 0; i + 1 < row.size(); ++i) {
      const std::string cell = escaped(row[i]);
      left += cell + std::string(widths[i] - display_width(cell) + 2, ' ');
    }
    const std::size_t hanging = indent + display_width(left);
    bool first = true;
    for (const std::string& each : wrapped(escaped(row.back()), room(hanging))) {
      text_ += std::string(first ? indent : hanging, ' ') + (first ? left : "") + each + "\n";
      first = false;
    }
  }
}

}  // namespace cutproof
