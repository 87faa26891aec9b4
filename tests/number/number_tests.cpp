// SPDX-License-Identifier: GPL-3.0-or-later
// The laws of number.hpp by their numbers, over all test fields, against balls computed apart.
#include "test_fields.hpp"

#include <catch2/catch.hpp>

#include <cfenv>

using namespace cutproof;
using namespace cutproof::test;

namespace {

constexpr int cases = 250;

template <class Check>
void over_all_fields(unsigned seed, Check check) {
  for (const NamedTower& each : all_towers()) {
    INFO("field " << each.name << ", seed " << seed);
    RandomNumbers random(each.field(), seed);
    for (int i = 0; i < cases; ++i) {
      INFO("case " << i);
      check(random);
    }
  }
}

bool inside(const Ball& value, const Interval& interval) {
  Ball end;
  // An end of the least positive double stands for "greater than 0".
  const double least = std::numeric_limits<double>::denorm_min();
  if (interval.lower == least) return arb_is_positive(value) != 0;
  if (interval.upper == -least) return arb_is_negative(value) != 0;
  if (std::isfinite(interval.lower)) {
    arb_set_d(end, interval.lower);
    arb_sub(end, value, end, 4000);
    if (arb_is_negative(end)) return false;
  }
  if (std::isfinite(interval.upper)) {
    arb_set_d(end, interval.upper);
    arb_sub(end, value, end, 4000);
    if (arb_is_positive(end)) return false;
  }
  return true;
}

}  // namespace

TEST_CASE("law 1: field axioms") {
  over_all_fields(101, [](RandomNumbers& random) {
    const Number a = random.any(), b = random.any(), c = random.any(), d = random.nonzero();
    CHECK((a + b) + c == a + (b + c));
    CHECK((a * b) * c == a * (b * c));
    CHECK(a + b == b + a);
    CHECK(a * b == b * a);
    CHECK(a * (b + c) == a * b + a * c);
    CHECK((a - a).is_zero());
    CHECK((a + -a).is_zero());
    CHECK(a - b == -(b - a));
    CHECK(divide(a, d) * d == a);
    CHECK(d * divide(Number(1), d) == Number(1));
    CHECK(a * Number(0) == Number(0));
    CHECK(a * Number(1) == a);
  });
}

TEST_CASE("arithmetic is that of real numbers") {
  over_all_fields(102, [](RandomNumbers& random) {
    const Number a = random.any(), b = random.nonzero();
    const Ball x = oracle(a), y = oracle(b);
    Ball expected;
    arb_add(expected, x, y, 4000);
    CHECK(arb_overlaps(expected, oracle(a + b)));
    arb_sub(expected, x, y, 4000);
    CHECK(arb_overlaps(expected, oracle(a - b)));
    arb_mul(expected, x, y, 4000);
    CHECK(arb_overlaps(expected, oracle(a * b)));
    arb_div(expected, x, y, 4000);
    CHECK(arb_overlaps(expected, oracle(divide(a, b))));
    Ball enclosure;
    a.enclose(enclosure, 200);
    CHECK(arb_overlaps(enclosure, x));
    if (!a.is_zero()) CHECK(arb_rel_accuracy_bits(enclosure) > -1000);
  });
}

TEST_CASE("sums of products are what the single operations make, and Antic makes the same of them") {
  over_all_fields(108, [](RandomNumbers& random) {
    const Number a = random.any(), b = random.any(), c = random.any(), d = random.nonzero(), e = random.tiny(),
                 f = random.any();
    const Number sum = sum_of_products({{&a, &b}, {&c, &d, true}, {&e, &f}});
    CHECK(sum == a * b - c * d + e * f);
    CHECK(sum_of_products({{&a, &b}, {&a, &b, true}}).is_zero());
    CHECK(sum_of_products({{&a, &b}, {&c, &d}, {&b, &a, true}, {&d, &c, true}}) == Number(0));
    CHECK(sum_of_products({{&a, &d, true}}) == -(a * d));
    CHECK(inside(oracle(sum), sum.interval()));
    if (&a.field() != &b.field() || &a.field() != &d.field()) return;
    const nf_struct* nf = a.field().nf();
    nf_elem_t expected;
    nf_elem_init(expected, nf);
    nf_elem_mul(expected, a.element(), b.element(), nf);
    CHECK(nf_elem_equal(expected, (a * b).element(), nf));
    nf_elem_div(expected, a.element(), d.element(), nf);
    CHECK(nf_elem_equal(expected, divide(a, d).element(), nf));
    CHECK(inside(oracle(divide(a, d)), divide(a, d).interval()));
    nf_elem_clear(expected, nf);
  });
}

