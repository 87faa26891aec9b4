// SPDX-License-Identifier: GPL-3.0-or-later
// Whatever holds no coordinate is left to the evaluator; sums, products with constants and quotients by constants are
// linear.
#include "plan/linear_form.hpp"

namespace cutproof {

namespace {

using Kind = Expression::Kind;

[[noreturn]] void refuse(const Expression& at, const std::string& message) {
  throw ExpressionError(message, "a plane's equation is linear in x, y and z: `x + 2*y = 1`", at.offset, at.length);
}

bool mentions_coordinates(const Expression& at) {
  if (at.kind == Kind::name) return at.text == "x" || at.text == "y" || at.text == "z";
  // the x of a polynomial is not the coordinate
  const bool polynomial = at.kind == Kind::call && at.text == "root";
  for (std::size_t i = polynomial ? 1 : 0; i < at.operands.size(); ++i)
    if (mentions_coordinates(*at.operands[i])) return true;
  return false;
}

LinearForm scaled(const LinearForm& form, const Number& factor) {
  return {factor * form.normal, factor * form.constant};
}

}  // namespace

LinearForm linear_form(const Expression& at, Scope& scope, FieldTower& tower) {
  if (!mentions_coordinates(at)) return {{}, evaluate_number(at, scope, tower)};
  const auto operand = [&](std::size_t i) { return linear_form(*at.operands[i], scope, tower); };
  switch (at.kind) {
    case Kind::name:
      if (at.text == "z" && scope.dimension() == 2) refuse(at, "there is no z in a plan of dimension 2");
      return {{Number(at.text == "x" ? 1 : 0), Number(at.text == "y" ? 1 : 0), Number(at.text == "z" ? 1 : 0)}, Number(0)};
    case Kind::negate:
      return scaled(operand(0), Number(-1));
    case Kind::add:
    case Kind::subtract: {
      const LinearForm left = operand(0), right = scaled(operand(1), Number(at.kind == Kind::add ? 1 : -1));
      return {left.normal + right.normal, left.constant + right.constant};
    }
    case Kind::multiply: {
      if (mentions_coordinates(*at.operands[0]) && mentions_coordinates(*at.operands[1]))
        refuse(at, "a product of coordinates is not linear");
      const LinearForm left = operand(0), right = operand(1);
      return mentions_coordinates(*at.operands[0]) ? scaled(left, right.constant) : scaled(right, left.constant);
    }
    case Kind::divide: {
      if (mentions_coordinates(*at.operands[1])) refuse(*at.operands[1], "a division by a coordinate is not linear");
      const Number divisor = evaluate_number(*at.operands[1], scope, tower);
      if (divisor.is_zero()) refuse(*at.operands[1], "division by zero: this is exactly 0");
      return scaled(operand(0), divide(Number(1), divisor));
    }
    default:
      refuse(at, "this is not linear in x, y and z");
  }
}

Plane evaluate_equation(std::string_view text, Scope& scope, FieldTower& tower) {
  return evaluate_equation(parse_equation(text, scope.version()), scope, tower);
}

Plane evaluate_equation(const Equation& equation, Scope& scope, FieldTower& tower) {
  const LinearForm above = linear_form(*equation.left, scope, tower), below = linear_form(*equation.right, scope, tower);
  const Plane plane{above.normal - below.normal, below.constant - above.constant};
  if (is_zero(plane.normal))
    throw ExpressionError("no coordinate is left in this equation: it is no plane", "write `x + 2*y = 1`", 0,
                          equation.length);
  return plane;
}

}  // namespace cutproof
