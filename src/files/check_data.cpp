// SPDX-License-Identifier: GPL-3.0-or-later
// Plans as data take the way of all plans, so that nothing can hold for the one and not for the other; what is added are the
// paths.
#include "cutproof/plan.hpp"
#include "plan/plan_paths.hpp"

namespace cutproof {

CheckResult check_plan(const Plan& plan, const std::string& name, const CheckSettings& settings,
                       const ProgressReceiver& progress) {
  const std::string text = write_plan(plan);
  CheckResult result = check_plan_text(text, name, settings, progress);
  const PlanPaths paths(text);
  const auto add_path = [&](auto& place) { place.path = paths.at({place.line, place.column}, place.caret_length); };
  for (std::vector<Finding>* findings : {&result.findings, &result.consequences})
    for (Finding& finding : *findings) {
      add_path(finding);
      for (Suspect& suspect : finding.suspects) add_path(suspect);
    }
  return result;
}

}  // namespace cutproof
