// SPDX-License-Identifier: GPL-3.0-or-later
// An exact real number: an element of a real number field, with an enclosure in doubles beside it.
//
// Zero is recognised by looking at the coefficients, a sign by the enclosure or, where that does not decide, by Arb balls
// of growing precision, which must end because zero was excluded first. Numbers keep no history.
// Laws (tested by number): (1) field axioms; (2) sign(a*b) = sign(a)*sign(b); (3) a < b, a == b, a > b exclude each other;
// (4) the enclosure contains the number; (5) lifting commutes with arithmetic and keeps order.
#pragma once

#include "number/errors.hpp"
#include "number/field.hpp"
#include "number/flint.hpp"
#include "number/interval.hpp"

#include <cstddef>
#include <initializer_list>
#include <utility>
#include <vector>

namespace cutproof {

struct Product;

class Number {
 public:
  Number() : Number(0L) {}
  Number(int value) : Number(static_cast<long>(value)) {}
  Number(long value) : field_(&Field::rational()), interval_(enclose(value)) {
    nf_elem_init(element_, field_->nf());
    if (value != 0) nf_elem_set_si(element_, value, field_->nf());
  }
  /// The rational number as an element of `field`.
  Number(const fmpq_t value, const Field& field);
  /// The integer as an element of `field`.
  Number(long value, const Field& field);
  /// numerator/denominator in Q; throws InvalidInput when the denominator is 0.
  static Number fraction(long numerator, long denominator);
  /// The element whose coefficients in powers of the generator are those of `polynomial` (reduced if necessary).
  static Number from_polynomial(const fmpq_poly_t polynomial, const Field& field);
  /// The generator of `field` (0 for Q).
  static Number generator(const Field& field);

  Number(const Number& other) : field_(other.field_), interval_(other.interval_) {
    nf_elem_init(element_, field_->nf());
    nf_elem_set(element_, other.element_, field_->nf());
  }
  Number(Number&& other) noexcept : field_(other.field_), interval_(other.interval_) {
    *element_ = *other.element_;
    other.forget();
  }
  Number& operator=(const Number& other) {
    if (this != &other) {
      Number copy(other);
      swap(copy);
    }
    return *this;
  }
  Number& operator=(Number&& other) noexcept {
    swap(other);
    return *this;
  }
  ~Number() { nf_elem_clear(element_, field_->nf()); }
  void swap(Number& other) noexcept {
    std::swap(field_, other.field_);
    std::swap(*element_, *other.element_);
    std::swap(interval_, other.interval_);
  }

  const Field& field() const { return *field_; }
  const nf_elem_struct* element() const { return element_; }
  const Interval& interval() const { return interval_; }

  bool is_zero() const { return nf_elem_is_zero(element_, field_->nf()) != 0; }
  bool is_rational() const { return nf_elem_is_rational(element_, field_->nf()) != 0; }
  bool is_integer() const { return nf_elem_is_integer(element_, field_->nf()) != 0; }
  /// -1, 0 or 1; exact.
  int sign() const {
    if (interval_.certainly_positive()) return 1;
    if (interval_.certainly_negative()) return -1;
    return exact_sign();
  }

  /// The value of a rational number; throws ToolFault for an irrational one.
  void get_rational(fmpq_t value) const;
  /// The coefficients in powers of the field's generator.
  void get_polynomial(fmpq_poly_t polynomial) const;
  /// Encloses the number in a ball computed with `precision` bits.
  void enclose(arb_t ball, slong precision) const;
  /// A double near the number: for drawing and for sorting heuristics only, never for a verdict.
  double approximate() const;
  /// Replaces the cached enclosure by the tightest one in doubles (a few units in the last place wide).
  void tighten() const;

  /// The same number as an element of `target`, which must stand on this number's field (ToolFault otherwise).
  Number lifted_to(const Field& target) const;

  /// The largest number of bits of a numerator coefficient or the common denominator.
  std::size_t bits() const;
  /// Equal and opposite numbers of one field have equal hashes.
  std::size_t hash() const;

  friend Number operator+(const Number& a, const Number& b);
  friend Number operator-(const Number& a, const Number& b);
  friend Number operator*(const Number& a, const Number& b);
  friend Number operator-(const Number& a);
  /// a / b; throws InvalidInput when b is zero. Costs several products: keep it out of inner loops.
  friend Number divide(const Number& a, const Number& b);
  /// The sum, with the signs given, of the products: for less than by single operations.
  friend Number sum_of_products(std::initializer_list<Product> terms);
  /// The product with an integer, for less than that of two elements of the field.
  Number times(const fmpz_t factor) const;
  Number& operator+=(const Number& b) { return *this = *this + b; }
  Number& operator-=(const Number& b) { return *this = *this - b; }
  Number& operator*=(const Number& b) { return *this = *this * b; }

  friend bool operator==(const Number& a, const Number& b);
  /// True iff a = -b.
  friend bool are_opposite(const Number& a, const Number& b);
  /// -1, 0 or 1 as a is less than, equal to or greater than b.
  friend int compare(const Number& a, const Number& b);

 private:
  static Interval enclose(long value) {
    const double approximation = static_cast<double>(value);
    return value > -(1L << 53) && value < (1L << 53) ? Interval{approximation, approximation}
                                                     : Interval::widened(approximation, approximation);
  }
  /// An uninitialised element of the field, to be filled by arithmetic.
  struct Blank {};
  Number(Blank, const Field* field) : field_(field) { nf_elem_init(element_, field_->nf()); }
  void forget() noexcept {
    field_ = &Field::rational();
    nf_elem_init(element_, field_->nf());
    interval_ = Interval{0, 0};
  }
  int exact_sign() const;
  /// 1 / *this, which must not be zero, with the whole line for an enclosure.
  Number inverse_without_enclosure() const;

  const Field* field_;
  nf_elem_t element_;
  mutable Interval interval_;
};

/// One term of a sum of products: left * right, or its negative.
struct Product {
  const Number* left;
  const Number* right;
  bool negative = false;
};

Number divide(const Number& a, const Number& b);
Number sum_of_products(std::initializer_list<Product> terms);
bool are_opposite(const Number& a, const Number& b);
int compare(const Number& a, const Number& b);
inline bool operator!=(const Number& a, const Number& b) {
  return !(a == b);
}
inline bool operator<(const Number& a, const Number& b) {
  return compare(a, b) < 0;
}
inline bool operator>(const Number& a, const Number& b) {
  return compare(a, b) > 0;
}
inline bool operator<=(const Number& a, const Number& b) {
  return compare(a, b) <= 0;
}
inline bool operator>=(const Number& a, const Number& b) {
  return compare(a, b) >= 0;
}
inline Number absolute(const Number& a) {
  return a.sign() < 0 ? -a : a;
}
inline Number square(const Number& a) {
  return a * a;
}

/// Sum by a balanced tree, so that denominators grow with the logarithm of the length.
template <class Range>
Number balanced_sum(Range&& terms) {
  std::vector<Number> level(std::begin(terms), std::end(terms));
  if (level.empty()) return Number(0);
  while (level.size() > 1) {
    std::size_t half = 0;
    for (std::size_t i = 0; i + 1 < level.size(); i += 2) level[half++] = level[i] + level[i + 1];
    if (level.size() % 2 == 1) level[half++] = std::move(level.back());
    level.resize(half);
  }
  return std::move(level.front());
}

}  // namespace cutproof
