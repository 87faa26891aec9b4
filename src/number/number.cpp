// SPDX-License-Identifier: GPL-3.0-or-later
// Arithmetic by Antic, enclosures in doubles, and Arb where doubles do not decide.
#include "number/number.hpp"

#include "number/coefficients.hpp"
#include "number/complaint.hpp"
#include "number/flint.hpp"

#include <algorithm>

namespace cutproof {

namespace {

/// Lifts whichever of the two lies lower in their tower and calls `operation` with two numbers of one field.
template <class Operation>
auto in_common_field(const Number& a, const Number& b, Operation operation) {
  if (a.field().degree() == 1) return operation(a.lifted_to(b.field()), b);
  if (b.field().degree() == 1 || a.field().stands_on(b.field())) return operation(a, b.lifted_to(a.field()));
  return operation(a.lifted_to(b.field()), b);
}

Interval outward(const arb_t ball) {
  arf_t end;
  arf_init(end);
  arb_get_lbound_arf(end, ball, 64);
  const double lower = arf_get_d(end, ARF_RND_FLOOR);
  arb_get_ubound_arf(end, ball, 64);
  const double upper = arf_get_d(end, ARF_RND_CEIL);
  arf_clear(end);
  if (!(lower > -0x1p1000 && upper < 0x1p1000)) return Interval::whole_line();
  return {lower, upper};
}

}  // namespace

Number::Number(const fmpq_t value, const Field& field) : Number(Blank{}, &field) {
  nf_elem_set_fmpq(element_, value, field_->nf());
  interval_ = Interval::whole_line();
  tighten();
}

Number::Number(long value, const Field& field) : Number(Blank{}, &field) {
  nf_elem_set_si(element_, value, field_->nf());
  interval_ = enclose(value);
}

Number Number::fraction(long numerator, long denominator) {
  if (denominator == 0) throw Refused(Wrong::division_by_zero);
  Rational value;
  if (denominator < 0) {
    numerator = -numerator;
    denominator = -denominator;
  }
  fmpq_set_si(value, numerator, static_cast<ulong>(denominator));
  Number result(value, Field::rational());
  return result;
}

Number Number::from_polynomial(const fmpq_poly_t polynomial, const Field& field) {
  Number result(Blank{}, &field);
  if (fmpq_poly_length(polynomial) <= field.degree()) {
    nf_elem_set_fmpq_poly(result.element_, polynomial, field.nf());
  } else {
    RationalPolynomial reduced;
    fmpq_poly_rem(reduced, polynomial, field.nf()->pol);
    nf_elem_set_fmpq_poly(result.element_, reduced, field.nf());
  }
  result.interval_ = Interval::whole_line();
  result.tighten();
  return result;
}

Number Number::generator(const Field& field) {
  RationalPolynomial polynomial;
  fmpq_poly_set_coeff_si(polynomial, 1, 1);
  return from_polynomial(polynomial, field);
}

void Number::get_rational(fmpq_t value) const {
  if (!is_rational()) throw ToolFault("an irrational number was taken for a rational one");
  const Coefficients parts = coefficients(element_, field_->nf());
  if (parts.length == 0) {
    fmpq_zero(value);
    return;
  }
  fmpz_set(fmpq_numref(value), parts.numerator);
  fmpz_set(fmpq_denref(value), parts.denominator);
  fmpq_canonicalise(value);
}

void Number::get_polynomial(fmpq_poly_t polynomial) const {
  nf_elem_get_fmpq_poly(polynomial, element_, field_->nf());
}

void Number::enclose(arb_t ball, slong precision) const {
  const Coefficients parts = coefficients(element_, field_->nf());
  if (parts.length == 0) {
    arb_zero(ball);
    return;
  }
  // Cancellation between large coefficients costs precision; ask for that much more.
  slong largest = 0;
  for (slong i = 0; i < parts.length; ++i) largest = std::max(largest, static_cast<slong>(fmpz_bits(parts.numerator + i)));
  const slong working = precision + (parts.length > 1 ? largest : 0) + 8;
  Ball generator, value;
  if (parts.length > 1) field_->enclose_generator(generator, working);
  for (slong i = parts.length - 1; i >= 0; --i) {
    if (i + 1 < parts.length) arb_mul(value, value, generator, working);
    arb_add_fmpz(value, value, parts.numerator + i, working);
  }
  arb_div_fmpz(ball, value, parts.denominator, working);
}

double Number::approximate() const {
  if (!(interval_.upper - interval_.lower <= 1e-15 * std::fabs(interval_.lower))) tighten();
  if (std::isfinite(interval_.lower) && std::isfinite(interval_.upper)) return 0.5 * (interval_.lower + interval_.upper);
  Ball ball;
  enclose(ball, 64);
  return arf_get_d(arb_midref(ball.value), ARF_RND_NEAR);
}

void Number::tighten() const {
  Ball ball;
  enclose(ball, 64);
  const Interval fresh = outward(ball);
  interval_ = {std::fmax(interval_.lower, fresh.lower), std::fmin(interval_.upper, fresh.upper)};
}

int Number::exact_sign() const {
  if (is_zero()) {
    interval_ = {0, 0};
    return 0;
  }
  Ball ball;
  int sign = 0;
  for (slong precision = 64; sign == 0; precision *= 2) {
    enclose(ball, precision);
    if (precision == 64) {
      const Interval fresh = outward(ball);
      interval_ = {std::fmax(interval_.lower, fresh.lower), std::fmin(interval_.upper, fresh.upper)};
    }
    if (arb_is_positive(ball)) sign = 1;
    if (arb_is_negative(ball)) sign = -1;
  }
  if (sign > 0) interval_.lower = std::fmax(interval_.lower, std::numeric_limits<double>::denorm_min());
  if (sign < 0) interval_.upper = std::fmin(interval_.upper, -std::numeric_limits<double>::denorm_min());
  if (interval_.lower > interval_.upper) interval_ = sign > 0 ? Interval{0, 0x1p-1070} : Interval{-0x1p-1070, 0};
  return sign;
}

Number Number::lifted_to(const Field& target) const {
  if (field_ == &target) return *this;
  if (field_->degree() == 1 || is_rational()) {
    if (field_->degree() != 1 && !target.stands_on(*field_)) throw ToolFault("numbers of unrelated fields were mixed");
    Rational value;
    get_rational(value);
    Number result(Blank{}, &target);
    nf_elem_set_fmpq(result.element_, value, target.nf());
    result.interval_ = interval_;
    return result;
  }
  if (target.parent() == nullptr || !target.stands_on(*field_)) throw ToolFault("numbers of unrelated fields were mixed");
  const Number below = lifted_to(*target.parent());
  RationalPolynomial polynomial;
  below.get_polynomial(polynomial);
  const Number image = from_polynomial(target.parent_generator_image(), target);
  Number result(0L, target);
  Rational coefficient;
  for (slong i = fmpq_poly_degree(polynomial); i >= 0; --i) {
    fmpq_poly_get_coeff_fmpq(coefficient, polynomial, i);
    result = result * image + Number(coefficient, target);
  }
  result.interval_ = interval_;
  return result;
}

std::size_t Number::bits() const {
  const Coefficients parts = coefficients(element_, field_->nf());
  std::size_t bits = fmpz_bits(parts.denominator);
  for (slong i = 0; i < parts.length; ++i) bits = std::max<std::size_t>(bits, fmpz_bits(parts.numerator + i));
  return bits;
}

std::size_t Number::hash() const {
  const Coefficients parts = coefficients(element_, field_->nf());
  std::size_t hash = fmpz_get_ui(parts.denominator) * 0x9E3779B97F4A7C15ull;
  const int sign = parts.length > 0 ? fmpz_sgn(parts.numerator + parts.length - 1) : 0;
  for (slong i = 0; i < parts.length; ++i) {
    const ulong word = fmpz_get_ui(parts.numerator + i) * 2 + (fmpz_sgn(parts.numerator + i) == sign ? 1 : 0);
    hash = (hash ^ word) * 0xFF51AFD7ED558CCDull;
    hash ^= hash >> 32;
  }
  return hash;
}

Number operator+(const Number& a, const Number& b) {
  if (a.field_ != b.field_) return in_common_field(a, b, [](const Number& x, const Number& y) { return x + y; });
  Number result(Number::Blank{}, a.field_);
  slong value = 0;
  if (are_small_integers(a.element_, b.element_, a.field_->nf()) &&
      !__builtin_add_overflow(*a.element_->lelem->num, *b.element_->lelem->num, &value)) {
    fmpz_set_si(result.element_->lelem->num, value);
  } else {
    nf_elem_add(result.element_, a.element_, b.element_, a.field_->nf());
  }
  result.interval_ = a.interval_ + b.interval_;
  return result;
}

Number operator-(const Number& a, const Number& b) {
  if (a.field_ != b.field_) return in_common_field(a, b, [](const Number& x, const Number& y) { return x - y; });
  Number result(Number::Blank{}, a.field_);
  slong value = 0;
  if (are_small_integers(a.element_, b.element_, a.field_->nf()) &&
      !__builtin_sub_overflow(*a.element_->lelem->num, *b.element_->lelem->num, &value)) {
    fmpz_set_si(result.element_->lelem->num, value);
  } else {
    nf_elem_sub(result.element_, a.element_, b.element_, a.field_->nf());
  }
  result.interval_ = a.interval_ - b.interval_;
  return result;
}

Number operator*(const Number& a, const Number& b) {
  if (a.field_ != b.field_) return in_common_field(a, b, [](const Number& x, const Number& y) { return x * y; });
  Number result(Number::Blank{}, a.field_);
  slong value = 0;
  if (are_small_integers(a.element_, b.element_, a.field_->nf()) &&
      !__builtin_mul_overflow(*a.element_->lelem->num, *b.element_->lelem->num, &value)) {
    fmpz_set_si(result.element_->lelem->num, value);
  } else {
    nf_elem_mul(result.element_, a.element_, b.element_, a.field_->nf());
  }
  result.interval_ = a.interval_ * b.interval_;
  return result;
}

Number Number::times(const fmpz_t factor) const {
  Number result(Blank{}, field_);
  nf_elem_scalar_mul_fmpz(result.element_, element_, factor, field_->nf());
  const double near = fmpz_bits(factor) < 1000 ? fmpz_get_d(factor) : std::numeric_limits<double>::infinity();
  result.interval_ = Interval::widened(near, near) * interval_;
  return result;
}

Number operator-(const Number& a) {
  Number result(Number::Blank{}, a.field_);
  nf_elem_neg(result.element_, a.element_, a.field_->nf());
  result.interval_ = -a.interval_;
  return result;
}

Number divide(const Number& a, const Number& b) {
  if (b.is_zero()) throw Refused(Wrong::division_by_zero);
  if (a.field_ != b.field_) return in_common_field(a, b, [](const Number& x, const Number& y) { return divide(x, y); });
  if (a.field_->degree() > 2) {
    Number quotient = a * b.inverse_without_enclosure();
    quotient.tighten();
    return quotient;
  }
  Number result(Number::Blank{}, a.field_);
  nf_elem_div(result.element_, a.element_, b.element_, a.field_->nf());
  result.interval_ = Interval::whole_line();
  result.tighten();
  return result;
}

bool operator==(const Number& a, const Number& b) {
  if (a.interval_.upper < b.interval_.lower || b.interval_.upper < a.interval_.lower) return false;
  if (a.field_ != b.field_) return in_common_field(a, b, [](const Number& x, const Number& y) { return x == y; });
  return nf_elem_equal(a.element_, b.element_, a.field_->nf()) != 0;
}

bool are_opposite(const Number& a, const Number& b) {
  if (a.interval_.upper < -b.interval_.upper || -b.interval_.lower < a.interval_.lower) return false;
  if (a.field_ != b.field_) return a == -b;
  const Coefficients x = coefficients(a.element_, a.field_->nf()), y = coefficients(b.element_, b.field_->nf());
  if (x.length != y.length || !fmpz_equal(x.denominator, y.denominator)) return false;
  for (slong i = 0; i < x.length; ++i)
    if (fmpz_sgn(x.numerator + i) != -fmpz_sgn(y.numerator + i) || fmpz_cmpabs(x.numerator + i, y.numerator + i) != 0)
      return false;
  return true;
}

int compare(const Number& a, const Number& b) {
  if (a.interval_.upper < b.interval_.lower) return -1;
  if (a.interval_.lower > b.interval_.upper) return 1;
  if (a.field_ == b.field_ && nf_elem_equal(a.element_, b.element_, a.field_->nf()) != 0) return 0;
  return (a - b).sign();
}

}  // namespace cutproof