TEST_CASE("sums of products of numbers from several fields of a tower") {
  FieldTower tower;
  const Number two(2), root2 = tower.square_root(two), root3 = tower.square_root(Number(3)), none(0);
  CHECK(sum_of_products({}) == Number(0));
  CHECK(sum_of_products({{&two, &two}, {&root2, &root2, true}}) == two);
  CHECK(sum_of_products({{&root3, &root3}, {&root2, &root3}, {&none, &root3}}) == Number(3) + root2 * root3);
  const Number largest(std::numeric_limits<long>::max());
  CHECK(sum_of_products({{&largest, &largest}, {&largest, &two}}) == largest * largest + two * largest);
  CHECK(sum_of_products({{&largest, &two}, {&largest, &two, true}}) == Number(0));
}

TEST_CASE("laws 2 and 3: signs and order, with near-equal and tiny numbers") {
  over_all_fields(103, [](RandomNumbers& random) {
    const Number a = random.any(), b = random.any();
    CHECK(a.sign() == oracle_sign(a));
    CHECK((a * b).sign() == a.sign() * b.sign());
    CHECK((a < b) + (a == b) + (a > b) == 1);
    CHECK(compare(a, b) == oracle_sign(a - b));
    CHECK(compare(a, b) == -compare(b, a));
    const Number near = a + random.tiny() * power_of_ten(-40);
    CHECK(compare(a, near) == oracle_sign(a - near));
    CHECK((a == near) == (a - near).is_zero());
    CHECK(a.is_zero() == (a.sign() == 0));
    CHECK(absolute(a).sign() == (a.is_zero() ? 0 : 1));
  });
}

TEST_CASE("law 4: enclosures hold their numbers in every rounding mode") {
  for (const int mode : {FE_TONEAREST, FE_UPWARD, FE_DOWNWARD, FE_TOWARDZERO}) {
    over_all_fields(104 + static_cast<unsigned>(mode), [mode](RandomNumbers& random) {
      std::fesetround(mode);
      const Number a = random.any(), b = random.any(), c = random.any();
      Number result = a * b - c;
      result = result * result + a - b;
      Number tightened = result;
      tightened.tighten();
      const int sign = result.sign();
      const Number negated = -result, changed = result * a;
      std::fesetround(FE_TONEAREST);
      const Ball value = oracle(result);
      CHECK(inside(value, result.interval()));
      CHECK(inside(value, tightened.interval()));
      CHECK(inside(oracle(negated), negated.interval()));
      CHECK(inside(oracle(changed), changed.interval()));
      CHECK(sign == oracle_sign(result));
    });
  }
}

