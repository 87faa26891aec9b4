// SPDX-License-Identifier: GPL-3.0-or-later
// A rational number may lie midway between two doubles, so it is rounded from its fraction, once. An irrational one never
// does: both ends of a narrow enough ball round alike.
#include "number/nearest.hpp"

#include "number/flint.hpp"

#include <mpfr.h>

#include <algorithm>

namespace cutproof {

namespace {

struct Binary {
  Binary() { mpfr_init2(value, 64); }
  Binary(const Binary&) = delete;
  Binary& operator=(const Binary&) = delete;
  ~Binary() { mpfr_clear(value); }
  mpfr_t value;
};

/// One rounding, also to doubles that have fewer digits because they are small.
double rounded(const Rational& number) {
  // A quotient with 64 digits more than any double has, made odd where it is not exact, lies on the side of every midpoint
  // where the number lies.
  Integer quotient, remainder, dividend(number.numerator());
  const slong shift = 128 + static_cast<slong>(fmpz_bits(number.denominator())) - static_cast<slong>(fmpz_bits(dividend));
  Integer divisor(number.denominator());
  if (shift >= 0) {
    fmpz_mul_2exp(dividend, dividend, static_cast<ulong>(shift));
  } else {
    fmpz_mul_2exp(divisor, divisor, static_cast<ulong>(-shift));
  }
  fmpz_tdiv_qr(quotient, remainder, dividend, divisor);
  if (!fmpz_is_zero(remainder) && fmpz_is_even(quotient)) fmpz_add_si(quotient, quotient, fmpq_sgn(number) < 0 ? -1 : 1);
  Binary exact;
  mpfr_set_prec(exact.value, 160);
  fmpz_get_mpfr(exact.value, quotient, MPFR_RNDN);
  mpfr_mul_2si(exact.value, exact.value, -shift, MPFR_RNDN);
  return mpfr_get_d(exact.value, MPFR_RNDN);
}

double rounded(const arf_t number) {
  Binary exact;
  mpfr_set_prec(exact.value, std::max<slong>(arf_bits(number), 64));
  arf_get_mpfr(exact.value, number, MPFR_RNDN);
  return mpfr_get_d(exact.value, MPFR_RNDN);
}

double without_sign_of_zero(double value) {
  return value == 0 ? 0.0 : value;
}

struct End {
  End() { arf_init(value); }
  End(const End&) = delete;
  End& operator=(const End&) = delete;
  ~End() { arf_clear(value); }
  arf_t value;
};

}  // namespace

double nearest_double(const Number& number) {
  if (number.is_rational()) {
    Rational value;
    number.get_rational(value);
    return without_sign_of_zero(rounded(value));
  }
  Ball ball;
  End lower, upper;
  for (slong precision = 64;; precision *= 2) {
    number.enclose(ball, precision);
    arb_get_lbound_arf(lower.value, ball, precision + 64);
    arb_get_ubound_arf(upper.value, ball, precision + 64);
    const double below = rounded(lower.value), above = rounded(upper.value);
    if (below == above) return without_sign_of_zero(below);
  }
}

}  // namespace cutproof
