// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/page/markup.hpp"

#include "report/escape.hpp"

#include <algorithm>
#include <cstddef>

namespace cutproof {

std::string in_page(std::string_view raw) {
  return in_markup(escaped(raw));
}

std::string prose_in_page(std::string_view sentence) {
  std::string text;
  while (!sentence.empty()) {
    const std::size_t open = sentence.find('`');
    const std::size_t close = open == std::string_view::npos ? open : sentence.find('`', open + 1);
    if (close == std::string_view::npos) return text + in_page(sentence);
    text += in_page(sentence.substr(0, open)) + "<code>" + in_page(sentence.substr(open + 1, close - open - 1)) + "</code>";
    sentence.remove_prefix(close + 1);
  }
  return text;
}

std::string name_in_page(std::string_view name) {
  return "<bdi>" + in_page(name) + "</bdi>";
}

namespace {

template <class Write>
std::string listed(const NameList& names, std::size_t most, const Write& write) {
  // One name instead of the last words would say no less.
  const std::size_t shown = std::min(names.size() <= most + 1 ? names.size() : most, names.first.size());
  std::string text;
  for (std::size_t i = 0; i < shown; ++i) text += (i == 0 ? "" : ", ") + write(names.first[i]);
  return shown == names.size() ? text : text + " and " + std::to_string(names.size() - shown) + " more";
}

}  // namespace

std::string names_in_page(const NameList& names, std::size_t most) {
  return listed(names, most, [](const std::string& name) { return name_in_page(name); });
}

std::string names_in_words(const NameList& names, std::size_t most) {
  return listed(names, most, [](const std::string& name) { return name; });
}

std::string data_in_page(std::string_view json) {
  std::string text;
  text.reserve(json.size());
  for (const char each : json) {
    if (each == '<') {
      text += "\\u003c";
    } else {
      text += each;
    }
  }
  return text;
}

std::string base64_of_digest(std::string_view hexadecimal) {
  constexpr std::string_view digits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  const auto value = [](char digit) { return static_cast<unsigned>(digit <= '9' ? digit - '0' : digit - 'a' + 10); };
  std::string text;
  // Three bytes, six hexadecimal digits, are four digits here.
  for (std::size_t i = 0; i < hexadecimal.size(); i += 6) {
    unsigned group = 0;
    const std::size_t count = std::min<std::size_t>(6, hexadecimal.size() - i);
    for (std::size_t k = 0; k < 6; ++k) group = group << 4 | (k < count ? value(hexadecimal[i + k]) : 0);
    for (std::size_t k = 0; k < 4; ++k) text += k <= count / 2 ? digits[group >> (18 - 6 * k) & 63] : '=';
  }
  return text;
}

}  // namespace cutproof
