// SPDX-License-Identifier: GPL-3.0-or-later
// Roots of polynomials with rational coefficients. Quadratic irrationals become square roots; an exact tie between two roots
// that are equally near shows in a common divisor, never in a comparison of approximations.
#include "number/complaint.hpp"
#include "number/flint.hpp"
#include "number/print.hpp"
#include "number/real_roots.hpp"
#include "number/tower_state.hpp"

namespace cutproof {

namespace {

/// One real root of the polynomial asked about: the `index`-th of an irreducible factor.
struct Candidate {
  IntegerPolynomial factor;
  int index;
  bool has_mirror;  ///< some root of the factor has a mirror image that is a root, too
};

RationalPolynomial rational_polynomial(const std::vector<Number>& coefficients) {
  RationalPolynomial result;
  Rational coefficient;
  for (std::size_t i = 0; i < coefficients.size(); ++i) {
    coefficients[i].get_rational(coefficient);
    fmpq_poly_set_coeff_fmpq(result, static_cast<slong>(i), coefficient);
  }
  return result;
}

/// p(2*centre - x): two roots of p are equally near to the centre exactly when one is the other's mirror image.
IntegerPolynomial mirror_image(const RationalPolynomial& polynomial, const Rational& centre) {
  RationalPolynomial argument, mirrored;
  Rational doubled;
  fmpq_mul_si(doubled, centre, 2);
  fmpq_poly_set_coeff_fmpq(argument, 0, doubled);
  fmpq_poly_set_coeff_si(argument, 1, -1);
  fmpq_poly_compose(mirrored, polynomial, argument);
  IntegerPolynomial result;
  fmpq_poly_get_numerator(result, mirrored);
  return result;
}

/// All real roots of the polynomial; InvalidInput when there is none.
std::vector<Candidate> real_root_candidates(const RationalPolynomial& polynomial, const Rational& centre) {
  IntegerPolynomial integral, common;
  fmpq_poly_get_numerator(integral, polynomial);
  const IntegerPolynomial mirrored = mirror_image(polynomial, centre);
  std::vector<Candidate> candidates;
  const IntegerFactors factors(integral);
  for (slong i = 0; i < factors.count(); ++i) {
    Candidate candidate;
    fmpz_poly_set(candidate.factor, factors[i]);
    fmpz_poly_gcd(common, candidate.factor, mirrored);
    candidate.has_mirror = fmpz_poly_degree(common) > 0;
    const int real = count_real_roots(candidate.factor);
    for (candidate.index = 0; candidate.index < real; ++candidate.index) candidates.push_back(candidate);
  }
  if (candidates.empty()) throw Refused(Wrong::no_real_root);
  return candidates;
}

/// What is known at one precision about which of the candidates is the nearest one.
struct NearestSoFar {
  std::size_t best;
  std::vector<std::size_t> rivals;  ///< others that may be as near or nearer
  std::vector<Ball> roots;
};

NearestSoFar nearest_at(const std::vector<Candidate>& candidates, const Ball& centre, slong precision) {
  NearestSoFar result{0, {}, {}};
  std::vector<Ball> distances;
  Ball ball;
  for (const Candidate& candidate : candidates) {
    enclose_real_root(ball, candidate.factor, candidate.index, precision);
    result.roots.push_back(ball);
    arb_sub(ball, ball, centre, precision);
    arb_abs(ball, ball);
    distances.push_back(ball);
  }
  for (std::size_t i = 1; i < candidates.size(); ++i)
    if (arf_cmp(arb_midref(distances[i].value), arb_midref(distances[result.best].value)) < 0) result.best = i;
  for (std::size_t i = 0; i < candidates.size(); ++i)
    if (i != result.best && !arb_lt(distances[result.best], distances[i])) result.rivals.push_back(i);
  return result;
}

/// True when the best candidate's mirror image is certainly a root, and can be no other one than the only rival.
bool is_exact_tie(const std::vector<Candidate>& candidates, const NearestSoFar& nearest, const Ball& centre,
                  slong precision) {
  if (nearest.rivals.size() != 1) return false;
  const std::size_t rival = nearest.rivals.front();
  if (!candidates[nearest.best].has_mirror || !candidates[rival].has_mirror) return false;
  Ball mirrored;
  arb_mul_2exp_si(mirrored, centre, 1);
  arb_sub(mirrored, mirrored, nearest.roots[nearest.best], precision);
  int overlapping = 0;
  for (const Ball& root : nearest.roots) overlapping += arb_overlaps(mirrored, root) != 0 ? 1 : 0;
  return overlapping == 1 && arb_overlaps(mirrored, nearest.roots[rival]) != 0;
}

/// `x^3 - 2*x + 1`
std::string polynomial_text(const std::vector<Number>& coefficients) {
  std::string text;
  for (std::size_t i = coefficients.size(); i-- > 0;) {
    if (coefficients[i].is_zero()) continue;
    std::string factor = to_exact(absolute(coefficients[i]));
    const std::string monomial = i == 0 ? "" : i == 1 ? "x" : "x^" + std::to_string(i);
    if (!monomial.empty()) factor = factor == "1" ? monomial : factor + "*" + monomial;
    const bool negative = coefficients[i].sign() < 0;
    text += text.empty() ? (negative ? "-" : "") + factor : (negative ? " - " : " + ") + factor;
  }
  return text;
}

}  // namespace

Number FieldTower::quadratic_root(const std::vector<Number>& coefficients, const Enclosure& enclosure) {
  const Number discriminant = square(coefficients[1]) - Number(4) * coefficients[0] * coefficients[2];
  const Number radical = square_root(discriminant);
  const Number twice = Number(2) * coefficients[2];
  const Number candidates[2] = {divide(radical - coefficients[1], twice), divide(-radical - coefficients[1], twice)};
  Ball ours, theirs;
  for (slong precision = 64;; precision *= 2) {
    enclosure(theirs, precision);
    bool possible[2];
    for (int i = 0; i < 2; ++i) {
      candidates[i].enclose(ours, precision);
      possible[i] = arb_overlaps(ours, theirs) != 0;
    }
    if (!possible[0] && !possible[1]) throw ToolFault("a quadratic irrational is neither root of its polynomial");
    if (possible[0] != possible[1]) return candidates[possible[0] ? 0 : 1];
  }
}

Number FieldTower::irreducible_root(const fmpz_poly_t polynomial, const Enclosure& enclosure, const Generator& adjoined) {
  const auto known = state_->named_roots.find(adjoined.text);
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
    value = quadratic_root(coefficients, enclosure);
  } else {
    value = adjoin(coefficients, enclosure, adjoined);
  }
  state_->named_roots.emplace(adjoined.text, value);
  return lifted(value);
}

