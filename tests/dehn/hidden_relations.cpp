// SPDX-License-Identifier: GPL-3.0-or-later
// Relations that somebody hid on purpose: among many angles made of few primes they have exponents of many digits, the
// quotients of determinants, that no search through small numbers finds and that no power can be written out for.
#include "dehn/torsion.hpp"
#include "number/tower.hpp"
#include "support.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cstdlib>

using namespace cutproof;
using namespace cutproof::test;

namespace {

/// The integers a, without common factor, with sum of a_i * rows_i = 0; empty unless they are unique up to sign and none is
/// 0.
std::vector<Number> relation_between(const std::vector<std::vector<long>>& rows) {
  const std::size_t count = rows.size(), columns = rows.front().size();
  std::vector<std::vector<Number>> equations(columns, std::vector<Number>(count));
  for (std::size_t i = 0; i < count; ++i)
    for (std::size_t j = 0; j < columns; ++j) equations[j][i] = Number(rows[i][j]);
  for (std::size_t step = 0; step < columns; ++step) {  // unknown `step` from the others
    const auto usable = std::find_if(equations.begin() + static_cast<long>(step), equations.end(),
                                     [&](const auto& equation) { return !equation[step].is_zero(); });
    if (usable == equations.end()) return {};
    std::swap(equations[step], *usable);
    const Number pivot = equations[step][step];
    for (Number& each : equations[step]) each = divide(each, pivot);
    for (std::size_t other = 0; other < columns; ++other) {
      const Number factor = equations[other][step];
      if (other == step || factor.is_zero()) continue;
      for (std::size_t i = 0; i < count; ++i) equations[other][i] -= factor * equations[step][i];
    }
  }
  std::vector<Number> solution;
  for (std::size_t i = 0; i + 1 < count; ++i) solution.push_back(-equations[i].back());
  solution.push_back(Number(1));
  for (const Number& each : solution)
    if (each.is_zero()) return {};
  return solution;
}

/// Numbers x + y*sqrt(-r) over the field whose angles are independent: the smallest by size that `decide` keeps as pivots.
std::vector<Direction> independent_directions(std::size_t count, const Number& r, std::mt19937& random) {
  const Field& k = r.field();
  std::vector<Direction> result;
  std::vector<AngleTerm> terms;
  while (result.size() < count) {
    const long size = 4 + static_cast<long>(terms.size());
    const Direction next{random_number(random, k, size), random_number(random, k, size)};
    if (next.x.is_zero() || next.y.is_zero()) continue;
    const Number tangent = divide(next.y, next.x);
    terms.push_back({r * square(tangent), Number(1L, k)});
    const Decision decision = decide(terms);
    if (decision.classes.size() == 1 && decision.classes.front().pivots.size() == terms.size())
      result.push_back(next);
    else
      terms.pop_back();
  }
  return result;
}

/// Tangents with tangent_i * sqrt(r) = tan(angle_i), and integers with sum of relation_i * angle_i a rational part of pi; no
/// other combination is one, up to multiples. All over the field of r.
struct HiddenRelation {
  std::vector<Number> tangents, relation;
};

HiddenRelation hidden_relation(std::size_t count, const Number& r, std::mt19937& random) {
  const std::vector<Direction> base = independent_directions(count - 1, r, random);
  std::vector<std::vector<long>> exponents(count, std::vector<long>(count - 1));
  HiddenRelation result;
  do {
    for (auto& row : exponents)
      for (long& each : row) each = static_cast<long>(random() % 7) - 3;
    result.relation = relation_between(exponents);
  } while (result.relation.empty());
  for (std::size_t i = 0; i < count; ++i) {
    const Direction direction = product(base, exponents[i], r);
    result.tangents.push_back(divide(direction.y, direction.x));
    result.relation[i] = result.relation[i].lifted_to(r.field());
  }
  return result;
}

}  // namespace

TEST_CASE("A relation hidden among products of few numbers is found, whatever the size of its exponents", "[dehn]") {
  const unsigned seed = 19011900;
  std::mt19937 random(seed);
  const std::size_t most = std::getenv("CUTPROOF_SLOW") != nullptr ? 18 : 14;
  const Field* fields[] = {&rationals(), &root_two(), &cube_root_two(), &fourth_degree()};
  for (std::size_t count = 3; count <= most; ++count) {
    const Field& k = *fields[count % 4];
    const Number r(static_cast<long>(count % 3 + 1), k);
    INFO("seed " << seed << ", " << count << " angles");
    const HiddenRelation hidden = hidden_relation(count, r, random);
    const Number length = random_number(random, k, 5) + Number(20L, k);
    std::vector<AngleTerm> terms;
    for (std::size_t i = 0; i < count; ++i) {
      const Number& tangent = hidden.tangents[i];
      REQUIRE_FALSE(tangent.is_zero());
      terms.push_back({r * square(tangent), divide(hidden.relation[i] * length, tangent)});
    }
    CHECK(decide(terms).zero);
    terms[random() % count].coefficient += divide(Number(1L, k), power_of_ten(30, k));
    CHECK_FALSE(decide(terms).zero);
  }
}

