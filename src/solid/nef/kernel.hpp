// SPDX-License-Identifier: GPL-3.0-or-later
// What CGAL must know to calculate with `Number`: a thin class around it and the traits that the Nef polyhedra ask for.
// Only files that include CGAL may include this one.
#pragma once

#include "number/number.hpp"

#include <CGAL/Cartesian.h>
#include <CGAL/Fraction_traits.h>
#include <CGAL/number_utils.h>
#include <CGAL/number_utils_classes.h>

#include <istream>
#include <ostream>
#include <utility>

namespace cutproof {

/// A `Number` with the operators that CGAL's generic code needs: `Number` itself has neither `/` nor construction from
/// double, because nothing else in the project may use them.
class NefNumber {
 public:
  NefNumber() = default;
  NefNumber(int value) : number_(value) {}
  NefNumber(long value) : number_(value) {}
  NefNumber(unsigned value) : number_(static_cast<long>(value)) {}
  /// The exact value of the double, which must be finite (ToolFault otherwise).
  NefNumber(double value) : number_(exactly(value)) {}
  explicit NefNumber(Number number) : number_(std::move(number)) {}

  const Number& number() const { return number_; }

  friend NefNumber operator+(const NefNumber& a, const NefNumber& b) { return NefNumber(a.number_ + b.number_); }
  friend NefNumber operator-(const NefNumber& a, const NefNumber& b) { return NefNumber(a.number_ - b.number_); }
  friend NefNumber operator*(const NefNumber& a, const NefNumber& b) { return NefNumber(a.number_ * b.number_); }
  /// Checked: CGAL never divides by zero unless something is broken, so that is a ToolFault.
  friend NefNumber operator/(const NefNumber& a, const NefNumber& b) {
    if (b.number_.is_zero()) throw ToolFault("the Nef engine divided by zero");
    return NefNumber(divide(a.number_, b.number_));
  }
  friend NefNumber operator-(const NefNumber& a) { return NefNumber(-a.number_); }
  friend NefNumber operator+(const NefNumber& a) { return a; }
  NefNumber& operator+=(const NefNumber& b) { return *this = *this + b; }
  NefNumber& operator-=(const NefNumber& b) { return *this = *this - b; }
  NefNumber& operator*=(const NefNumber& b) { return *this = *this * b; }
  NefNumber& operator/=(const NefNumber& b) { return *this = *this / b; }

  friend bool operator==(const NefNumber& a, const NefNumber& b) { return a.number_ == b.number_; }
  friend bool operator!=(const NefNumber& a, const NefNumber& b) { return !(a.number_ == b.number_); }
  friend bool operator<(const NefNumber& a, const NefNumber& b) { return compare(a.number_, b.number_) < 0; }
  friend bool operator>(const NefNumber& a, const NefNumber& b) { return compare(a.number_, b.number_) > 0; }
  friend bool operator<=(const NefNumber& a, const NefNumber& b) { return compare(a.number_, b.number_) <= 0; }
  friend bool operator>=(const NefNumber& a, const NefNumber& b) { return compare(a.number_, b.number_) >= 0; }

  /// Only CGAL's messages print numbers this way; what people see is printed by number/print.hpp.
  friend std::ostream& operator<<(std::ostream& out, const NefNumber& a) { return out << a.number_.approximate(); }
  friend std::istream& operator>>(std::istream&, NefNumber&) { throw ToolFault("the Nef engine reads no numbers"); }

 private:
  static Number exactly(double value);
  Number number_;
};

inline Number NefNumber::exactly(double value) {
  if (!std::isfinite(value)) throw ToolFault("the Nef engine met a number that is not finite");
  if (value > -0x1p53 && value < 0x1p53 && value == static_cast<double>(static_cast<long>(value)))
    return Number(static_cast<long>(value));
  arf_t binary;
  arf_init(binary);
  arf_set_d(binary, value);
  fmpq_t rational;
  fmpq_init(rational);
  arf_get_fmpq(rational, binary);
  Number result(rational, Field::rational());
  fmpq_clear(rational);
  arf_clear(binary);
  return result;
}

}  // namespace cutproof

