// SPDX-License-Identifier: GPL-3.0-or-later
// Doubles nearest to exact numbers: strtod rounds the same decimals correctly, and midpoints go to the even neighbour.
#include "number/nearest.hpp"
#include "test_fields.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <limits>
#include <random>
#include <string>

using namespace cutproof;
using namespace cutproof::test;

namespace {

Number power_of_two(long exponent) {
  Number power(1);
  for (long i = 0; i < std::labs(exponent); ++i) power = power * (exponent < 0 ? Number::fraction(1, 2) : Number(2));
  return power;
}

}  // namespace

TEST_CASE("a fraction becomes the nearest double", "[nearest]") {
  constexpr unsigned seed = 7421;
  std::printf("seed %u\n", seed);
  std::mt19937_64 random(seed);
  for (int i = 0; i < 2000; ++i) {
    const long numerator = static_cast<long>(random() >> 1), power = static_cast<long>(random() % 30);
    const std::string decimal = (i % 2 ? "-" : "") + std::to_string(numerator) + "e-" + std::to_string(power);
    Number number(i % 2 ? -numerator : numerator);
    for (long k = 0; k < power; ++k) number = number * Number::fraction(1, 10);
    CAPTURE(decimal);
    CHECK(nearest_double(number) == std::strtod(decimal.c_str(), nullptr));
  }
}

TEST_CASE("midpoints go to the even double, and a hair decides", "[nearest]") {
  const Number half_step = power_of_two(-53), hair = power_of_two(-400);
  CHECK(nearest_double(Number(1) + half_step) == 1);
  CHECK(nearest_double(Number(1) + half_step + hair) == 1 + 0x1p-52);
  CHECK(nearest_double(Number(1) + Number(3) * half_step) == 1 + 0x1p-51);
  CHECK(nearest_double(Number(1) + Number(3) * half_step - hair) == 1 + 0x1p-52);
  CHECK(nearest_double(-Number(1) - half_step - hair) == -1 - 0x1p-52);
  const Number root = FieldTower().square_root(Number(2));
  CHECK(nearest_double(root) == std::sqrt(2.0));  // IEEE 754 rounds square roots correctly
}

TEST_CASE("an irrational number near a midpoint falls on its own side", "[nearest]") {
  FieldTower tower;
  const Number root = tower.square_root(Number(2)), tiny = power_of_two(-500), half_step = power_of_two(-53);
  CHECK(nearest_double(Number(1) + half_step + tiny * root) == 1 + 0x1p-52);
  CHECK(nearest_double(Number(1) + half_step - tiny * root) == 1);
}

TEST_CASE("very small and very large numbers", "[nearest]") {
  CHECK(nearest_double(power_of_two(-1074)) == std::numeric_limits<double>::denorm_min());
  CHECK(nearest_double(power_of_two(-1075)) == 0);  // midway to zero: even
  CHECK(nearest_double(power_of_two(-1075) + power_of_two(-1200)) == std::numeric_limits<double>::denorm_min());
  CHECK_FALSE(std::signbit(nearest_double(-power_of_two(-2000))));
  CHECK_FALSE(std::signbit(nearest_double(Number(0))));
  CHECK(nearest_double(power_of_two(1023)) == 0x1p1023);
  CHECK(std::isinf(nearest_double(power_of_two(1024))));
  // Rounded to 53 bits first and then again, this would go up: 0x1p-1074 * (1/2 - 2^-60) is nearer to 0.
  CHECK(nearest_double(power_of_two(-1075) - power_of_two(-1135)) == 0);
}
