// SPDX-License-Identifier: GPL-3.0-or-later
// Named shapes: published volumes, boundaries that pass the check, and each way to be flat or crossing.
#include "zoo/zoo.hpp"

#include "number/print.hpp"
#include "solid/boundary_check.hpp"
#include "solid/shapes.hpp"

#include <catch2/catch.hpp>

#include <functional>

using namespace cutproof;

namespace {

Number checked_volume(const SolidPointer& solid) {
  const Boundary boundary = zoo::boundary_of(solid);
  CHECK_NOTHROW(checked_boundary(zoo::written(boundary)));
  return volume(boundary);
}

std::string message_of(const std::function<SolidPointer()>& make) {
  try {
    make();
  } catch (const InvalidInput& error) {
    return error.what();
  }
  return "no error";
}

const std::vector<Vector3> arrow = {{0, 0, 0}, {4, 2, 0}, {0, 4, 0}, {1, 2, 0}};  // a kite with a reflex corner, area 6

}  // namespace

TEST_CASE("boxes, prisms and pyramids have their volumes", "[shapes]") {
  CHECK(checked_volume(make_box({1, 2, 3}, {-5, 0, 1})) == Number(6));
  CHECK(checked_volume(make_prism(arrow, {1, 1, 5})) == Number(30));
  CHECK(checked_volume(make_pyramid(arrow, {9, 9, 5})) == Number(10));
  std::vector<Vector3> turned(arrow.rbegin(), arrow.rend());
  CHECK(checked_volume(make_prism(turned, {1, 1, -5})) == Number(30));
  CHECK(checked_volume(make_prism(arrow, {1, 1, -5})) == Number(30));
  CHECK(checked_volume(make_pyramid(turned, {9, 9, -5})) == Number(10));
  const std::vector<Vector3> straight = {
      {0, 0, 0}, {1, 0, 0}, {2, 0, 0}, {2, 2, 2}, {0, 2, 2}};  // a corner in line, a slanting plane
  CHECK(checked_volume(make_prism(straight, {0, 0, 1})) == Number(4));
}

TEST_CASE("regular solids: volumes for unit edge", "[shapes]") {
  // H. S. M. Coxeter, Regular Polytopes, Table I (from memory)
  const std::map<std::string, std::string> published = {{"tetrahedron", "sqrt(2)/12"},
                                                        {"cube", "1"},
                                                        {"octahedron", "sqrt(2)/3"},
                                                        {"dodecahedron", "(15 + 7*sqrt(5))/4"},
                                                        {"icosahedron", "5*(3 + sqrt(5))/12"}};
  REQUIRE(regular_names().size() == 5);
  for (const std::string& name : regular_names()) {
    INFO(name);
    FieldTower tower;
    const SolidPointer solid = make_regular(name, Number(1), {1, 2, 3}, tower);
    const Number found = checked_volume(solid),
                 root2 = name[0] == 't' || name[0] == 'o' ? tower.square_root(Number(2)) : Number(0);
    const Number root5 = name[0] == 'd' || name[0] == 'i' ? tower.square_root(Number(5)) : Number(0);
    const auto over = [](long n, long d) { return Number::fraction(n, d); };
    const Number expected = name == "tetrahedron"    ? over(1, 12) * root2
                            : name == "cube"         ? Number(1)
                            : name == "octahedron"   ? over(1, 3) * root2
                            : name == "dodecahedron" ? over(15, 4) + over(7, 4) * root5
                                                     : over(5, 4) + over(5, 12) * root5;
    CHECK(found == expected);
    const Vector3 centre = divide(Number(1), found) * moment(zoo::boundary_of(solid));
    CHECK(centre == Vector3{1, 2, 3});
    CHECK(tower.top().degree() == (name == "cube" ? 1 : 2));
  }
}

TEST_CASE("an irrational edge adjoins nothing that is there", "[shapes]") {
  FieldTower tower;
  const Number edge = Number(2) * tower.square_root(Number(2));
  const SolidPointer solid = make_regular("tetrahedron", edge, {0, 0, 0}, tower);
  CHECK(tower.top().degree() == 2);
  for (const Vector3& p : std::get<HullDescription>(solid->kind).points) CHECK(square(p.x) == Number(1));
}

TEST_CASE("shapes that have no volume or cross themselves", "[shapes]") {
  using Catch::Contains;
  const Vector3 o{0, 0, 0}, up{0, 0, 1};
  CHECK_THAT(message_of([&] {
               return make_box({1, -2, 3}, o);
             }),
             Contains("the second size of this box is -2, which is not positive"));
  CHECK_THAT(message_of([&] { return make_box({0, 2, 3}, o); }), Contains("the first size of this box is 0"));
  const std::vector<Vector3> bow = {{0, 0, 0}, {2, 2, 0}, {2, 0, 0}, {0, 2, 0}};
  CHECK_THAT(message_of([&] { return make_prism(bow, up); }), Contains("from corner 1 to 2 and from corner 3 to 4 meet"));
  CHECK_THAT(message_of([&] { return make_prism({o, {1, 0, 0}, {2, 0, 0}}, up); }), Contains("lie on one line"));
  CHECK_THAT(message_of([&] { return make_prism({o, {1, 0, 0}}, up); }), Contains("at least three corners"));
  CHECK_THAT(message_of([&] { return make_prism({o, {1, 0, 0}, {0, 1, 0}, o}, up); }), Contains("corner 1"));
  CHECK_THAT(message_of([&] {
               return make_prism({o, {4, 0, 0}, {4, 4, 0}, {2, 0, 0}}, up);
             }),
             Contains("the base"));  // touches itself
  CHECK_THAT(message_of([&] {
               return make_prism({o, {4, 0, 0}, {2, 0, 0}, {2, 2, 0}}, up);
             }),
             Contains("the base turns back on itself"));
  CHECK_THAT(message_of([&] {
               return make_prism({o, {4, 0, 0}, {4, 4, 1}, {0, 4, 0}}, up);
             }),
             Contains("of the base does not lie in the plane of the others"));
  CHECK_THAT(message_of([&] { return make_prism(arrow, {1, 2, 0}); }), Contains("the prism is flat"));
  CHECK_THAT(message_of([&] { return make_pyramid(arrow, {7, 7, 0}); }), Contains("the pyramid is flat"));
  FieldTower tower;
  CHECK_THAT(message_of([&] { return make_regular("cube", Number(0), o, tower); }), Contains("is 0, which is not positive"));
  CHECK_THAT(message_of([&] { return make_regular("cubicle", Number(1), o, tower); }),
             Contains("there is no regular solid `cubicle`"));
}
