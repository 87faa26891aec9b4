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
  const std::size_t sign = text.find('=');
  const std::string hint = "write `x + 2*y = 1`";
  if (sign == std::string_view::npos) throw ExpressionError("a plane's equation needs an `=`", hint, 0, text.size());
  const std::size_t second = text.find('=', sign + 1);
  if (second != std::string_view::npos) throw ExpressionError("a plane's equation has one `=` only", hint, second, 1);
  const auto blank = [](std::string_view side) { return side.find_first_not_of(" \t\r\n") == std::string_view::npos; };
  if (blank(text.substr(0, sign)) || blank(text.substr(sign + 1)))
    throw ExpressionError("one side of the equation is empty", hint, sign, 1);
  const ExpressionPointer left = parse_expression(text.substr(0, sign));
  // Blanks in front keep the places of the right side.
  const std::string padded = std::string(sign + 1, ' ') + std::string(text.substr(sign + 1));
  const ExpressionPointer right = parse_expression(padded);
  const LinearForm above = linear_form(*left, scope, tower), below = linear_form(*right, scope, tower);
  const Plane plane{above.normal - below.normal, below.constant - above.constant};
  if (is_zero(plane.normal))
    throw ExpressionError("no coordinate is left in this equation: it is no plane", hint, 0, text.size());
  return plane;
}

}  // namespace cutproof
