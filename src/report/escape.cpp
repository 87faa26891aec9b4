// SPDX-License-Identifier: GPL-3.0-or-later
// Decoding by hand, because exactly the well-formed sequences of Unicode's table 3-7 may pass.
#include "report/escape.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdint>
#include <iterator>

namespace cutproof {
namespace {

struct Range {
  std::uint32_t first, last;
};

template <std::size_t size>
bool within(std::uint32_t code, const Range (&ranges)[size]) {
  return std::any_of(std::begin(ranges), std::end(ranges),
                     [&](const Range& r) { return r.first <= code && code <= r.last; });
}

// Controls (Cc), format characters (Cf), separators of lines and paragraphs, blanks that look like nothing, private use and
// code points that are no characters: nothing that a reader could not see or that changes how the rest is read.
constexpr Range hidden[] = {
    {0x00, 0x1f},       {0x7f, 0x9f},       {0xad, 0xad},       {0x34f, 0x34f},     {0x600, 0x605},   {0x61c, 0x61c},
    {0x6dd, 0x6dd},     {0x70f, 0x70f},     {0x890, 0x891},     {0x8e2, 0x8e2},     {0x115f, 0x1160}, {0x17b4, 0x17b5},
    {0x180b, 0x180f},   {0x200b, 0x200f},   {0x2028, 0x202e},   {0x2060, 0x206f},   {0x3164, 0x3164}, {0xe000, 0xf8ff},
    {0xfe00, 0xfe0f},   {0xfeff, 0xfeff},   {0xffa0, 0xffa0},   {0xfff0, 0xfffb},   {0xfffe, 0xffff}, {0x110bd, 0x110cd},
    {0x13430, 0x1343f}, {0x1bca0, 0x1bca3}, {0x1d173, 0x1d17a}, {0xe0000, 0x10ffff}};
constexpr Range combining[] = {{0x300, 0x36f},   {0x483, 0x489},   {0x591, 0x5bd},   {0x64b, 0x65f},
                               {0x1ab0, 0x1aff}, {0x1dc0, 0x1dff}, {0x20d0, 0x20ff}, {0xfe20, 0xfe2f}};
constexpr Range wide[] = {{0x1100, 0x115e}, {0x2e80, 0x303e},   {0x3041, 0x33ff},   {0x3400, 0x4dbf},   {0x4e00, 0x9fff},
                          {0xa000, 0xa4cf}, {0xac00, 0xd7a3},   {0xf900, 0xfaff},   {0xfe30, 0xfe6f},   {0xff00, 0xff60},
                          {0xffe0, 0xffe6}, {0x1f300, 0x1f64f}, {0x1f680, 0x1f6ff}, {0x1f900, 0x1faff}, {0x20000, 0x3fffd}};

/// Length of the well-formed sequence at the start of the text, 0 when there is none.
std::size_t decode(std::string_view text, std::uint32_t* code) {
  const auto byte = [&](std::size_t i) { return i < text.size() ? static_cast<unsigned char>(text[i]) : 0u; };
  const auto tail = [&](std::size_t i) { return (byte(i) & 0xc0) == 0x80; };
  const unsigned lead = byte(0);
  if (lead < 0x80) {
    *code = lead;
    return 1;
  }
  if (lead >= 0xc2 && lead <= 0xdf && tail(1)) {
    *code = (lead & 0x1f) << 6 | (byte(1) & 0x3f);
    return 2;
  }
  if ((lead & 0xf0) == 0xe0 && tail(1) && tail(2)) {
    *code = (lead & 0x0f) << 12 | (byte(1) & 0x3f) << 6 | (byte(2) & 0x3f);
    return *code < 0x800 || (*code >= 0xd800 && *code <= 0xdfff) ? 0 : 3;
  }
  if (lead >= 0xf0 && lead <= 0xf4 && tail(1) && tail(2) && tail(3)) {
    *code = (lead & 0x07) << 18 | (byte(1) & 0x3f) << 12 | (byte(2) & 0x3f) << 6 | (byte(3) & 0x3f);
    return *code < 0x10000 || *code > 0x10ffff ? 0 : 4;
  }
  return 0;
}

}  // namespace

std::string escaped_prefix(std::string_view text, std::size_t code_points) {
  std::string shown;
  for (; !text.empty() && code_points > 0; --code_points) {
    std::uint32_t code = 0;
    const std::size_t length = decode(text, &code);
    if (length == 0) {
      shown += fmt::format("\\x{:02x}", static_cast<unsigned char>(text[0]));
    } else if (code == '\n') {
      shown += "\\n";
    } else if (code == '\t') {
      shown += "\\t";
    } else if (code == '\r') {
      shown += "\\r";
    } else if (within(code, hidden)) {
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
    std::uint32_t code = 0;
    const std::size_t length = decode(text, &code);
    if (length == 0) return false;
    text.remove_prefix(length);
  }
  return true;
}

std::size_t display_width(std::string_view text) {
  std::size_t width = 0;
  while (!text.empty()) {
    std::uint32_t code = 0;
    const std::size_t length = decode(text, &code);
    if (length == 0 || !within(code, combining)) width += length != 0 && within(code, wide) ? 2 : 1;
    text.remove_prefix(length == 0 ? 1 : length);
  }
  return width;
}

}  // namespace cutproof