TEST_CASE("law 5: lifting commutes with arithmetic and keeps order") {
  FieldTower tower;
  std::vector<const Field*> fields = {&tower.top()};
  for (const long radicand : {2L, 3L}) {
    tower.square_root(Number(radicand));
    fields.push_back(&tower.top());
  }
  tower.square_root(tower.square_root(Number(2)) + tower.square_root(Number(3)));
  fields.push_back(&tower.top());
  tower.square_root(Number(7) - tower.square_root(Number(6)));
  fields.push_back(&tower.top());
  REQUIRE(tower.top().degree() == 16);
  for (const Field* low : fields)
    for (const Field* high : fields) {
      if (!high->stands_on(*low)) continue;
      RandomNumbers random(*low, 105), other(*high, 106);
      for (int i = 0; i < 30; ++i) {
        const Number a = random.any(), b = random.any(), c = other.plain();
        CHECK((a + b).lifted_to(*high) == a.lifted_to(*high) + b.lifted_to(*high));
        CHECK((a * b).lifted_to(*high) == a.lifted_to(*high) * b.lifted_to(*high));
        if (!b.is_zero()) CHECK(divide(a, b).lifted_to(*high) == divide(a.lifted_to(*high), b.lifted_to(*high)));
        CHECK(compare(a, b) == compare(a.lifted_to(*high), b.lifted_to(*high)));
        CHECK(arb_overlaps(oracle(a), oracle(a.lifted_to(*high))));
        CHECK(a == a.lifted_to(*high));
        CHECK(a + c == a.lifted_to(*high) + c);
        CHECK(c * a == c * a.lifted_to(*high));
        CHECK(compare(a, c) == -compare(c, a));
      }
    }
}

TEST_CASE("numbers of unrelated fields do not mix") {
  FieldTower one, other;
  const Number a = one.square_root(Number(2)), b = other.square_root(Number(3));
  CHECK_THROWS_AS(a + b, ToolFault);
  CHECK_THROWS_AS(a * (b - Number(1)), ToolFault);
  CHECK_THROWS_AS(divide(a, b), ToolFault);
  CHECK_THROWS_AS(a.lifted_to(Field::rational()), ToolFault);
  Rational value;
  CHECK_THROWS_AS(a.get_rational(value), ToolFault);
}

TEST_CASE("division by zero is refused in every field") {
  for (const NamedTower& each : all_towers()) {
    INFO(each.name);
    const Number generator = Number::generator(each.field());
    CHECK_THROWS_AS(divide(Number(1L, each.field()), Number(0L, each.field())), InvalidInput);
    CHECK_THROWS_AS(divide(Number(1), generator - generator), InvalidInput);
  }
  CHECK_THROWS_AS(Number::fraction(1, 0), InvalidInput);
}

TEST_CASE("copies, moves and hashes") {
  over_all_fields(107, [](RandomNumbers& random) {
    Number a = random.any();
    const Number kept = a;
    Number moved = std::move(a);
    CHECK(moved == kept);
    a = moved;
    CHECK(a == kept);
    CHECK(a.hash() == kept.hash());
    CHECK((a + Number(1) - Number(1)).hash() == kept.hash());
    CHECK((-a).hash() == kept.hash());
    CHECK(are_opposite(-a, kept));
    CHECK(are_opposite(a, kept) == a.is_zero());
    const Number near = random.tiny() - a;
    CHECK(are_opposite(a, near) == (a == -near));
    const Number b = random.any();
    a = b;
    CHECK(a == b);
    std::swap(a, moved);
    CHECK(a == kept);
    CHECK(moved == b);
    CHECK(kept.bits() <= (kept * power_of_ten(5)).bits() + 60);
  });
}

TEST_CASE("polynomials in the generator are reduced") {
  for (const NamedTower& each : all_towers()) {
    INFO(each.name);
    RationalPolynomial high;
    fmpq_poly_set_coeff_si(high, 3 * each.field().degree(), 1);
    Number power(1L, each.field());
    for (int i = 0; i < 3 * each.field().degree(); ++i) power *= Number::generator(each.field());
    CHECK(Number::from_polynomial(high, each.field()) == power);
  }
}

