// SPDX-License-Identifier: GPL-3.0-or-later
// Fields built by adjoining roots and cosines in random orders: their values are kept, the laws of a field hold, and the
// generators found are as short as a number theory system finds them.
#include "number/polynomial.hpp"
#include "test_fields.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <functional>
#include <numeric>

using namespace cutproof;
using namespace cutproof::test;

namespace {

/// One number to adjoin: a root of a rational number, or the cosine of a rational multiple of pi.
struct Adjoined {
  long value;
  unsigned long root;  ///< 0: the cosine of pi/value
};

Number adjoin(FieldTower& tower, const Adjoined& each) {
  return each.root == 0 ? tower.cosine(pi_angle(Number::fraction(1, each.value)))
                        : tower.root(Number(each.value), each.root);
}

Ball real_value(const Adjoined& each) {
  Ball ball;
  if (each.root == 0) {
    Rational multiple;
    fmpq_set_si(multiple, 1, static_cast<ulong>(each.value));
    arb_cos_pi_fmpq(ball, multiple, 2000);
  } else {
    arb_set_si(ball, each.value);
    arb_root_ui(ball, ball, each.root, 2000);
  }
  return ball;
}

struct KnownField {
  std::vector<Adjoined> adjoined;
  int degree;
  long largest;  ///< coefficient of the polynomial that `polredbest` finds
};

/// Computed with `polredbest` of GP/PARI 2.15.2 from `polcompositum` of the adjoined numbers' polynomials.
const std::vector<KnownField>& known_fields() {
  static const std::vector<KnownField> fields = {
      {{{2, 2}, {3, 2}}, 4, 4},
      {{{2, 2}, {3, 2}, {5, 2}}, 8, 23},
      {{{15, 0}, {7, 0}}, 12, 177},
      {{{2, 2}, {3, 2}, {5, 2}, {7, 2}}, 16, 35376},
      {{{30, 0}, {2, 3}}, 24, 23433},
      {{{5, 0}, {7, 0}, {2, 2}, {3, 2}}, 24, 133344},
      {{{9, 0}, {3, 4}, {7, 2}}, 24, 42504},
      {{{45, 0}, {2, 2}}, 24, 5398272},
      {{{90, 0}}, 24, 26169},
      {{{7, 0}, {9, 0}, {5, 0}, {3, 2}}, 36, 553781934},
      {{{89, 0}}, 44, 225792840},
  };
  return fields;
}

/// The largest absolute value of a coefficient.
double largest_coefficient(const Field& field) {
  Integer largest;
  fmpz_poly_height(largest, field.minimal_polynomial());
  return fmpz_get_d(largest);
}

void check_laws(const Field& field, unsigned seed) {
  RandomNumbers random(field, seed);
  const Number one(1L, field);
  for (int i = 0; i < 2; ++i) {
    const Number a = random.plain(9), b = random.plain(9), c = random.plain(9);
    CHECK((a + b) * c == a * c + b * c);
    CHECK((a * b) * c == a * (b * c));
    if (!a.is_zero()) CHECK(divide(one, a) * a == one);
    CHECK((a * b).sign() == oracle_sign(a) * oracle_sign(b));
  }
}

}  // namespace

