// SPDX-License-Identifier: GPL-3.0-or-later
// The parts of a plan's sheet, each written in a file of its name, and what they are made with.
#pragma once

#include "report/page/page_pictures.hpp"
#include "report/page/plan_sheet.hpp"

#include <string>

namespace cutproof {

/// Each with its heading; empty where there is nothing to tell.
std::string findings_part(const Sheet& sheet, PagePictures& pictures);
std::string steps_part(const Sheet& sheet, PagePictures& pictures);
std::string pieces_part(const Sheet& sheet);

/// A heading one level below the sheet's own; `text` is markup.
std::string part(const Sheet& sheet, const char* id, const std::string& text);
/// A name and what it is, for a list of descriptions; `value` is markup.
std::string fact(const char* name, const std::string& value);
/// A button that shows the plan in the view after the step (below 0: at its end), hidden until there is a view.
std::string view_button(const Sheet& sheet, int step, const std::string& text);

}  // namespace cutproof
