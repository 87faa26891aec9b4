// SPDX-License-Identifier: GPL-3.0-or-later
// Enclosures in double precision: the sound filter in front of every exact comparison.
//
// An interval only ever answers "certainly positive", "certainly negative" or "don't know"; an exact computation follows
// in the last case. Every bound is widened by at least one unit in the last place after it was computed, so that the
// enclosure is sound whatever the rounding mode of the processor is (CGAL changes it).
#pragma once

#include <cmath>
#include <limits>

namespace cutproof {

/// A closed interval that contains the number it stands for; both ends may be infinite, neither is ever NaN. An end of the
/// least positive (greatest negative) double stands for the open end 0: a number may be positive and smaller than every
/// double. Comparisons with 0 and all arithmetic below stay sound with it.
struct Interval {
  double lower = 0;
  double upper = 0;

  static Interval whole_line() {
    return {-std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()};
  }

  bool certainly_positive() const { return lower > 0; }
  bool certainly_negative() const { return upper < 0; }

  /// The interval with both ends moved outward by at least one unit in the last place, or the whole line when an end
  /// overflowed or is not a number.
  static Interval widened(double lower, double upper) {
    const double below = lower - (std::fabs(lower) * 0x1p-51 + 0x1p-1070);
    const double above = upper + (std::fabs(upper) * 0x1p-51 + 0x1p-1070);
    if (!(below > -0x1p1000 && above < 0x1p1000)) return whole_line();
    return {below, above};
  }
};

inline Interval operator-(const Interval& a) {
  return {-a.upper, -a.lower};
}

inline Interval operator+(const Interval& a, const Interval& b) {
  return Interval::widened(a.lower + b.lower, a.upper + b.upper);
}

inline Interval operator-(const Interval& a, const Interval& b) {
  return Interval::widened(a.lower - b.upper, a.upper - b.lower);
}

inline Interval operator*(const Interval& a, const Interval& b) {
  const double p = a.lower * b.lower, q = a.lower * b.upper, r = a.upper * b.lower, s = a.upper * b.upper;
  if (std::isnan(p) || std::isnan(q) || std::isnan(r) || std::isnan(s)) return Interval::whole_line();
  return Interval::widened(std::fmin(std::fmin(p, q), std::fmin(r, s)), std::fmax(std::fmax(p, q), std::fmax(r, s)));
}

}  // namespace cutproof
