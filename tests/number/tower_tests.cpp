// SPDX-License-Identifier: GPL-3.0-or-later
// What is adjoined, what is not, and that every root and cosine is the one that was asked for.
#include "test_fields.hpp"

#include "plan/complaints.hpp"

#include <catch2/catch.hpp>

#include <numeric>

using namespace cutproof;
using namespace cutproof::test;

namespace {

std::vector<std::string> texts(const FieldTower& tower) {
  std::vector<std::string> result;
  for (const Generator& generator : tower.top().generators()) result.push_back(generator.text);
  return result;
}

Number pi_fraction(long numerator, long denominator) {
  return Number::fraction(numerator, denominator);
}

template <class Work>
std::string limit_message(Work work) {
  try {
    work();
  } catch (const LimitReached& reached) {
    return reached.limit() + ": " + told(reached).sentence + " / " + told(reached).hint;
  }
  return "no limit";
}

template <class Work>
std::string invalid_message(Work work) {
  try {
    work();
  } catch (const InvalidInput& error) {
    return told(error).sentence;
  }
  return "no error";
}

/// Equality with a ball of 1000 bits.
bool is(const Number& number, const Enclosure& expected) {
  Ball ball;
  expected(ball, 1000);
  return arb_overlaps(ball, oracle(number)) && arb_rel_accuracy_bits(ball) > 500;
}

}  // namespace

TEST_CASE("rational radicands lose their powers before anything is adjoined") {
  FieldTower tower;
  const Number root2 = tower.square_root(Number(2));
  CHECK(tower.square_root(Number(8)) == Number(2) * root2);
  CHECK(tower.square_root(Number::fraction(1, 2)) == root2 * Number::fraction(1, 2));
  CHECK(tower.square_root(Number::fraction(49, 18)) == root2 * Number::fraction(7, 6));
  CHECK(tower.square_root(Number(144)) == Number(12));
  CHECK(tower.root(Number(8), 6) == root2);
  CHECK(tower.root(Number(4), 4) == root2);
  CHECK(tower.root(Number(-27), 3) == Number(-3));
  CHECK(tower.root(Number(0), 5) == Number(0));
  CHECK(tower.root(Number::fraction(1, 1024), 10) == Number::fraction(1, 2));
  CHECK(tower.top().degree() == 2);
  CHECK(texts(tower) == std::vector<std::string>{"sqrt(2)"});
  CHECK(tower.square_root(Number::fraction(3, 4)) * Number(2) == tower.square_root(Number(3)));
  CHECK(texts(tower) == std::vector<std::string>{"sqrt(2)", "sqrt(3)"});
  CHECK(tower.square_root(Number(6)) == tower.lifted(root2) * tower.square_root(Number(3)));
  CHECK(tower.top().degree() == 4);
}

TEST_CASE("roots in the field are found there, in every field") {
  for (const NamedTower& each : all_towers()) {
    INFO(each.name << ", seed 201");
    RandomNumbers random(each.field(), 201);
    const int degree = each.field().degree();
    for (int i = 0; i < 12; ++i) {
      const Number a = random.plain(9);
      if (a.is_zero()) continue;
      const std::optional<Number> root = square_root_within_field(a * a);
      REQUIRE(root);
      CHECK(*root == absolute(a));
      CHECK(each.tower->square_root(a * a) == absolute(a));
      CHECK(each.tower->root(a * a * a, 3) == a);
      // a square times a number that is no square is none: a quadratic residue symbol or a sign shows it
      CHECK_FALSE(square_root_within_field(-(a * a)));
      if (degree <= 2 || i < 2) CHECK_FALSE(square_root_within_field(Number(23) * a * a));
      CHECK(each.tower->top().degree() == degree);
    }
  }
}

