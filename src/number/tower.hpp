// SPDX-License-Identifier: GPL-3.0-or-later
// The growing field of a plan: roots and cosines are adjoined one at a time, when an expression asks for one that the field
// that stands does not hold.
//
// Adjoining a root of h over K follows B. M. Trager, "Algebraic factoring and rational function integration", SYMSAC 1976:
// factor the norm of h(x - k*alpha) over Q, take the factor that vanishes at the root, and read K's generator back from a
// gcd.
#pragma once

#include "number/angle.hpp"
#include "number/extension.hpp"
#include "number/field.hpp"
#include "number/number.hpp"

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace cutproof {

struct NumberLimits {
  int max_degree = 48;              ///< of the plan's field over Q
  std::size_t max_bits = 1u << 20;  ///< of a numerator coefficient or a denominator
};

/// Owns a tower of fields. Numbers that it returns are elements of the field on top at that time; results are remembered, so
/// that asking again returns the same number, lifted to the field that stands on top then. Evaluate everything once to find
/// the field, and once more to have all numbers in it.
/// Every function throws LimitReached when the degree limit would be passed (the message lists what was adjoined and what
/// each step multiplied the degree by) or a number grows too long, and InvalidInput for what has no meaning.
class FieldTower {
 public:
  explicit FieldTower(NumberLimits limits = {}, FieldProgress progress = {});
  ~FieldTower();
  FieldTower(const FieldTower&) = delete;
  FieldTower& operator=(const FieldTower&) = delete;

  /// A tower that stands on the field on top of this one: what is adjoined there leaves this one as it is. It must not
  /// outlive this one, and knows nothing of what is adjoined to it from now on.
  std::unique_ptr<FieldTower> fork() const;

  const Field& top() const;
  const NumberLimits& limits() const;
  /// The number in the field on top.
  Number lifted(const Number& number) const { return number.lifted_to(top()); }
  /// Throws LimitReached when the number is longer than the limit; returns it otherwise.
  const Number& checked(const Number& number) const;

  /// The real n-th root, n >= 1: nonnegative for even n (InvalidInput for a negative radicand), of either sign for odd n.
  Number root(const Number& radicand, unsigned long n);
  Number square_root(const Number& radicand) { return root(radicand, 2); }
  /// base^exponent for a rational exponent; 0^0, 0 to a negative power and an even root of a negative number are
  /// InvalidInput.
  Number power(const Number& base, const Number& rational_exponent);
  /// The real root of the polynomial (rational coefficients, lowest first) nearest to the rational `near`; two equally near
  /// roots and a polynomial without real roots are InvalidInput.
  Number polynomial_root(const std::vector<Number>& coefficients, const Number& near);
  Number cosine(const Angle& angle);
  Number sine(const Angle& angle);
  /// InvalidInput where the cosine is 0.
  Number tangent(const Angle& angle);
  /// sin(angle)/sqrt(squared_length), with one square root only: what a rotation about an axis of that squared length needs.
  Number sine_over_length(const Angle& angle, const Number& squared_length);

 private:
  /// Adjoins a root of a polynomial over the field on top, or finds it there.
  Number adjoin(const std::vector<Number>& polynomial, const Enclosure& root, const Generator& adjoined);
  /// The root of an irreducible polynomial of degree 2 that `enclosure` encloses, by the formula with a square root.
  Number quadratic_root(const std::vector<Number>& coefficients, const Enclosure& enclosure);
  /// The root of an irreducible polynomial that `enclosure` encloses; it is remembered by its text.
  Number irreducible_root(const fmpz_poly_t polynomial, const Enclosure& enclosure, const Generator& adjoined);
  /// The cosine of 2*pi*numerator/conductor (in lowest terms, below 1/2) where a cosine that was asked for before generates
  /// a field that holds it.
  std::optional<Number> known_cosine(unsigned long numerator, unsigned long conductor);
  /// A squarefree polynomial over the field on top that has this cosine for a root and a lower degree than the given one;
  /// made of what the conductor has in common with those of cosines that were asked for before.
  std::optional<std::vector<Number>> shorter_cosine_polynomial(unsigned long numerator, unsigned long conductor,
                                                               unsigned long degree);
  /// `function` of `asked` is what a message calls it.
  Number cosine_of_pi_multiple(const Number& multiple, const char* function, const Angle& asked);
  Number cosine_of_ray(const RayAngle& ray, const Number& multiple);

  struct State;
  std::unique_ptr<State> state_;
};

/// What a person who wrote this rational multiple of pi probably meant: an arc cosine, tangent or sine of a simple surd that
/// rounds to the same decimal; else its tangent as a decimal, and the nearest angles whose cosines have at most the given
/// degree. For hints only.
std::string likely_intention(const Angle& angle, int max_degree);

/// The nonnegative square root of a number that is a square in its own field; empty when it is none there (proved, not given
/// up). Adjoins nothing.
std::optional<Number> square_root_within_field(const Number& number);

}  // namespace cutproof
