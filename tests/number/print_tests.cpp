// SPDX-License-Identifier: GPL-3.0-or-later
// Exact numbers in the plan's own radicals, decimals rounded correctly, sums of radicals that adjoin nothing.
#include "test_fields.hpp"

#include <catch2/catch.hpp>

using namespace cutproof;
using namespace cutproof::test;

TEST_CASE("numbers are printed in the radicals of the plan") {
  FieldTower tower;
  const Number a = tower.square_root(Number(2));
  CHECK(to_exact(Number::fraction(1, 2) + Number::fraction(3, 4) * a) == "(2 + 3*sqrt(2))/4");
  CHECK(to_exact(-a) == "-sqrt(2)");
  CHECK(to_exact(a - a) == "0");
  CHECK(to_exact(Number(3) - a) == "3 - sqrt(2)");
  const Number b = tower.square_root(Number(12));
  CHECK(to_exact(b) == "2*sqrt(3)");
  CHECK(to_exact(a * b - Number(1)) == "2*sqrt(6) - 1");
  CHECK(to_exact(tower.square_root(Number(2) + a)) == "sqrt(2 + sqrt(2))");

  FieldTower quartic;
  const Number c = quartic.root(Number(3), 4);
  CHECK(to_exact(c) == "3^(1/4)");
  CHECK(to_exact(c * c) == "sqrt(3)");
  CHECK(to_exact(c * c * c + c) == "3^(1/4) + 3^(3/4)");
  FieldTower cubic;
  const Number d = cubic.root(Number(2), 3);
  CHECK(to_exact(d * d - d) == "cbrt(4) - cbrt(2)");
  FieldTower cosine;
  CHECK(to_exact(cosine.cosine(pi_angle(Number::fraction(1, 7)))) == "cos(pi/7)");
  FieldTower golden;
  CHECK(to_exact(golden.cosine(pi_angle(Number::fraction(1, 5)))) == "(1 + sqrt(5))/4");
}

// Digits from 400-digit decimal arithmetic (Python's decimal module).
TEST_CASE("a number that is tiny beside its coefficients has the right decimal and sign") {
  FieldTower tower;
  const Number small = tower.square_root(Number(2)) - Number(1);
  Number power(1L, tower.top());
  for (int i = 0; i < 300; ++i) power = power * small;
  CHECK(to_decimal(power) == "1.4699223679126847763e-115");
  CHECK(to_decimal(-power) == "-1.4699223679126847763e-115");
  RadicalSum sum;
  sum.add(-power * small, Number(3L, tower.top()));
  CHECK(to_decimal(sum) == "-1.0545795384829602851e-115");
}

TEST_CASE("decimals are rounded correctly and padded") {
  CHECK(to_decimal(Number(0)) == "0");
  CHECK(to_decimal(Number::fraction(1, 2)) == "0.50000000000000000000");
  CHECK(to_decimal(Number::fraction(1, 12)) == "0.083333333333333333333");
  CHECK(to_decimal(Number::fraction(-2, 3), 5) == "-0.66667");
  CHECK(to_decimal(Number::fraction(1, 8), 2) == "0.13");
  CHECK(to_decimal(Number::fraction(9999, 10), 3) == "1000");
  CHECK(to_decimal(Number::fraction(99996, 100000), 4) == "1.000");
  CHECK(to_decimal(Number(1), 20) == "1.0000000000000000000");
  CHECK(to_decimal(power_of_ten(-30)) == "1.0000000000000000000e-30");
  CHECK(to_decimal(power_of_ten(30)) == "1" + std::string(30, '0'));
  CHECK(to_decimal(power_of_ten(100)) == "1.0000000000000000000e100");
  CHECK(to_decimal(power_of_ten(100) - Number(1)) == "1.0000000000000000000e100");
  CHECK(to_decimal(-Number(7) * power_of_ten(300), 3) == "-7.00e300");
  CHECK(to_decimal(power_of_ten(-6), 3) == "0.00000100");
  CHECK(to_decimal(Number::fraction(9, 10) * power_of_ten(-6), 3) == "9.00e-7");
  CHECK(to_decimal(power_of_ten(25), 20) == "10000000000000000000000000");
  FieldTower tower;
  // 1.73205080756887729352744634150587 (OEIS A002194, from memory)
  CHECK(to_decimal(tower.square_root(Number(3)), 30) == "1.73205080756887729352744634151");
  CHECK(to_decimal(tower.square_root(Number(3))) == "1.7320508075688772935");
}

TEST_CASE("no decimal is further from its number than half a unit in the last place") {
  for (const NamedTower& each : all_towers()) {
    INFO(each.name << ", seed 301");
    RandomNumbers random(each.field(), 301);
    for (int i = 0; i < 100; ++i) {
      const Number value = absolute(random.nonzero());
      const int digits = 2 + i % 30;
      const std::string text = to_decimal(value, digits);
      INFO(to_exact(value) << " as " << text);
      const Number printed = RandomNumbers::parsed(text);
      // The unit of the last digit: changing the text's last digit by one.
      std::string mantissa = text.substr(0, text.find('e'));
      const int places =
          mantissa.find('.') == std::string::npos ? 0 : static_cast<int>(mantissa.size() - mantissa.find('.') - 1);
      const int exponent = text.find('e') == std::string::npos ? 0 : std::stoi(text.substr(text.find('e') + 1));
      const Number unit = power_of_ten(exponent - places);
      CHECK(Number(2) * absolute(printed - value) <= unit);
      mantissa.erase(std::remove(mantissa.begin(), mantissa.end(), '.'), mantissa.end());
      mantissa.erase(0, mantissa.find_first_not_of('0'));
      CHECK(static_cast<int>(mantissa.size()) >= digits);
    }
  }
}

