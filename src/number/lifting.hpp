// SPDX-License-Identifier: GPL-3.0-or-later
// Inverses and square roots modulo growing powers of a prime q, where they cost multiplications only: each of Newton's steps
// doubles the exponent. What is found is proved over the integers before it is returned.
#pragma once

#include "number/flint.hpp"
#include "number/number.hpp"

#include <optional>
#include <vector>

namespace cutproof {

/// numerator * b = denominator modulo f, in lowest terms but for the sign, for b of lower degree than f, which is monic and
/// irreducible; b is not 0. The work grows with the length of the result.
void inverse_by_lifting(fmpz_poly_t numerator, fmpz_t denominator, const fmpz_poly_t b, const fmpz_poly_t f);

/// Finds square roots of numbers of one field. Kept by the field, since most of its work is the same for all of them.
///
/// A square root of an algebraic integer c is an algebraic integer t, and t * f'(alpha) is a combination of powers of the
/// generator alpha whose i-th coefficient is the trace of t * b_i, with f(x)/(x - alpha) = b_0 + b_1 x + ... (L. Euler; the
/// dual basis, S. Lang, Algebraic Number Theory, ch. III, from memory). So the absolute values of c's conjugates bound it.
/// At a prime q that does not divide the discriminant of f, t is known up to a sign for each factor of f modulo q: none of
/// the choices of signs that gives coefficients within the bounds and squares to c means that c is no square.
class SquareRootFinder {
 public:
  explicit SquareRootFinder(const Field& field);
  enum class Answer { found, none, open };
  /// `root`: one of the two square roots of the number (not 0), where one is found. Open where too many signs would have to
  /// be tried.
  Answer find(const Number& number, std::optional<Number>& root);

 private:
  /// The factors of f modulo a prime, and the idempotents that belong to them modulo a power of it.
  struct Place {
    ulong prime;
    std::vector<IntegerPolynomial> factors, idempotents;
    slong exponent = 1;  ///< of the idempotents
  };
  Place& place(std::size_t i);
  void find_primes();
  void find_bounds();
  /// How many bits the coefficients of sqrt(c) * f'(alpha) have at most.
  slong coefficient_bits(const fmpz_poly_t c) const;
  void lift_idempotents(Place& at, slong exponent) const;
  /// 1/sqrt(c) modulo the place's prime; false when c is no square there.
  bool start(IntegerPolynomial& inverse_root, const IntegerPolynomial& c, const Place& at) const;

  const Field& field_;
  std::vector<ulong> primes_;  ///< fewest factors first
  std::vector<Place> places_;
  std::optional<ComplexBalls> generators_;
  std::vector<slong> weights_;  ///< bits of an upper bound of |b_i| at an embedding, the largest of all i
  std::optional<Number> inverse_derivative_;
};

}  // namespace cutproof
