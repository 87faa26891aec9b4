// SPDX-License-Identifier: GPL-3.0-or-later
// The domain of balls. Angles are kept in radians. Names are enclosed from their exact values, which were guarded
// when they were computed. Where a ball says nothing (acos of a ball round 1) the precision grows, and at last the guard is
// silent.
#include "plan/enclosure_guard.hpp"

#include "number/flint.hpp"
#include "number/real_roots.hpp"
#include "plan/fold.hpp"
#include "plan/rational_polynomial.hpp"

namespace cutproof {

namespace {

using Kind = Expression::Kind;
/// One ball for a number or an angle, three for a vector.
using Balls = std::vector<Ball>;

class BallEvaluator {
 public:
  BallEvaluator(const ExactLeaves& known, Scope& scope, FieldTower& tower, slong precision)
      : known_(known), scope_(scope), tower_(tower), precision_(precision) {}

  Balls enclose_exact(const ExactValue& value) const {
    Balls result;
    if (const auto* number = std::get_if<Number>(&value)) {
      result.resize(1);
      number->enclose(result[0], precision_);
    } else if (const auto* vector = std::get_if<Vector3>(&value)) {
      result.resize(3);
      vector->x.enclose(result[0], precision_);
      vector->y.enclose(result[1], precision_);
      vector->z.enclose(result[2], precision_);
    } else {
      result.resize(1);
      cutproof::enclose(std::get<Angle>(value), result[0], precision_);
    }
    return result;
  }

  FoldStep<Balls> operator()(const Expression& at, const Operands<Balls>& operands) const {
    if (at.kind == Kind::call) return call(at, operands);
    if (at.kind == Kind::power && operands.size() == 1) return Balls{power(operands[0].at(0), *at.operands[1])};
    if (operands.size() < at.operands.size()) return next_operand(at, operands);
    switch (at.kind) {
      case Kind::number:
        return enclose_exact(literal_value(at, tower_.limits()));
      case Kind::name: {
        if (at.text == "pi") return Balls{pi()};
        const std::optional<ExactValue> value = scope_.value_of(at.text);
        if (!value) throw ToolFault("a name lost its value");
        return enclose_exact(*value);
      }
      case Kind::vector:
        return Balls{operands[0].at(0), operands[1].at(0), operands.size() == 2 ? Ball() : operands[2].at(0)};
      case Kind::component:
        return Balls{operands[0].at(at.text == "x" ? 0 : at.text == "y" ? 1 : 2)};
      case Kind::negate:
        return negative(std::move(operands[0]));
      case Kind::add:
        return sum(std::move(operands[0]), operands[1]);
      case Kind::subtract:
        return sum(std::move(operands[0]), negative(std::move(operands[1])));
      case Kind::multiply: {
        Balls &left = operands[0], &right = operands[1];
        if (left.size() < right.size()) std::swap(left, right);
        return each(std::move(left), [&](Ball& x) { arb_mul(x, x, right[0], precision_); });
      }
      case Kind::divide: {
        const Ball& divisor = operands[1].at(0);
        return each(std::move(operands[0]), [&](Ball& x) { arb_div(x, x, divisor, precision_); });
      }
      case Kind::degrees: {
        Ball result = operands[0].at(0);
        arb_mul(result, result, pi(), precision_);
        arb_div_ui(result, result, 180, precision_);
        return Balls{result};
      }
      case Kind::power:
      case Kind::call:
        break;
    }
    throw ToolFault("an expression of an unknown kind");
  }

 private:
  template <class Change>
  static Balls each(Balls balls, Change change) {
    for (Ball& ball : balls) change(ball);
    return balls;
  }

  static Balls negative(Balls balls) {
    return each(std::move(balls), [](Ball& x) { arb_neg(x, x); });
  }

  Balls sum(Balls left, const Balls& right) const {
    for (std::size_t i = 0; i < left.size(); ++i) arb_add(left[i], left[i], right.at(i), precision_);
    return left;
  }

  Ball pi() const {
    Ball result;
    arb_const_pi(result, precision_);
    return result;
  }