TEST_CASE("a number is a square exactly when adjoining its root adds nothing") {
  for (const NamedTower& each : all_towers()) {
    if (each.field().degree() > 4) continue;
    INFO(each.name << ", seed 202");
    RandomNumbers random(each.field(), 202);
    int squares = 0;
    for (int i = 0; i < 60; ++i) {
      const Number a = absolute(random.plain(4)) + Number(i % 2 == 0 ? 0 : random.small(3));
      if (a.sign() <= 0) continue;
      FieldTower copy;  // Q alone: a field of its own for each case
      const std::optional<Number> root = square_root_within_field(a);
      const bool square = root.has_value();
      squares += square ? 1 : 0;
      if (square) CHECK(*root * *root == a);
      if (each.field().degree() == 1) {
        copy.square_root(a);
        CHECK(square == (copy.top().degree() == 1));
      }
    }
    CHECK(squares < 60);
  }
}

TEST_CASE("nested roots have their values, their powers and their place among the conjugates") {
  for (unsigned seed = 1; seed <= 25; ++seed) {
    INFO("seed " << seed);
    FieldTower tower;
    std::mt19937_64 engine(seed);
    const auto pick = [&](long bound) { return static_cast<long>(engine() % static_cast<unsigned long>(bound)) + 1; };
    Number value(pick(7));
    Ball ball;
    arb_set_si(ball, std::stol(to_exact(value)));
    for (int level = 0; level < 3; ++level) {
      const unsigned long n = level == 0 && pick(3) == 1 ? 3 : 2;
      const long plus = pick(6);
      if (tower.top().degree() * static_cast<int>(n) > 16) break;
      const Number radicand = tower.lifted(value) * Number::fraction(pick(5), pick(5)) + Number(plus);
      Ball below;
      radicand.enclose(below, 1000);
      value = tower.root(radicand, n);
      Number power = value;
      for (unsigned long i = 1; i < n; ++i) power *= value;
      CHECK(power == radicand);
      CHECK(is(value, [&](arb_t result, slong precision) { arb_root_ui(result, below, n, precision); }));
      CHECK(tower.root(radicand, n) == tower.lifted(value));
    }
  }
}

TEST_CASE("rational powers") {
  FieldTower tower;
  const Number a = tower.power(Number(3), Number::fraction(1, 4));
  CHECK(texts(tower) == std::vector<std::string>{"3^(1/4)"});
  CHECK(tower.power(a, Number(4)) == Number(3));
  CHECK(tower.power(a, Number(-2)) * tower.square_root(Number(3)) == Number(1));
  CHECK(tower.power(Number(3), Number::fraction(3, 4)) == a * a * a);
  CHECK(tower.power(Number(-8), Number::fraction(2, 3)) == Number(4));
  CHECK(tower.power(Number(-8), Number::fraction(-1, 3)) == Number::fraction(-1, 2));
  CHECK(tower.power(Number(0), Number::fraction(1, 2)) == Number(0));
  CHECK(tower.power(Number(5), Number(0)) == Number(1));
  CHECK(tower.power(Number(-1), power_of_ten(30)) == Number(1));
  CHECK(tower.power(Number(-1), power_of_ten(30) + Number(1)) == Number(-1));
  CHECK(tower.power(Number(1), Number::fraction(1, 1000003)) == Number(1));
  CHECK(tower.top().degree() == 4);
  CHECK(invalid_message([&] { tower.power(Number(0), Number(0)); }) == "0^0 has no meaning");
  CHECK(invalid_message([&] { tower.power(Number(0), Number(-1)); }) == "0 to a negative power is a division by zero");
  CHECK(invalid_message([&] { tower.power(Number(-4), Number::fraction(1, 2)); }) ==
        "an even root of a negative number is no real number");
}

