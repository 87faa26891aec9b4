// SPDX-License-Identifier: GPL-3.0-or-later
// Adjoining a root beta of h: find its minimal polynomial over K, make t*beta an algebraic integer, find a short generator
// of K(t*beta), and prove what was found in the new field.
#include "number/extension.hpp"

#include "number/errors.hpp"
#include "number/field_factor.hpp"
#include "number/real_roots.hpp"
#include "number/short_generator.hpp"

#include <algorithm>
#include <utility>

namespace cutproof {

namespace {

/// The coefficients divided by the leading one.
Polynomial monic(const Polynomial& given, const Field& field) {
  Polynomial result;
  for (const Number& coefficient : given) result.push_back(coefficient.lifted_to(field));
  if (result.back() == Number(1L, field)) return result;
  const Number inverse = divide(Number(1L, field), result.back());
  for (Number& coefficient : result) coefficient = coefficient * inverse;
  return result;
}

/// The least common denominator of the number's coordinates in the field's basis of algebraic integers.
void integral_denominator(fmpz_t result, const Number& number, const fmpq_mat_t to_basis) {
  const slong degree = number.field().degree();
  RationalPolynomial polynomial;
  number.get_polynomial(polynomial);
  RationalMatrix column(degree, 1), coordinates(degree, 1);
  for (slong i = 0; i < degree; ++i) fmpq_poly_get_coeff_fmpq(column.entry(i, 0), polynomial, i);
  fmpq_mat_mul(coordinates, to_basis, column);
  fmpz_one(result);
  for (slong i = 0; i < degree; ++i) fmpz_lcm(result, result, fmpq_denref(coordinates.entry(i, 0)));
}

/// Multiplies t by as little as possible such that the denominator divides t^exponent (little: as long as the denominator's
/// large primes are not known, they are taken as they are).
void make_divisible(fmpz_t t, const fmpz_t denominator, unsigned long exponent) {
  Integer power, left, common;
  fmpz_pow_ui(power, t, exponent);
  fmpz_gcd(common, denominator, power);
  fmpz_divexact(left, denominator, common);
  for (unsigned long prime = 2; prime < 2000 && !fmpz_is_one(left); ++prime)
    while (fmpz_divisible_si(left, static_cast<slong>(prime))) {
      fmpz_mul_ui(t, t, prime);
      for (unsigned long i = 0; i < exponent && fmpz_divisible_si(left, static_cast<slong>(prime)); ++i)
        fmpz_divexact_ui(left, left, prime);
    }
  if (!fmpz_is_one(left) && fmpz_root(power, left, static_cast<slong>(exponent)) != 0) fmpz_set(left, power);
  fmpz_mul(t, t, left);
}

/// The smallest t (nearly) that makes t times the roots of a monic polynomial algebraic integers.
Integer integral_scale(const Polynomial& monic) {
  const Field& field = monic.back().field();
  RationalMatrix to_basis(field.degree(), field.degree());
  if (fmpq_mat_inv(to_basis, field.integral_basis()) == 0) throw ToolFault("a field's basis is none");
  Integer scale(1), denominator;
  for (std::size_t i = 0; i + 1 < monic.size(); ++i) {
    integral_denominator(denominator, monic[i], to_basis);
    make_divisible(scale, denominator, monic.size() - 1 - i);
  }
  return scale;
}

/// The monic polynomial whose roots are t times those of the given one.
Polynomial scaled_roots(Polynomial monic, const Integer& t) {
  Integer factor(1);
  for (std::size_t i = monic.size() - 1; i-- > 0;) {
    fmpz_mul(factor, factor, t);
    monic[i] = monic[i].times(factor);
  }
  return monic;
}

Enclosure scaled(const Enclosure& root, const Integer& t) {
  return [&root, &t](arb_t ball, slong precision) {
    root(ball, precision + static_cast<slong>(fmpz_bits(t)));
    arb_mul_fmpz(ball, ball, t, precision + 16);
  };
}

Number divided(const Number& number, const Integer& t) {
  Rational inverse;
  fmpz_one(inverse.numerator());
  fmpz_set(inverse.denominator(), t);
  return number * Number(inverse, number.field());
}

/// ToolFault unless the number is a root of the polynomial (squarefree), and the one that is enclosed.
void check_root(const Polynomial& polynomial, const Number& number, const Enclosure& root) {
  if (!evaluate(polynomial, number).is_zero()) throw ToolFault("an adjoined root is no root of its polynomial");
  Polynomial derivative;
  for (std::size_t i = 1; i < polynomial.size(); ++i)
    derivative.push_back(Number(static_cast<long>(i)) * polynomial[i].lifted_to(number.field()));
  if (evaluate(derivative, number).is_zero()) throw ToolFault("a polynomial to adjoin a root of is not squarefree");
  // Newton's theorem on isolated roots: where the derivative keeps its sign over both balls there is one root only.
  Ball ours, theirs, coefficient, slope;
  for (slong precision = 128; precision <= (1L << 17); precision *= 2) {
    number.enclose(ours, precision);
    root(theirs, precision);
    if (!arb_overlaps(ours, theirs)) break;
    arb_union(ours, ours, theirs, precision);
    arb_zero(slope);
    for (std::size_t i = derivative.size(); i-- > 0;) {
      derivative[i].enclose(coefficient, precision);
      arb_mul(slope, slope, ours, precision);
      arb_add(slope, slope, coefficient, precision);
    }
    if (!arb_contains_zero(slope)) return;
  }
  throw ToolFault("an adjoined root is another one than was asked for");
}

}  // namespace

std::optional<AdjoinedRoot> adjoin_root(const Field& field, const Polynomial& given, const Enclosure& root,
                                        Generator adjoined, int largest_degree, int* relative_degree,
                                        const FieldProgress& progress) {
  constexpr std::size_t longest_text = 40;
  const std::string& text = adjoined.text;
  if (progress)
    progress("adjoining " + (text.size() <= longest_text ? text : text.substr(0, longest_text) + "...") +
             " to a field of degree " + std::to_string(field.degree()));
  Polynomial polynomial = monic(given, field);
  const Integer scale = integral_scale(polynomial);
  polynomial = scaled_roots(std::move(polynomial), scale);
  const Enclosure integral_root = scaled(root, scale);
  const Polynomial factor = irreducible_factor(polynomial, integral_root);
  const int relative = static_cast<int>(factor.size()) - 1;
  if (relative_degree != nullptr) *relative_degree = relative;
  if (relative == 1) {
    check_root(polynomial, -factor[0], integral_root);
    return AdjoinedRoot{nullptr, divided(-factor[0], scale)};
  }
  if (relative * field.degree() > largest_degree) return std::nullopt;

  if (progress) progress("finding a short generator of a field of degree " + std::to_string(relative * field.degree()));
  adjoined.relative_degree = relative;
  ShortGenerator found = short_generator(factor, integral_root);
  const int index = index_of_real_root(found.minimal_polynomial, [&](arb_t ball, slong precision) {
    enclose_value(ball, found.gamma, integral_root, precision);
  });
  fmpq_poly_scalar_div_fmpz(found.beta, found.beta, scale);
  AdjoinedRoot result;
  result.field = std::make_unique<Field>(field, found.minimal_polynomial, index, found.generator_below, std::move(adjoined),
                                         found.beta);
  result.field->set_integral_basis(std::move(found.integral_basis));
  result.root = Number::from_polynomial(found.beta, *result.field);
  check_root(given, result.root, root);
  return result;
}

}  // namespace cutproof
