// SPDX-License-Identifier: GPL-3.0-or-later
// What stands in every page as it is, kept in the program itself.
#pragma once

#include <string_view>

namespace cutproof {

std::string_view page_style();
/// The view in space (viewer/, with three.js); empty where the program was built without it.
std::string_view viewer_script();
/// The licence of what the script was bundled with; empty where there is no script.
std::string_view viewer_licence();

}  // namespace cutproof