TEST_CASE("limits are held before the work is done") {
  FieldTower tower;
  CHECK(limit_message([&] { tower.power(Number(2), Number(1000000000)); }).substr(0, 8) == "max-bits");
  CHECK(limit_message([&] { tower.power(Number::fraction(2, 3), Number(-1000000000)); }).substr(0, 8) == "max-bits");
  CHECK(limit_message([&] { tower.power(Number(2), power_of_ten(40)); }).substr(0, 8) == "max-bits");
  CHECK(limit_message([&] { tower.power(Number(2), Number::fraction(1, 1000003)); }).substr(0, 10) == "max-degree");
  CHECK(limit_message([&] { tower.power(Number(2), power_of_ten(-40)); }).substr(0, 10) == "max-degree");
  CHECK(tower.top().degree() == 1);

  for (const long radicand : {2L, 3L, 5L, 7L, 11L}) tower.square_root(Number(radicand));
  CHECK(tower.top().degree() == 32);
  CHECK(limit_message([&] { tower.square_root(Number(13)); }) ==
        "max-degree: `sqrt(13)` needs a number field of too high a degree: it multiplies the degree 32 by 2, and the limit "
        "is 48; "
        "adjoined before: sqrt(2) (times 2), sqrt(3) (times 2), sqrt(5) (times 2), sqrt(7) (times 2), sqrt(11) (times 2) / "
        "is one root too "
        "many, or one number mistyped? plans rarely need more than degree "
        "16; --max-degree raises the limit");
  // what is in the field is still found at the limit
  CHECK(tower.square_root(Number(210)) * tower.square_root(Number(210)) == Number(210));

  FieldTower low({4, 1000});
  CHECK(limit_message([&] { low.root(Number(2), 5); }).substr(0, 10) == "max-degree");
  CHECK(limit_message([&] { low.checked(power_of_ten(400)); }).substr(0, 8) == "max-bits");
  CHECK_NOTHROW(low.root(Number(2), 4));
  // square roots nested forty deep
  FieldTower deep;
  CHECK(limit_message([&] {
          Number value(2);
          for (int i = 0; i < 40; ++i) value = deep.square_root(value + Number(1));
        }).substr(0, 10) == "max-degree");
}

TEST_CASE("rounded decimal angles end with the likely intention") {
  FieldTower tower;
  const auto cosine_of = [&](long numerator, long denominator) {
    return limit_message([&] { tower.cosine(degrees_angle(Number::fraction(numerator, denominator))); });
  };
  CHECK(cosine_of(547356, 10000) ==
        "max-degree: the cosine of 54.7356 deg has degree 40000 over the rational numbers; the limit is 48 / "
        "a rounded decimal is not an exact angle: did you mean `acos(1/sqrt(3))`?");
  CHECK(cosine_of(7053, 100).find("`acos(1/3)`") != std::string::npos);
  CHECK(cosine_of(10947, 100).find("`acos(-1/3)`") != std::string::npos);
  CHECK(cosine_of(116565, 1000).find("`acos(-1/sqrt(5))`") != std::string::npos);
  CHECK(cosine_of(-3526439, 100000).find("`-acos(sqrt(2/3))`") != std::string::npos);
  CHECK(limit_message([&] { tower.sine(degrees_angle(Number::fraction(352644, 10000))); }) ==
        "max-degree: the sine of 35.2644 deg has degree 40000 over the rational numbers; the limit is 48 / "
        "a rounded decimal is not an exact angle: did you mean `acos(sqrt(2/3))`?");
  CHECK(cosine_of(123456, 10000).find("did you mean") == std::string::npos);
  CHECK(cosine_of(180, 101).find("degree 50 ") != std::string::npos);
  CHECK(limit_message([&] { tower.cosine(pi_angle(power_of_ten(-60))); }).substr(0, 10) == "max-degree");
  CHECK(tower.top().degree() == 1);
}

