// SPDX-License-Identifier: GPL-3.0-or-later
// Solids whose invariant is known from elsewhere.
#include "support.hpp"

#include "dehn/torsion.hpp"
#include "number/print.hpp"
#include "number/tower.hpp"
#include "zoo/published.hpp"

#include <catch2/catch.hpp>

using namespace cutproof;
using namespace cutproof::test;
using zoo::symmetric_points;

namespace {

void check_table_row(const zoo::PublishedSolid& solid) {
  INFO(solid.name);
  const Field& k = solid.points.front().x.field();
  const std::vector<CountedEdge> edges = edges_of(hull(solid.points));
  REQUIRE(edges.size() == solid.edges);
  const Number squared_length = dot(edges.front().term.edge, edges.front().term.edge);
  for (const CountedEdge& each : edges) REQUIRE(dot(each.term.edge, each.term.edge) == squared_length);
  std::vector<AngleTerm> terms;
  const auto subtract = [&](const Number& t, long times, long halves) {
    // times/halves * length (x) arctan(sqrt(t)) = coefficient * sqrt(t) (x) .., so coefficient^2 * t = (times/halves)^2 *
    // length^2
    if (times == 0) return;
    const auto root = square_root_within_field(divide(squared_length, t));
    REQUIRE(root);
    terms.push_back({t, divide(Number(-times, k) * *root, Number(halves, k))});
  };
  const auto table = std::make_shared<AngleTable>(k);
  const DehnSum sum = sum_of(table, edges);
  for (const auto& [angle, coefficient] : sum.terms()) terms.push_back({table->tangent_squared(angle), coefficient});
  const auto [three_two, five_one, three_five] = *solid.dehn;
  CHECK(decide(terms).zero == (three_two == 0 && five_one == 0 && three_five == 0));
  subtract(Number(2L, k), three_two, 1);
  subtract(Number(4L, k), five_one, 1);
  subtract(Number::fraction(5, 4).lifted_to(k), three_five, 2);
  CHECK(decide(terms).zero);
  const DehnInvariant invariant = invariant_of(edges, k);
  CHECK(fault_in_certificate(invariant) == "");
  if (const auto theirs = second_opinion(edges, k)) CHECK(*theirs == invariant.decision.zero);
}

}  // namespace

TEST_CASE("Invariants of regular and Archimedean solids with unit edge", "[dehn]") {
  int rows = 0;
  for (const zoo::PublishedSolid& solid : zoo::published_solids()) {
    if (!solid.dehn) continue;
    check_table_row(solid);
    ++rows;
  }
  CHECK(rows >= 17);
}

TEST_CASE("Octahedron is minus two tetrahedra of equal edge", "[dehn]") {
  const auto table = std::make_shared<AngleTable>(rationals());
  const DehnSum octahedron = sum_of(table, edges_of(hull(symmetric_points({{2, 0, 0}}, true))));
  const auto tetrahedron = edges_of(hull({{1, 1, 1}, {1, -1, -1}, {-1, 1, -1}, {-1, -1, 1}}));
  DehnSum total = octahedron;
  for (const CountedEdge& each : tetrahedron) total.add(each.term, 2);
  CHECK(is_zero(total));
  CHECK_FALSE(is_zero(octahedron));
  CHECK(is_zero(octahedron - octahedron));
}

// M. J. M. Hill, Proc. London Math. Soc. 27 (1895) 39-52: three vectors of equal length with equal angles between them.
TEST_CASE("Hill's tetrahedra have invariant zero", "[dehn]") {
  std::mt19937 random(18950039);
  int nonzero_neighbours = 0;
  for (int round = 0; round < 60; ++round) {
    const Field* fields[] = {&rationals(), &root_two(), &cube_root_two(), &fourth_degree()};
    const Field& k = *fields[round % 4];
    // (p, q, q) and its cyclic permutations
    const Number p = random_number(random, k, 5), q = random_number(random, k, 5);
    const Vector3 a{p, q, q}, b{q, p, q}, c{q, q, p};
    if (dot(cross(a, b), c).is_zero()) continue;
    const Vector3 zero{Number(0L, k), Number(0L, k), Number(0L, k)};
    INFO("round " << round);
    const auto invariant = invariant_of(edges_of(hull({zero, a, a + b, a + b + c})), k);
    CHECK(invariant.decision.zero);
    CHECK(fault_in_certificate(invariant) == "");
    const Vector3 nudged = a + b + c + Vector3{Number(0L, k), Number(0L, k), Number(1L, k)};
    if (dot(cross(a, b), nudged).is_zero()) continue;
    if (!invariant_of(edges_of(hull({zero, a, a + b, nudged})), k).decision.zero) ++nonzero_neighbours;
  }
  CHECK(nonzero_neighbours > 40);
}

