// SPDX-License-Identifier: GPL-3.0-or-later
#include "solids_by_hand.hpp"

#include <catch2/catch.hpp>

using namespace cutproof;
using namespace cutproof::test;

namespace {

CompareResult compared(const std::string& name, const std::vector<SolidPointer>& left,
                       const std::vector<SolidPointer>& right, const Field& field = Field::rational()) {
  const auto engine = make_parts_engine();
  std::vector<Solid> pieces[2];
  for (const SolidPointer& each : left) pieces[0].push_back(engine->build(*each));
  for (const SolidPointer& each : right) pieces[1].push_back(engine->build(*each));
  const CompareResult result = compare_solids(*engine, pieces[0], pieces[1], field);
  CHECK(result.compared);
  CHECK(result.answer == (result.dissection == "exists" ? Answer::yes : Answer::no));
  write_report("compare-" + name, result);
  return result;
}

}  // namespace

TEST_CASE("Hilbert's third problem: a cube is no dissection of a regular tetrahedron") {
  const CompareResult same_size = compared("cube-tetrahedron", {regular_tetrahedron()}, {box(Number::fraction(8, 3), 1, 1)});
  CHECK(same_size.same_volume);
  CHECK_FALSE(same_size.same_dehn);
  CHECK(same_size.dissection == "does not exist");
  CHECK(same_size.reason == DissectionReason::invariants_differ);
  CHECK(same_size.dehn_difference->text.find("arccos(1/3)") != std::string::npos);
  // volume 8/3 against 1: a cube root outside the field
  const CompareResult other_size = compared("unit-cube-tetrahedron", {regular_tetrahedron()}, {box(1, 1, 1)});
  CHECK_FALSE(other_size.same_volume);
  REQUIRE(other_size.scale);
  CHECK(other_size.scale->exact == "cbrt(8/3)");
  CHECK(other_size.scale->decimal.substr(0, 18) == "1.3867225487012694");
  CHECK(other_size.exists_at_scale == false);
}

TEST_CASE("A cube and boxes") {
  CHECK(compared("cube-box", {box(2, 2, 2)}, {box(1, 1, 8)}).dissection == "exists");
  const CompareResult result = compared("cube-larger-box", {box(2, 2, 2)}, {box(1, 1, 64)});
  CHECK(result.dissection == "does not exist");
  REQUIRE(result.scale);
  CHECK(result.scale->exact == "1/2");
  CHECK(result.exists_at_scale == true);
  const CompareResult irrational = compared("cube-box-of-three", {box(1, 1, 1)}, {box(1, 1, 3)});
  CHECK(irrational.scale->exact == "cbrt(1/3)");
  CHECK(irrational.exists_at_scale == true);
}

TEST_CASE("Octahedron and two tetrahedra make a box, neither kind does alone") {
  const SolidPointer o = regular_octahedron(), t = regular_tetrahedron();
  CHECK(compared("octahedron-tetrahedra-box", {o, t, t}, {box(16, 1, 1)}).dissection == "exists");
  CHECK(compared("octahedron-box", {o}, {box(Number::fraction(32, 3), 1, 1)}).dissection == "does not exist");
  CHECK(compared("tetrahedra-box", {t, t}, {box(Number::fraction(16, 3), 1, 1)}).dissection == "does not exist");
}

TEST_CASE("Solids with one odd edge and boxes") {
  const CompareResult odd = compared("109-box", {off_file("one-edge-109.off")}, {box(Number::fraction(49, 3), 1, 1)});
  CHECK(odd.same_volume);
  CHECK(odd.dissection == "does not exist");
  CHECK(compared("135-box", {off_file("one-edge-135.off")}, {box(7, 1, 1)}).dissection == "exists");
}

TEST_CASE("Scaling by an element of the field scales the invariant") {
  // A tetrahedron of twice the size: volume 8 times, and D twice: equal after scaling by 1/2
  const SolidPointer large = hull({{2, 2, 2}, {2, -2, -2}, {-2, 2, -2}, {-2, -2, 2}});
  const CompareResult result = compared("tetrahedra-of-two-sizes", {regular_tetrahedron()}, {large});
  CHECK(result.scale->exact == "1/2");
  CHECK(result.exists_at_scale == true);
  // Equal volumes need cbrt(1/2) between one and two tetrahedra; D is not zero, so none exists.
  const CompareResult two =
      compared("one-and-two-tetrahedra", {regular_tetrahedron()}, {regular_tetrahedron(), regular_tetrahedron()});
  CHECK(two.scale->exact == "cbrt(1/2)");
  CHECK(two.exists_at_scale == false);
}
