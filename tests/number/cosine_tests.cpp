// SPDX-License-Identifier: GPL-3.0-or-later
// Cosines of rational multiples of pi: all of one conductor lie in the field of one of them, and those of different
// conductors make the field that the theory of cyclotomic fields says.
#include "test_fields.hpp"

#include <catch2/catch.hpp>

#include <numeric>
#include <set>

using namespace cutproof;
using namespace cutproof::test;

namespace {

Number cosine_of_turn(FieldTower& tower, long numerator, long conductor) {
  return tower.cosine(pi_angle(Number::fraction(2 * numerator, conductor)));
}

bool is_cosine_of_turn(const Number& number, long numerator, long conductor) {
  Rational half_turns;
  fmpq_set_si(half_turns, 2 * numerator, static_cast<ulong>(conductor));
  Ball expected;
  arb_cos_pi_fmpq(expected, half_turns, 2000);
  return arb_overlaps(oracle(number), expected) != 0;
}

/// The units modulo m that fix cos(2*pi/n) for all the given divisors n of m: those that are 1 or -1 modulo each.
int degree_of_compositum(const std::vector<long>& conductors) {
  long m = 1;
  for (const long n : conductors) m = std::lcm(m, n);
  int units = 0, fixing = 0;
  for (long u = 1; u <= m; ++u) {
    if (std::gcd(u, m) != 1) continue;
    ++units;
    bool fixes = true;
    for (const long n : conductors) fixes = fixes && ((u - 1) % n == 0 || (u + 1) % n == 0);
    fixing += fixes ? 1 : 0;
  }
  return units / fixing;
}

}  // namespace

TEST_CASE("all cosines of one conductor lie in the field of the first that was asked for") {
  for (const long conductor : {1L, 2L, 3L, 4L, 5L, 6L, 7L, 9L, 14L, 15L, 16L, 18L, 24L, 30L, 45L, 72L, 90L, 97L, 360L})
    for (const long first : {1L, 2L, 7L}) {
      if (std::gcd(first, conductor) != 1) continue;
      INFO("conductor " << conductor << ", first " << first);
      FieldTower tower;
      cosine_of_turn(tower, first, conductor);
      const int degree = tower.top().degree();
      CHECK(degree == degree_of_compositum({conductor}));
      const long stride = conductor > 90 ? 7 : 1;
      for (long k = -conductor; k <= 2 * conductor; k += stride) {
        const Number value = cosine_of_turn(tower, k, conductor);
        CHECK(is_cosine_of_turn(value, k, conductor));
        CHECK(value == cosine_of_turn(tower, k, conductor));
        const Number next = cosine_of_turn(tower, k + 1, conductor), last = cosine_of_turn(tower, k - 1, conductor);
        CHECK(next + last == Number(2) * value * cosine_of_turn(tower, 1, conductor));
      }
      CHECK(tower.top().degree() == degree);
    }
}

TEST_CASE("cosines of several conductors make a field of the degree that cyclotomic fields have") {
  std::mt19937 engine(3121);
  const std::vector<long> conductors = {5,  7,  8,  9,  10, 12, 14, 15, 16, 18, 20, 21,
                                        24, 28, 30, 32, 36, 40, 45, 60, 72, 90, 120};
  int cases = 0;
  while (cases < 60) {
    std::vector<long> chosen;
    for (int i = 0; i < 3; ++i) chosen.push_back(conductors[engine() % conductors.size()]);
    if (degree_of_compositum(chosen) > 24) continue;
    ++cases;
    INFO("seed 3121, conductors " << chosen[0] << ", " << chosen[1] << ", " << chosen[2]);
    FieldTower tower;
    std::vector<std::pair<long, Number>> made;
    for (const long conductor : chosen) {
      long numerator = 0;
      do numerator = static_cast<long>(engine() % static_cast<unsigned long>(conductor));
      while (std::gcd(numerator, conductor) != 1);
      made.emplace_back(numerator, cosine_of_turn(tower, numerator, conductor));
      CHECK(tower.top().degree() == degree_of_compositum({chosen.begin(), chosen.begin() + static_cast<long>(made.size())}));
    }
    for (std::size_t i = 0; i < made.size(); ++i) {
      CHECK(is_cosine_of_turn(made[i].second, made[i].first, chosen[i]));
      CHECK(tower.lifted(made[i].second) == cosine_of_turn(tower, made[i].first, chosen[i]));
    }
  }
}

TEST_CASE("cosine and sine of every whole degree are on the unit circle, in a field of the degree that is known") {
  for (long degrees = 1; degrees < 90; ++degrees) {
    // degree 48 takes longer
    if (std::gcd(degrees, 360L) == 1 && degrees != 1 && degrees != 77) continue;
    INFO(degrees << " deg");
    FieldTower tower;
    const Angle angle = degrees_angle(Number(degrees));
    const Number cosine = tower.cosine(angle), sine = tower.sine(angle);
    CHECK(square(tower.lifted(cosine)) + square(sine) == Number(1));
    CHECK(cosine.sign() > 0);
    CHECK(sine.sign() > 0);
    CHECK(tower.top().degree() == degree_of_compositum({360 / std::gcd(degrees, 360L), 360 / std::gcd(90 - degrees, 360L)}));
  }
}

TEST_CASE("a tower tells what it begins to do") {
  std::vector<std::string> told;
  FieldTower tower({}, [&](const std::string& stage) { told.push_back(stage); });
  tower.square_root(Number(2));
  tower.square_root(Number(8));
  tower.cosine(pi_angle(Number::fraction(1, 7)));
  CHECK(told == std::vector<std::string>{
                    "adjoining sqrt(2) to a field of degree 1", "finding a short generator of a field of degree 2",
                    "adjoining cos(pi/7) to a field of degree 2", "finding a short generator of a field of degree 6"});
  told.clear();
  tower.cosine(pi_angle(Number::fraction(3, 7)));
  CHECK(told.empty());
}
