// SPDX-License-Identifier: GPL-3.0-or-later
// The fields that every number law is tested over: degrees 1, 2, 3, 4 and 8 (Antic has code of its own for degrees 1 and 2),
// totally real and not; and random numbers of them, with the near-equal, tiny and huge ones that uniform choice never gives.
#pragma once

#include "number/print.hpp"
#include "number/tower.hpp"

#include <memory>
#include <random>
#include <string>
#include <vector>

namespace cutproof::test {

struct NamedTower {
  std::string name;
  std::unique_ptr<FieldTower> tower;
  const Field& field() const { return tower->top(); }
};

inline std::vector<Number> coefficients(std::initializer_list<long> values) {
  std::vector<Number> result;
  for (const long value : values) result.emplace_back(value);
  return result;
}

inline std::vector<NamedTower> all_towers() {
  std::vector<NamedTower> towers;
  const auto add = [&](const char* name) -> FieldTower& {
    towers.push_back({name, std::make_unique<FieldTower>()});
    return *towers.back().tower;
  };
  add("Q");
  add("Q(sqrt 2)").square_root(Number(2));
  add("Q(sqrt 5)").square_root(Number(5));
  add("Q(cbrt 2)").root(Number(2), 3);
  add("Q(cos(pi/7))").cosine(pi_angle(Number::fraction(1, 7)));
  add("tribonacci").polynomial_root(coefficients({-1, -1, -1, 1}), Number(2));
  FieldTower& biquadratic = add("Q(sqrt 2, sqrt 3)");
  biquadratic.square_root(Number(2));
  biquadratic.square_root(Number(3));
  add("Q(3^(1/4))").root(Number(3), 4);
  FieldTower& octic = add("Q(sqrt 2, sqrt 3, sqrt 5)");
  for (const long radicand : {2L, 3L, 5L}) octic.square_root(Number(radicand));
  add("root of x^8 - 3*x + 1").polynomial_root(coefficients({1, -3, 0, 0, 0, 0, 0, 0, 1}), Number(1));
  FieldTower& nested = add("nested square roots");
  nested.square_root(Number(3) + nested.square_root(Number(2) + nested.square_root(Number(2))));
  return towers;
}

/// 1e-40 and the like, exactly.
inline Number power_of_ten(int exponent) {
  Rational value;
  fmpz_ui_pow_ui(exponent < 0 ? value.denominator() : value.numerator(), 10, static_cast<ulong>(std::abs(exponent)));
  if (exponent < 0) fmpz_one(value.numerator());
  return Number(value, Field::rational());
}

class RandomNumbers {
 public:
  RandomNumbers(const Field& field, unsigned seed) : field_(field), engine_(seed) {}

  long small(long bound) { return static_cast<long>(engine_() % static_cast<unsigned long>(2 * bound + 1)) - bound; }

  /// Coefficients up to `bound` over one denominator up to 20.
  Number plain(long bound = 50) {
    const Number generator = Number::generator(field_);
    Number value(0L, field_);
    for (int i = 0; i < field_.degree(); ++i) value = value * generator + Number(small(bound), field_);
    return value * Number::fraction(1, 1 + std::abs(small(19)));
  }

  Number any() {
    switch (engine_() % 8) {
      case 0:
        return Number(small(3), field_);
      case 1:
        return plain() + plain() * power_of_ten(-40);
      case 2:
        return tiny();
      case 3:
        return plain(1000000000) * power_of_ten(20);
      case 4:
        return plain() * power_of_ten(-330);
      default:
        return plain();
    }
  }

  /// Small without a small coefficient: the difference of an irrational number and a close rational.
  Number tiny() {
    const Number value = plain();
    const std::string decimal = to_decimal(absolute(value), 42);
    return absolute(value) - parsed(decimal);
  }

  /// Not 0.
  Number nonzero() {
    while (true) {
      Number value = any();
      if (!value.is_zero()) return value;
    }
  }

  /// The exact value of what to_decimal writes.
  static Number parsed(const std::string& decimal) {
    std::string digits;
    int places = 0;
    bool after_point = false;
    std::size_t i = 0;
    for (; i < decimal.size() && decimal[i] != 'e'; ++i) {
      if (decimal[i] == '.') {
        after_point = true;
      } else {
        digits += decimal[i];
        if (after_point) ++places;
      }
    }
    const int exponent = i < decimal.size() ? std::stoi(decimal.substr(i + 1)) : 0;
    Rational value;
    fmpz_set_str(value.numerator(), digits.c_str(), 10);
    return Number(value, Field::rational()) * power_of_ten(exponent - places);
  }

 private:
  const Field& field_;
  std::mt19937_64 engine_;
};

/// The number by a computation of its own: Horner in balls of 4000 bits from the coefficients.
inline Ball oracle(const Number& number) {
  constexpr slong precision = 4000;
  RationalPolynomial polynomial;
  number.get_polynomial(polynomial);
  Ball generator, value, coefficient;
  number.field().enclose_generator(generator, precision);
  Rational exact;
  for (slong i = fmpq_poly_degree(polynomial); i >= 0; --i) {
    fmpq_poly_get_coeff_fmpq(exact, polynomial, i);
    arb_set_fmpq(coefficient, exact, precision);
    arb_mul(value, value, generator, precision);
    arb_add(value, value, coefficient, precision);
  }
  return value;
}

inline int oracle_sign(const Number& number) {
  const Ball value = oracle(number);
  return arb_is_positive(value) ? 1 : arb_is_negative(value) ? -1 : 0;
}

}  // namespace cutproof::test
