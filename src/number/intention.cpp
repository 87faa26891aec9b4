// SPDX-License-Identifier: GPL-3.0-or-later
// A guess, for hints only: which exact angle somebody rounded to a decimal.
#include "number/flint.hpp"
#include "number/tower.hpp"

#include <cmath>

namespace cutproof {

namespace {

constexpr double degree = 3.14159265358979323846 / 180;

/// The value of one unit in the last decimal place of a number of degrees; 0 when it is no finite decimal or a whole number.
double decimal_unit(const fmpq_t degrees) {
  Integer power(1);
  for (int places = 0; places <= 15; ++places) {
    if (fmpz_divisible(power, fmpq_denref(degrees))) return places == 0 ? 0 : std::pow(10.0, -places);
    fmpz_mul_ui(power, power, 10);
  }
  return 0;
}

}  // namespace

std::string likely_intention(const Angle& angle) {
  const std::string general = "write its cosine, sine or tangent: `acos(1/3)`, `atan(sqrt(2))`";
  Rational degrees;
  (angle.pi_multiple * Number(180)).get_rational(degrees);
  const double unit = decimal_unit(degrees);
  const double wanted = fmpz_get_d(degrees.numerator()) / fmpz_get_d(degrees.denominator());
  if (unit == 0 || !(std::fabs(wanted) < 360)) return general;
  const double tolerance = 0.51 * std::max(unit, 1e-9);
  // Coarse decimals are near to everything.
  if (unit > 0.05) return "a rounded decimal is not an exact angle: " + general;

  // Simple surds p/q, p/sqrt(q), sqrt(p)/q, sqrt(p/q) by p + q; an arc cosine is what edges of solids have.
  const auto near = [&](double radians) { return std::fabs(std::fabs(wanted) - radians / degree) <= tolerance; };
  for (const char* function : {"acos", "atan", "asin"})
    for (int sum = 2; sum <= 12; ++sum)
      for (int p = 1; p < sum; ++p) {
        const int q = sum - p;
        const std::string top = std::to_string(p), below = std::to_string(q);
        const std::pair<double, std::string> surds[] = {
            {1.0 * p / q, q == 1 ? top : top + "/" + below},
            {p / std::sqrt(q), top + "/sqrt(" + below + ")"},
            {std::sqrt(p) / q, q == 1 ? "sqrt(" + top + ")" : "sqrt(" + top + ")/" + below},
            {std::sqrt(1.0 * p / q), "sqrt(" + top + "/" + below + ")"},
        };
        for (const auto& [value, text] : surds) {
          const char kind = function[1];
          std::string name;
          if (kind == 'c' && value <= 1 && near(std::acos(value))) name = text;
          if (kind == 'c' && value <= 1 && near(std::acos(-value))) name = "-" + text;
          if (kind == 't' && near(std::atan(value))) name = text;
          if (kind == 's' && value <= 1 && near(std::asin(value))) name = text;
          if (!name.empty())
            return "a rounded decimal is not an exact angle: did you mean `" + std::string(wanted < 0 ? "-" : "") +
                   function + "(" + name + ")`?";
        }
      }
  return "a rounded decimal is not an exact angle: " + general;
}

}  // namespace cutproof
