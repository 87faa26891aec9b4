// SPDX-License-Identifier: GPL-3.0-or-later
#include "solids_by_hand.hpp"

#include <catch2/catch.hpp>

using namespace cutproof;
using namespace cutproof::test;

namespace {

MeasureResult measured(const std::string& name, const SolidPointer& solid, const AngleRules* rules = nullptr,
                       const Field& field = Field::rational()) {
  const auto engine = make_parts_engine();
  MeasureResult result = measure(*engine, engine->build(*solid), field, rules);
  result.solid = name;
  write_report("measure-" + name, result);
  return result;
}

Angle degrees(long n) {
  return degrees_angle(Number(n));
}

}  // namespace

TEST_CASE("A regular tetrahedron, measured") {
  const MeasureResult result = measured("tetrahedron", regular_tetrahedron());
  CHECK(result.volume.exact == "8/3");
  CHECK(result.area.exact == "8*sqrt(3)");
  CHECK(result.faces == 4);
  CHECK(result.edges == 6);
  CHECK(result.vertices == 4);
  CHECK(result.shells == 1);
  CHECK(result.genus == 0);
  REQUIRE(result.edge_kinds.size() == 1);
  CHECK(result.edge_kinds[0].count == 6);
  CHECK(result.edge_kinds[0].length.exact == "2*sqrt(2)");
  CHECK(result.edge_kinds[0].cosine == "1/3");
  CHECK(result.edge_kinds[0].angle == "arccos(1/3)");
  CHECK(result.edge_kinds[0].of_pi.empty());
  CHECK(result.edge_kinds[0].degrees.substr(0, 18) == "70.528779365509308");
  CHECK_FALSE(result.edge_kinds[0].reflex);
  REQUIRE(result.dehn);
  CHECK_FALSE(result.dehn->zero);
  CHECK(result.dehn->text == "12*sqrt(2) (x) arccos(1/3)");
  REQUIRE(result.dehn->terms.size() == 1);
  CHECK(result.dehn->terms[0].coefficient.exact == "12*sqrt(2)");
  CHECK(result.dehn->terms[0].cosine == "1/3");
}

TEST_CASE("Pivots are angles of the solid") {
  CHECK(measured("octahedron", regular_octahedron()).dehn->text == "-24*sqrt(2) (x) arccos(1/3)");
  const MeasureResult cube = measured("cube", box(1, 1, 1));
  CHECK(cube.dehn->text == "0");
  CHECK(cube.dehn->zero);
  REQUIRE(cube.edge_kinds.size() == 1);
  CHECK(cube.edge_kinds[0].of_pi == "1/2");
  CHECK(cube.edge_kinds[0].angle == "90 deg");
}

TEST_CASE("Jessen's icosahedron passes the audit of right angles") {
  const AngleRules rules = right_angles();
  const MeasureResult result = measured("jessen", jessen_icosahedron(), &rules);
  CHECK(result.faces == 20);
  CHECK(result.edges == 30);
  REQUIRE(result.audit);
  CHECK(result.audit->passed);
  CHECK(result.audit->edges.empty());
  CHECK(result.answer == Answer::yes);
  CHECK(result.dehn->zero);
  std::size_t right = 0, reflex = 0;
  for (const EdgeKind& kind : result.edge_kinds) (kind.reflex ? reflex : right) += kind.count;
  CHECK(right == 24);
  CHECK(reflex == 6);
}

TEST_CASE("A 45-45-90 prism passes with two edges of 45, and with no other number") {
  const SolidPointer prism = hull({{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 2}, {1, 0, 2}, {0, 1, 2}});
  for (long count = 0; count < 4; ++count) {
    INFO(count);
    const AngleRules rules = right_angles({{degrees(45), count}});
    const MeasureResult result = measured("prism", prism, &rules);
    CHECK(result.audit->passed == (count == 2));
    CHECK(result.answer == (count == 2 ? Answer::yes : Answer::no));
    CHECK(result.audit->edges.size() == (count == 2 ? 0 : 2));
    CHECK(result.dehn->zero);
  }
  const AngleRules none = right_angles();
  const MeasureResult result = measured("prism", prism, &none);
  REQUIRE(result.audit->edges.size() == 2);
  CHECK(result.audit->edges[0].from.x == "0");
  CHECK(result.audit->edges[0].from.y == "1");
  CHECK(result.audit->edges[0].to.z == "2");
  CHECK(result.audit->edges[0].angle == "45 deg");
}

