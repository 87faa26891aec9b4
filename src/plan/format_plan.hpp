// SPDX-License-Identifier: GPL-3.0-or-later
// The canonical layout of a plan's text.
#pragma once

#include "plan/document.hpp"

#include <string>

namespace cutproof {

/// The same tree and the same comments in the canonical layout. Comments stay with the entry that they stand at; single
/// blank lines between entries stay. Throws like read_document, also for errors after which reading could go on; nothing
/// else about the plan is judged.
std::string formatted_plan(const std::string& text, const DocumentLimits& limits);

}  // namespace cutproof
