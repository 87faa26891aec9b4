// SPDX-License-Identifier: GPL-3.0-or-later
// Plans of dimension 2 as they are read: their words, and figures thickened upright by 1.
#include "plan/dimension_words.hpp"
#include "plan/expression.hpp"
#include "plan/read_plan.hpp"
#include "solid/both_engines.hpp"
#include "solid/figures.hpp"

#include <catch2/catch.hpp>

using namespace cutproof;

TEST_CASE("sentences are told in the words of the plane, and what is quoted stays") {
  CHECK(in_dimension(3, "the plane misses a solid") == "the plane misses a solid");
  CHECK(in_dimension(2, "the plane `plane` misses a solid of volume 2") == "the line `plane` misses a figure of area 2");
  CHECK(in_dimension(2, "{volume} of the planes, airplanes, solidity") == "{volume} of the lines, airplanes, solidity");
  CHECK(in_dimension(2, "in the plane of `lay` {pieces?has|have} no face") ==
        "on the line of `lay` {pieces?has|have} no edge");
  CHECK(in_dimension(2, "a brace { and a quote ` that stay open: planes") ==
        "a brace { and a quote ` that stay open: lines");
  CHECK(hint_in_dimension(2, "define it in `planes`") == "define it in `lines`");
  CHECK(hint_in_dimension(2, "did you mean `planes`?") == "did you mean `planes`?");
}

TEST_CASE("words belong to a dimension") {
  std::string_view meant;
  CHECK(dimension_of_word("planes", &meant) == 3);
  CHECK(meant == "lines");
  CHECK(dimension_of_word("polygon", &meant) == 2);
  CHECK(dimension_of_word("union", &meant) == 0);
}

TEST_CASE("a vector of two components is for the plane, which version 1 does not have") {
  CHECK_NOTHROW(parse_expression("[1, 2]"));
  CHECK_THROWS_AS(parse_expression("[1, 2]", 1), ExpressionError);
}

TEST_CASE("a scaled figure keeps its height, however it was made") {
  const auto point = [](long x, long y) { return Vector3{Number(x), Number(y), Number(0)}; };
  const SolidPointer polygon = make_polygon({point(0, 0), point(4, 0), point(0, 2)}, {});
  const SolidPointer turned = make_solid(PlacedDescription{
      polygon, Motion::rotation(point(1, 1), {Number(0), Number(0), Number(1)}, Number(0), Number(1)), Number(1), {}});
  const SolidPointer hull = make_flat_hull({point(5, 5), point(7, 5), point(6, 5), point(5, 6)});
  const SolidPointer both = make_solid(BooleanDescription{BooleanKind::union_of_all, {turned, hull}});
  const SolidPointer scaled = scaled_figure(both, Number(3), point(1, 0));
  for (const EngineChoice choice : {EngineChoice::parts, EngineChoice::nef}) {
    const std::unique_ptr<Engine> engine = make_engine(choice);
    const Solid before = engine->build(*both), after = engine->build(*scaled);
    CHECK(engine->volume(before) == Number(5));
    CHECK(engine->volume(after) == Number(45));
    const Box was = box_around(engine->boundary(before).vertices), is = box_around(engine->boundary(after).vertices);
    CHECK(is.minimum.z == Number(0));
    CHECK(is.maximum.z == Number(1));
    CHECK(is.minimum.x == Number(3) * was.minimum.x - Number(2));
    CHECK(is.maximum.y == Number(3) * was.maximum.y);
  }
}

TEST_CASE("the dimension of a text is known without reading the plan") {
  CHECK(dimension_of("cutproof: 2\ndimension: 2\n") == 2);
  CHECK(dimension_of("cutproof: 2\n") == 3);
}
