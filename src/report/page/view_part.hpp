// SPDX-License-Identifier: GPL-3.0-or-later
// The view in space: its place on the page, which viewer/main.js fills, and the data that it reads.
#pragma once

#include "report/page/plan_sheet.hpp"

#include <string>
#include <vector>

namespace cutproof {

/// The section with all buttons, hidden until the script runs, and a line for readers without scripts; a line alone where
/// the program was built without the view. Empty where no plan has anything to show in space.
std::string view_part(const std::vector<Sheet>& sheets);

/// The plan's data for the view in an element of its own: its scene, each step in words, facts about its pieces.
std::string view_data(const Sheet& sheet);

}  // namespace cutproof