TEST_CASE("roots of polynomials: built from chosen roots, the nearest comes back") {
  std::mt19937_64 engine(203);
  for (int i = 0; i < 60; ++i) {
    INFO("seed 203, case " << i);
    FieldTower tower;
    std::vector<Number> polynomial = {Number(1)}, roots;
    for (int j = 0; j < 4; ++j) {
      const Number root = Number::fraction(static_cast<long>(engine() % 41) - 20, static_cast<long>(engine() % 6) + 1);
      roots.push_back(root);
      std::vector<Number> next(polynomial.size() + 1, Number(0));
      for (std::size_t k = 0; k < polynomial.size(); ++k) {
        next[k + 1] += polynomial[k];
        next[k] -= root * polynomial[k];
      }
      polynomial = next;
    }
    const Number near = Number::fraction(static_cast<long>(engine() % 81) - 40, 2);
    Number best = absolute(roots[0] - near);
    for (const Number& root : roots) best = std::min(best, absolute(root - near), [](auto& a, auto& b) { return a < b; });
    bool tie = false;
    for (const Number& root : roots)
      for (const Number& other : roots)
        tie = tie || (root != other && absolute(root - near) == best && absolute(other - near) == best);
    if (tie) {
      CHECK_THROWS_AS(tower.polynomial_root(polynomial, near), InvalidInput);
    } else {
      CHECK(absolute(tower.polynomial_root(polynomial, near) - near) == best);
    }
    CHECK(tower.top().degree() == 1);
  }
}

TEST_CASE("roots of polynomials: irrational ones, ties, and none") {
  FieldTower tower;
  // Tribonacci constant 1.839286755214161132551852564653 (OEIS A058265, from memory)
  const Number tribonacci = tower.polynomial_root(coefficients({-1, -1, -1, 1}), Number::fraction(183, 100));
  CHECK(to_decimal(tribonacci, 30) == "1.83928675521416113255185256465");
  CHECK(texts(tower) == std::vector<std::string>{"root(x^3 - x^2 - x - 1, 183/100)"});
  CHECK(tribonacci * tribonacci * tribonacci == tribonacci * tribonacci + tribonacci + Number(1));
  // quadratic irrationals become square roots
  const Number golden = tower.polynomial_root(coefficients({-1, -1, 1}), Number(2));
  CHECK(golden * Number(2) - Number(1) == tower.square_root(Number(5)));
  CHECK(tower.polynomial_root(coefficients({-1, -1, 1}), Number(-2)) == Number(1) - golden);

  FieldTower other;
  CHECK(other.polynomial_root(coefficients({4, 0, -4, 0, 1}), Number(1)) == other.square_root(Number(2)));
  const std::string tie = "two real roots are equally near to 0";
  CHECK(invalid_message([&] { other.polynomial_root(coefficients({-1, 0, 1}), Number(0)); }) == tie);
  CHECK(invalid_message([&] { other.polynomial_root(coefficients({-2, 0, 1}), Number(0)); }) == tie);
  CHECK(invalid_message([&] { other.polynomial_root(coefficients({1, 0, -10, 0, 1}), Number(0)); }) == tie);
  CHECK(other.polynomial_root(coefficients({0, -1, 0, 1}), Number(0)) == Number(0));
  CHECK(invalid_message([&] {
          other.polynomial_root(coefficients({1, 0, 1}), Number(0));
        }) == "this polynomial has no real root");
  CHECK_THROWS_AS(other.polynomial_root(coefficients({5}), Number(0)), InvalidInput);
  CHECK_THROWS_AS(other.polynomial_root(coefficients({0}), Number(0)), InvalidInput);
  CHECK_THROWS_AS(other.polynomial_root({}, Number(0)), InvalidInput);
  // not a tie by 1e-30, with factors that have nothing to do with one another
  const std::vector<Number> shifted = {-(Number(1) + power_of_ten(-30)), power_of_ten(-30),
                                       Number(1)};  // roots 1, -1 - 1e-30
  CHECK(other.polynomial_root(shifted, Number(0)) == Number(1));
  // sqrt(2) against -1.41421356237309504880168872420969807856967...
  const Number close = RandomNumbers::parsed("1.4142135623730950488016887242096980785697");
  const std::vector<Number> product = {-Number(2) * close, -Number(2), close, Number(1)};  // (x^2 - 2) * (x + close)
  CHECK(invalid_message([&] { other.polynomial_root(product, Number(0)); }) == tie);
  CHECK(other.polynomial_root(product, power_of_ten(-42)) == other.square_root(Number(2)));
  CHECK(other.polynomial_root(product, -power_of_ten(-42)) == -other.square_root(Number(2)));
}

