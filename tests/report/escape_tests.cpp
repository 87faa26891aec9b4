// SPDX-License-Identifier: GPL-3.0-or-later
// What a stranger writes must not reach a terminal as anything but visible text.
#include "report/escape.hpp"

#include <catch2/catch.hpp>

using namespace cutproof;

TEST_CASE("controls, direction marks and invisible characters are spelled out") {
  CHECK(escaped("a\nb\tc\rd") == "a\\nb\\tc\\rd");
  CHECK(escaped("\033[31mred\007") == "\\u001b[31mred\\u0007");
  CHECK(escaped(std::string("\0", 1)) == "\\u0000");
  CHECK(escaped("\x7f") == "\\u007f");
  CHECK(escaped("\xc2\x9b") == "\\u009b");                         // C1: control sequence introducer
  CHECK(escaped("\xe2\x80\xae") == "\\u202e");                     // right-to-left override
  CHECK(escaped("\xe2\x81\xa6\xe2\x81\xa9") == "\\u2066\\u2069");  // isolates
  CHECK(escaped("\xd8\x9c") == "\\u061c");                         // Arabic letter mark
  CHECK(escaped("\xe2\x80\xa8") == "\\u2028");                     // line separator
  CHECK(escaped("\xe2\x80\x8b") == "\\u200b");                     // zero width space
  CHECK(escaped("\xef\xbb\xbf") == "\\ufeff");
  CHECK(escaped("\xf3\xa0\x81\x81") == "\\U000e0041");                            // a tag character
  CHECK(escaped("\xef\xbf\xbf\xee\x80\x80\xcd\xb8") == "\\uffff\\ue000\\u0378");  // no character, private use, unassigned
  CHECK(escaped("\xe3\x85\xa4\xef\xb8\x8f\xcd\x8f") == "\\u3164\\ufe0f\\u034f");  // they look like nothing
}

TEST_CASE("ordinary text stays as it is") {
  for (const char* text :
       {"", "plain", "D\xc3\xbcrer", "\xe7\xab\x8b\xe6\x96\xb9", "\xf0\x9f\x93\x90", "back\\slash", "sqrt(2)"}) {
    CHECK(escaped(text) == text);
    CHECK(is_utf8(text));
  }
}

TEST_CASE("bytes that are no UTF-8 are spelled out") {
  for (const auto& [raw, shown] : {std::pair<std::string, std::string>{"\xff", "\\xff"},
                                   {"a\xc3", "a\\xc3"},
                                   {"\xc0\xaf", "\\xc0\\xaf"},                    // overlong
                                   {"\xe0\x80\xaf", "\\xe0\\x80\\xaf"},           // overlong
                                   {"\xed\xa0\x80", "\\xed\\xa0\\x80"},           // a surrogate
                                   {"\xf4\x90\x80\x80", "\\xf4\\x90\\x80\\x80"},  // beyond U+10FFFF
                                   {"\xf0\x9f\x93", "\\xf0\\x9f\\x93"}}) {
    CHECK(escaped(raw) == shown);
    CHECK_FALSE(is_utf8(raw));
    CHECK(is_utf8(escaped(raw)));
  }
}

TEST_CASE("every single byte and every pair of bytes gives valid text on one line") {
  for (int a = 0; a < 256; ++a) {
    for (int b = 0; b < 256; ++b) {
      const std::string shown = escaped(std::string{static_cast<char>(a), static_cast<char>(b)});
      REQUIRE(is_utf8(shown));
      for (const char c : shown) REQUIRE((static_cast<unsigned char>(c) >= 0x20 && c != 0x7f));
    }
  }
}

TEST_CASE("widths and prefixes") {
  CHECK(display_width("abc") == 3);
  CHECK(display_width("D\xc3\xbcrer") == 5);
  CHECK(display_width("\xe7\xab\x8b\xe6\x96\xb9") == 4);
  CHECK(display_width("e\xcc\x81") == 1);
  CHECK(display_width("\xe0\xb8\x97\xe0\xb8\xb5\xe0\xb9\x88") == 1);  // a Thai letter with two marks above it
  CHECK(display_width("\xf0\x9f\x93\x90") == 2);
  CHECK(display_width("a\xff") == 2);
  CHECK(escaped_prefix("a\tbc", 3) == "a\\tb");
  CHECK(escaped_prefix("\xc3\xbc\xc3\xbc", 1) == "\xc3\xbc");
  CHECK(escaped_prefix("ab", 9) == "ab");
}
