// SPDX-License-Identifier: GPL-3.0-or-later
// The oracle itself: solids of known volume, and every plan that stands in plans/, good and broken.
#include "oracle/compare.hpp"
#include "oracle/shape.hpp"

#include <catch2/catch.hpp>

#include <filesystem>
#include <map>
#include <sstream>

namespace cutproof::oracle {
namespace {

Vector3 at(long x, long y, long z) {
  return {Number(x), Number(y), Number(z)};
}
Cell box(const Vector3& low, const Vector3& high) {
  return hull({low,
               {high.x, low.y, low.z},
               {low.x, high.y, low.z},
               {low.x, low.y, high.z},
               high,
               {low.x, high.y, high.z},
               {high.x, low.y, high.z},
               {high.x, high.y, low.z}});
}

}  // namespace

TEST_CASE("cells are split and measured exactly") {
  const Cell cube = box(at(0, 0, 0), at(2, 2, 2));
  CHECK(cube.planes.size() == 6);
  CHECK(measure(cube).volume == Number(8));
  CHECK(measure(cube).moment == at(8, 8, 8));
  // Four corners, the middles of edges and a point inside change nothing.
  CHECK(hull({at(0, 0, 0),
              at(2, 0, 0),
              at(0, 2, 0),
              at(0, 0, 2),
              at(1, 1, 0),
              at(1, 0, 0),
              {Number::fraction(1, 4), Number::fraction(1, 4), Number::fraction(1, 4)}})
            .corners.size() == 4);

  const Sides corner = split(cube, {at(1, 1, 1), Number(2)});  // through three corners
  REQUIRE(corner.below);
  REQUIRE(corner.above);
  CHECK(measure(*corner.below).volume == Number::fraction(4, 3));
  CHECK(measure(*corner.above).volume == Number::fraction(20, 3));
  CHECK(corner.below->planes.size() == 4);
  CHECK(corner.above->planes.size() == 7);
  CHECK_FALSE(split(cube, {at(1, 1, 1), Number(6)}).above);  // touches a corner
  CHECK_FALSE(split(cube, {at(1, 0, 0), Number(0)}).below);  // touches a face
  // A hexagon: the plane x + y + z = 3 halves the cube.
  CHECK(measure(*split(cube, {at(1, 1, 1), Number(3)}).above).volume == Number(4));
}

TEST_CASE("cells share an area, an edge, a corner or interior points") {
  const Cell cube = box(at(0, 0, 0), at(2, 2, 2));
  CHECK(share_area(cube, box(at(2, 1, 1), at(3, 5, 5))));
  CHECK_FALSE(share_area(cube, box(at(2, 2, 0), at(3, 3, 2))));  // an edge
  CHECK_FALSE(share_area(cube, box(at(2, 0, 2), at(3, 3, 3))));  // part of an edge
  CHECK_FALSE(share_area(cube, box(at(2, 2, 2), at(3, 3, 3))));  // a corner
  CHECK_FALSE(share_area(cube, box(at(3, 0, 0), at(4, 2, 2))));
  CHECK_FALSE(share_area(cube, cube));
  CHECK_FALSE(common(cube, box(at(2, 1, 1), at(3, 5, 5))));
  CHECK(measure(*common(cube, box(at(1, 1, 1), at(3, 5, 5)))).volume == Number(1));
  CHECK(volume(difference(cube, box(at(1, 1, 1), at(3, 5, 5)))) == Number(7));
  // Two tetrahedra whose only separating planes pass through an edge of each.
  const Cell low = hull({at(0, -1, 0), at(0, 1, 0), at(1, 0, -3), at(-1, 0, -3)});
  CHECK_FALSE(common(low, hull({at(-1, 0, 0), at(1, 0, 0), at(0, 1, 3), at(0, -1, 3)})));
  const Number deep = Number::fraction(-1, 1000000);
  CHECK(common(low, hull({{Number(-1), Number(0), deep}, {Number(1), Number(0), deep}, at(0, 1, 3), at(0, -1, 3)})));
}

TEST_CASE("regions count points once and parts hang together through areas") {
  const Cell cube = box(at(0, 0, 0), at(2, 2, 2)), shifted = box(at(1, 0, 0), at(3, 2, 2)),
             by_an_edge = box(at(3, 2, 0), at(4, 3, 2));
  CHECK(volume({cube, shifted}) == Number(16));
  CHECK(volume(region({cube, shifted})) == Number(12));
  const std::vector<Shape> parts = connected_components({by_an_edge, shifted, cube});
  REQUIRE(parts.size() == 2);
  CHECK(parts.front().size() == 2);
  CHECK(volume(parts.back()) == Number(2));
  CHECK(count_linked_groups({{cube}, {shifted}, {by_an_edge}}) == 2);
}

TEST_CASE("both engines and the oracle agree on the plans that stand in the repository") {
  std::map<std::string, std::size_t> outcomes;
  for (const char* folder : {"", "/broken"})
    for (const auto& entry : std::filesystem::directory_iterator(std::string(PLANS_FOLDER) + folder)) {
      if (entry.path().extension() != ".yaml") continue;
      const std::string plan = entry.path().stem().string();
      INFO(plan);
      const Comparison comparison = judge_three_times(text_of(entry.path().string()), entry.path().string());
      CHECK(comparison.disagreement == "");
      if (*folder == 0) CHECK(comparison.outcome == Outcome::verified);
      ++outcomes[outcome_word(comparison.outcome)];
    }
  CHECK(outcomes["verified"] > 20);
  CHECK(outcomes["refuted"] > 15);
  CHECK(outcomes["invalid"] > 5);
}

}  // namespace cutproof::oracle
