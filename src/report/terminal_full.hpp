// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "cutproof/report.hpp"
#include "report/layout.hpp"

#include <string>

namespace cutproof {

/// The long form of the text for people: every step with all its pieces, and every finding with its amount, box and corners.
std::string full_report(const CheckResult& result, const TextStyle& style);

/// The colour of an outcome's word.
Tint tint_of(Outcome outcome);

}  // namespace cutproof