TEST_CASE("cosines and sines of rational multiples of pi") {
  for (long q : {1L, 2L, 3L, 4L, 5L, 6L, 7L, 8L, 9L, 10L, 12L, 15L, 16L, 18L, 24L, 30L}) {
    FieldTower tower;
    for (const long p : {0L, 1L, 2L, -1L, q - 1, q + 1, 3 * q + 1, 2 * q}) {
      INFO(p << "/" << q << " pi");
      const Angle angle = pi_angle(pi_fraction(p, q));
      Rational turn;
      pi_fraction(p, q).get_rational(turn);
      const Number cosine = tower.cosine(angle), sine = tower.sine(angle);
      CHECK(square(cosine) + square(sine) == Number(1));
      CHECK(arb_overlaps(oracle(cosine), [&] {
        Ball b;
        arb_cos_pi_fmpq(b, turn, 1000);
        return b;
      }()));
      CHECK(arb_overlaps(oracle(sine), [&] {
        Ball b;
        arb_sin_pi_fmpq(b, turn, 1000);
        return b;
      }()));
      if (!cosine.is_zero())
        CHECK(tower.tangent(angle) * tower.lifted(cosine) == tower.lifted(sine));
      else
        CHECK_THROWS_AS(tower.tangent(angle), InvalidInput);
    }
  }
  FieldTower tower;
  CHECK(tower.cosine(degrees_angle(Number(72))) == (tower.square_root(Number(5)) - Number(1)) * Number::fraction(1, 4));
  CHECK(tower.sine(degrees_angle(Number(18))) == tower.cosine(degrees_angle(Number(72))));
  CHECK(tower.top().degree() == 2);
  CHECK(tower.sine(degrees_angle(Number(30))) == Number::fraction(1, 2));
  CHECK(tower.top().degree() == 2);
}

TEST_CASE("cosines of sums and multiples of rays") {
  std::mt19937_64 engine(204);
  const auto pick = [&](long bound) { return static_cast<long>(engine() % static_cast<unsigned long>(bound)) + 1; };
  int compared = 0, stopped = 0;
  for (int i = 0; i < 60; ++i) {
    INFO("seed 204, case " << i);
    FieldTower tower;
    Angle angle = degrees_angle(Number(15 * pick(24)));
    const int rays = 1 + i % 2;
    for (int j = 0; j < rays; ++j) {
      const long sign = pick(2) == 1 ? 1 : -1;
      const Number cosine = Number::fraction(sign * pick(3), 3 + pick(4));
      angle = angle + Number::fraction(pick(3) * (pick(2) == 1 ? 1 : -1), pick(3)) * arc_cosine(cosine);
    }
    try {
      const Number cosine = tower.cosine(angle), sine = tower.sine(angle);
      CHECK(square(cosine) + square(sine) == Number(1));
      Ball expected, radians;
      enclose(angle, radians, 1000);
      arb_cos(expected, radians, 1000);
      CHECK(arb_overlaps(expected, oracle(cosine)));
      arb_sin(expected, radians, 1000);
      CHECK(arb_overlaps(expected, oracle(sine)));
      ++compared;
    } catch (const LimitReached&) {
      ++stopped;
    }
  }
  CHECK(compared >= 30);
}

