// SPDX-License-Identifier: GPL-3.0-or-later
// The first argument of `root`: an expression in x, read as a polynomial with rational coefficients.
#pragma once

#include "number/tower.hpp"
#include "plan/expression.hpp"

#include <functional>
#include <vector>

namespace cutproof {

/// The value of a rational number as an element of Q; ToolFault for an irrational one.
Number to_rational_field(const Number& number);
/// The exact value of a number as written; LimitReached (`max-bits`) before anything large is computed.
Number literal_value(const Expression& literal, const NumberLimits& limits);

/// Coefficients in Q, lowest first. `constant` evaluates the parts without x. Throws ExpressionError for what is no
/// polynomial with rational coefficients, LimitReached for degrees far above the degree limit.
std::vector<Number> rational_polynomial(const Expression& expression,
                                        const std::function<Number(const Expression&)>& constant, const FieldTower& tower);

}  // namespace cutproof
