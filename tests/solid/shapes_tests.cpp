// SPDX-License-Identifier: GPL-3.0-or-later
// Named shapes: published volumes, boundaries that pass the check, and each way to be flat or crossing.
#include "zoo/published.hpp"
#include "zoo/zoo.hpp"

#include "number/print.hpp"
#include "solid/boundary_check.hpp"
#include "solid/edges.hpp"
#include "solid/hull.hpp"
#include "solid/shapes.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <functional>
#include <random>

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

TEST_CASE("Archimedean solids: corners, edges, attitude", "[shapes]") {
  REQUIRE(archimedean_names().size() == 12);
  for (const zoo::PublishedSolid& published : zoo::published_solids()) {
    std::string name = published.name;
    std::replace(name.begin(), name.end(), ' ', '-');
    const std::vector<std::string>& names = archimedean_names();
    if (std::find(names.begin(), names.end(), name) == names.end()) continue;
    INFO(name);
    FieldTower tower;
    const Boundary boundary = zoo::boundary_of(make_archimedean(name, Number(1), {1, 2, 3}, tower));
    CHECK(boundary.vertices.size() == published.points.size());
    const std::vector<TrueEdge> edges = true_edges(boundary);
    CHECK(edges.size() == published.edges);
    for (const TrueEdge& edge : edges) CHECK(dot(edge.sectors.front().edge, edge.sectors.front().edge) == Number(1));
    const Number found = volume(boundary);
    // In fields of their own, so compared by their digits; the exact values stand in tests/contract/solids.yaml.
    CHECK(to_decimal(found * found, 40) == to_decimal(published.squared_volume, 40));
    CHECK(divide(Number(1), found) * moment(boundary) == Vector3{1, 2, 3});
    CHECK(tower.top().degree() == (name == "snub-cube" ? 6 : 2));
  }
  const auto corners = [](const std::string& name, const Number& edge, FieldTower& tower) {
    return zoo::boundary_of(make_archimedean(name, edge, {}, tower)).vertices;
  };
  const auto has = [](const std::vector<Vector3>& points, const Vector3& point) {
    return std::find(points.begin(), points.end(), point) != points.end();
  };
  FieldTower tower;
  const auto truncated = corners("truncated-tetrahedron", Number(2) * tower.square_root(Number(2)), tower);
  CHECK(has(truncated, {3, 1, 1}));
  CHECK(has(truncated, {-1, -3, 1}));
  CHECK_FALSE(has(truncated, {-3, 1, 1}));
  const Number t = tower.polynomial_root({-1, -1, -1, 1}, Number(2)), s = divide(Number(1), t);
  const Vector3 way = Vector3{Number(1), s, t} - Vector3{t, Number(1), s};
  const auto snub = corners("snub-cube", tower.square_root(dot(way, way)), tower);
  CHECK(has(snub, {Number(1), s, t}));
  CHECK(has(snub, {-s, -t, Number(1)}));
  CHECK(has(snub, {-Number(1), t, s}));
  CHECK_FALSE(has(snub, {-Number(1), s, t}));
  CHECK_FALSE(has(snub, {Number(1), t, s}));
}

TEST_CASE("zonohedra: published volumes, and the sum over triples of edges", "[shapes]") {
  FieldTower tower;
  const Number root5 = tower.square_root(Number(5)), g = Number::fraction(1, 2) * (Number(1) + root5);
  // Six edges along the diagonals of an icosahedron make the rhombic triacontahedron: 4*sqrt(5 + 2*sqrt(5)) times the cube
  // of its edge (H. S. M. Coxeter, Regular Polytopes, from memory).
  const std::vector<Vector3> six = {{0, 1, g}, {0, 1, -g}, {1, g, 0}, {1, -g, 0}, {g, 0, 1}, {-g, 0, 1}};
  const Boundary triacontahedron = zoo::boundary_of(make_zonohedron(six, {}));
  CHECK(triacontahedron.facets.size() == 30);
  const Number found = volume(triacontahedron), squared_edge = Number(2) + g;
  CHECK(found * found == Number(16) * (Number(5) + Number(2) * root5) * squared_edge * squared_edge * squared_edge);
  // Nine edges make the truncated cuboctahedron.
  const Number root2 = tower.square_root(Number(2));
  std::vector<Vector3> nine = {{root2, 0, 0}, {0, root2, 0}, {0, 0, root2}};
  for (const Vector3& diagonal : std::vector<Vector3>{{1, 1, 0}, {1, -1, 0}, {1, 0, 1}, {1, 0, -1}, {0, 1, 1}, {0, 1, -1}})
    nine.push_back(diagonal);
  const Boundary great = zoo::boundary_of(make_zonohedron(nine, {}));
  CHECK(great.vertices.size() == 48);
  CHECK(volume(great) == (Number(22) + Number(14) * root2) * Number(2) * root2);
  const unsigned seed = 20260514;
  INFO("seed " << seed);
  std::mt19937 random(seed);
  for (int round = 0; round < 20; ++round) {
    std::vector<Vector3> edges;
    const auto coordinate = [&] { return Number(static_cast<long>(random() % 5) - 2); };
    for (int i = 0; i < 6; ++i) edges.push_back({coordinate(), coordinate(), coordinate()});
    Number expected;
    for (std::size_t i = 0; i < 6; ++i)
      for (std::size_t j = 0; j < i; ++j)
        for (std::size_t k = 0; k < j; ++k) expected = expected + absolute(dot(cross(edges[i], edges[j]), edges[k]));
    if (expected.is_zero()) continue;
    CHECK(checked_volume(make_zonohedron(edges, {1, 2, 3})) == expected);
  }
}

TEST_CASE("half-spaces behind the faces of a convex solid are that solid", "[shapes]") {
  const auto planes_of = [](const Boundary& boundary) {
    std::vector<Plane> planes;
    for (const Facet& facet : boundary.facets) planes.push_back(facet.plane);
    return planes;
  };
  for (const zoo::PublishedSolid& published : zoo::published_solids()) {
    INFO(published.name);
    const Boundary solid = convex_hull(published.points);
    const Boundary again = zoo::boundary_of(make_half_spaces(planes_of(solid)));
    CHECK(again.vertices == solid.vertices);
    CHECK(again.facets.size() == solid.facets.size());
  }
  const unsigned seed = 20260515;
  INFO("seed " << seed);
  std::mt19937 random(seed);
  for (int round = 0; round < 20; ++round) {
    std::vector<Vector3> points;
    const auto coordinate = [&] { return Number(static_cast<long>(random() % 21) - 10); };
    for (int i = 0; i < 12; ++i) points.push_back({coordinate(), coordinate(), coordinate()});
    const Boundary solid = convex_hull(points);
    std::vector<Plane> planes = planes_of(solid);
    planes.push_back(planes.front());                                                              // twice
    planes.push_back({planes[1].normal, planes[1].offset + Number(1)});                            // behind another
    planes.push_back({planes[0].normal + planes[1].normal, planes[0].offset + planes[1].offset});  // through an edge at most
    std::shuffle(planes.begin(), planes.end(), random);
    CHECK(zoo::boundary_of(make_half_spaces(planes)).vertices == solid.vertices);
    // Without one of its planes the solid is another one, or none.
    planes = planes_of(solid);
    planes.erase(planes.begin());
    try {
      CHECK(volume(zoo::boundary_of(make_half_spaces(planes))) > volume(solid));
    } catch (const InvalidInput& error) {
      CHECK_THAT(error.what(), Catch::Contains("no plane stops a point"));
    }
  }
}
