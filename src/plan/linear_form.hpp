// SPDX-License-Identifier: GPL-3.0-or-later
// Equations of planes: both sides are read as linear forms in x, y, z.
#pragma once

#include "plan/evaluate.hpp"

namespace cutproof {

/// normal . (x, y, z) + constant
struct LinearForm {
  Vector3 normal;
  Number constant;
};

/// Throws ExpressionError where the expression is not linear in x, y and z.
LinearForm linear_form(const Expression& expression, Scope& scope, FieldTower& tower);

}  // namespace cutproof
