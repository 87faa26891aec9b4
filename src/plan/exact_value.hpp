// SPDX-License-Identifier: GPL-3.0-or-later
// Exact things written down: every number as an expression, and nothing that version 1 of the language does not know.
#pragma once

#include "cutproof/plan.hpp"
#include "plan/exact_plan.hpp"

namespace cutproof {

PlanValue written_value(const Vector3& point);
/// By its equation: the normal points to the same side.
PlanValue written_value(const Plane& plane);
/// A shift or a `map`; of a mirror image a reflection stands before it.
PlanValue written_value(const Motion& motion);
/// Copies are written out where they lie.
PlanValue written_value(const SolidDescription& solid);

}  // namespace cutproof
