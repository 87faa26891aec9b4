// SPDX-License-Identifier: GPL-3.0-or-later
// Polynomial arithmetic on the tree; degrees are held before they are multiplied out.
#include "plan/rational_polynomial.hpp"

#include "number/flint.hpp"
#include "plan/fold.hpp"

#include <algorithm>
#include <cmath>

namespace cutproof {

namespace {

using Kind = Expression::Kind;
using Coefficients = std::vector<Number>;

[[noreturn]] void refuse(const Expression& at, const std::string& message) {
  throw ExpressionError(message, "`root` takes a polynomial in x with rational coefficients: `root(x^3 - x - 1, 1.3)`",
                        at.offset, at.length);
}

/// Of two operands the right one is walked first.
class Polynomials {
 public:
  Polynomials(const Expression& expression, const std::function<Number(const Expression&)>& constant,
              const FieldTower& tower)
      : with_x_(nodes_with_letters(expression, "x")),
        constant_(constant),
        tower_(tower),
        degree_limit_(8 * static_cast<std::size_t>(tower.limits().max_degree)) {}

  FoldStep<Coefficients> operator()(const Expression& at, const Operands<Coefficients>& operands) const {
    if (!mentions_x(at)) {
      const Number value = constant_(at);
      if (!value.is_rational()) refuse(at, "this coefficient is irrational");
      return Coefficients{to_rational_field(value)};
    }
    const bool is_complete = operands.size() == at.operands.size();
    const auto before = [&] { return Walk{at.operands[at.operands.size() - 1 - operands.size()].get()}; };
    switch (at.kind) {
      case Kind::name:
        return Coefficients{Number(0), Number(1)};
      case Kind::negate:
        if (!is_complete) return before();
        return scaled(std::move(operands[0]), Number(-1));
      case Kind::add:
      case Kind::subtract:
        if (!is_complete) return before();
        if (at.kind == Kind::subtract) operands[0] = scaled(std::move(operands[0]), Number(-1));
        return sum(std::move(operands[1]), operands[0]);
      case Kind::multiply:
        if (!is_complete) return before();
        return product(operands[1], operands[0]);
      case Kind::divide: {
        if (is_complete) return scaled(std::move(operands[1]), divide(Number(1), operands[0][0]));
        const Expression& below = *at.operands[1];
        if (mentions_x(below)) refuse(below, "a division by x makes no polynomial");
        if (!operands.empty() && operands[0][0].is_zero()) refuse(below, "division by zero: this is exactly 0");
        return before();
      }
      case Kind::power:
        if (is_complete) return power(operands[1], operands[0][0]);
        operands.add({exponent(*at.operands[1])});
        return before();
      default:
        refuse(at, "this makes no polynomial in x");
    }
  }

 private:
  static Coefficients scaled(Coefficients p, const Number& factor) {
    for (Number& coefficient : p) coefficient *= factor;
    return p;
  }

  static Coefficients sum(Coefficients p, const Coefficients& q) {
    if (p.size() < q.size()) p.resize(q.size(), Number(0));
    for (std::size_t i = 0; i < q.size(); ++i) p[i] += q[i];
    return p;
  }

  void hold_degree(std::size_t degree) const {
    if (degree > degree_limit_)
      throw LimitReached("max-degree",
                         "the polynomial in `root` has degree " + std::to_string(degree) +
                             " or more, far above the degree limit of " + std::to_string(tower_.limits().max_degree),
                         "is the exponent meant to be smaller?");
  }

  Coefficients product(const Coefficients& p, const Coefficients& q) const {
    hold_degree(p.size() + q.size() - 2);
    Coefficients result(p.size() + q.size() - 1, Number(0));
    for (std::size_t i = 0; i < p.size(); ++i)
      for (std::size_t j = 0; j < q.size(); ++j) result[i + j] += p[i] * q[j];
    for (const Number& coefficient : result) tower_.checked(coefficient);
    return result;
  }

  Number exponent(const Expression& at) const {
    if (mentions_x(at)) refuse(at, "an exponent with x in it makes no polynomial");
    Number exponent = constant_(at);
    if (!exponent.is_integer() || exponent.sign() < 0) refuse(at, "an exponent in a polynomial is a whole number from 0 on");
    return exponent;
  }

  Coefficients power(const Coefficients& base, const Number& exponent) const {
    if (exponent > Number(static_cast<long>(degree_limit_))) hold_degree(degree_limit_ + 1);
    const auto count = static_cast<std::size_t>(std::lround(exponent.approximate()));
    hold_degree(count * (base.size() - 1));
    Coefficients result = {Number(1)};
    for (std::size_t i = 0; i < count; ++i) result = product(result, base);
    return result;
  }

  bool mentions_x(const Expression& at) const { return with_x_.count(&at) != 0; }

  const std::set<const Expression*> with_x_;
  const std::function<Number(const Expression&)>& constant_;
  const FieldTower& tower_;
  std::size_t degree_limit_;
};

}  // namespace

std::vector<Number> rational_polynomial(const Expression& expression,
                                        const std::function<Number(const Expression&)>& constant, const FieldTower& tower) {
  return fold<Coefficients>(expression, Polynomials(expression, constant, tower));
}

}  // namespace cutproof