namespace CGAL {

template <>
class Algebraic_structure_traits<cutproof::NefNumber>
    : public Algebraic_structure_traits_base<cutproof::NefNumber, Field_tag> {
 public:
  typedef Tag_true Is_exact;
  typedef Tag_false Is_numerical_sensitive;
  class Is_zero : public cpp98::unary_function<Type, bool> {
   public:
    bool operator()(const Type& a) const { return a.number().is_zero(); }
  };
  /// Nef polyhedra divide the coefficients of a plane by the absolute value of their "gcd" and then compare them one by one:
  /// the first that is not zero makes proportional planes equal, whatever the field. (Rational content would not.)
  class Gcd : public cpp98::binary_function<Type, Type, Type> {
   public:
    Type operator()(const Type& a, const Type& b) const { return a.number().is_zero() ? b : a; }
  };
};

template <>
class Real_embeddable_traits<cutproof::NefNumber>
    : public INTERN_RET::Real_embeddable_traits_base<cutproof::NefNumber, Tag_true> {
 public:
  class Is_zero : public cpp98::unary_function<Type, bool> {
   public:
    bool operator()(const Type& a) const { return a.number().is_zero(); }
  };
  class Sgn : public cpp98::unary_function<Type, ::CGAL::Sign> {
   public:
    ::CGAL::Sign operator()(const Type& a) const { return static_cast<::CGAL::Sign>(a.number().sign()); }
  };
  class Is_positive : public cpp98::unary_function<Type, bool> {
   public:
    bool operator()(const Type& a) const { return a.number().sign() > 0; }
  };
  class Is_negative : public cpp98::unary_function<Type, bool> {
   public:
    bool operator()(const Type& a) const { return a.number().sign() < 0; }
  };
  class Abs : public cpp98::unary_function<Type, Type> {
   public:
    Type operator()(const Type& a) const { return a.number().sign() < 0 ? -a : a; }
  };
  class Compare : public cpp98::binary_function<Type, Type, Comparison_result> {
   public:
    Comparison_result operator()(const Type& a, const Type& b) const {
      return static_cast<Comparison_result>(compare(a.number(), b.number()));
    }
    CGAL_IMPLICIT_INTEROPERABLE_BINARY_OPERATOR_WITH_RT(Type, Comparison_result)
  };
  class To_double : public cpp98::unary_function<Type, double> {
   public:
    double operator()(const Type& a) const { return a.number().approximate(); }
  };
  /// Truly encloses: boxes made from it decide which features Nef polyhedra compare at all.
  class To_interval : public cpp98::unary_function<Type, std::pair<double, double>> {
   public:
    std::pair<double, double> operator()(const Type& a) const {
      a.number().tighten();
      return {a.number().interval().lower, a.number().interval().upper};
    }
  };
};

/// A fraction with denominator 1. Were it no fraction at all, Nef polyhedra would divide planes by their signed first
/// coefficient and lose their orientation.
template <>
class Fraction_traits<cutproof::NefNumber> {
 public:
  typedef cutproof::NefNumber Type;
  typedef Tag_true Is_fraction;
  typedef cutproof::NefNumber Numerator_type;
  typedef cutproof::NefNumber Denominator_type;
  typedef Algebraic_structure_traits<cutproof::NefNumber>::Gcd Common_factor;
  class Decompose {
   public:
    typedef void result_type;
    void operator()(const Type& a, Numerator_type& numerator, Denominator_type& denominator) const {
      numerator = a;
      denominator = Type(1);
    }
  };
  class Compose {
   public:
    typedef Type result_type;
    Type operator()(const Numerator_type& numerator, const Denominator_type& denominator) const {
      return numerator / denominator;
    }
  };
};

CGAL_DEFINE_COERCION_TRAITS_FOR_SELF(cutproof::NefNumber)
CGAL_DEFINE_COERCION_TRAITS_FROM_TO(int, cutproof::NefNumber)
CGAL_DEFINE_COERCION_TRAITS_FROM_TO(long, cutproof::NefNumber)
CGAL_DEFINE_COERCION_TRAITS_FROM_TO(double, cutproof::NefNumber)

}  // namespace CGAL