Number FieldTower::polynomial_root(const std::vector<Number>& coefficients, const Number& near) {
  const RationalPolynomial polynomial = rational_polynomial(coefficients);
  const slong degree = fmpq_poly_degree(polynomial);
  if (degree < 1) throw Refused(Wrong::constant_polynomial);
  if (degree > 8L * state_->limits.max_degree) degree_exceeded(top(), state_->limits, "root(...)", degree, true);
  Rational centre;
  near.get_rational(centre);
  const std::vector<Candidate> candidates = real_root_candidates(polynomial, centre);

  Ball middle;
  for (slong precision = 64; precision <= (1L << 16); precision *= 2) {
    arb_set_fmpq(middle, centre, precision);
    const NearestSoFar nearest = nearest_at(candidates, middle, precision);
    if (nearest.rivals.empty()) {
      const Candidate& chosen = candidates[nearest.best];
      const Enclosure enclosure = [&](arb_t ball, slong wanted) {
        enclose_real_root(ball, chosen.factor, chosen.index, wanted);
      };
      return irreducible_root(chosen.factor, enclosure,
                              {"root(" + polynomial_text(coefficients) + ", " + to_exact(near) + ")"});
    }
    if (is_exact_tie(candidates, nearest, middle, precision)) throw Refused(Wrong::equally_near_roots, {to_exact(near)});
  }
  throw ToolFault("the nearest of several roots could not be told");
}

}  // namespace cutproof
