// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/page/assets.hpp"

#include <cstddef>

extern "C" {
extern const char cutproof_page_style[], cutproof_page_style_end[];
#if CUTPROOF_VIEWER
extern const char cutproof_viewer_script[], cutproof_viewer_script_end[];
extern const char cutproof_viewer_licence[], cutproof_viewer_licence_end[];
#endif
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

#if CUTPROOF_VIEWER
std::string_view viewer_script() {
  return between(cutproof_viewer_script, cutproof_viewer_script_end);
}
std::string_view viewer_licence() {
  return between(cutproof_viewer_licence, cutproof_viewer_licence_end);
}
#else
std::string_view viewer_script() {
  return {};
}
std::string_view viewer_licence() {
  return {};
}
#endif

}  // namespace cutproof