  /// base^(p/q) with the sign that an odd q allows.
  Ball power(const Ball& base, const Expression& exponent_tree) const {
    const ExactValue exponent = evaluate(exponent_tree, scope_, tower_);
    Rational rational;
    std::get<Number>(exponent).get_rational(rational);
    Ball result = base;
    if (!fmpz_is_one(rational.denominator())) result = root(base, fmpz_get_ui(rational.denominator()));
    arb_pow_fmpz(result, result, rational.numerator(), precision_);
    return result;
  }

  Ball root(const Ball& radicand, ulong n) const {
    Ball result = radicand;
    const bool flip = n % 2 == 1 && arb_is_negative(radicand);
    if (flip) arb_neg(result, result);
    arb_root_ui(result, result, n, precision_);
    if (flip) arb_neg(result, result);
    return result;
  }

  Ball dot(const Balls& u, const Balls& v) const {
    Ball result;
    for (std::size_t i = 0; i < 3; ++i) arb_addmul(result, u.at(i), v.at(i), precision_);
    return result;
  }

  Balls cross(const Balls& u, const Balls& v) const {
    Balls result(3);
    for (std::size_t i = 0; i < 3; ++i) {
      arb_mul(result[i], u.at((i + 1) % 3), v.at((i + 2) % 3), precision_);
      arb_submul(result[i], u.at((i + 2) % 3), v.at((i + 1) % 3), precision_);
    }
    return result;
  }

  Balls scaled(Balls v, const Ball& factor) const {
    return each(std::move(v), [&](Ball& x) { arb_mul(x, x, factor, precision_); });
  }

  struct BallPlane {
    Balls normal;
    Ball offset;
  };
  BallPlane plane(const Expression& at) const {
    const Plane& exact = known_.planes.at(&at);
    BallPlane result{enclose_exact(exact.normal), {}};
    exact.offset.enclose(result.offset, precision_);
    return result;
  }

  FoldStep<Balls> call(const Expression& at, const Operands<Balls>& arguments) const {
    const std::string& name = at.text;
    if (arguments.empty()) {
      if (const auto leaf = known_.values.find(&at); leaf != known_.values.end()) return enclose_exact(leaf->second);
      if (name == "meet") return meet(at);
      if (name == "root") return Walk{at.operands[1].get()};
    }
    if (name == "root") return Balls{polynomial_root(at, arguments[0].at(0))};
    if (name == "foot" && !arguments.empty()) return foot(arguments[0], plane(*at.operands[1]));
    if (arguments.size() < at.operands.size()) return next_operand(at, arguments);
    if (name == "cross" && scope_.dimension() == 2) return Balls{cross(arguments[0], arguments[1]).at(2)};
    if (name == "cross") return cross(arguments[0], arguments[1]);
    if (name == "dot") return Balls{dot(arguments[0], arguments[1])};
    Ball x = arguments[0].at(0);
    if (name == "norm") {
      x = dot(arguments[0], arguments[0]);
      arb_sqrtpos(x, x, precision_);
    } else if (name == "angle") {
      const Balls normal = cross(arguments[0], arguments[1]);
      Ball height = dot(normal, normal);
      arb_sqrtpos(height, height, precision_);
      arb_atan2(x, height, dot(arguments[0], arguments[1]), precision_);
    } else if (name == "min" || name == "max") {
      for (std::size_t i = 1; i < arguments.size(); ++i)
        (name == "min" ? arb_min : arb_max)(x, x, arguments[i].at(0), precision_);
    } else if (name == "sqrt") {
      arb_sqrtpos(x, x, precision_);
    } else if (name == "cbrt") {
      x = root(x, 3);
    } else if (name == "abs") {
      arb_abs(x, x);
    } else if (name == "cos") {
      arb_cos(x, x, precision_);
    } else if (name == "sin") {
      arb_sin(x, x, precision_);
    } else if (name == "tan") {
      arb_tan(x, x, precision_);
    } else if (name == "acos") {
      arb_acos(x, x, precision_);
    } else if (name == "asin") {
      arb_asin(x, x, precision_);
    } else if (name == "atan") {
      arb_atan(x, x, precision_);
    } else if (name == "mod") {  // irrational, or it would be among the leaves
      Ball quotient;
      arb_div(quotient, x, arguments[1].at(0), precision_);
      arb_floor(quotient, quotient, precision_);
      arb_submul(x, quotient, arguments[1][0], precision_);
    } else {
      throw ToolFault("a function without an enclosure");
    }
    return Balls{x};
  }

