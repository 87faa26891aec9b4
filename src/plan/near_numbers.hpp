// SPDX-License-Identifier: GPL-3.0-or-later
// Remarks on decimals that look like rounded values of something exact. They change nothing and are never a finding: 0.866
// is as good a number as any other, and the plan is judged with it as it stands.
#pragma once

#include "plan/document.hpp"
#include "plan/exact_plan.hpp"

#include <string>
#include <vector>

namespace cutproof {

/// An exact number that is no decimal, as it is written, and about how large it is.
struct KnownNumber {
  std::string text;
  double about = 0;
};

/// One remark for each decimal of the plan's text that is one of the known numbers, or a common fraction or surd, rounded to
/// the decimal's places: at least three significant digits of it. In the order of the text, at most 100.
std::vector<PlanNote> remarks_on_decimals(const Document& document, const std::vector<KnownNumber>& known);

}  // namespace cutproof