TEST_CASE("like terms are collected before anything is adjoined") {
  FieldTower tower;
  const Angle a = arc_cosine(Number::fraction(1, 3)), b = arc_cosine(Number::fraction(-1, 3));
  CHECK((a - a).is_rational_multiple_of_pi());
  CHECK((a - a).pi_multiple.is_zero());
  CHECK((a + b).is_rational_multiple_of_pi());
  CHECK((a + b).pi_multiple == Number(1));
  CHECK(tower.cosine(a + b) == Number(-1));
  CHECK(tower.cosine(Number(2) * arc_tangent(Number(3))) == Number::fraction(-4, 5));
  CHECK(tower.cosine(Number(2) * ray_angle(Number(1), Number(2))) == Number::fraction(-1, 3));
  CHECK(tower.top().degree() == 1);
  // a ray that did not come through ray_angle is read the same way
  Angle raw;
  raw.rays.emplace_back(Number(1), RayAngle{Number(-1), Number(8)});
  CHECK((raw + a).is_rational_multiple_of_pi());
  CHECK((a + raw).pi_multiple == Number(1));
  // I. Niven: the only rational multiples of pi with a rational squared cosine
  for (const auto& [x, y2, degrees] : std::vector<std::tuple<long, long, long>>{{1, 1, 45},
                                                                                {1, 3, 60},
                                                                                {3, 3, 30},
                                                                                {-1, 1, 135},
                                                                                {-1, 3, 120},
                                                                                {-3, 3, 150},
                                                                                {0, 5, 90},
                                                                                {2, 0, 0},
                                                                                {-2, 0, 180}}) {
    const Angle angle = ray_angle(Number(x), Number(y2));
    CHECK(angle.is_rational_multiple_of_pi());
    CHECK(angle.pi_multiple == Number::fraction(degrees, 180));
  }
  CHECK_THROWS_AS(ray_angle(Number(0), Number(0)), InvalidInput);
  CHECK_THROWS_AS(arc_cosine(Number::fraction(3, 2)), InvalidInput);
  CHECK_THROWS_AS(arc_sine(Number(-2)), InvalidInput);
  CHECK(arc_sine(Number::fraction(-1, 2)).pi_multiple == Number::fraction(-1, 6));
  CHECK(arc_tangent(Number(-1)).pi_multiple == Number::fraction(-1, 4));
}

TEST_CASE("a rotation needs one root only") {
  FieldTower tower;
  // 120 degrees about (1, 1, 1) is rational
  const Angle third = degrees_angle(Number(120));
  CHECK(tower.sine_over_length(third, Number(3)) == Number::fraction(1, 2));
  CHECK(tower.sine_over_length(-third, Number(3)) == Number::fraction(-1, 2));
  CHECK(tower.top().degree() == 1);
  // 72 degrees about (0, 1, g) needs only sqrt(5)
  const Number golden = (Number(1) + tower.square_root(Number(5))) * Number::fraction(1, 2);
  const Number length2 = Number(1) + square(golden);
  const Angle fifth = degrees_angle(Number(72));
  const Number scaled = tower.sine_over_length(fifth, length2);
  CHECK(square(scaled) * length2 + square(tower.cosine(fifth)) == Number(1));
  CHECK(scaled.sign() == 1);
  CHECK(tower.sine_over_length(degrees_angle(Number(288)), length2) == -scaled);
  CHECK(tower.top().degree() == 2);
  CHECK(tower.sine_over_length(degrees_angle(Number(180)), Number(7)).is_zero());
}

TEST_CASE("asking again gives the same number, and a second pass adjoins nothing") {
  FieldTower tower;
  const auto pass = [&] {
    std::vector<Number> values = {tower.root(Number(3), 4), tower.square_root(Number(2)), tower.square_root(Number(3)),
                                  tower.cosine(degrees_angle(Number(45))), tower.power(Number(12), Number::fraction(1, 4))};
    return values;
  };
  const std::vector<Number> first = pass();
  const Field* top = &tower.top();
  const std::vector<Number> second = pass();
  CHECK(top == &tower.top());
  for (std::size_t i = 0; i < first.size(); ++i) {
    CHECK(first[i] == second[i]);
    CHECK(&second[i].field() == top);
  }
}