TEST_CASE("fields built in every order of adjoining keep their values and have short generators") {
  std::mt19937 engine(2701);
  for (const KnownField& known : known_fields()) {
    std::vector<Adjoined> order = known.adjoined;
    const int orders = known.degree > 24 ? 2 : 4;
    for (int attempt = 0; attempt < orders; ++attempt) {
      std::shuffle(order.begin(), order.end(), engine);
      std::string text;
      for (const Adjoined& each : order) text += std::to_string(each.value) + "," + std::to_string(each.root) + " ";
      INFO("seed 2701, degree " << known.degree << ", order " << text);
      FieldTower tower({known.degree, 1u << 20});
      std::vector<Number> values;
      for (const Adjoined& each : order) values.push_back(adjoin(tower, each));
      const Field& field = tower.top();
      REQUIRE(field.degree() == known.degree);
      CHECK(largest_coefficient(field) <= 1e3 * static_cast<double>(known.largest));
      Number sum(0L, field);
      Ball expected;
      for (std::size_t i = 0; i < order.size(); ++i) {
        // what was adjoined first was lifted through all fields above
        const Number lifted = tower.lifted(values[i]);
        CHECK(arb_overlaps(oracle(lifted), real_value(order[i])));
        CHECK(lifted == adjoin(tower, order[i]));
        sum = sum + Number(static_cast<long>(i) + 1) * lifted;
        const Ball value = real_value(order[i]);
        arb_addmul_si(expected, value, static_cast<slong>(i) + 1, 2000);
        if (order[i].root > 0) {
          Number power(1L, field);
          for (unsigned long j = 0; j < order[i].root; ++j) power = power * lifted;
          CHECK(power == Number(order[i].value));
        }
      }
      CHECK(arb_overlaps(oracle(sum), expected));
      check_laws(field, 2702);
    }
  }
}

TEST_CASE("random numbers and their square roots adjoined on top keep what is below") {
  for (const unsigned seed : {2711u, 2712u, 2713u, 2714u, 2715u, 2716u}) {
    INFO("seed " << seed);
    std::mt19937 engine(seed);
    FieldTower tower({16, 1u << 20});
    tower.square_root(Number(2));
    if (seed % 2 == 0) tower.root(Number(3), 3);
    std::vector<Number> radicands, roots;
    while (tower.top().degree() * 2 <= 12) {
      RandomNumbers random(tower.top(), engine());
      const Number radicand = absolute(random.plain(6));
      radicands.push_back(radicand);
      roots.push_back(tower.square_root(radicand));
    }
    for (std::size_t i = 0; i < roots.size(); ++i) {
      const Number root = tower.lifted(roots[i]);
      CHECK(square(root) == tower.lifted(radicands[i]));
      CHECK(root.sign() >= 0);
      CHECK(oracle_sign(root) == root.sign());
    }
    check_laws(tower.top(), seed);
  }
}

TEST_CASE("square roots of long integers are adjoined to a field of short ones") {
  // Their conjugates are longer than doubles tell apart: a sum that is 0 once passed for a generator, and its sign was
  // sought for ever.
  for (const char* text :
       {"579991694444444444444444501687277777777777777777779190", "5226964437500000000000000515528875000000000000000012710",
        "581324648513888888888888900918677250000000000000000062155", "1681000000000000000000000082"}) {
    INFO(text);
    Rational value;
    REQUIRE(fmpz_set_str(value.numerator(), text, 10) == 0);
    for (const bool short_first : {true, false}) {
      FieldTower tower;
      const Number radicand(value, Field::rational());
      Number small, large;
      if (short_first) small = tower.square_root(Number(155));
      large = tower.square_root(radicand);
      if (!short_first) small = tower.square_root(Number(155));
      CHECK(tower.top().degree() == 4);
      CHECK(square(tower.lifted(large)) == radicand);
      CHECK(square(tower.lifted(small)) == Number(155));
      check_laws(tower.top(), 2731);
    }
  }
}

TEST_CASE("residues prove polynomials irreducible, and never one that is a product") {
  FieldTower tower;
  const Number root2 = tower.square_root(Number(2));
  const Field& field = tower.top();
  const Number zero(0L, field), one(1L, field);
  CHECK(proved_irreducible({Number(-3L, field), zero, one}));
  CHECK_FALSE(proved_irreducible({Number(-2L, field), zero, one}));
  CHECK_FALSE(proved_irreducible({-(Number(3) + Number(2) * root2), zero, one}));  // (1 + sqrt 2)^2
  CHECK(proved_irreducible({-(Number(3) + root2), zero, one}));
  RandomNumbers random(field, 2721);
  for (int i = 0; i < 50; ++i) {
    const Number a = random.plain(), b = random.plain(), c = random.plain();
    // (x - a) * (x^2 + b*x + c)
    CHECK_FALSE(proved_irreducible({-a * c, c - a * b, b - a, one}));
  }
}