TEST_CASE("angles are printed as expressions") {
  CHECK(to_exact(degrees_angle(Number(60))) == "60 deg");
  CHECK(to_exact(degrees_angle(Number::fraction(547356, 10000))) == "54.7356 deg");
  CHECK(to_exact(arc_cosine(Number::fraction(1, 3))) == "acos(1/3)");
  CHECK(to_exact(arc_cosine(Number::fraction(-1, 3))) == "180 deg - acos(1/3)");
  CHECK(to_exact(Number::fraction(2, 3) * arc_cosine(Number::fraction(1, 3))) == "2*acos(1/3)/3");
  CHECK(to_exact(ray_angle(Number(1), Number(2))) == "acos(sqrt(3)/3)");
  CHECK(to_decimal_degrees(degrees_angle(Number(60)), 5) == "60.000");
  // 70.528779365509308630754... (the tetrahedron's dihedral angle, from memory)
  CHECK(to_decimal_degrees(arc_cosine(Number::fraction(1, 3)), 18) == "70.5287793655093086");
}

TEST_CASE("sums of radicals") {
  RadicalSum sum;
  CHECK(sum.is_zero());
  CHECK(to_exact(sum) == "0");
  sum.add(Number(1), Number(2));
  sum.add(Number(1), Number(8));
  CHECK(to_exact(sum) == "3*sqrt(2)");
  sum.add(Number(-3), Number(2));
  CHECK(sum.is_zero());
  sum.add(Number::fraction(1, 2), Number(49));
  sum.add(Number(2), Number::fraction(3, 4));
  CHECK(to_exact(sum) == "7/2 + sqrt(3)");
  CHECK(to_decimal(sum, 10) == "5.232050808");
  CHECK(sum.sign() == 1);
  sum.add(Number(-4), Number(3));
  CHECK(sum.sign() == -1);
  CHECK(Field::rational().degree() == 1);

  // Over Q(sqrt 6) the roots of 2, of 3 and of 5 + 2*sqrt(6) = (sqrt 2 + sqrt 3)^2 are of one class.
  FieldTower tower;
  const Number root6 = tower.square_root(Number(6));
  RadicalSum cancels;
  cancels.add(Number(1), Number(5) + Number(2) * root6);
  cancels.add(Number(-1), tower.lifted(Number(2)));
  CHECK_FALSE(cancels.is_zero());
  cancels.add(Number(-1), tower.lifted(Number(3)));
  CHECK(cancels.is_zero());
  // near zero, but not zero
  RadicalSum near;
  near.add(Number(1), Number(2));
  near.add(Number(-1), Number(3));
  near.add(RandomNumbers::parsed("0.3178372451957822447257576427209"), Number(1));
  CHECK(near.sign() == [] {
    Ball a, b;
    arb_sqrt_ui(a, 2, 300);
    arb_sqrt_ui(b, 3, 300);
    arb_sub(a, a, b, 300);
    Rational close;
    RandomNumbers::parsed("0.3178372451957822447257576427209").get_rational(close);
    arb_set_fmpq(b, close, 300);
    arb_add(a, a, b, 300);
    return arb_is_positive(a) ? 1 : -1;
  }());
}

TEST_CASE("random sums of radicals have the right value and sign") {
  for (const NamedTower& each : all_towers()) {
    if (each.field().degree() > 4) continue;
    INFO(each.name << ", seed 302");
    RandomNumbers random(each.field(), 302);
    for (int i = 0; i < 20; ++i) {
      RadicalSum sum;
      Ball expected, radical, factor;
      for (int j = 0; j < 4; ++j) {
        const Number s = random.plain(9), r = absolute(random.plain(5));
        sum.add(s, r);
        r.enclose(radical, 1000);
        arb_sqrtpos(radical, radical, 1000);
        s.enclose(factor, 1000);
        arb_addmul(expected, factor, radical, 1000);
      }
      if (!sum.is_zero()) CHECK(sum.sign() == (arb_is_positive(expected) ? 1 : -1));
      Ball printed;
      Rational decimal;
      const std::string text = to_decimal(sum, 40);
      RandomNumbers::parsed(text[0] == '-' ? text.substr(1) : text).get_rational(decimal);
      if (text[0] == '-') fmpq_neg(decimal, decimal);
      arb_set_fmpq(printed, decimal, 1000);
      arb_sub(printed, printed, expected, 1000);
      arb_mul_2exp_si(printed, printed, 100);
      CHECK(arf_cmpabs_2exp_si(arb_midref(printed.value), 0) < 0);
    }
  }
}
