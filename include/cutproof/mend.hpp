// SPDX-License-Identifier: GPL-3.0-or-later
// What would mend a plan that does not hold: edits of its text, each tried and verified.
#pragma once

#include "cutproof/check.hpp"
#include "cutproof/result.hpp"

#include <functional>
#include <string>
#include <string_view>

namespace cutproof {

/// Looks for mends of a plan that was checked with these settings, and puts them into `result` (`mends`, `mends_tried`);
/// where only a mirror image of a piece fits, the hint of its finding says so. Nothing else of the result changes. Each mend
/// was applied to a copy of the text, that copy was checked whole, and its outcome was `verified`. At most 200 copies are
/// checked, and after the first ten a fixed amount of work; nothing depends on time. Nothing is looked for in verified and
/// failed plans, nor in plans of more than 2,000 pieces. `progress` is called after each mend that is found. Throws nothing
/// but std::bad_alloc and what `progress` throws.
void add_mends(std::string_view text, const CheckSettings& settings, CheckResult* result,
               const std::function<void()>& progress = {});

}  // namespace cutproof
