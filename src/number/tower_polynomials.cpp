// SPDX-License-Identifier: GPL-3.0-or-later
// Roots of polynomials with rational coefficients. Quadratic irrationals become square roots; an exact tie between two roots
// that are equally near shows in a common divisor, never in a comparison of approximations.
#include "number/print.hpp"
#include "number/tower_state.hpp"

#include <flint/fmpz_poly_factor.h>

namespace cutproof {

Number FieldTower::irreducible_root(const fmpz_poly_t polynomial, const Enclosure& enclosure, const std::string& text) {
  const auto known = state_->named_roots.find(text);
  if (known != state_->named_roots.end()) return lifted(known->second);
  const slong degree = fmpz_poly_degree(polynomial);
  std::vector<Number> coefficients;
  for (slong i = 0; i <= degree; ++i) {
    Integer coefficient;
    fmpz_poly_get_coeff_fmpz(coefficient, polynomial, i);
    coefficients.push_back(integer_number(coefficient, top()));
  }
  Number value;
  if (degree == 1) {
    value = -divide(coefficients[0], coefficients[1]);
  } else if (degree == 2) {
    const Number discriminant = square(coefficients[1]) - Number(4) * coefficients[0] * coefficients[2];
    const Number radical = square_root(discriminant);
    const Number twice = Number(2) * coefficients[2];
    const Number candidates[2] = {divide(radical - coefficients[1], twice), divide(-radical - coefficients[1], twice)};
    Ball ours, theirs;
    int chosen = -1;
    for (slong precision = 64; chosen < 0; precision *= 2) {
      enclosure(theirs, precision);
      bool possible[2];
      for (int i = 0; i < 2; ++i) {
        candidates[i].enclose(ours, precision);
        possible[i] = arb_overlaps(ours, theirs) != 0;
      }
      if (!possible[0] && !possible[1]) throw ToolFault("a quadratic irrational is neither root of its polynomial");
      if (possible[0] != possible[1]) chosen = possible[0] ? 0 : 1;
    }
    value = candidates[chosen];
  } else {
    value = adjoin(coefficients, enclosure, text);
  }
  state_->named_roots.emplace(text, value);
  return lifted(value);
}

Number FieldTower::polynomial_root(const std::vector<Number>& coefficients, const Number& near) {
  RationalPolynomial rational_polynomial;
  Rational coefficient, centre;
  for (std::size_t i = 0; i < coefficients.size(); ++i) {
    coefficients[i].get_rational(coefficient);
    fmpq_poly_set_coeff_fmpq(rational_polynomial, static_cast<slong>(i), coefficient);
  }
  near.get_rational(centre);
  if (fmpq_poly_degree(rational_polynomial) < 1) throw InvalidInput("`root` needs a polynomial in x that is not constant");
  if (fmpq_poly_degree(rational_polynomial) > 8 * state_->limits.max_degree)
    degree_exceeded(top(), state_->limits, "root(...)", "up to " + std::to_string(fmpq_poly_degree(rational_polynomial)));
  IntegerPolynomial integral;
  fmpq_poly_get_numerator(integral, rational_polynomial);
  // The mirror image p(2N - x): two roots are equally near exactly when one is the other's mirror image.
  RationalPolynomial mirror_argument, mirrored_rational;
  IntegerPolynomial mirrored;
  fmpq_mul_si(coefficient, centre, 2);
  fmpq_poly_set_coeff_fmpq(mirror_argument, 0, coefficient);
  fmpq_poly_set_coeff_si(mirror_argument, 1, -1);
  fmpq_poly_compose(mirrored_rational, rational_polynomial, mirror_argument);
  fmpq_poly_get_numerator(mirrored, mirrored_rational);

  struct Candidate {
    IntegerPolynomial factor;
    int index;
    bool has_mirror;
  };
  std::vector<Candidate> candidates;
  fmpz_poly_factor_t factors;
  fmpz_poly_factor_init(factors);
  fmpz_poly_factor(factors, integral);
  for (slong i = 0; i < factors->num; ++i) {
    Candidate candidate;
    fmpz_poly_set(candidate.factor, factors->p + i);
    IntegerPolynomial remainder;
    fmpz_poly_gcd(remainder, candidate.factor, mirrored);
    candidate.has_mirror = fmpz_poly_degree(remainder) > 0;
    const int real = count_real_roots(candidate.factor);
    for (candidate.index = 0; candidate.index < real; ++candidate.index) candidates.push_back(candidate);
  }
  fmpz_poly_factor_clear(factors);
  if (candidates.empty()) throw InvalidInput("this polynomial has no real root");

  Ball middle, distance, other;
  for (slong precision = 64;; precision *= 2) {
    if (precision > (1L << 16)) throw ToolFault("the nearest of several roots could not be told");
    std::vector<Ball> distances, roots;
    arb_set_fmpq(middle, centre, precision);
    for (const Candidate& candidate : candidates) {
      enclose_real_root(distance, candidate.factor, candidate.index, precision);
      roots.push_back(distance);
      arb_sub(distance, distance, middle, precision);
      arb_abs(distance, distance);
      distances.push_back(distance);
    }
    std::size_t best = 0;
    for (std::size_t i = 1; i < candidates.size(); ++i)
      if (arf_cmp(arb_midref(distances[i].value), arb_midref(distances[best].value)) < 0) best = i;
    std::vector<std::size_t> rivals;
    for (std::size_t i = 0; i < candidates.size(); ++i)
      if (i != best && !arb_lt(distances[best], distances[i])) rivals.push_back(i);
    if (rivals.empty()) {
      const Candidate& chosen = candidates[best];
      std::string text;
      for (std::size_t i = coefficients.size(); i-- > 0;) {
        if (coefficients[i].is_zero()) continue;
        std::string factor = to_exact(absolute(coefficients[i]));
        const std::string monomial = i == 0 ? "" : i == 1 ? "x" : "x^" + std::to_string(i);
        if (!monomial.empty()) factor = factor == "1" ? monomial : factor + "*" + monomial;
        const bool negative = coefficients[i].sign() < 0;
        text += text.empty() ? (negative ? "-" : "") + factor : (negative ? " - " : " + ") + factor;
      }
      const Enclosure enclosure = [&](arb_t ball, slong wanted) {
        enclose_real_root(ball, chosen.factor, chosen.index, wanted);
      };
      return irreducible_root(chosen.factor, enclosure, "root(" + text + ", " + to_exact(near) + ")");
    }
    // One rival left, mirrored, and the mirror image overlaps no other root: an exact tie.
    if (rivals.size() == 1 && candidates[best].has_mirror && candidates[rivals[0]].has_mirror) {
      arb_mul_2exp_si(other, middle, 1);
      arb_sub(other, other, roots[best], precision);
      int overlapping = 0;
      for (const Ball& candidate : roots) overlapping += arb_overlaps(other, candidate) != 0 ? 1 : 0;
      if (overlapping == 1 && arb_overlaps(other, roots[rivals[0]]))
        throw InvalidInput("two real roots are equally near to " + to_exact(near),
                           "write a number nearer to the root that you mean");
    }
  }
}

}  // namespace cutproof
