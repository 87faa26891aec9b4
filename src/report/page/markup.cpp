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

std::string names_in_page(const std::vector<std::string>& names, std::size_t most) {
  // One name instead of the last word would say no less.
  const std::size_t shown = names.size() <= most + 1 ? names.size() : most;
  std::string text;
  for (std::size_t i = 0; i < shown; ++i) text += (i == 0 ? "" : ", ") + name_in_page(names[i]);
  return shown == names.size() ? text : text + " and " + std::to_string(names.size() - shown) + " more";
}

}  // namespace cutproof
