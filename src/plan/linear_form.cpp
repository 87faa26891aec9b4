// SPDX-License-Identifier: GPL-3.0-or-later
// Whatever holds no coordinate is left to the evaluator; sums, products with constants and quotients by constants are
// linear.
#include "plan/linear_form.hpp"

#include "plan/fold.hpp"

namespace cutproof {

namespace {

using Kind = Expression::Kind;

[[noreturn]] void refuse(const Expression& at, const std::string& message) {
  throw ExpressionError(message, "a plane's equation is linear in x, y and z: `x + 2*y = 1`", at.offset, at.length);
}

LinearForm scaled(const LinearForm& form, const Number& factor) {
  return {factor * form.normal, factor * form.constant};
}

class LinearForms {
 public:
  LinearForms(const Expression& expression, Scope& scope, FieldTower& tower)
      : with_coordinates_(nodes_with_letters(expression, "xyz")), scope_(scope), tower_(tower) {}

  FoldStep<LinearForm> operator()(const Expression& at, const Operands<LinearForm>& operands) const {
    if (!mentions_coordinates(at)) return LinearForm{{}, evaluate_number(at, scope_, tower_)};
    const bool is_complete = operands.size() == at.operands.size();
    switch (at.kind) {
      case Kind::name:
        if (at.text == "z" && scope_.dimension() == 2) refuse(at, "there is no z in a plan of dimension 2");
        return LinearForm{{Number(at.text == "x" ? 1 : 0), Number(at.text == "y" ? 1 : 0), Number(at.text == "z" ? 1 : 0)},
                          Number(0)};
      case Kind::negate:
        if (!is_complete) return next_operand(at, operands);
        return scaled(operands[0], Number(-1));
      case Kind::add:
      case Kind::subtract: {
        if (!is_complete) return next_operand(at, operands);
        const LinearForm right = scaled(operands[1], Number(at.kind == Kind::add ? 1 : -1));
        return LinearForm{operands[0].normal + right.normal, operands[0].constant + right.constant};
      }
      case Kind::multiply: {
        const bool left = mentions_coordinates(*at.operands[0]);
        if (left && mentions_coordinates(*at.operands[1])) refuse(at, "a product of coordinates is not linear");
        if (!is_complete) return next_operand(at, operands);
        return left ? scaled(operands[0], operands[1].constant) : scaled(operands[1], operands[0].constant);
      }
      case Kind::divide: {
        if (is_complete) return scaled(operands[1], divide(Number(1), operands[0].constant));
        const Expression& below = *at.operands[1];
        if (mentions_coordinates(below)) refuse(below, "a division by a coordinate is not linear");
        operands.add({{}, evaluate_number(below, scope_, tower_)});
        if (operands[0].constant.is_zero()) refuse(below, "division by zero: this is exactly 0");
        return Walk{at.operands[0].get()};
      }
      default:
        refuse(at, "this is not linear in x, y and z");
    }
  }

 private:
  bool mentions_coordinates(const Expression& at) const { return with_coordinates_.count(&at) != 0; }

  const std::set<const Expression*> with_coordinates_;
  Scope& scope_;
  FieldTower& tower_;
};

}  // namespace

LinearForm linear_form(const Expression& expression, Scope& scope, FieldTower& tower) {
  return fold<LinearForm>(expression, LinearForms(expression, scope, tower));
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
