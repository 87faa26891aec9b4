// SPDX-License-Identifier: GPL-3.0-or-later
// Convex parts: the whole invariant after every clip, and the three ways to tell whether parts overlap against clipping
// alone.
#include "engine_test_support.hpp"
#include "solid/parts/algebra.hpp"
#include "solid/parts/build.hpp"
#include "solid/parts/motion.hpp"
#include "solid/parts/separate.hpp"
#include "zoo/zoo.hpp"

#include <catch2/catch.hpp>

#include <set>

using namespace cutproof;

namespace {

/// Everything that a convex part promises, by exact arithmetic.
void check_invariant(const ConvexPart& part) {
  const std::vector<int> neighbours = part.neighbours();  // throws unless closed
  std::set<int> seen;
  for (std::size_t f = 0; f < part.faces().size(); ++f) {
    const CellFace& face = part.faces()[f];
    REQUIRE(face.end - face.begin >= 3);
    const std::set<int> cycle(part.cycles().begin() + face.begin, part.cycles().begin() + face.end);
    REQUIRE(cycle.size() == static_cast<std::size_t>(face.end - face.begin));
    seen.insert(cycle.begin(), cycle.end());
    const Plane outward = face.outward();
    for (std::size_t i = 0; i < part.corners().size(); ++i) {
      const int expected = evaluate(outward, part.corners()[i]->point).sign();
      CHECK(face.side_of(*part.corners()[i]) == expected);
      CHECK(expected == (cycle.count(static_cast<int>(i)) != 0 ? 0 : -1));
    }
    for (int i = 0; i < face.end - face.begin; ++i) {
      const int length = face.end - face.begin;
      const Vector3 &a = part.corner(face, i)->point, &b = part.corner(face, (i + 1) % length)->point,
                    &c = part.corner(face, (i + 2) % length)->point;
      CHECK(dot(outward.normal, cross(b - a, c - b)).sign() > 0);
      CHECK(neighbours[face.begin + i] != static_cast<int>(f));
    }
  }
  CHECK(seen.size() == part.corners().size());
  CHECK(part.corners().size() + part.faces().size() == part.cycles().size() / 2 + 2);
  CHECK(part.volume().sign() > 0);
}

/// Decided without any filter or separating plane.
bool meet_by_clipping(const CellPointer& a, const CellPointer& b) {
  return intersection(a, b) != nullptr;
}

CellPointer tetrahedron(const Vector3& a, const Vector3& b, const Vector3& c, const Vector3& d) {
  return build_parts(*make_solid(HullDescription{{a, b, c, d}})).front();
}

}  // namespace

TEST_CASE("parts stay sound through cuts and motions", "[parts]") {
  for (const int degree : {1, 2, 3, 4, 8}) {
    const Number& unit = zoo::generator_of_degree(degree);
    for (unsigned seed = 1; seed <= 10; ++seed) {
      INFO("degree " << degree << ", seed " << seed);
      Dice dice(seed);
      CellList parts = build_parts(*box_solid({0, 0, 0}, {unit, unit, unit}));
      const Number whole = volume(parts);
      for (int cut = 0; cut < 5; ++cut) {
        if (cut == 3) parts = CellMap(dice.motion(unit))(parts);
        // Through corners, now and then: where several of them lie on the plane.
        const auto& corners = parts[static_cast<std::size_t>(dice.upto(static_cast<long>(parts.size()) - 1))]->corners();
        const auto any = [&] {
          return corners[static_cast<std::size_t>(dice.upto(static_cast<long>(corners.size()) - 1))]->point;
        };
        const Vector3 p = any(), q = any(), r = any(), normal = cross(q - p, r - p);
        const Plane plane =
            is_zero(normal) ? dice.plane_near(Number::fraction(1, 2) * (p + q), unit) : Plane{normal, dot(normal, p)};
        const auto cutting = std::make_shared<const FacePlane>(reduced(plane));
        CellList next;
        for (const CellPointer& part : parts) {
          const CellHalves halves = split(part, cutting);
          Number sum;
          for (const CellPointer& half : {halves.positive, halves.negative})
            if (half) {
              sum += half->volume();
              next.push_back(half);
            }
          CHECK(sum == part->volume());
        }
        parts = std::move(next);
      }
      CHECK(volume(parts) == whole);
      for (const CellPointer& part : parts) check_invariant(*part);
    }
  }
}

TEST_CASE("the doubles beside a plane and a corner never tell a wrong side", "[parts]") {
  for (const int degree : {1, 2, 4}) {
    const Number& unit = zoo::generator_of_degree(degree);
    Dice dice(static_cast<unsigned>(degree));
    int decided = 0, open = 0;
    for (int i = 0; i < 300; ++i) {
      const Vector3 normal = dice.direction(unit), point = dice.vector(unit);
      // From far to very near, on both sides, and exactly on the plane.
      const Number distance = i % 7 == 0 ? Number(0) : Number::fraction(dice.between(-5, 5), 1L << (i % 60));
      const FacePlane plane(reduced({normal, dot(normal, point) - distance}));
      const Corner corner(point);
      const Estimate guess = estimate(plane, corner);
      const int exact = distance.sign();
      if (guess.positive()) CHECK(exact > 0);
      if (guess.negative()) CHECK(exact < 0);
      (guess.positive() || guess.negative() ? decided : open) += 1;
      CHECK(side(plane, corner) == exact);
    }
    CHECK(decided > 100);
    CHECK(open > 40);
  }
}

