// SPDX-License-Identifier: GPL-3.0-or-later
// Polynomial arithmetic on the tree; degrees are held before they are multiplied out.
#include "plan/rational_polynomial.hpp"

#include "number/flint.hpp"

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

/// `x` of an inner `root` is that root's own.
bool mentions_x(const Expression& at) {
  if (at.kind == Kind::name) return at.text == "x";
  const bool inner_root = at.kind == Kind::call && at.text == "root";
  for (std::size_t i = inner_root ? 1 : 0; i < at.operands.size(); ++i)
    if (mentions_x(*at.operands[i])) return true;
  return false;
}

class Reader {
 public:
  Reader(const std::function<Number(const Expression&)>& constant, const FieldTower& tower)
      : constant_(constant), tower_(tower), degree_limit_(8 * static_cast<std::size_t>(tower.limits().max_degree)) {}

  Coefficients read(const Expression& at) const {
    if (!mentions_x(at)) {
      const Number value = constant_(at);
      if (!value.is_rational()) refuse(at, "this coefficient is irrational");
      return {to_rational_field(value)};
    }
    switch (at.kind) {
      case Kind::name:
        return {Number(0), Number(1)};
      case Kind::negate:
        return scaled(read(*at.operands[0]), Number(-1));
      case Kind::add:
        return sum(read(*at.operands[0]), read(*at.operands[1]));
      case Kind::subtract:
        return sum(read(*at.operands[0]), scaled(read(*at.operands[1]), Number(-1)));
      case Kind::multiply:
        return product(read(*at.operands[0]), read(*at.operands[1]));
      case Kind::divide: {
        if (mentions_x(*at.operands[1])) refuse(*at.operands[1], "a division by x makes no polynomial");
        const Coefficients divisor = read(*at.operands[1]);
        if (divisor[0].is_zero()) refuse(*at.operands[1], "division by zero: this is exactly 0");
        return scaled(read(*at.operands[0]), divide(Number(1), divisor[0]));
      }
      case Kind::power:
        return power(at);
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

  Coefficients power(const Expression& at) const {
    if (mentions_x(*at.operands[1])) refuse(*at.operands[1], "an exponent with x in it makes no polynomial");
    const Number exponent = constant_(*at.operands[1]);
    if (!exponent.is_integer() || exponent.sign() < 0)
      refuse(*at.operands[1], "an exponent in a polynomial is a whole number from 0 on");
    Coefficients base = read(*at.operands[0]);
    if (exponent > Number(static_cast<long>(degree_limit_))) hold_degree(degree_limit_ + 1);
    const auto count = static_cast<std::size_t>(std::lround(exponent.approximate()));
    hold_degree(count * (base.size() - 1));
    Coefficients result = {Number(1)};
    for (std::size_t i = 0; i < count; ++i) result = product(result, base);
    return result;
  }

  const std::function<Number(const Expression&)>& constant_;
  const FieldTower& tower_;
  std::size_t degree_limit_;
};

}  // namespace

std::vector<Number> rational_polynomial(const Expression& expression,
                                        const std::function<Number(const Expression&)>& constant, const FieldTower& tower) {
  return Reader(constant, tower).read(expression);
}

}  // namespace cutproof
