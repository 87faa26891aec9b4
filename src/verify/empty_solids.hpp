// SPDX-License-Identifier: GPL-3.0-or-later
// Why a solid is empty, for hints.
#pragma once

#include "plan/exact_plan.hpp"
#include "solid/engine.hpp"

#include <string>
#include <vector>

namespace cutproof {

/// Of a solid that the engine built as null: the innermost combination in it that has no interior points, by the nearest
/// name around it: "`both` (line 5): the intersection has no interior points". Empty where none of the definitions is around
/// it.
std::string why_empty(SolidPointer solid, const std::vector<NamedSolid>& definitions, Engine& engine);

}  // namespace cutproof
