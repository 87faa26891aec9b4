// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/page/assets.hpp"

#include <cstddef>

extern "C" {
extern const char cutproof_page_style[], cutproof_page_style_end[];
}

namespace cutproof {
namespace {

std::string_view between(const char* begin, const char* end) {
  return {begin, static_cast<std::size_t>(end - begin)};
}

}  // namespace

std::string_view page_style() {
  return between(cutproof_page_style, cutproof_page_style_end);
}

}  // namespace cutproof
