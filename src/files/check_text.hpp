// SPDX-License-Identifier: GPL-3.0-or-later
// From a plan's text or file to a result, for who wants to see more of the run than the result holds.
#pragma once

#include "cutproof/check.hpp"
#include "verify/check.hpp"

#include <functional>
#include <memory>

namespace cutproof {

/// Makes somebody who looks on while this plan is run on this engine.
using ObserverMaker = std::function<std::unique_ptr<RunObserver>(const ExactPlan&, const std::shared_ptr<Engine>&)>;

/// `check_plan_text` and `check_plan_file` of cutproof/check.hpp, with somebody who is given the history of the run.
CheckResult check_plan_text(std::string_view text, const std::string& path, const CheckSettings& settings,
                            const ProgressReceiver& progress, const HistoryReceiver& history,
                            const ObserverMaker& make_observer = {});
/// `text`, where given, gets the plan's text.
CheckResult check_plan_file(const std::string& path, const CheckSettings& settings, const ProgressReceiver& progress,
                            const HistoryReceiver& history, std::string* text = nullptr,
                            const ObserverMaker& make_observer = {});

}  // namespace cutproof
