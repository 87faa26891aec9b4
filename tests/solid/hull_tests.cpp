// SPDX-License-Identifier: GPL-3.0-or-later
// Convex hulls: laws that together say what a hull is, and flat input.
#include "zoo/zoo.hpp"

#include "solid/boundary_check.hpp"
#include "solid/edges.hpp"
#include "solid/hull.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <random>
#include <set>

using namespace cutproof;

namespace {

/// All points are below all facets, all corners are points, and the surface is closed: then it bounds the convex hull.
void check_hull(const std::vector<Vector3>& points, const Boundary& hull) {
  bool below = true, corners_are_points = true, strictly_convex = true;
  for (const Facet& facet : hull.facets)
    for (const Vector3& p : points) below = below && side_of(facet.plane, p) <= 0;
  for (const Vector3& vertex : hull.vertices)
    corners_are_points = corners_are_points && std::find(points.begin(), points.end(), vertex) != points.end();
  for (const TrueEdge& edge : true_edges(hull)) {
    strictly_convex = strictly_convex && edge.sectors.size() == 1;
    for (const EdgeTerm& term : edge.sectors)
      strictly_convex = strictly_convex && dot(cross(term.first, term.second), term.edge).sign() > 0;
  }
  CHECK(below);
  CHECK(corners_are_points);
  CHECK(strictly_convex);
  CHECK_NOTHROW(checked_boundary(zoo::written(hull)));
  const SurfaceCounts counts = count_surface(hull);
  CHECK(counts.shells == 1);
  CHECK(counts.genus == 0);
  std::set<int> used;
  for (const Facet& facet : hull.facets) used.insert(facet.cycles.front().begin(), facet.cycles.front().end());
  CHECK(used.size() == hull.vertices.size());
}

std::string message_of(const std::vector<Vector3>& points) {
  try {
    convex_hull(points);
  } catch (const InvalidInput& error) {
    return error.what();
  }
  return "no error";
}

}  // namespace

TEST_CASE("hulls of random points, with many in line, in plane and equal", "[hull]") {
  for (const int degree : {1, 2, 3, 4, 8})
    for (unsigned i = 0; i < 12; ++i) {
      const unsigned seed = 100u * static_cast<unsigned>(degree) + i;
      INFO("degree " << degree << ", seed " << seed);
      std::mt19937 random(seed);
      const Number& g = zoo::generator_of_degree(degree);
      const long range = i % 3 == 0 ? 2 : i % 3 == 1 ? 4 : 40;  // small ranges make degenerate sets
      const auto coordinate = [&] {
        return Number(static_cast<long>(random() % range)) + Number(static_cast<long>(random() % range)) * g;
      };
      std::vector<Vector3> points = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
      for (int k = 0; k < 30; ++k) points.push_back({coordinate(), coordinate(), coordinate()});
      const Boundary hull = convex_hull(points);
      check_hull(points, hull);
      std::shuffle(points.begin(), points.end(), random);
      const Boundary again = convex_hull(points);
      CHECK(again.vertices == hull.vertices);
      CHECK(volume(again) == volume(hull));
      CHECK(convex_hull(hull.vertices).facets.size() == hull.facets.size());
    }
}

TEST_CASE("a grid of 120 points over a field of degree 2 is a box", "[hull]") {
  const Number& g = zoo::generator_of_degree(2);
  std::vector<Vector3> points;
  for (long i = 0; i < 4; ++i)
    for (long j = 0; j < 5; ++j)
      for (long k = 0; k < 6; ++k) points.push_back({Number(i) * g, Number(j) + g, Number(k) * (Number(1) + g)});
  const Boundary hull = convex_hull(points);
  CHECK(hull.vertices.size() == 8);
  CHECK(hull.facets.size() == 6);
  CHECK(volume(hull) == Number(60) * g * (Number(1) + g));
  check_hull(points, hull);
}

TEST_CASE("flat input says what is flat", "[hull]") {
  const Vector3 p{1, 2, 3}, q{3, 4, 5}, middle{2, 3, 4}, r{1, 0, 0};
  CHECK_THAT(message_of({}), Catch::Contains("no"));
  CHECK_THAT(message_of({p, p, p}), Catch::Contains("are one point"));
  CHECK_THAT(message_of({p, q, middle, p}), Catch::Contains("lie on one line"));
  CHECK_THAT(message_of({p, q, middle, r}), Catch::Contains("lie in one plane"));
  CHECK(message_of({p, q, r, {0, 0, 7}}) == "no error");
}
