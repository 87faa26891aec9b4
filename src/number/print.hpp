// SPDX-License-Identifier: GPL-3.0-or-later
// Exact numbers as people write them: in the radicals of the plan, as expressions that can be pasted back into one.
#pragma once

#include "number/angle.hpp"
#include "number/number.hpp"

#include <map>
#include <string>
#include <vector>

namespace cutproof {

/// The coefficients in the monomials of the field's adjoined generators (Field::to_monomials).
std::vector<Rational> monomial_coefficients(const Number& number);
/// The largest positive rational whose removal leaves coprime integral coefficients in those monomials; 0 for 0.
Rational rational_content(const Number& number);

/// As people write it, in products of what was adjoined: `(2 + 3*sqrt(2))/4`, `sqrt(6)`, `sqrt(10 + 2*sqrt(5))/4`. The
/// shortest of the forms that are tried; an expression of the plan language with exactly this value, which adjoins nothing
/// to the number's tower.
std::string to_exact(const Number& number);
/// Correctly rounded to `digits` significant digits (or more, where the integer part is longer), padded with zeros: `0.5` is
/// `0.50000000000000000000`. Below 1e-6 in scientific notation (`1.0e-30`, padded). Zero is `0`.
std::string to_decimal(const Number& number, int digits = 20);
/// `60 deg`, `acos(1/3)`, `180 deg - acos(1/3)`: an expression with this value.
std::string to_exact(const Angle& angle);
/// In degrees.
std::string to_decimal_degrees(const Angle& angle, int digits = 20);

/// A sum of s * sqrt(r) with s, r in one field, r > 0, in pairwise different square classes: how lengths, areas and cosines
/// are kept that lie outside the field. Adjoins nothing.
class RadicalSum {
 public:
  /// Adds factor * sqrt(radicand), radicand >= 0.
  void add(const Number& factor, const Number& radicand);
  bool is_zero() const { return terms_.empty(); }
  struct Term {
    Number factor, radicand;
  };
  /// In the order in which their square classes came; factors are never zero.
  const std::vector<Term>& terms() const { return terms_; }
  int sign() const;  ///< exact

 private:
  std::vector<Term> terms_;
};
std::string to_exact(const RadicalSum& sum);
std::string to_decimal(const RadicalSum& sum, int digits = 20);

}  // namespace cutproof
