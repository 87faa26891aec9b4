// SPDX-License-Identifier: GPL-3.0-or-later
// One plan judged by the parts engine, the Nef engine and the oracle.
#pragma once

#include "cutproof/result.hpp"

#include <string>

namespace cutproof::oracle {

struct Comparison {
  Outcome outcome = Outcome::failed;  ///< of the parts engine
  bool not_judged = false;            ///< refuted for angles or Dehn invariants alone, of which the oracle knows nothing
  std::string disagreement;           ///< empty when all agree; otherwise all three answers
};

/// The engines must give the same report, to the byte. The oracle must come to the same outcome and, where the plan is
/// valid, to the same findings at the same steps with the same volumes. Of a plan with `cases` the first two are judged; the
/// outcome is that of the first.
Comparison judge_three_times(const std::string& text, const std::string& path);

std::string text_of(const std::string& path);

}  // namespace cutproof::oracle
