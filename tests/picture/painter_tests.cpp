// SPDX-License-Identifier: GPL-3.0-or-later
// The painting order against shadows built exactly: what a part throws away from the viewer, as a hull, may hold no interior
// point of a part that is painted later.
#include "picture/painter.hpp"
#include "scenes.hpp"
#include "solid/hull.hpp"
#include "solid/parts/separate.hpp"

#include <catch2/catch.hpp>

#include <cstdlib>
#include <map>

using namespace cutproof;

namespace {

/// The part and all that lies behind it, as far as any scene here reaches.
CellPointer with_shadow(const ConvexPart& part, const Vector3& toward_viewer) {
  std::vector<Vector3> points;
  for (const CornerPointer& corner : part.corners()) {
    points.push_back(corner->point);
    points.push_back(corner->point - Number(100) * toward_viewer);
  }
  return part_from_convex_boundary(convex_hull(points));
}

/// How many pairs of parts are in the wrong order.
std::size_t count_wrong(const std::vector<OwnedPart>& order, const Vector3& toward_viewer) {
  std::size_t wrong = 0;
  for (std::size_t i = 0; i < order.size(); ++i) {
    const CellPointer shadow = with_shadow(*order[i].cell, toward_viewer);
    for (std::size_t j = i + 1; j < order.size(); ++j) wrong += interiors_meet(shadow, order[j].cell) ? 1 : 0;
  }
  return wrong;
}

std::map<std::size_t, Number> volumes(const std::vector<OwnedPart>& parts) {
  std::map<std::size_t, Number> volumes;
  for (const OwnedPart& part : parts) volumes[part.owner] += part.cell->volume();
  return volumes;
}

const std::vector<Vector3> directions = {{0, 0, 1}, {3, -5, 4}, {-7, 2, 3}, {2, 1, -5}};

}  // namespace

TEST_CASE("no part is painted before one that lies behind it", "[picture]") {
  const unsigned seeds = std::getenv("CUTPROOF_SLOW") != nullptr ? 10 : 1;
  for (int degree = 1; degree <= 4; ++degree)
    for (int kind = 0; kind < test::scene_kinds; ++kind)
      for (unsigned seed = 1; seed <= seeds; ++seed) {
        INFO("degree " << degree << ", kind " << kind << ", seed " << seed);
        const std::vector<OwnedPart> parts = parted(test::scene(kind, degree, seed));
        const PaintersTree tree(parts);
        for (const Vector3& direction : directions) {
          const std::vector<OwnedPart> order = tree.order(direction);
          CHECK(count_wrong(order, direction) == 0);
          CHECK(volumes(order) == volumes(parts));
        }
      }
}

TEST_CASE("parts in a wrong order are noticed by the test of order", "[picture]") {
  std::vector<OwnedPart> order = PaintersTree(test::scene(3, 1, 1)).order(directions[1]);
  std::swap(order.front(), order.back());
  CHECK(count_wrong(order, directions[1]) > 0);
}

TEST_CASE("of points that owners share, the first keeps them, and nothing else is changed", "[picture]") {
  for (int degree = 1; degree <= 4; ++degree)
    for (unsigned seed = 1; seed <= 3; ++seed) {
      INFO("degree " << degree << ", seed " << seed);
      const std::vector<OwnedPart> parts = test::scene(4, degree, seed), apart = parted(parts);
      for (std::size_t i = 0; i < apart.size(); ++i)
        for (std::size_t j = i + 1; j < apart.size(); ++j) CHECK(!interiors_meet(apart[i].cell, apart[j].cell));
      // What the first owner had, it has; and every point of another is its own or an earlier owner's.
      const std::size_t owners = parts.back().owner + 1;
      CHECK(volumes(apart)[0] == volumes(parts)[0]);
      for (std::size_t owner = 1; owner < owners; ++owner) {
        Number kept;
        for (const OwnedPart& whole : parts)
          for (const OwnedPart& part : apart)
            if (whole.owner == owner && part.owner <= owner)
              if (const CellPointer common = intersection(whole.cell, part.cell)) kept += common->volume();
        CHECK(kept == volumes(parts)[owner]);
      }
    }
}

TEST_CASE("three bars that lie over each other in turn cannot be ordered whole", "[picture]") {
  // Each over the next where they cross, seen from above: some bar must be split.
  std::vector<OwnedPart> bars;
  const auto bar = [&](const std::array<Vector3, 3>& rows, const Vector3& shift) {
    test::add(bars, test::box({-10, -1, 0}, {10, 1, 1}), Motion(rows, shift));
  };
  const auto f = [](long n, long d) { return Number::fraction(n, d); };
  // Turned about z and tilted, so that one end rises and the other falls.
  for (const auto& [c, s] : std::vector<std::pair<Number, Number>>{{1, 0}, {f(-3, 5), f(4, 5)}, {f(-5, 13), f(-12, 13)}}) {
    const Number tilt_cosine = f(12, 13), tilt_sine = f(5, 13);
    bar({Vector3{c * tilt_cosine, -s, -(c * tilt_sine)}, Vector3{s * tilt_cosine, c, -(s * tilt_sine)},
         Vector3{tilt_sine, 0, tilt_cosine}},
        {s * Number(4), -(c * Number(4)), 0});
  }
  const auto apart = parted(bars);
  REQUIRE(apart.size() == bars.size());  // they do not overlap
  const auto order = PaintersTree(bars).order({0, 0, 1});
  CHECK(order.size() > bars.size());
  CHECK(count_wrong(order, {0, 0, 1}) == 0);
}

TEST_CASE("parts that overlap are no painting", "[picture]") {
  std::vector<OwnedPart> parts;
  test::add(parts, test::box({0, 0, 0}, {1, 1, 1}));
  test::add(parts, test::box({0, 0, 0}, {1, 1, 1}));
  CHECK_THROWS_AS(PaintersTree(parts), ToolFault);
  CHECK(PaintersTree({}).order({0, 0, 1}).empty());
}