  Balls meet(const Expression& at) const {
    const BallPlane a = plane(*at.operands[0]), b = plane(*at.operands[1]);
    const BallPlane c = scope_.dimension() == 2 ? BallPlane{enclose_exact(Vector3{0, 0, 1}), {}} : plane(*at.operands[2]);
    const Balls bc = cross(b.normal, c.normal);
    const Ball determinant = dot(a.normal, bc);
    Balls result = sum(sum(scaled(bc, a.offset), scaled(cross(c.normal, a.normal), b.offset)),
                       scaled(cross(a.normal, b.normal), c.offset));
    return each(std::move(result), [&](Ball& x) { arb_div(x, x, determinant, precision_); });
  }

  Balls foot(const Balls& p, const BallPlane& onto) const {
    Ball height = dot(onto.normal, p);
    arb_sub(height, onto.offset, height, precision_);
    arb_div(height, height, dot(onto.normal, onto.normal), precision_);
    return sum(p, scaled(onto.normal, height));
  }

  /// The real root whose distance from the given place is least; says nothing while two are equally near.
  Ball polynomial_root(const Expression& at, const Ball& near) const {
    const std::vector<Number> coefficients = rational_polynomial(
        *at.operands[0], [this](const Expression& constant) { return std::get<Number>(evaluate(constant, scope_, tower_)); },
        tower_);
    RationalPolynomial rational;
    Rational coefficient;
    for (std::size_t i = 0; i < coefficients.size(); ++i) {
      coefficients[i].get_rational(coefficient);
      fmpq_poly_set_coeff_fmpq(rational, static_cast<slong>(i), coefficient);
    }
    IntegerPolynomial polynomial, derivative;
    fmpq_poly_get_numerator(polynomial, rational);
    fmpz_poly_derivative(derivative, polynomial);
    fmpz_poly_gcd(derivative, polynomial, derivative);
    fmpz_poly_div(polynomial, polynomial, derivative);
    std::vector<Ball> roots(static_cast<std::size_t>(count_real_roots(polynomial)));
    std::vector<Ball> distances(roots.size());
    std::size_t best = 0;
    for (std::size_t i = 0; i < roots.size(); ++i) {
      enclose_real_root(roots[i], polynomial, static_cast<int>(i), precision_);
      arb_sub(distances[i], roots[i], near, precision_);
      arb_abs(distances[i], distances[i]);
      if (arf_cmp(arb_midref(distances[i].value), arb_midref(distances[best].value)) < 0) best = i;
    }
    for (std::size_t i = 0; i < roots.size(); ++i)
      if (i != best && !arb_lt(distances[best], distances[i])) arb_zero_pm_inf(roots[best]);
    return roots.at(best);
  }

  const ExactLeaves& known_;
  Scope& scope_;
  FieldTower& tower_;
  slong precision_;
};

}  // namespace

void guard_enclosure(const ExactValue& value, const Expression& expression, const ExactLeaves& known, Scope& scope,
                     FieldTower& tower) {
  for (slong precision = 128; precision <= 2048; precision *= 4) {
    const BallEvaluator evaluator(known, scope, tower, precision);
    const Balls exact = evaluator.enclose_exact(value);
    const Balls direct = fold<Balls>(expression, evaluator);
    if (exact.size() != direct.size()) throw ToolFault("a value and its enclosure are of different kinds");
    bool sharp = true;
    for (std::size_t i = 0; i < exact.size(); ++i) {
      if (!arb_overlaps(exact[i], direct[i]))
        throw ToolFault("an exact value lies outside the enclosure of its own expression");
      sharp = sharp && (arb_rel_accuracy_bits(direct[i]) > 30 || mag_cmp_2exp_si(arb_radref(direct[i].value), -30) < 0);
    }
    if (sharp) return;
  }
}

}  // namespace cutproof
