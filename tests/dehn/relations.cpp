// SPDX-License-Identifier: GPL-3.0-or-later
// The decision itself: relations that are there must be found, and nothing else may count as one.
#include "dehn/torsion.hpp"
#include "number/tower.hpp"
#include "support.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace cutproof;
using namespace cutproof::test;

namespace {

/// length * sqrt(r) (x) arg(1 + scale * sqrt(-r)), whatever the scale's sign.
AngleTerm term(const Number& length, const Number& scale, const Number& r) {
  return {r * square(scale), divide(length, scale)};
}

DehnInvariant without_edges(const std::vector<AngleTerm>& terms) {
  DehnInvariant invariant;
  invariant.field = &terms.front().tangent_squared.field();
  invariant.decision = decide(terms);
  invariant.sums = gathered_terms(invariant.decision);
  return invariant;
}

Number tiny(const Field& field) {
  return divide(Number(1L, field), power_of_ten(30, field));
}

}  // namespace

TEST_CASE("Relations that were built in are found, and a length off by 1e-30 is seen", "[dehn]") {
  std::mt19937 random(20240506);
  int decided = 0;
  for (int round = 0; round < 120; ++round) {
    const Field* fields[] = {&rationals(), &root_two(), &cube_root_two(), &fourth_degree()};
    const Field& k = *fields[round % 4];
    const long radicands[] = {1, 2, 5, 7};
    const Number r(radicands[random() % 4], k);
    const std::size_t count = 1 + random() % 4;
    std::vector<Direction> base;
    std::vector<long> exponents;
    for (std::size_t i = 0; i < count; ++i) {
      base.push_back({random_number(random, k, 6), random_number(random, k, 6)});
      exponents.push_back(static_cast<long>(random() % 25) - 12);
    }
    bool degenerate = false;
    for (const Direction& each : base) degenerate = degenerate || each.x.is_zero() || each.y.is_zero();
    if (degenerate) continue;
    const Direction combined = product(base, exponents, r);
    if (combined.x.is_zero() || combined.y.is_zero()) continue;
    INFO("round " << round);
    const Number length = random_number(random, k, 9) + Number(11L, k);
    std::vector<AngleTerm> terms = {term(length, divide(combined.y, combined.x), r)};
    for (std::size_t i = 0; i < count; ++i)
      if (exponents[i] != 0) terms.push_back(term(Number(-exponents[i], k) * length, divide(base[i].y, base[i].x), r));
    CHECK(decide(terms).zero);
    ++decided;
    std::vector<AngleTerm> off = terms;
    off[random() % off.size()].coefficient += tiny(k);
    const Decision decision = decide(off);
    // A term whose angle is a rational multiple of pi may have any length.
    bool all_torsion = true;
    for (const ClassDecision& part : decision.classes) all_torsion = all_torsion && part.pivots.empty();
    if (!all_torsion && terms.size() > 1) CHECK((!decision.zero || decide({off.front()}).zero));
  }
  CHECK(decided > 90);
}

TEST_CASE("Exponents larger than the first primes can show", "[dehn]") {
  const Field& k = rationals();
  const Number r(1);
  for (const long exponent : {977L, 10007L, 30031L}) {
    INFO(exponent);
    const std::vector<Direction> base = {{Number(2), Number(1)}, {Number(3), Number(2)}};
    const Direction power = product(base, {exponent, 1 - exponent}, r);
    std::vector<AngleTerm> terms = {term(Number(-1), divide(power.y, power.x), r),
                                    term(Number(exponent), Number::fraction(1, 2), r),
                                    term(Number(1 - exponent), Number::fraction(2, 3), r)};
    const Decision decision = decide(terms);
    CHECK(decision.zero);
    REQUIRE(decision.classes.size() == 1);
    CHECK(decision.classes[0].pivots.size() == 2);
    terms[1].coefficient += tiny(k);
    CHECK_FALSE(decide(terms).zero);
  }
}

TEST_CASE("Square classes are kept apart, and merged where they are one", "[dehn]") {
  // 2*sqrt(2) (x) phi and -sqrt(8) (x) phi are one length: zero
  const Number t(2);
  CHECK(decide({{t, Number(2)}, {t, Number(-2)}}).zero);
  // sqrt(2) and sqrt(3) are independent; over Q(sqrt(2)) the number 2 is a square and 6 is in the class of 3
  const Decision apart =
      decide({{Number(2), Number(1)}, {Number(3), Number(1)}, {Number(5), Number(1)}, {Number(6), Number(1)}});
  CHECK(apart.classes.size() == 4);
  const Field& k = root_two();
  const Decision merged =
      decide({{Number(2L, k), Number(1L, k)}, {Number(3L, k), Number(1L, k)}, {Number(6L, k), Number(1L, k)}});
  CHECK(merged.classes.size() == 2);
}

