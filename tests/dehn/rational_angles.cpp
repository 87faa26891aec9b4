// SPDX-License-Identifier: GPL-3.0-or-later
// Tetrahedra whose six dihedral angles are rational multiples of pi: K. S. Kedlaya, A. Kolpakov, B. Poonen and M.
// Rubinstein, "Space vectors forming rational angles", arXiv:2011.14232, Theorem 1.8 (from memory; the Gram determinant
// checks the angles).
#include "dehn/torsion.hpp"
#include "number/tower.hpp"
#include "support.hpp"

#include <catch2/catch.hpp>

#include <array>

using namespace cutproof;
using namespace cutproof::test;

namespace {

Number degrees(long numerator, long denominator = 1) {
  return Number::fraction(numerator, denominator);
}

/// Corners of the tetrahedron with these dihedral angles (in degrees) between the faces 12, 34, 13, 24, 14, 23; every number
/// in the tower's field on top. Empty where the angles are those of no tetrahedron.
std::vector<Vector3> tetrahedron(FieldTower& tower, const std::array<Number, 6>& angles) {
  const auto cosine = [&](std::size_t i) { return tower.cosine(degrees_angle(angles[i])); };
  for (int pass = 0;; ++pass) {
    // n1 = (1, 0, 0), n2 = (x, y, 0), n3 = (u, v, w), n4 all unit vectors with n_i . n_j = -cos a_ij
    const Number x = -cosine(0), y = tower.sine(degrees_angle(angles[0]));
    const Number u = -cosine(2), v = divide(-cosine(5) - x * u, y);
    const Number w = tower.square_root(Number(1) - u * u - v * v);
    const Number p = -cosine(4), q = divide(-cosine(3) - x * p, y), r = divide(-cosine(1) - u * p - v * q, w);
    if (pass == 0) continue;  // now everything is in one field
    if (p * p + q * q + r * r != Number(1)) return {};
    const auto lifted = [&](const Number& n) { return tower.lifted(n); };
    const Number zero(0L, tower.top()), one(1L, tower.top());
    const Vector3 n1{one, zero, zero}, n2{lifted(x), lifted(y), zero}, n3{lifted(u), lifted(v), lifted(w)},
        n4{lifted(p), lifted(q), lifted(r)};
    std::vector<Vector3> corners = {{zero, zero, zero}};
    for (const Vector3& along : {cross(n1, n2), cross(n2, n3), cross(n3, n1)})
      corners.push_back(divide(one, dot(n4, along)) * along);
    return corners;
  }
}

void check_rational(const std::array<Number, 6>& angles) {
  FieldTower tower({32, 1u << 20});
  const std::vector<Vector3> corners = tetrahedron(tower, angles);
  REQUIRE(corners.size() == 4);
  const Field& k = tower.top();
  INFO("field of degree " << k.degree());
  const std::vector<CountedEdge> edges = edges_of(hull(corners));
  REQUIRE(edges.size() == 6);
  for (const CountedEdge& each : edges) CHECK(multiple_of_pi(to_angle(dihedral_angle(each.term))));
  const DehnInvariant invariant = invariant_of(edges, k);
  CHECK(invariant.decision.zero);
  CHECK(fault_in_certificate(invariant) == "");
  if (const auto theirs = second_opinion(edges, k)) CHECK(*theirs);
  std::vector<Vector3> near = corners;
  near[1] = near[1] + divide(Number(1L, k), power_of_ten(12, k)) * (near[2] - near[3]);
  CHECK_FALSE(invariant_of(edges_of(hull(near)), k).decision.zero);
  if (const auto theirs = second_opinion(edges_of(hull(near)), k)) CHECK_FALSE(*theirs);
}

}  // namespace

TEST_CASE("Members of the families with rational dihedral angles have invariant zero, their neighbours not", "[dehn]") {
  for (const long x : {36L, 45L, 60L, 72L}) {
    INFO("first family, x = " << x);
    check_rational({degrees(90), degrees(90), degrees(180 - 2 * x), degrees(60), degrees(x), degrees(x)});
  }
  for (const long x : {45L, 60L}) {
    INFO("second family, x = " << x);
    check_rational({degrees(150 - x), degrees(30 + x), degrees(120 - x), degrees(120 - x), degrees(x), degrees(x)});
  }
}

TEST_CASE("Angles off by a little are those of no tetrahedron", "[dehn]") {
  FieldTower tower;
  CHECK(tetrahedron(tower, {degrees(90), degrees(90), degrees(90), degrees(60), degrees(45), degrees(60)}).empty());
}

// In no one-parameter family; found by trying all multiples of 12 degrees, and proved here by the Gram determinant.
TEST_CASE("Sporadic tetrahedra with rational dihedral angles have invariant zero, their neighbours not", "[dehn]") {
  const std::vector<std::array<long, 6>> sporadic = {
      {3, 3, 3, 5, 10, 10}, {3, 3, 5, 5, 9, 9}, {3, 3, 6, 6, 10, 10}, {3, 10, 3, 12, 5, 10}};
  for (const auto& each : sporadic) {
    std::array<Number, 6> angles;
    for (std::size_t i = 0; i < 6; ++i) {
      angles[i] = degrees(12 * each[i]);
      UNSCOPED_INFO(12 * each[i] << " degrees");
    }
    check_rational(angles);
  }
}