// Found by a search, checked by several programs; all other edges have 90 or 270 degrees.
TEST_CASE("Five solids with a single odd edge") {
  struct Case {
    const char* file;
    Angle odd;
    const char* length;
    std::size_t vertices, faces;
    const char* volume;
    bool zero;
  };
  const std::vector<Case> cases = {{"one-edge-135", degrees(135), "4", 8, 10, "7", true},
                                   {"one-edge-45", degrees(45), "4", 12, 13, "25", true},
                                   {"one-edge-60", degrees(60), "4*sqrt(3)", 16, 18, "74/3", true},
                                   {"one-edge-120", degrees(120), "4*sqrt(3)", 12, 16, "106/3", true},
                                   {"one-edge-109", arc_cosine(Number::fraction(-1, 3)), "3*sqrt(2)", 9, 12, "49/3", false}};
  for (const Case& each : cases) {
    INFO(each.file);
    const AngleRules rules = right_angles({{each.odd, 1}});
    const MeasureResult result = measured(each.file, off_file(std::string(each.file) + ".off"), &rules);
    CHECK(result.audit->passed);
    CHECK(result.vertices == each.vertices);
    CHECK(result.faces == each.faces);
    CHECK(result.volume.exact == each.volume);
    CHECK(result.dehn->zero == each.zero);
    for (const EdgeKind& kind : result.edge_kinds)
      if (kind.of_pi != "1/2" && kind.of_pi != "3/2") CHECK(kind.length.exact == each.length);
    const AngleRules strict = right_angles();
    const MeasureResult refused = measured(each.file, off_file(std::string(each.file) + ".off"), &strict);
    CHECK_FALSE(refused.audit->passed);
    CHECK(refused.audit->edges.size() == 1);
    if (!each.zero) CHECK(result.dehn->text == "-3*sqrt(2) (x) arccos(1/3)");
  }
}

TEST_CASE("Solids over several fields, for the re-checker") {
  FieldTower golden, cubic, quartic;
  const Number g = divide(Number(1) + golden.square_root(Number(5)), Number(2));
  const Number zero(0L, golden.top()), one(1L, golden.top());
  std::vector<Vector3> icosahedron, mixed;
  for (const int a : {1, -1})
    for (const int b : {1, -1}) {
      const Number x = Number(a) * one, y = Number(b) * g;
      icosahedron.insert(icosahedron.end(), {{zero, x, y}, {x, y, zero}, {y, zero, x}});
    }
  const MeasureResult result = measured("icosahedron", hull(icosahedron), nullptr, golden.top());
  CHECK(result.dehn->terms.size() == 1);
  CHECK(result.faces == 20);

  const Number c = cubic.root(Number(2), 3);
  const Number h = divide(Number(2) - c, Number(2) + c - c * c), a = divide(Number(2) - c, Number(1) + c - c * c);
  CHECK_FALSE(measured("unit", hull({{0, 0, 0}, {a, 0, 0}, {a, 1, 0}, {a, 1, h}}), nullptr, cubic.top()).dehn->zero);

  const Number s = quartic.square_root(Number(2)), t = quartic.square_root(Number(3)), r = quartic.lifted(s);
  for (int i = 0; i < 6; ++i) mixed.push_back({Number(i * i % 5) + r, Number(i) * t, r * t - Number(i * i * i % 7)});
  CHECK_FALSE(measured("mixed", hull(mixed), nullptr, quartic.top()).dehn->zero);
}