// A relation that no prime ideal sees: over K = Q(cbrt(2)) the field K(i) has units of relative norm 1 and infinite order.
TEST_CASE("A relation between angles that comes from a unit", "[dehn]") {
  const Field& k = cube_root_two();
  const Number c = Number::generator(k);
  REQUIRE(c * c * c == Number(2L, k));
  const Number one(1L, k), two(2L, k), zero(0L, k);
  const Number h = divide(two - c, two + c - c * c), a = divide(two - c, one + c - c * c);
  // tan(2 phi) from tan(phi)
  REQUIRE(a * (one - h * h) == two * h);
  CHECK_FALSE(order_of_root_of_unity({one, h}, one));
  CHECK(decide({term(two, h, one), term(-one, a, one)}).zero);
  CHECK_FALSE(decide({term(two, h, one), term(one, a, one)}).zero);
  CHECK_FALSE(decide({term(one, h, one)}).zero);
  const std::vector<CountedEdge> edges = edges_of(hull({{zero, zero, zero}, {a, zero, zero}, {a, one, zero}, {a, one, h}}));
  const DehnInvariant invariant = invariant_of(edges, k);
  CHECK(fault_in_certificate(invariant) == "");
  CHECK_FALSE(invariant.decision.zero);
  bool found = false;
  for (const ClassDecision& part : invariant.decision.classes) {
    if (part.radicand != one) continue;
    found = true;
    REQUIRE(part.pivots.size() == 1);
    std::vector<AngleTerm> terms = {term(-(a + h + h), h, one)};
    for (const std::size_t i : part.angles) terms.push_back(invariant.decision.angles[i]);
    CHECK(decide(terms).zero);
  }
  CHECK(found);
}

TEST_CASE("Rational multiples of pi are recognised exactly", "[dehn]") {
  const auto multiple = [](const Angle& angle) { return multiple_of_pi(angle); };
  CHECK(multiple(arc_tangent(Number(1))) == Number::fraction(1, 4));
  CHECK(multiple(arc_tangent(Number::fraction(1, 2)) + arc_tangent(Number::fraction(1, 3))) == Number::fraction(1, 4));
  CHECK_FALSE(multiple(arc_tangent(Number::fraction(1, 2)) + arc_tangent(Number::fraction(1, 4))));
  // J. Machin: 4 arctan(1/5) - arctan(1/239) = pi/4
  const Angle machin = Number(4) * arc_tangent(Number::fraction(1, 5)) - arc_tangent(Number::fraction(1, 239));
  CHECK(multiple(machin) == Number::fraction(1, 4));
  CHECK_FALSE(multiple(arc_cosine(Number::fraction(1, 3))));
  CHECK_FALSE(multiple(arc_cosine(Number::fraction(-1, 1000000))));
  // supplementary through a different square class: arctan(sqrt(2)) + arctan(1/sqrt(2)) = pi/2
  CHECK(multiple(ray_angle(Number(1), Number(2)) + ray_angle(Number(2), Number(2))) == Number::fraction(1, 2));
  CHECK_FALSE(multiple(ray_angle(Number(1), Number(2)) + ray_angle(Number(1), Number(3))));
  for (int n = 3; n <= 30; ++n) {
    if (n_euler_phi(2 * n) > 16) continue;
    FieldTower tower;
    const Number tangent_squared = [&] {
      const Number cosine = tower.cosine(pi_angle(Number::fraction(1, n)));
      return divide(Number(1) - cosine * cosine, cosine * cosine);
    }();
    INFO("pi/" << n);
    CHECK(multiple(ray_angle(Number(1L, tangent_squared.field()), tangent_squared)) == Number::fraction(1, n));
    CHECK_FALSE(multiple(ray_angle(Number(1L, tangent_squared.field()), tangent_squared + tiny(tangent_squared.field()))));
  }
  CHECK(equal(arc_tangent(Number(1)), degrees_angle(Number(45))));
  CHECK_FALSE(equal(arc_tangent(Number(1)), degrees_angle(Number(225))));
}

TEST_CASE("A hundred independent angles and the relations among another hundred", "[dehn]") {
  std::vector<AngleTerm> terms;
  for (long n = 1; n <= 100; ++n) terms.push_back({Number::fraction(1, n * n), Number(n)});
  const DehnInvariant invariant = without_edges(terms);
  REQUIRE(invariant.decision.classes.size() == 1);
  // arctan(1/n) are the angles of the Gaussian integers n + i: as many are independent as there are primes p = 1 mod 4 with
  // p dividing some n^2 + 1, n <= 100; counted here by trial division.
  std::vector<long> primes;
  for (long n = 1; n <= 100; ++n) {
    long rest = n * n + 1;
    for (long p = 2; p * p <= rest; ++p)
      while (rest % p == 0) {
        if (p > 2) primes.push_back(p);
        rest /= p;
      }
    if (rest > 2) primes.push_back(rest);
  }
  std::sort(primes.begin(), primes.end());
  primes.erase(std::unique(primes.begin(), primes.end()), primes.end());
  // Every such prime p divides n^2+1 for some n < p; the matrix of exponents has full column rank since each p <= 100 has
  // its least n < p/2 whose cofactor has smaller primes only, and larger p come with the n that brought them.
  CHECK(invariant.decision.classes[0].pivots.size() == primes.size());
}
