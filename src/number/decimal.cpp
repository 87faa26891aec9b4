// SPDX-License-Identifier: GPL-3.0-or-later
#include "number/decimal.hpp"

#include "number/complaint.hpp"

#include <string>

namespace cutproof {

namespace {

bool is_sign(char letter) {
  return letter == '+' || letter == '-';
}
bool is_digit(char letter) {
  return letter >= '0' && letter <= '9';
}

}  // namespace

bool is_decimal(std::string_view text) {
  std::size_t at = 0;
  const auto skip_digits = [&] {
    const std::size_t begin = at;
    while (at < text.size() && is_digit(text[at])) ++at;
    return at - begin;
  };
  if (at < text.size() && is_sign(text[at])) ++at;
  std::size_t digits = skip_digits();
  if (at < text.size() && text[at] == '.') {
    ++at;
    digits += skip_digits();
  }
  if (digits == 0) return false;
  if (at < text.size() && (text[at] == 'e' || text[at] == 'E')) {
    ++at;
    if (at < text.size() && is_sign(text[at])) ++at;
    if (skip_digits() == 0) return false;
  }
  return at == text.size();
}

Rational decimal_value(std::string_view text, std::size_t max_bits) {
  const std::string_view whole = text;
  const bool negative = !text.empty() && text[0] == '-';
  if (!text.empty() && is_sign(text[0])) text.remove_prefix(1);
  // digits without their point, times 10 to a power
  std::string digits;
  long places = 0;
  bool after_point = false;
  std::size_t i = 0;
  for (; i < text.size() && text[i] != 'e' && text[i] != 'E'; ++i) {
    if (text[i] == '.') {
      after_point = true;
      continue;
    }
    digits += text[i];
    if (after_point) ++places;
  }
  Rational value;
  digits.erase(0, digits.find_first_not_of('0'));
  if (digits.empty()) return value;
  Integer exponent;
  if (i < text.size()) {
    const std::size_t start = i + (text[i + 1] == '+' ? 2 : 1);
    // An exponent of so many digits is over every limit; do not even read it.
    const std::string exponent_text(text.substr(start, 40));
    fmpz_set_str(exponent, exponent_text.c_str(), 10);
  }
  fmpz_sub_si(exponent, exponent, places);
  Integer size;
  fmpz_abs(size, exponent);
  // 10^k has more than 3*k bits
  if (fmpz_cmp_ui(size, max_bits / 3) > 0 || digits.size() > max_bits / 3)
    throw OverLimit("max-bits", Wrong::decimal_bits, {std::string(whole), static_cast<long>(max_bits)});
  fmpz_set_str(value.numerator(), digits.c_str(), 10);
  if (negative) fmpz_neg(value.numerator(), value.numerator());
  Integer power(10);
  fmpz_pow_ui(power, power, fmpz_get_ui(size));
  if (fmpz_sgn(exponent) >= 0)
    fmpz_mul(value.numerator(), value.numerator(), power);
  else
    fmpz_set(value.denominator(), power);
  fmpq_canonicalise(value);
  return value;
}

}  // namespace cutproof
