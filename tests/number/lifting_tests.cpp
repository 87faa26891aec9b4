// SPDX-License-Identifier: GPL-3.0-or-later
// Inverses and square roots by lifting: laws over fields of degree 8 to 48, numbers of fields below among them, and Antic's
// inverse as a second opinion.
#include "number/lifting.hpp"
#include "test_fields.hpp"

#include <catch2/catch.hpp>

using namespace cutproof;
using namespace cutproof::test;

namespace {

struct HighTower {
  std::string name;
  FieldTower tower;
  std::vector<Number> adjoined;
};

/// Fields of degree 8 to 48, with few and with many factors modulo every prime.
std::vector<std::unique_ptr<HighTower>> high_towers() {
  std::vector<std::unique_ptr<HighTower>> towers;
  const auto add = [&](const std::string& name, std::initializer_list<long> roots, std::initializer_list<long> cosines) {
    towers.push_back(std::make_unique<HighTower>());
    HighTower& each = *towers.back();
    each.name = name;
    for (const long root : roots) each.adjoined.push_back(each.tower.square_root(Number(root)));
    for (const long part : cosines) each.adjoined.push_back(each.tower.cosine(pi_angle(Number::fraction(1, part))));
  };
  add("three square roots", {2, 3, 5}, {});
  add("four square roots", {2, 3, 5, 7}, {});
  add("five square roots", {2, 3, 5, 7, 11}, {});
  add("cos(pi/7), sqrt 2, sqrt 3, sqrt 5", {2, 3, 5}, {7});
  add("cos(pi/37)", {}, {37});
  add("cos(pi/90)", {}, {90});
  add("cos(pi/180)", {}, {180});
  return towers;
}

}  // namespace

TEST_CASE("lifted inverses are inverses, and those of Antic", "[lifting]") {
  for (const auto& each : high_towers()) {
    const Field& field = each->tower.top();
    INFO(each->name << ", degree " << field.degree() << ", seed 3101");
    RandomNumbers random(field, 3101);
    std::vector<Number> numbers = {Number(7L, field), Number::fraction(3, 5).lifted_to(field), Number::generator(field)};
    for (const Number& adjoined : each->adjoined) {  // they lie in fields below
      numbers.push_back(adjoined.lifted_to(field));
      numbers.push_back(Number(5) * adjoined.lifted_to(field) - Number::fraction(22, 7));
    }
    for (int i = 0; i < 3; ++i) numbers.push_back(random.plain());
    numbers.push_back(random.plain(1000000000) * power_of_ten(-9));
    // differences of nearly equal numbers, and one that a prime divides that lifting might begin with
    numbers.push_back(numbers[2] * Number(1000000007L) - random.plain(3));
    numbers.push_back(Number(static_cast<long>(n_nextprime(1ul << 61, 1)), field) * numbers.back());
    for (const Number& number : numbers) {
      if (number.is_zero()) continue;
      RationalPolynomial polynomial;
      number.get_polynomial(polynomial);
      IntegerPolynomial b, inverse;
      Integer denominator;
      fmpq_poly_get_numerator(b, polynomial);
      inverse_by_lifting(inverse, denominator, b, field.minimal_polynomial());
      RationalPolynomial quotient;
      fmpq_poly_set_fmpz_poly(quotient, inverse);
      fmpq_poly_scalar_div_fmpz(quotient, quotient, denominator);
      fmpq_poly_scalar_mul_fmpz(quotient, quotient, fmpq_poly_denref(polynomial.value));
      const Number ours = Number::from_polynomial(quotient, field);
      CHECK(ours * number == Number(1L, field));
      CHECK(ours == divide(Number(1L, field), number));
      nf_elem_t theirs;
      nf_elem_init(theirs, field.nf());
      nf_elem_inv(theirs, number.element(), field.nf());
      CHECK(nf_elem_equal(theirs, ours.element(), field.nf()) != 0);
      nf_elem_clear(theirs, field.nf());
    }
  }
}

TEST_CASE("square roots are found by lifting exactly where there are some", "[lifting]") {
  for (const auto& each : high_towers()) {
    const Field& field = each->tower.top();
    INFO(each->name << ", degree " << field.degree() << ", seed 3111");
    RandomNumbers random(field, 3111);
    SquareRootFinder finder(field);
    std::optional<Number> root;
    for (int i = 0; i < 6; ++i) {
      const Number a = i % 2 == 0 ? random.plain() : random.plain(1000000) * power_of_ten(-3);
      if (a.is_zero()) continue;
      REQUIRE(finder.find(a * a, root) == SquareRootFinder::Answer::found);
      CHECK(absolute(*root) == absolute(a));
      // 13 ramifies in none of these fields, so it is a square in none
      CHECK(finder.find(Number(13) * a * a, root) == SquareRootFinder::Answer::none);
      CHECK(finder.find(a * a + Number(1L, field), root) == SquareRootFinder::Answer::none);
      CHECK(finder.find(-(a * a), root) == SquareRootFinder::Answer::none);
    }
    for (const Number& adjoined : each->adjoined) {
      const Number number = adjoined.lifted_to(field);
      if (!square(number).is_rational()) continue;
      REQUIRE(finder.find(square(number), root) == SquareRootFinder::Answer::found);
      CHECK(absolute(*root) == number);
    }
    // a number that is a square at many primes and at all real places, but none
    const Number plus_one = Number(1) + square(random.plain());
    CHECK(finder.find(plus_one, root) == SquareRootFinder::Answer::none);
  }
}

TEST_CASE("quadratic polynomials split exactly where their discriminant is a square") {
  FieldTower tower;
  const Number root2 = tower.square_root(Number(2)), cosine = tower.cosine(pi_angle(Number::fraction(1, 7)));
  const Field& field = tower.top();
  RandomNumbers random(field, 3121);
  for (int i = 0; i < 20; ++i) {
    const Number a = random.plain(), b = random.plain();
    if (a == b) continue;
    // (x - a)(x - b): the root that is asked for comes back, and nothing is adjoined
    const auto found = adjoin_root(
        field, {a * b, -(a + b), Number(1L, field)}, [&](arb_t ball, slong precision) { b.enclose(ball, precision); }, {},
        field.degree());
    REQUIRE(found);
    CHECK(found->field == nullptr);
    CHECK(found->root == b);
  }
}
