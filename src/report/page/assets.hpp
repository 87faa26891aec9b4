// SPDX-License-Identifier: GPL-3.0-or-later
// What stands in every page as it is, kept in the program itself.
#pragma once

#include <string_view>

namespace cutproof {

std::string_view page_style();

}  // namespace cutproof
