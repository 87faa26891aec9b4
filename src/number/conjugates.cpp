// SPDX-License-Identifier: GPL-3.0-or-later
#include "number/conjugates.hpp"

#include "number/coefficients.hpp"
#include "number/errors.hpp"

#include <algorithm>

namespace cutproof {

namespace {

/// The one integer in the ball; false when there are several or none.
bool only_integer(fmpz_t result, const acb_t ball) {
  return acb_get_unique_fmpz(result, ball) != 0;
}

}  // namespace

Conjugates::Conjugates(const Polynomial& monic, slong precision)
    : field_(monic.back().field()),
      above_(static_cast<slong>(monic.size()) - 1),
      precision_(precision),
      generators_(field_.degree()),
      roots_(field_.degree() * above_) {
  while (!separate(monic)) {
    precision_ *= 2;
    if (precision_ > (1L << 17)) throw ToolFault("a polynomial to adjoin a root of is not squarefree");
  }
}

bool Conjugates::separate(const Polynomial& monic) {
  // All real roots come first, in increasing order; so the field's own embedding is at its root index.
  arb_fmpz_poly_complex_roots(generators_.value, field_.minimal_polynomial(), 0, precision_);
  ComplexPolynomial image;
  for (slong i = 0; i < embeddings(); ++i) {
    acb_poly_fit_length(image, above_ + 1);
    for (slong j = 0; j <= above_; ++j) enclose(image.value->coeffs + j, monic[static_cast<std::size_t>(j)], i);
    _acb_poly_set_length(image, above_ + 1);
    if (acb_poly_find_roots(roots_.value + i * above_, image, nullptr, 0, precision_) < above_) return false;
  }
  return true;
}

void Conjugates::enclose(acb_t ball, const Number& number, slong embedding) const {
  const Coefficients parts = coefficients(number.element(), field_.nf());
  acb_zero(ball);
  for (slong i = parts.length - 1; i >= 0; --i) {
    acb_mul(ball, ball, generator(embedding), precision_);
    acb_add_fmpz(ball, ball, parts.numerator + i, precision_);
  }
  acb_div_fmpz(ball, ball, parts.denominator, precision_);
}

bool Conjugates::norm(fmpz_poly_t result, long k) const {
  ComplexBalls shifted(roots_.length);
  for (slong i = 0; i < embeddings(); ++i)
    for (slong j = 0; j < above_; ++j) {
      acb_mul_si(shifted[i * above_ + j], generator(i), k, precision_);
      acb_add(shifted[i * above_ + j], shifted[i * above_ + j], root(i, j), precision_);
    }
  ComplexPolynomial product;
  acb_poly_product_roots(product, shifted.value, shifted.length, precision_);
  Integer coefficient;
  fmpz_poly_zero(result);
  for (slong i = 0; i <= shifted.length; ++i) {
    if (!only_integer(coefficient, product.value->coeffs + i)) return false;
    fmpz_poly_set_coeff_fmpz(result, i, coefficient);
  }
  return true;
}

std::optional<Number> Conjugates::integral_number(const ComplexBalls& conjugates) const {
  // With f the minimal polynomial of alpha, x * f'(alpha) is an integer combination of powers of alpha for every algebraic
  // integer x, namely the sum over the embeddings s of s(x) * f(X)/(X - s(alpha)), taken at alpha.
  const slong degree = embeddings();
  const fmpz_poly_struct* f = field_.minimal_polynomial();
  ComplexBalls sums(degree);
  acb_t quotient, term;
  acb_init(quotient);
  acb_init(term);
  for (slong i = 0; i < degree; ++i) {
    acb_zero(quotient);
    for (slong j = degree - 1; j >= 0; --j) {
      acb_mul(quotient, quotient, generator(i), precision_);
      acb_add_fmpz(quotient, quotient, f->coeffs + j + 1, precision_);
      acb_mul(term, quotient, conjugates[i], precision_);
      acb_add(sums[j], sums[j], term, precision_);
    }
  }
  acb_clear(quotient);
  acb_clear(term);
  RationalPolynomial multiple, derivative;
  IntegerPolynomial integral_derivative;
  Integer coefficient;
  for (slong j = 0; j < degree; ++j) {
    if (!only_integer(coefficient, sums[j])) return std::nullopt;
    fmpq_poly_set_coeff_fmpz(multiple, j, coefficient);
  }
  fmpz_poly_derivative(integral_derivative, f);
  fmpq_poly_set_fmpz_poly(derivative, integral_derivative);
  return divide(Number::from_polynomial(multiple, field_), Number::from_polynomial(derivative, field_));
}

}  // namespace cutproof
