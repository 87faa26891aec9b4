// SPDX-License-Identifier: GPL-3.0-or-later
// Sums of rational multiples of roots and cosines as people write them. All texts are expressions of the plan language.
#pragma once

#include "number/field.hpp"
#include "number/flint.hpp"
#include "number/written_term.hpp"

#include <cstddef>
#include <string>
#include <vector>

namespace cutproof {

std::string integer_text(const fmpz_t value);
std::string rational_text(const fmpq_t value);
/// `3*sqrt(2)/4`, `-sqrt(3)`, `1/2`; the factor is not 0.
std::string term_text(const WrittenTerm& term);
/// The shortest of `1/2 + sqrt(2)`, `(1 + sqrt(5))/2` and `3*(1 + sqrt(2))/4`; where they are equally long, the one with
/// most in front. The first term is positive where one is. No factor is 0; an empty sum is `0`.
std::string sum_text(std::vector<WrittenTerm> terms);
/// Whether a text of this file is a sum outside of all parentheses, so that it needs some to become a factor.
bool is_sum(const std::string& text);

/// A product of roots of positive integers and of other numbers, with like roots gathered: `sqrt(6)`, `cbrt(4)`.
class WrittenProduct {
 public:
  /// Multiplies by radicand^(exponent/root).
  void multiply_root(const fmpz_t radicand, unsigned long root, unsigned long exponent = 1);
  void multiply_rational(const fmpq_t factor);
  /// Multiplies by what `text` writes, to the exponent; `text` is no sum.
  void multiply(const std::string& text, unsigned long exponent = 1);
  WrittenTerm term() const;

 private:
  struct Root {
    unsigned long index;
    Integer radicand;
  };
  Root& root(unsigned long index);
  Rational factor_ = one();
  std::vector<Root> roots_;  ///< by decreasing index
  std::string others_;
  static Rational one();
};

/// The products of powers of a field's generators, in the order of Field::to_monomials. With `multiples`, a cosine's k-th
/// power is replaced by the cosine of the k-fold angle.
std::vector<WrittenProduct> written_products(const Field& field, bool multiples);

/// integer = outside^n * inside, with every n-th power of a small prime outside, and inside no perfect n-th power.
void strip_powers(const fmpz_t integer, unsigned long n, fmpz_t outside, fmpz_t inside);

}  // namespace cutproof