TEST_CASE("Relations hidden in nested fields and fields of degree 8, in classes of irrational numbers", "[dehn]") {
  FieldTower nested, three_roots, eighth_root;
  nested.square_root(Number(2) + nested.square_root(Number(2)));
  for (const long each : {2L, 3L, 5L}) three_roots.square_root(Number(each));
  eighth_root.root(Number(2), 8);  // two real places, three complex ones: units make relations
  std::mt19937 random(1928);
  const std::size_t most = std::getenv("CUTPROOF_SLOW") != nullptr ? 7 : 4;
  for (const FieldTower* tower : {&nested, &three_roots, &eighth_root}) {
    const Field& k = tower->top();
    for (std::size_t count = 3; count <= most; ++count) {
      const Number r = count % 2 == 0 ? Number(3L, k) + square(Number::generator(k)) : Number(7L, k);
      INFO("degree " << k.degree() << ", " << count << " angles");
      const HiddenRelation hidden = hidden_relation(count, r, random);
      std::vector<AngleTerm> terms;
      for (std::size_t i = 0; i < count; ++i)
        terms.push_back({r * square(hidden.tangents[i]), divide(hidden.relation[i], hidden.tangents[i])});
      const Decision decision = decide(terms);
      CHECK(decision.zero);
      CHECK(decision.classes.size() == 1);
      std::vector<AngleTerm> longer = terms;
      longer.front().coefficient = longer.front().coefficient + divide(Number(1L, k), power_of_ten(40, k));
      CHECK_FALSE(decide(longer).zero);
    }
  }
}

// The tetrahedron (0,0,0), (1,0,0), (1,1,0), (1,1,h) has an edge of length 1 with the angle arctan(h), and no other angle of
// the class of 1 but right ones and halves of these.
TEST_CASE("A certificate with a relation of many digits is checked", "[dehn]") {
  std::mt19937 random(1855);
  for (const Field* k : {&rationals(), &cube_root_two()}) {
    const Number zero(0L, *k), one(1L, *k);
    const HiddenRelation hidden = hidden_relation(10, one, random);
    std::vector<CountedEdge> edges;
    for (const Number& tangent : hidden.tangents) {
      const Number h = tangent.sign() < 0 ? -tangent : tangent;
      for (const CountedEdge& each :
           edges_of(hull({{zero, zero, zero}, {one, zero, zero}, {one, one, zero}, {one, one, h}})))
        edges.push_back(each);
    }
    const DehnInvariant invariant = invariant_of(edges, *k);
    CHECK(fault_in_certificate(invariant) == "");
    long largest = 0;
    for (const ClassDecision& part : invariant.decision.classes) {
      if (part.radicand != one) continue;
      for (const Relation& relation : part.relations)
        for (const long exponent : relation.exponents) largest = std::max(largest, std::labs(exponent));
    }
    CHECK(largest > 500);
    DehnInvariant bad = invariant;
    for (ClassDecision& part : bad.decision.classes)
      for (Relation& relation : part.relations)
        if (relation.exponents[relation.dependent] * relation.exponents[relation.dependent] > 1)
          ++relation.exponents[part.pivots.front()];
    CHECK_FALSE(fault_in_certificate(bad).empty());
  }
}

// Normals of length 1e-230, of which no double knows the direction.
TEST_CASE("Solids too small or too large for doubles have their certificates", "[dehn]") {
  const Field& k = root_two();
  const Number zero(0L, k), one(1L, k), two(2L, k), three(3L, k);
  for (const Number& unit : {root(2, k) - one}) {
    Number u = one;
    for (int i = 0; i < 300; ++i) u = u * unit;
    const DehnInvariant invariant =
        invariant_of(edges_of(hull({{zero, zero, zero}, {u, zero, zero}, {u, two * u, zero}, {u, u, three * u}})), k);
    CHECK(fault_in_certificate(invariant) == "");
    CHECK_FALSE(invariant.decision.zero);
  }
}
