// SPDX-License-Identifier: GPL-3.0-or-later
// Mends for people: the plan's lines before and after.
#pragma once

#include "cutproof/result.hpp"
#include "report/layout.hpp"

#include <string>

namespace cutproof {

/// The mends that were found, or how many were tried in vain; nothing where none were looked for. Signs stand only before
/// lines of the plan's text. The step that a mend changes is told unless it is the one that the text names already.
void write_mends(const CheckResult& result, int named_step, Layout* out);

/// ` in step 16`: where the mend changes the plan first; empty where that is no step, or the one that is named already.
std::string in_step(const Mend& mend, const CheckResult& result, int named_step);

}  // namespace cutproof
