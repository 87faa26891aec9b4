// SPDX-License-Identifier: GPL-3.0-or-later
// Measuring what a plan has made so far.
#pragma once

#include "cutproof/solids.hpp"
#include "number/tower.hpp"
#include "plan/read_plan.hpp"
#include "verify/measure.hpp"

#include <functional>
#include <optional>
#include <string>

namespace cutproof {

/// The rules that an audit asks for, as numbers of the plan's own fields; nothing where there is no audit.
using RulesOfAudit = std::function<std::optional<AngleRules>(FieldTower&)>;

/// Carries the plan out as far as the reference's place and measures what is there: the piece of that name, or a list of
/// all. What the plan is refuted by does not matter; what ends its run earlier stands in the result's findings. Throws what
/// reading a plan throws, and InvalidInput where there is no such step or piece.
MeasureResult measure_place(const std::string& text, const SolidReference& reference, const RulesOfAudit& rules_in,
                            const CheckSettings& settings, const ReadLimits& limits);

}  // namespace cutproof
