// SPDX-License-Identifier: GPL-3.0-or-later
#include "number/lifting.hpp"

#include "number/coefficients.hpp"
#include "number/errors.hpp"

#include <algorithm>
#include <cstdlib>

namespace cutproof {

namespace {

constexpr slong most_places = 17;  ///< up to 65,536 choices of signs

/// A number of bits that an integer not below the absolute value has.
slong size_in_bits(const acb_t value) {
  mag_t size;
  mag_init(size);
  acb_get_mag(size, value);
  Integer bound;
  mag_get_fmpz(bound, size);
  mag_clear(size);
  return static_cast<slong>(fmpz_bits(bound));
}

void reduce(fmpz_poly_t polynomial, const fmpz_poly_t f, const fmpz_t modulus) {
  if (fmpz_poly_length(polynomial) >= fmpz_poly_length(f)) fmpz_poly_rem_basecase(polynomial, polynomial, f);
  fmpz_poly_scalar_smod_fmpz(polynomial, polynomial, modulus);
}

void multiply(fmpz_poly_t product, const fmpz_poly_t a, const fmpz_poly_t b, const fmpz_poly_t f, const fmpz_t modulus) {
  fmpz_poly_mul(product, a, b);
  reduce(product, f, modulus);
}

/// 1 - polynomial
void one_minus(fmpz_poly_t polynomial) {
  fmpz_poly_neg(polynomial, polynomial);
  Integer constant;
  fmpz_poly_get_coeff_fmpz(constant, polynomial, 0);
  fmpz_add_ui(constant, constant, 1);
  fmpz_poly_set_coeff_fmpz(polynomial, 0, constant);
}

/// Exponents that at most double from one to the next, from 1 to the last.
std::vector<slong> doubling_exponents(slong last) {
  std::vector<slong> exponents;
  for (slong e = last; e > 1; e = (e + 1) / 2) exponents.push_back(e);
  exponents.push_back(1);
  std::reverse(exponents.begin(), exponents.end());
  return exponents;
}

/// An upper bound of the bits of numerator and denominator of an inverse modulo f: both are minors of the matrix of the
/// multiplication by b, whose columns are bounded by Hadamard's inequality.
slong inverse_bits(const fmpz_poly_t b, const fmpz_poly_t f) {
  const slong degree = fmpz_poly_degree(f);
  IntegerPolynomial column;
  fmpz_poly_set(column, b);
  slong bits = 0;
  for (slong i = 0; i < degree; ++i) {
    bits += std::labs(fmpz_poly_max_bits(column)) + 1 + (static_cast<slong>(FLINT_BIT_COUNT(degree)) + 1) / 2;
    fmpz_poly_shift_left(column, column, 1);
    fmpz_poly_rem(column, column, f);
  }
  return bits;
}

/// The fraction that y is modulo the modulus, where it is clearly shorter than that; false otherwise.
bool short_fraction(fmpz_poly_t numerator, fmpz_t denominator, const fmpz_poly_t y, const fmpz_t modulus) {
  constexpr slong margin = 24;
  const slong most = static_cast<slong>(fmpz_bits(modulus)) - margin;
  Integer residue;
  Rational fraction;
  fmpz_one(denominator);
  for (slong i = 0; i < fmpz_poly_length(y); ++i) {
    fmpz_mul(residue, y->coeffs + i, denominator);
    fmpz_smod(residue, residue, modulus);
    if (static_cast<slong>(fmpz_bits(residue)) + static_cast<slong>(fmpz_bits(denominator)) < most / 2) continue;
    fmpz_mod(residue, residue, modulus);
    if (fmpq_reconstruct_fmpz(fraction, residue, modulus) == 0) return false;
    if (static_cast<slong>(fmpz_bits(fraction.numerator()) + fmpz_bits(fraction.denominator())) >= most) return false;
    fmpz_mul(denominator, denominator, fraction.denominator());
    if (static_cast<slong>(fmpz_bits(denominator)) >= most) return false;
  }
  fmpz_poly_scalar_mul_fmpz(numerator, y, denominator);
  fmpz_poly_scalar_smod_fmpz(numerator, numerator, modulus);
  return std::labs(fmpz_poly_max_bits(numerator)) < most;
}

bool is_inverse(const fmpz_poly_t numerator, const fmpz_t denominator, const fmpz_poly_t b, const fmpz_poly_t f) {
  IntegerPolynomial product;
  fmpz_poly_mul(product, numerator, b);
  fmpz_poly_rem_basecase(product, product, f);
  return fmpz_poly_degree(product) == 0 && fmpz_equal(product.value->coeffs, denominator) != 0;
}

}  // namespace

void inverse_by_lifting(fmpz_poly_t numerator, fmpz_t denominator, const fmpz_poly_t b, const fmpz_poly_t f) {
  static const ulong first_prime = n_nextprime(1ul << 61, 1);
  const slong prime_bits = 61, needed = 2 * inverse_bits(b, f) + 64;
  IntegerPolynomial y, product, error;
  ulong prime = first_prime;
  for (;; prime = n_nextprime(prime, 1)) {
    ResiduePolynomial at(prime), modulus(prime), inverse(prime);
    fmpz_poly_get_nmod_poly(at, b);
    fmpz_poly_get_nmod_poly(modulus, f);
    if (nmod_poly_is_zero(at) != 0 || nmod_poly_invmod(inverse, at, modulus) == 0) continue;
    fmpz_poly_set_nmod_poly(y, inverse);
    break;
  }
  Integer power, next, step;
  fmpz_set_ui(power, prime);
  const std::vector<slong> exponents = doubling_exponents(needed / prime_bits + 1);
  for (std::size_t i = 0; i < exponents.size(); ++i) {
    if (i > 0) {
      // y + y * (1 - b * y), whose second term is a multiple of the power so far
      fmpz_ui_pow_ui(step, prime, static_cast<ulong>(exponents[i] - exponents[i - 1]));
      fmpz_mul(next, power, step);
      multiply(product, b, y, f, next);
      one_minus(product);
      fmpz_poly_scalar_divexact_fmpz(product, product, power);
      fmpz_poly_scalar_smod_fmpz(error, y, step);
      multiply(product, product, error, f, step);
      fmpz_poly_scalar_addmul_fmpz(y, product, power);
      fmpz_swap(power, next);
    }
    if (short_fraction(numerator, denominator, y, power) && is_inverse(numerator, denominator, b, f)) return;
  }
  throw ToolFault("a number that is not zero has no inverse");
}

SquareRootFinder::SquareRootFinder(const Field& field) : field_(field) {
  find_primes();
  find_bounds();
  IntegerPolynomial derivative;
  RationalPolynomial rational;
  fmpz_poly_derivative(derivative, field.minimal_polynomial());
  fmpq_poly_set_fmpz_poly(rational, derivative);
  inverse_derivative_ = divide(Number(1L, field), Number::from_polynomial(rational, field));
}

void SquareRootFinder::find_primes() {
  constexpr int most_tried = 24;
  std::vector<std::pair<slong, ulong>> found;
  ulong prime = 1000;
  for (int tried = 0; tried < most_tried; ++tried) {
    prime = n_nextprime(prime, 1);
    ResiduePolynomial f(prime);
    fmpz_poly_get_nmod_poly(f, field_.minimal_polynomial());
    if (nmod_poly_is_squarefree(f) == 0) continue;
    nmod_poly_factor_t factors;
    nmod_poly_factor_init(factors);
    std::vector<slong> degrees(static_cast<std::size_t>(field_.degree()) + 1);
    slong* to_degrees = degrees.data();
    nmod_poly_factor_distinct_deg(factors, f, &to_degrees);
    slong count = 0;
    for (slong i = 0; i < factors->num; ++i)
      count += nmod_poly_degree(factors->p + i) / degrees[static_cast<std::size_t>(i)];
    nmod_poly_factor_clear(factors);
    found.emplace_back(count, prime);
    if (count == 1 && found.size() >= 4) break;
  }
  std::sort(found.begin(), found.end());
  for (const auto& [count, each] : found)
    if (count <= most_places) primes_.push_back(each);
}

SquareRootFinder::Place& SquareRootFinder::place(std::size_t i) {
  while (places_.size() <= i) {
    Place place{primes_[places_.size()], {}, {}};
    ResiduePolynomial f(place.prime), cofactor(place.prime), gcd(place.prime), s(place.prime), t(place.prime);
    fmpz_poly_get_nmod_poly(f, field_.minimal_polynomial());
    nmod_poly_factor_t factors;
    nmod_poly_factor_init(factors);
    nmod_poly_factor(factors, f);
    for (slong j = 0; j < factors->num; ++j) {
      place.factors.emplace_back();
      fmpz_poly_set_nmod_poly(place.factors.back(), factors->p + j);
      // 1 modulo this factor, 0 modulo the others
      nmod_poly_div(cofactor, f, factors->p + j);
      nmod_poly_xgcd(gcd, s, t, cofactor, factors->p + j);
      nmod_poly_mulmod(s, s, cofactor, f);
      place.idempotents.emplace_back();
      fmpz_poly_set_nmod_poly(place.idempotents.back(), s);
    }
    nmod_poly_factor_clear(factors);
    places_.push_back(std::move(place));
  }
  return places_[i];
}

void SquareRootFinder::lift_idempotents(Place& at, slong exponent) const {
  if (at.exponent >= exponent) return;
  const fmpz_poly_struct* f = field_.minimal_polynomial();
  IntegerPolynomial square, cube;
  Integer power;
  while (at.exponent < exponent) {
    at.exponent *= 2;
    fmpz_ui_pow_ui(power, at.prime, static_cast<ulong>(at.exponent));
    for (IntegerPolynomial& each : at.idempotents) {  // 3 e^2 - 2 e^3
      multiply(square, each, each, f, power);
      multiply(cube, square, each, f, power);
      fmpz_poly_scalar_mul_si(square, square, 3);
      fmpz_poly_scalar_mul_si(cube, cube, -2);
      fmpz_poly_add(each, square, cube);
      fmpz_poly_scalar_smod_fmpz(each, each, power);
    }
  }
}

void SquareRootFinder::find_bounds() {
  const slong degree = field_.degree();
  const fmpz_poly_struct* f = field_.minimal_polynomial();
  constexpr slong precision = 128;
  generators_.emplace(degree);
  arb_fmpz_poly_complex_roots(generators_->value, f, 0, precision);
  ComplexBalls quotient(1);
  for (slong i = 0; i < degree; ++i) {
    slong bits = 0;
    acb_zero(quotient[0]);
    for (slong j = degree - 1; j >= 0; --j) {
      acb_mul(quotient[0], quotient[0], (*generators_)[i], precision);
      acb_add_fmpz(quotient[0], quotient[0], f->coeffs + j + 1, precision);
      bits = std::max(bits, size_in_bits(quotient[0]));
    }
    weights_.push_back(bits);
  }
}

slong SquareRootFinder::coefficient_bits(const fmpz_poly_t c) const {
  const slong degree = field_.degree(), precision = std::labs(fmpz_poly_max_bits(c)) + 128;
  ComplexBalls value(1);
  slong most = 0;
  for (slong i = 0; i < degree; ++i) {
    acb_zero(value[0]);
    for (slong j = fmpz_poly_degree(c); j >= 0; --j) {
      acb_mul(value[0], value[0], (*generators_)[i], precision);
      acb_add_fmpz(value[0], value[0], c->coeffs + j, precision);
    }
    most = std::max(most, (size_in_bits(value[0]) + 1) / 2 + weights_[static_cast<std::size_t>(i)]);
  }
  return most + static_cast<slong>(FLINT_BIT_COUNT(degree));
}

bool SquareRootFinder::start(IntegerPolynomial& inverse_root, const IntegerPolynomial& c, const Place& at) const {
  ResiduePolynomial f(at.prime), sum(at.prime), residues(at.prime), term(at.prime);
  fmpz_poly_get_nmod_poly(f, field_.minimal_polynomial());
  fmpz_poly_get_nmod_poly(residues, c);
  bool square = true;
  for (std::size_t i = 0; i < at.factors.size() && square; ++i) {
    ResiduePolynomial factor(at.prime), idempotent(at.prime);
    fmpz_poly_get_nmod_poly(factor, at.factors[i]);
    fmpz_poly_get_nmod_poly(idempotent, at.idempotents[i]);
    fq_nmod_ctx_t local;
    fq_nmod_ctx_init_modulus(local, factor, "a");
    fq_nmod_t value;
    fq_nmod_init(value, local);
    nmod_poly_rem(value, residues, factor);
    square = fq_nmod_sqrt(value, value, local) != 0;
    if (square) {
      fq_nmod_inv(value, value, local);
      nmod_poly_mulmod(term, value, idempotent, f);
      nmod_poly_add(sum, sum, term);
    }
    fq_nmod_clear(value, local);
    fq_nmod_ctx_clear(local);
  }
  fmpz_poly_set_nmod_poly(inverse_root, sum);
  return square;
}

namespace {

/// From 1/sqrt(c) modulo a prime to its given power.
void lift_inverse_root(IntegerPolynomial& u, const IntegerPolynomial& c, const fmpz_poly_t f, ulong prime, slong exponent) {
  Integer power(1), next, step, half;
  fmpz_set_ui(power, prime);
  IntegerPolynomial product, start;
  const std::vector<slong> exponents = doubling_exponents(exponent);
  for (std::size_t i = 1; i < exponents.size(); ++i) {
    // u + u * (1 - c * u^2)/2
    fmpz_ui_pow_ui(step, prime, static_cast<ulong>(exponents[i] - exponents[i - 1]));
    fmpz_mul(next, power, step);
    multiply(product, u, u, f, next);
    multiply(product, product, c, f, next);
    one_minus(product);
    fmpz_poly_scalar_divexact_fmpz(product, product, power);
    fmpz_poly_scalar_smod_fmpz(start, u, step);
    multiply(product, product, start, f, step);
    fmpz_add_ui(half, step, 1);
    fmpz_fdiv_q_2exp(half, half, 1);
    fmpz_poly_scalar_mul_fmpz(product, product, half);
    fmpz_poly_scalar_smod_fmpz(product, product, step);
    fmpz_poly_scalar_addmul_fmpz(u, product, power);
    fmpz_swap(power, next);
  }
}

bool is_unit(const IntegerPolynomial& c, const fmpz_poly_t minimal_polynomial, ulong prime) {
  ResiduePolynomial residues(prime), f(prime), gcd(prime);
  fmpz_poly_get_nmod_poly(residues, c);
  fmpz_poly_get_nmod_poly(f, minimal_polynomial);
  if (nmod_poly_is_zero(residues) != 0) return false;
  nmod_poly_gcd(gcd, residues, f);
  return nmod_poly_degree(gcd) == 0;
}

}  // namespace

SquareRootFinder::Answer SquareRootFinder::find(const Number& number, std::optional<Number>& root) {
  const fmpz_poly_struct* f = field_.minimal_polynomial();
  // sqrt(n/d) = sqrt(n*d)/d
  const Coefficients parts = coefficients(number.element(), field_.nf());
  IntegerPolynomial c;
  for (slong i = 0; i < parts.length; ++i) fmpz_poly_set_coeff_fmpz(c, i, parts.numerator + i);
  fmpz_poly_scalar_mul_fmpz(c, c, parts.denominator);

  std::size_t index = 0;
  while (index < primes_.size() && !is_unit(c, f, primes_[index])) ++index;
  if (index == primes_.size()) return Answer::open;
  Place& at = place(index);
  IntegerPolynomial u;
  if (!start(u, c, at)) return Answer::none;

  const slong bits = coefficient_bits(c);
  const slong exponent = (bits + 32) / (static_cast<slong>(FLINT_BIT_COUNT(at.prime)) - 1) + 1;
  lift_inverse_root(u, c, f, at.prime, exponent);
  lift_idempotents(at, exponent);
  Integer power, limit, last;
  fmpz_ui_pow_ui(power, at.prime, static_cast<ulong>(exponent));
  fmpz_one(limit);
  fmpz_mul_2exp(limit, limit, static_cast<mp_bitcnt_t>(bits));
  IntegerPolynomial derivative, sum;
  fmpz_poly_derivative(derivative, f);
  multiply(sum, u, c, f, power);
  multiply(sum, sum, derivative, f, power);
  // what changing the sign at one factor adds
  std::vector<IntegerPolynomial> changes(at.factors.size());
  for (std::size_t i = 0; i < at.factors.size(); ++i) {
    multiply(changes[i], sum, at.idempotents[i], f, power);
    fmpz_poly_scalar_mul_si(changes[i], changes[i], -2);
  }
  const auto within = [&](const fmpz_t coefficient) { return fmpz_cmpabs(coefficient, limit) <= 0; };
  const slong top = field_.degree() - 1;
  Rational over_denominator;
  fmpz_one(over_denominator.numerator());
  fmpz_set(over_denominator.denominator(), parts.denominator);
  const Number factor = *inverse_derivative_ * Number(over_denominator, field_);
  IntegerPolynomial candidate;
  std::vector<bool> changed(at.factors.size(), false);
  fmpz_poly_get_coeff_fmpz(last, sum, top);
  Integer each;
  const ulong choices = 1ul << (at.factors.size() - 1);  // the first factor's sign is free
  for (ulong choice = 1;; ++choice) {
    if (within(last)) {
      fmpz_poly_set(candidate, sum);
      for (std::size_t i = 0; i < changed.size(); ++i)
        if (changed[i]) fmpz_poly_add(candidate, candidate, changes[i]);
      fmpz_poly_scalar_smod_fmpz(candidate, candidate, power);
      bool possible = true;
      for (slong i = 0; i < fmpz_poly_length(candidate) && possible; ++i) possible = within(candidate.value->coeffs + i);
      if (possible) {
        RationalPolynomial rational;
        fmpq_poly_set_fmpz_poly(rational, candidate);
        root = Number::from_polynomial(rational, field_) * factor;
        if (square(*root) == number) return Answer::found;
      }
    }
    if (choice >= choices) break;
    const std::size_t flipped = static_cast<std::size_t>(__builtin_ctzl(choice)) + 1;
    fmpz_poly_get_coeff_fmpz(each, changes[flipped], top);
    if (changed[flipped]) fmpz_neg(each, each);
    changed[flipped] = !changed[flipped];
    fmpz_add(last, last, each);
    fmpz_smod(last, last, power);
  }
  root.reset();
  return Answer::none;
}

}  // namespace cutproof
