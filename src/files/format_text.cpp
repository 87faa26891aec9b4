// SPDX-License-Identifier: GPL-3.0-or-later
#include "cutproof/writing.hpp"
#include "files/endings.hpp"
#include "files/solid_files.hpp"
#include "plan/format_plan.hpp"

namespace cutproof {

FormattedPlan format_plan_text(std::string_view text, const CheckSettings& settings) {
  FormattedPlan formatted;
  completes([&] { formatted.text = formatted_plan(std::string(text), limits_of(settings, "").document); },
            [&](const Finding& finding) { formatted.findings.push_back(finding); });
  return formatted;
}

}  // namespace cutproof
