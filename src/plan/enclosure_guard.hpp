// SPDX-License-Identifier: GPL-3.0-or-later
// The second opinion on every expression: enclosed in balls straight from the tree, without fields or minimal polynomials.
// It catches a conjugate root in the place of the right one, which would make everything consistently wrong.
#pragma once

#include "plan/evaluate.hpp"

#include <map>

namespace cutproof {

/// Parts of an expression whose values were found elsewhere: calls of definitions, which were guarded there, and whole
/// numbers, which were decided in a field of their own.
struct ExactLeaves {
  std::map<const Expression*, ExactValue> values;
  std::map<const Expression*, Plane> planes;  ///< operands of `meet` and `foot`
};

/// Throws ToolFault when the exact value lies outside the balls that the expression itself evaluates to.
void guard_enclosure(const ExactValue& value, const Expression& expression, const ExactLeaves& known, Scope& scope,
                     FieldTower& tower);

}  // namespace cutproof