TEST_CASE("overlap is decided as clipping decides it", "[parts]") {
  int meeting = 0, apart = 0;
  for (unsigned seed = 1; seed <= 300; ++seed) {
    INFO("seed " << seed);
    Dice dice(seed);
    const Number& unit = zoo::generator_of_degree(seed % 3 == 0 ? 2 : 1);
    const auto random = [&]() -> CellPointer {
      try {
        return tetrahedron(dice.vector(unit), dice.vector(unit), dice.vector(unit), dice.vector(unit));
      } catch (const InvalidInput&) {
        return nullptr;  // flat
      }
    };
    const CellPointer a = random(), b = random();
    if (!a || !b) continue;
    const bool expected = meet_by_clipping(a, b);
    CHECK(interiors_meet(a, b) == expected);
    CHECK(interiors_meet(b, a) == expected);
    (expected ? meeting : apart) += 1;
  }
  CHECK(meeting > 30);
  CHECK(apart > 30);
}

TEST_CASE("edges that touch, or miss or pierce each other by a hair, are told apart", "[parts]") {
  // The edge from (-1, 0, 0) to (1, 0, 0) with the rest below, and an edge along y at height h with the rest above: no face
  // plane separates them.
  const Number two(2);
  const CellPointer below = tetrahedron({-1, 0, 0}, {1, 0, 0}, {0, -two, -1}, {0, two, -1});
  for (unsigned seed = 0; seed <= 20; ++seed) {
    INFO("seed " << seed);
    Dice dice(seed);
    const Motion motion = seed == 0 ? Motion() : dice.motion(zoo::generator_of_degree(seed % 2 == 0 ? 2 : 1));
    CellMap map(motion);
    for (const long sign : {-1L, 0L, 1L})
      for (const long size : {10L, 1000000000L, 1000000000000000000L}) {
        const Number h = Number::fraction(sign, size);
        const CellPointer above = tetrahedron({0, -1, h}, {0, 1, h}, {-two, 0, Number(1) + h}, {two, 0, Number(1) + h});
        const CellPointer a = map(below), b = map(above);
        CHECK(interiors_meet(a, b) == (sign < 0));
        CHECK(interiors_meet(b, a) == (sign < 0));
        CHECK_FALSE(share_face_area(*a, *b));
      }
  }
}

TEST_CASE("faces are shared when their areas overlap", "[parts]") {
  const auto box = [](const Vector3& low, const Vector3& high) { return build_parts(*box_solid(low, high)).front(); };
  const CellPointer cube = box({0, 0, 0}, {1, 1, 1});
  const Number half = Number::fraction(1, 2), hair = Number::fraction(1, 1000000000000000000L);
  CHECK(share_face_area(*cube, *box({1, half, half}, {2, 3, 3})));
  CHECK(share_face_area(*cube, *box({1, Number(1) - hair, 0}, {2, 3, 3})));
  CHECK_FALSE(share_face_area(*cube, *box({1, 1, 0}, {2, 3, 3})));
  CHECK_FALSE(share_face_area(*cube, *box({Number(1) + hair, 0, 0}, {2, 1, 1})));
  CHECK_FALSE(share_face_area(*cube, *box({1, 1, 1}, {2, 3, 3})));
  // A diamond whose corners all lie outside the square: only crossing edges tell.
  const CellPointer diamond = build_parts(*make_solid(HullDescription{{{1, half, -1 + half + Number::fraction(1, 4)},
                                                                       {1, Number::fraction(5, 4), half},
                                                                       {1, half, Number::fraction(5, 4)},
                                                                       {1, Number::fraction(-1, 4), half},
                                                                       {2, half, half}}}))
                                  .front();
  CHECK(share_face_area(*cube, *diamond));
}

TEST_CASE("set operations on parts obey their laws", "[parts]") {
  for (unsigned seed = 1; seed <= 60; ++seed) {
    Dice dice(seed);
    const Number& unit = zoo::generator_of_degree(seed % 4 == 0 ? 2 : 1);
    const std::vector<NamedShape> shapes = test_shapes(unit);
    const auto any = [&]() -> const NamedShape& { return shapes[static_cast<std::size_t>(dice.upto(6))]; };
    const NamedShape &first = any(), &second = any();
    INFO("seed " << seed << ": " << first.name << " and " << second.name);
    const CellList a = build_parts(*first.solid);
    const Motion shift = Motion::translation(
        {Number::fraction(dice.between(-3, 3), 2) * unit, Number::fraction(dice.between(-3, 3), 2) * unit, 0});
    const CellList b = CellMap(dice.upto(1) == 0 ? shift : dice.motion(unit))(build_parts(*second.solid));
    const CellList both = intersection(a, b), only_a = difference(a, b), only_b = difference(b, a);
    CHECK(volume(both) + volume(only_a) == volume(a));
    CHECK(volume(both) + volume(only_b) == volume(b));
    CHECK(interiors_meet(a, b) == !both.empty());
    CHECK_FALSE(interiors_meet(only_a, b));
    CHECK(difference(both, a).empty());
    CHECK(difference(both, b).empty());
    CHECK(volume(intersection(b, a)) == volume(both));
    for (const CellList* list : {&both, &only_a, &only_b})
      for (std::size_t i = 0; i < list->size(); ++i)
        for (std::size_t j = 0; j < i; ++j) CHECK_FALSE(interiors_meet((*list)[i], (*list)[j]));
  }
}