TEST_CASE("constants and rational numbers") {
  CHECK(Number(3) + Number::fraction(-1, 2) == Number::fraction(5, 2));
  CHECK(Number::fraction(1, -2) == Number::fraction(-1, 2));
  CHECK(Number::fraction(4, 6) == Number::fraction(2, 3));
  CHECK(Number::fraction(std::numeric_limits<long>::min() + 1, 3).sign() == -1);
  CHECK(Number(std::numeric_limits<long>::max()) + Number(1) > Number(std::numeric_limits<long>::max()));
  CHECK(Number(std::numeric_limits<long>::min()).sign() == -1);
  CHECK(Number(1L << 53) < Number((1L << 53) + 1));
  CHECK(Number(7).is_integer());
  CHECK_FALSE(Number::fraction(7, 2).is_integer());
  // Small integers and large ones are computed in different ways.
  for (const long a : {1L, -3L, (1L << 31), (1L << 61) - 1, -(1L << 61), 3037000500L, std::numeric_limits<long>::max()})
    for (const long b : {1L, -3L, (1L << 31), (1L << 61) - 1, -(1L << 61), 3037000500L, std::numeric_limits<long>::max()}) {
      Integer x(a), y(b), z;
      Rational expected;
      fmpz_mul(expected.numerator(), x, y);
      CHECK(Number(a) * Number(b) == Number(expected, Field::rational()));
      fmpz_add(expected.numerator(), x, y);
      CHECK(Number(a) + Number(b) == Number(expected, Field::rational()));
      fmpz_sub(expected.numerator(), x, y);
      CHECK(Number(a) - Number(b) == Number(expected, Field::rational()));
    }
}

TEST_CASE("a balanced sum is the sum") {
  FieldTower tower;
  tower.square_root(Number(2));
  for (const int count : {0, 1, 2, 3, 7, 8, 100}) {
    RandomNumbers random(tower.top(), 108);
    std::vector<Number> terms;
    Number plain(0);
    for (int i = 0; i < count; ++i) {
      terms.push_back(random.any());
      plain += terms.back();
    }
    CHECK(balanced_sum(terms) == plain);
  }
}

TEST_CASE("fields refuse what they are not") {
  IntegerPolynomial polynomial;
  RationalPolynomial zero, generator;
  fmpq_poly_set_coeff_si(generator, 1, 1);
  const auto make = [&](std::initializer_list<long> coefficients, int root, const Field& parent, const fmpq_poly_t image) {
    fmpz_poly_zero(polynomial);
    slong i = 0;
    for (const long coefficient : coefficients) fmpz_poly_set_coeff_si(polynomial, i++, coefficient);
    const int degree = static_cast<int>(coefficients.size()) - 1;
    return std::make_unique<Field>(parent, polynomial, root, image, Generator{"g", degree / parent.degree()}, generator);
  };
  const Field& rational = Field::rational();
  const auto field = make({-2, 0, 1}, 1, rational, zero);
  CHECK(Number::generator(*field).sign() == 1);
  CHECK(Number::generator(*make({-2, 0, 1}, 0, rational, zero)).sign() == -1);
  // reducible, a power, not monic, constant
  CHECK_THROWS_AS(make({2, -3, 1}, 0, rational, zero), ToolFault);
  CHECK_THROWS_AS(make({1, -2, 1}, 0, rational, zero), ToolFault);
  CHECK_THROWS_AS(make({-1, 0, 2}, 0, rational, zero), ToolFault);
  CHECK_THROWS_AS(make({3}, 0, rational, zero), ToolFault);
  // 2^(1/4) over Q(sqrt 2): sqrt 2 is its square, not minus its square, and not itself
  RationalPolynomial square_image, conjugate_image;
  fmpq_poly_set_coeff_si(square_image, 2, 1);
  fmpq_poly_set_coeff_si(conjugate_image, 2, -1);
  CHECK_NOTHROW(make({-2, 0, 0, 0, 1}, 1, *field, square_image));
  CHECK_THROWS_AS(make({-2, 0, 0, 0, 1}, 1, *field, conjugate_image), ToolFault);
  CHECK_THROWS_AS(make({-2, 0, 0, 0, 1}, 1, *field, generator), ToolFault);
  // no such root
  CHECK_THROWS_AS(make({-2, 0, 1}, 2, rational, zero), ToolFault);
  CHECK_THROWS_AS(make({-2, 0, 1}, -1, rational, zero), ToolFault);
  CHECK_THROWS_AS(make({1, 0, 1}, 0, rational, zero), ToolFault);
}
