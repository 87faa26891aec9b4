// SPDX-License-Identifier: GPL-3.0-or-later
// Laws: D adds up over cuts, does not change under motions, and sees a thin wedge.
#include "number/tower.hpp"
#include "support.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace cutproof;
using namespace cutproof::test;

namespace {

std::vector<Vector3> random_points(std::mt19937& random, const Field& field) {
  for (;;) {
    std::vector<Vector3> points;
    const std::size_t count = 4 + random() % 4;
    for (std::size_t i = 0; i < count; ++i) points.push_back(random_vector(random, field, 5));
    for (std::size_t i = 3; i < count; ++i)
      if (!dot(cross(points[1] - points[0], points[2] - points[0]), points[i] - points[0]).is_zero()) return points;
  }
}

}  // namespace

TEST_CASE("Parts of random cuts add up, and motions change nothing", "[dehn]") {
  const unsigned seed = 5552023;
  std::mt19937 random(seed);
  const Field* fields[] = {&rationals(), &root_two(), &cube_root_two(), &fourth_degree()};
  int cuts = 0, through_corners = 0, nonzero = 0;
  for (int round = 0; cuts < 300; ++round) {
    const Field& k = *fields[round % 4];
    INFO("seed " << seed << ", round " << round);
    const std::vector<Vector3> points = random_points(random, k);
    Plane plane;
    const bool through_an_edge = round % 3 == 0;
    if (through_an_edge) {  // splits a dihedral angle: the parts' angles have a relation with the whole
      const Vector3 inner = Number::fraction(1, 2) * (points[2] + points[3]);
      const Vector3 normal = cross(points[1] - points[0], inner - points[0]);
      if (is_zero(normal)) continue;
      plane = {normal, dot(normal, points[0])};
    } else {
      const Vector3 normal = random_vector(random, k, 4), middle = Number::fraction(1, 2) * (points[0] + points[1]);
      if (is_zero(normal)) continue;
      plane = {normal, dot(normal, middle)};
    }
    const auto parts = halves(points, plane);
    if (parts.empty()) continue;
    ++cuts;
    through_corners += through_an_edge ? 1 : 0;
    const auto table = std::make_shared<AngleTable>(k);
    const DehnSum whole = sum_of(table, edges_of(hull(points)));
    const DehnSum first = sum_of(table, edges_of(hull(parts[0]))), second = sum_of(table, edges_of(hull(parts[1])));
    CHECK(is_zero(whole - first - second));
    if (!whole.is_empty() && !is_zero(whole)) ++nonzero;
    if (!through_an_edge) CHECK((whole - first - second).is_empty());
    const Motion motion = random_motion(random, k);
    std::vector<Vector3> moved;
    for (const Vector3& p : parts[0]) moved.push_back(motion(p));
    CHECK((sum_of(table, edges_of(hull(moved))) - first).is_empty());
    std::vector<Vector3> mirrored;
    for (const Vector3& p : parts[0]) mirrored.push_back({-p.x, p.y, p.z});
    CHECK((sum_of(table, edges_of(hull(mirrored))) - first).is_empty());
  }
  CHECK(through_corners > 40);
  CHECK(nonzero > 200);
}

TEST_CASE("A solid and the same with a thin wedge differ", "[dehn]") {
  std::mt19937 random(77);
  const Field* fields[] = {&rationals(), &root_two(), &cube_root_two(), &fourth_degree()};
  for (int round = 0; round < 40; ++round) {
    const Field& k = *fields[round % 4];
    INFO("round " << round);
    const auto points = random_points(random, k);
    const auto table = std::make_shared<AngleTable>(k);
    const DehnSum whole = sum_of(table, edges_of(hull(points)));
    // a tetrahedron of thickness about 1e-20 beside it
    const Vector3 far{Number(100L, k), Number(0L, k), Number(0L, k)};
    const Number thin = divide(Number(1L, k), power_of_ten(20, k));
    const Number zero(0L, k), one(1L, k);
    const std::vector<Vector3> wedge = {far, far + Vector3{one, zero, zero}, far + Vector3{zero, one, zero},
                                        far + Vector3{one, one, thin}};
    CHECK_FALSE(equal(whole, whole + sum_of(table, edges_of(hull(wedge)))));
  }
}

TEST_CASE("Sums do not depend on order, and subtraction undoes addition", "[dehn]") {
  std::mt19937 random(3);
  const Field& k = fourth_degree();
  const auto table = std::make_shared<AngleTable>(k);
  std::vector<CountedEdge> edges;
  for (int i = 0; i < 12; ++i)
    for (const CountedEdge& each : edges_of(hull(random_points(random, k)))) edges.push_back(each);
  const DehnSum sum = sum_of(table, edges);
  std::shuffle(edges.begin(), edges.end(), random);
  DehnSum other = sum_of(table, edges);
  CHECK((sum - other).is_empty());
  DehnSum doubled = sum + sum;
  doubled -= sum;
  CHECK(doubled.terms() == sum.terms());
  for (const CountedEdge& each : edges) other.add(each.term, -1);
  CHECK(other.is_empty());
  // swapped faces, edge reversed: the same term
  DehnSum swapped(table);
  for (const CountedEdge& each : edges) swapped.add({-each.term.edge, each.term.second, each.term.first});
  CHECK(swapped.terms() == sum.terms());
}
