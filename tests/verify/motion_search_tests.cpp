// SPDX-License-Identifier: GPL-3.0-or-later
// The ways in which pieces can come to lie, and the corners that tell each from the others.
#include "solid/engine.hpp"
#include "solid/shapes.hpp"
#include "verify/motion_search.hpp"

#include <catch2/catch.hpp>

using namespace cutproof;

namespace {

SurfaceForm form_of(const SolidPointer& solid) {
  const std::unique_ptr<Engine> engine = make_parts_engine();
  return SurfaceForm(engine->boundary(engine->build(*solid)));
}

}  // namespace

TEST_CASE("motions that put every piece to the same place are one way", "[search]") {
  const SurfaceForm cube = form_of(make_box({2, 2, 2}, {0, 0, 0})), there = form_of(make_box({2, 2, 2}, {5, 0, 0}));
  const SurfaceForm half = form_of(make_box({1, 2, 2}, {0, 0, 0})), other = form_of(make_box({1, 2, 2}, {1, 0, 0}));
  const SurfaceForm wedge = form_of(make_prism({{0, 0, 0}, {2, 0, 0}, {0, 2, 0}}, {0, 0, 2}));
  const Vector3 corner{0, 0, 0};
  const PointPairs kept = {std::make_pair(corner, Vector3{5, 0, 0})}, lost = {std::make_pair(corner, Vector3{6, 0, 0})};
  CHECK(find_motions(cube, there, {}, false, {}).ways.size() == 1);
  CHECK(find_motions(cube, there, {}, false, {}).ways.front().shift() == Vector3{5, 0, 0});  // the least turn
  CHECK(find_motions(cube, there, {}, false, {cube}).ways.size() == 1);
  CHECK(find_motions(cube, there, {}, false, {half, other}).ways.size() == 6);  // where the first half comes to lie
  CHECK(find_motions(cube, there, {}, false, {wedge}).ways.size() == 12);       // an edge of the cube for its right angle
  CHECK(find_motions(cube, there, kept, false, {half, other}).ways.size() == 3);
  const FoundMotions none = find_motions(cube, there, lost, false, {cube});
  CHECK(none.ways.empty());
  CHECK(none.fits_without_corners);
  CHECK_FALSE(find_motions(cube, half, {}, true, {}).fits_without_corners);
}

TEST_CASE("mirror images only where no proper motion fits, and only when they are allowed", "[search]") {
  const SurfaceForm left = form_of(make_pyramid({{0, 0, 0}, {1, 0, 0}, {0, 2, 0}}, {0, 0, 3}));
  const SurfaceForm right = form_of(make_pyramid({{0, 0, 0}, {-1, 0, 0}, {0, 2, 0}}, {0, 0, 3}));
  const FoundMotions forbidden = find_motions(left, right, {}, false, {});
  CHECK(forbidden.ways.empty());
  CHECK(forbidden.mirror_only);
  const FoundMotions allowed = find_motions(left, right, {}, true, {});
  REQUIRE(allowed.ways.size() == 1);
  CHECK(allowed.sense == Sense::mirrored);
  CHECK_FALSE(allowed.ways.front().is_proper());
  CHECK(find_motions(left, left, {}, true, {}).sense == Sense::direct);
}

TEST_CASE("the corners that are told choose exactly their way", "[search]") {
  const SurfaceForm cube = form_of(make_box({2, 2, 2}, {0, 0, 0})), there = form_of(make_box({2, 2, 2}, {5, 0, 0}));
  const SurfaceForm wedge = form_of(make_prism({{0, 0, 0}, {2, 0, 0}, {0, 2, 0}}, {0, 0, 2}));
  const FoundMotions all = find_motions(cube, there, {}, false, {wedge});
  const std::vector<Motion>& ways = all.ways;
  for (std::size_t i = 0; i < ways.size(); ++i) {
    const PointPairs corners = corners_that_choose(all, i, cube.boundary().vertices);
    CHECK(corners.size() <= 2);
    const FoundMotions chosen = find_motions(cube, there, corners, false, {wedge});
    REQUIRE(chosen.ways.size() == 1);
    const Motion there_and_back = chosen.ways.front().then(ways[i].inverse());
    CHECK(carries(there_and_back, wedge, wedge));
  }
}
