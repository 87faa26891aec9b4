// SPDX-License-Identifier: GPL-3.0-or-later
// What utf8proc knows of characters decides what is shown.
#include "report/escape.hpp"

#include <fmt/format.h>
#include <utf8proc.h>

#include <algorithm>

namespace cutproof {
namespace {

/// Length of the well-formed sequence at the start of the text, 0 when there is none.
std::size_t decode(std::string_view text, utf8proc_int32_t* code) {
  const auto* bytes = reinterpret_cast<const utf8proc_uint8_t*>(text.data());
  return static_cast<std::size_t>(std::max<utf8proc_ssize_t>(
      utf8proc_iterate(bytes, static_cast<utf8proc_ssize_t>(std::min<std::size_t>(text.size(), 4)), code), 0));
}

/// Controls, format characters, separators of lines and paragraphs, blanks that look like nothing, private use and code
/// points that are no characters: nothing that a reader could not see or that changes how the rest is read.
bool is_hidden(utf8proc_int32_t code) {
  switch (utf8proc_category(code)) {
    case UTF8PROC_CATEGORY_CC:
    case UTF8PROC_CATEGORY_CF:
    case UTF8PROC_CATEGORY_CS:
    case UTF8PROC_CATEGORY_CO:
    case UTF8PROC_CATEGORY_CN:
    case UTF8PROC_CATEGORY_ZL:
    case UTF8PROC_CATEGORY_ZP:
      return true;
    default:
      return utf8proc_get_property(code)->ignorable;
  }
}

}  // namespace

std::string escaped_prefix(std::string_view text, std::size_t code_points) {
  std::string shown;
  for (; !text.empty() && code_points > 0; --code_points) {
    utf8proc_int32_t code = 0;
    const std::size_t length = decode(text, &code);
    if (length == 0) {
      shown += fmt::format("\\x{:02x}", static_cast<unsigned char>(text[0]));
    } else if (code == '\n') {
      shown += "\\n";
    } else if (code == '\t') {
      shown += "\\t";
    } else if (code == '\r') {
      shown += "\\r";
    } else if (is_hidden(code)) {
      shown += code > 0xffff ? fmt::format("\\U{:08x}", code) : fmt::format("\\u{:04x}", code);
    } else {
      shown += text.substr(0, length);
    }
    text.remove_prefix(length == 0 ? 1 : length);
  }
  return shown;
}

std::string escaped(std::string_view text) {
  return escaped_prefix(text, text.size());
}

std::string in_markup(std::string_view shown) {
  std::string text;
  for (const char each : shown) {
    switch (each) {
      case '&':
        text += "&amp;";
        break;
      case '<':
        text += "&lt;";
        break;
      case '>':
        text += "&gt;";
        break;
      case '"':
        text += "&quot;";
        break;
      case '\'':
        text += "&apos;";
        break;
      default:
        text += each;
    }
  }
  return text;
}

bool is_utf8(std::string_view text) {
  while (!text.empty()) {
    utf8proc_int32_t code = 0;
    const std::size_t length = decode(text, &code);
    if (length == 0) return false;
    text.remove_prefix(length);
  }
  return true;
}

std::size_t display_width(std::string_view text) {
  std::size_t width = 0;
  while (!text.empty()) {
    utf8proc_int32_t code = 0;
    const std::size_t length = decode(text, &code);
    width += length == 0 ? 1 : static_cast<std::size_t>(utf8proc_charwidth(code));
    text.remove_prefix(length == 0 ? 1 : length);
  }
  return width;
}

}  // namespace cutproof