TEST_CASE("Prisms and zonohedra have invariant zero", "[dehn]") {
  std::mt19937 random(9);
  for (int round = 0; round < 24; ++round) {
    const Field* fields[] = {&rationals(), &root_two(), &cube_root_two(), &fourth_degree()};
    const Field& k = *fields[round % 4];
    INFO("round " << round);
    std::vector<Vector3> prism, zonohedron = {{Number(0L, k), Number(0L, k), Number(0L, k)}};
    const Number zero(0L, k);
    const Vector3 along = round % 2 == 0 ? Vector3{zero, zero, Number(3L, k)} : random_vector(random, k, 4);
    for (int i = 0; i < 5; ++i) {
      const Vector3 corner{random_number(random, k, 6), random_number(random, k, 6), zero};
      prism.push_back(corner);
      prism.push_back(corner + along);
    }
    if (!along.z.is_zero()) CHECK(invariant_of(edges_of(hull(prism)), k).decision.zero);
    for (int i = 0; i < 4; ++i) {
      const Vector3 generator = random_vector(random, k, 3);
      const std::vector<Vector3> before = zonohedron;
      for (const Vector3& p : before) zonohedron.push_back(p + generator);
    }
    CHECK(invariant_of(edges_of(hull(zonohedron)), k).decision.zero);
  }
}

// Over a field of degree 6, not totally real: the tribonacci constant t by Cardano's formula. Corners: the even permutations
// of (+-1, +-1/t, +-t) with an even number of minus signs changed to plus, the odd ones with an odd number (H. S. M.
// Coxeter's coordinates, from memory; the equal edges check them).
TEST_CASE("The snub cube's invariant is not zero, the rhombic dodecahedron's is", "[dehn]") {
  FieldTower tower;
  const Number t = [&] {
    const Number one(1);
    // x^3 = x^2 + x + 1: t = (1 + cbrt(19 + 3 sqrt(33)) + cbrt(19 - 3 sqrt(33))) / 3
    const Number root = tower.square_root(Number(33));
    const Number a = tower.root(Number(19) + Number(3) * root, 3);
    return divide(one + a + divide(Number(4), a), Number(3));
  }();
  const Field& k = tower.top();
  REQUIRE(t * t * t == t * t + t + Number(1));
  const Number one(1L, k), s = divide(one, t);
  std::vector<Vector3> points;
  for (int signs = 0; signs < 8; ++signs) {
    const auto sign = [&](int bit, const Number& x) { return (signs >> bit & 1) != 0 ? x : -x; };
    const Number x = sign(0, one), y = sign(1, s), z = sign(2, t.lifted_to(k));
    const int pluses = (signs & 1) + (signs >> 1 & 1) + (signs >> 2 & 1);
    if (pluses % 2 == 0)
      points.insert(points.end(), {{x, y, z}, {y, z, x}, {z, x, y}});
    else
      points.insert(points.end(), {{x, z, y}, {z, y, x}, {y, x, z}});
  }
  const std::vector<CountedEdge> edges = edges_of(hull(points));
  REQUIRE(edges.size() == 60);
  const Number squared_length = dot(edges.front().term.edge, edges.front().term.edge);
  int between_triangles = 0;
  for (const CountedEdge& each : edges) {
    CHECK(dot(each.term.edge, each.term.edge) == squared_length);
    between_triangles += to_decimal_degrees(to_angle(dihedral_angle(each.term))).substr(0, 6) == "153.23" ? 1 : 0;
  }
  CHECK(between_triangles == 36);
  const DehnInvariant invariant = invariant_of(edges, k);
  CHECK(fault_in_certificate(invariant) == "");
  CHECK_FALSE(invariant.decision.zero);
  if (const auto theirs = second_opinion(edges, k)) CHECK_FALSE(*theirs);

  std::vector<Vector3> corners = symmetric_points({{1, 1, 1}}, true);
  for (const Vector3& each : symmetric_points({{2, 0, 0}}, true)) corners.push_back(each);
  const std::vector<CountedEdge> rhombic = edges_of(hull(corners));
  REQUIRE(rhombic.size() == 24);
  for (const CountedEdge& each : rhombic) CHECK(equal(to_angle(dihedral_angle(each.term)), degrees_angle(Number(120))));
  CHECK(invariant_of(rhombic, rationals()).decision.zero);
}
