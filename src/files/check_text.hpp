// SPDX-License-Identifier: GPL-3.0-or-later
// From a plan's text or file to a result, for who wants to see more of the run than the result holds.
#pragma once

#include "cutproof/check.hpp"
#include "verify/check.hpp"

namespace cutproof {

/// `check_plan_text` and `check_plan_file` of cutproof/check.hpp, with somebody who is given the history of the run.
CheckResult check_plan_text(std::string_view text, const std::string& path, const CheckSettings& settings,
                            const ProgressReceiver& progress, const HistoryReceiver& history);
/// `text`, where given, gets the plan's text.
CheckResult check_plan_file(const std::string& path, const CheckSettings& settings, const ProgressReceiver& progress,
                            const HistoryReceiver& history, std::string* text = nullptr);

}  // namespace cutproof
