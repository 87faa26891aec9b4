// SPDX-License-Identifier: GPL-3.0-or-later
// A guess, for hints only: which exact angle somebody rounded to a decimal.
#include "number/flint.hpp"
#include "number/tower.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <numeric>

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

/// The degree of the cosine of so many quarters or tenths of a degree.
unsigned long cosine_degree(long count, long parts) {
  Integer turn, common, part(count);
  fmpz_set_si(turn, 360 * parts);
  fmpz_gcd(common, turn, part);
  fmpz_divexact(turn, turn, common);
  if (fmpz_cmp_ui(turn, 2) <= 0) return 1;
  fmpz_euler_phi(turn, turn);
  return fmpz_get_ui(turn) / 2;
}

/// `22 deg`, `45/2 deg`.
std::string degrees_text(long count, long parts) {
  const long common = std::gcd(count, parts);
  return std::to_string(count / common) + (parts == common ? "" : "/" + std::to_string(parts / common)) + " deg";
}

/// Among whole, quarter and tenth degrees, the nearest angle on each side whose cosine has a degree within the limit.
std::string nearest_that_work(const fmpq_t degrees, double wanted, int max_degree) {
  std::string texts[2];
  double values[2] = {-1e9, 1e9};
  for (const long parts : {1L, 4L, 10L}) {
    const long near = std::lround(wanted * static_cast<double>(parts));
    for (long count = near - 90 * parts; count <= near + 90 * parts; ++count) {
      Rational value;
      fmpq_set_si(value, count, static_cast<ulong>(parts));
      const int order = fmpq_cmp(value, degrees);
      const double about = static_cast<double>(count) / static_cast<double>(parts);
      if (order == 0 || count == 0 || cosine_degree(count, parts) > static_cast<unsigned long>(max_degree)) continue;
      const int side = order < 0 ? 0 : 1;
      if (side == 0 ? about <= values[0] : about >= values[1]) continue;
      values[side] = about;
      texts[side] = degrees_text(count, parts);
    }
  }
  if (texts[0].empty() || texts[1].empty()) return "";
  return "; the nearest angles that work are `" + texts[0] + "` and `" + texts[1] + "`";
}

/// `its tangent, rise over run: atan(0.404)`, with as many places as the angle has.
std::string by_tangent(double wanted, double unit) {
  const double folded = std::remainder(wanted, 180.0);  // from -90 to 90
  const double tangent = std::tan(std::fabs(folded) * degree);
  if (!(tangent < 1e6)) return "write its cosine, sine or tangent: `acos(1/3)`, `atan(sqrt(2))`";
  const int places = unit == 0 ? 3 : std::clamp(static_cast<int>(std::lround(-std::log10(unit))) + 2, 3, 9);
  char number[40];
  std::snprintf(number, sizeof number, "%.*f", places, tangent);
  const long half_turns = std::lround((wanted - folded) / 180.0);
  std::string text = std::string(folded < 0 ? "-" : "") + "atan(" + number + ")";
  if (half_turns != 0)
    text = std::to_string(180 * half_turns) + " deg " + (folded < 0 ? "- " : "+ ") + "atan(" + number + ")";
  return "write its tangent, rise over run: `" + text + "`";
}

}  // namespace

std::string likely_intention(const Angle& angle, int max_degree) {
  Rational degrees;
  (angle.pi_multiple * Number(180)).get_rational(degrees);
  const double unit = decimal_unit(degrees);
  const double wanted = fmpz_get_d(degrees.numerator()) / fmpz_get_d(degrees.denominator());
  if (!(std::fabs(wanted) < 360)) return "write its cosine, sine or tangent: `acos(1/3)`, `atan(sqrt(2))`";
  const std::string general = by_tangent(wanted, unit) + nearest_that_work(degrees, wanted, max_degree);
  if (unit == 0) return general;
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
