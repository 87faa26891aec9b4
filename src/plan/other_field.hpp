// SPDX-License-Identifier: GPL-3.0-or-later
// Exact data of one plan in the field of another: what a lemma's solids are in the plan that uses it.
#pragma once

#include "number/tower.hpp"
#include "solid/description.hpp"

namespace cutproof {

/// The same real number in the tower `to`, to which what it lacks is adjoined; `from` is the tower that it comes from.
/// It is carried over as the expression that writes it; ToolFault unless that has exactly this value in `from`.
/// Throws LimitReached.
Number in_other_field(const Number& number, FieldTower& from, FieldTower& to);
/// The same solid, number by number.
SolidPointer in_other_field(const SolidPointer& solid, FieldTower& from, FieldTower& to);

}  // namespace cutproof
