// SPDX-License-Identifier: GPL-3.0-or-later
// Definitions that reach themselves, found in their texts: one with arguments is only evaluated where it is used.
#pragma once

#include "plan/plan_index.hpp"

namespace cutproof {

/// Records an error for each circle of names in which one has arguments, whether it is used or not.
void check_definition_cycles(PlanIndex& index);
/// The error of a circle: names and where they are defined, each once, in order.
void report_cycle(PlanIndex& index, std::vector<std::pair<std::string, const Definition*>> circle);

}  // namespace cutproof
