// SPDX-License-Identifier: GPL-3.0-or-later
// A rational number is divided; a ball round an irrational one holds no integer once it is small enough.
#include "number/whole.hpp"

namespace cutproof {

Number floor_of(const Number& number) {
  Rational result;
  if (number.is_rational()) {
    Rational value;
    number.get_rational(value);
    fmpz_fdiv_q(result.numerator(), value.numerator(), value.denominator());
    return Number(result, Field::rational());
  }
  for (slong precision = 64;; precision *= 2) {
    Ball ball, below;
    number.enclose(ball, precision);
    arb_floor(below, ball, precision);
    if (arb_get_unique_fmpz(result.numerator(), below) != 0) return Number(result, Field::rational());
  }
}

}  // namespace cutproof
