// SPDX-License-Identifier: GPL-3.0-or-later
// Volumes and counts are worked out by hand (faces, edges, vertices, shells, genus), not by the tool.
#include "zoo/zoo.hpp"

#include "solid/hull.hpp"
#include "zoo/builder.hpp"

#include <array>
#include <map>
#include <memory>

namespace cutproof::zoo {

namespace {

const Polygon square_of_three = {{0, 0}, {3, 0}, {3, 3}, {0, 3}};
const Polygon unit_hole = {{1, 1}, {1, 2}, {2, 2}, {2, 1}};

SurfaceCounts counts(std::size_t faces, std::size_t edges, std::size_t vertices, long shells, long genus) {
  return {faces, edges, vertices, shells, genus};
}

void add(std::vector<ZooSolid>& zoo, const char* name, const Boundary& boundary, Number volume, const SurfaceCounts& counts,
         int symmetries) {
  zoo.push_back({name, make_solid(SurfaceDescription{boundary}), 1, std::move(volume), counts, symmetries});
}

/// B. Jessen, Nordisk Mat. Tidskr. 15 (1967) 90-96: eight triangles as an icosahedron has them, and six dents along long
/// edges.
Boundary jessen_icosahedron() {
  Builder builder;
  const auto turned = [](int axis, long x, long y, long z) {
    return axis == 0 ? Vector3{x, y, z} : axis == 1 ? Vector3{z, x, y} : Vector3{y, z, x};
  };
  for (const long a : {1L, -1L})
    for (const long b : {1L, -1L})
      for (const long c : {1L, -1L}) {
        std::vector<Vector3> corners = {{2 * a, b, 0}, {0, 2 * b, c}, {a, 0, 2 * c}};
        if (a * b * c < 0) std::swap(corners[1], corners[2]);
        builder.face({corners});
      }
  for (int axis = 0; axis < 3; ++axis)
    for (const long a : {1L, -1L}) {
      const Vector3 up = turned(axis, a, 0, 2 * a), down = turned(axis, a, 0, -2 * a);
      builder.face({{turned(axis, 2 * a, 1, 0), up, down}});
      builder.face({{turned(axis, 2 * a, -1, 0), down, up}});
    }
  return builder.boundary();
}

struct IntegerSurface {
  const char* name;
  std::vector<std::array<long, 3>> points;
  std::vector<std::vector<int>> faces;
  Number volume;
  int symmetries;
};

/// Solids of which all edges but one have 90 or 270 degrees; that such solids exist is J.-P. Sydler's theorem (Comment.
/// Math. Helv. 40, 1965). The number in a name is the other edge's angle in degrees (109: arccos(-1/3)).
std::vector<IntegerSurface> one_edge_solids() {
  return {
      {"one-edge-135",
       {{0, 0, 0}, {1, -1, 2}, {1, -1, -2}, {2, 1, 1}, {2, 1, -1}, {2, 0, 0}, {3, 1, 0}, {3, -1, 0}},
       {{0, 1, 3}, {4, 2, 0}, {0, 3, 5}, {5, 4, 0}, {5, 3, 4}, {6, 4, 3}, {7, 6, 3, 1}, {2, 4, 6, 7}, {2, 1, 0}, {1, 2, 7}},
       7,
       2},
      {"one-edge-45",
       {{0, 0, 0},
        {1, -1, 2},
        {1, -1, -2},
        {2, 1, 1},
        {2, 1, -1},
        {2, 0, 0},
        {3, 1, 0},
        {3, -1, 0},
        {4, -4, 2},
        {4, -4, -2},
        {4, -1, 2},
        {4, -1, -2}},
       {{0, 1, 3},
        {4, 2, 0},
        {0, 3, 5},
        {5, 4, 0},
        {5, 3, 4},
        {6, 4, 3},
        {7, 6, 3, 1},
        {2, 4, 6, 7},
        {2, 9, 8, 1, 0},
        {1, 10, 11, 2, 7},
        {8, 9, 11, 10},
        {1, 8, 10},
        {11, 9, 2}},
       25,
       2},
      {"one-edge-60",
       {{0, 0, 0},
        {1, 1, -2},
        {2, -1, -1},
        {2, 1, -1},
        {2, 2, -2},
        {2, 2, 0},
        {3, 1, -2},
        {4, 0, 0},
        {4, 2, 2},
        {4, 4, 0},
        {4, 4, 4},
        {5, 3, 2},
        {5, 5, 2},
        {6, 2, 2},
        {6, 3, 1},
        {6, 3, 3}},
       {{7, 5, 9},
        {10, 0, 2, 7, 8, 13, 15},
        {9, 5, 4, 1, 0, 10, 12},
        {9, 8, 7},
        {1, 4, 6},
        {1, 6, 3},
        {0, 1, 2},
        {1, 3, 2},
        {15, 11, 12},
        {6, 4, 5, 7},
        {6, 7, 2},
        {2, 3, 6},
        {15, 13, 14},
        {11, 15, 14},
        {10, 15, 12},
        {14, 13, 8, 9},
        {14, 9, 12},
        {12, 11, 14}},
       Number::fraction(74, 3),
       2},
      {"one-edge-120",
       {{0, 0, 0},
        {1, -1, 2},
        {1, -1, -2},
        {2, 1, 1},
        {2, 1, -1},
        {2, 0, 0},
        {3, 0, 3},
        {5, -1, 2},
        {4, 1, 1},
        {3, 0, 1},
        {5, -1, -2},
        {5, -5, -2}},
       {{0, 1, 6, 3},
        {4, 2, 0},
        {6, 7, 8},
        {0, 3, 5},
        {9, 3, 6},
        {5, 4, 0},
        {6, 8, 9},
        {5, 3, 4},
        {8, 3, 9},
        {8, 4, 3},
        {2, 4, 8, 7},
        {2, 7, 10},
        {0, 2, 11, 1},
        {6, 1, 11, 7},
        {2, 10, 11},
        {11, 10, 7}},
       Number::fraction(106, 3),
       2},
      {"one-edge-109",
       {{0, 0, 0}, {1, -1, 2}, {1, -1, -2}, {2, 1, 1}, {2, 1, -1}, {2, 0, 0}, {3, 1, 0}, {3, -5, 0}, {0, -2, 0}},
       {{0, 1, 3},
        {4, 2, 0},
        {0, 3, 5},
        {5, 4, 0},
        {5, 3, 4},
        {6, 4, 3},
        {7, 6, 3, 1},
        {2, 4, 6, 7},
        {2, 1, 0},
        {1, 2, 8},
        {1, 8, 7},
        {2, 7, 8}},
       Number::fraction(49, 3),
       2},
  };
}

std::vector<ZooSolid> make_rational_solids() {
  std::vector<ZooSolid> zoo;
  const auto third = [](long n) { return Number::fraction(n, 3); };
  add(zoo, "box", Builder().box({0, 0, 0}, {1, 2, 3}).boundary(), 6, counts(6, 12, 8, 1, 0), 8);
  add(zoo, "tetrahedron", Builder().tetrahedron({0, 0, 0}, {1, 0, 0}, {1, 1, 0}, {1, 1, 1}).boundary(),
      Number::fraction(1, 6), counts(4, 6, 4, 1, 0), 2);
  add(zoo, "L", Builder().prism({{{0, 0}, {2, 0}, {2, 1}, {1, 1}, {1, 2}, {0, 2}}}, 0, 1).boundary(), 3,
      counts(8, 18, 12, 1, 0), 4);
  add(zoo, "tunnel", Builder().prism({square_of_three, unit_hole}, 0, 1).boundary(), 8, counts(10, 24, 16, 1, 1), 16);
  add(zoo, "two tunnels",
      Builder().prism({{{0, 0}, {5, 0}, {5, 3}, {0, 3}}, unit_hole, {{3, 1}, {3, 2}, {4, 2}, {4, 1}}}, 0, 1).boundary(), 13,
      counts(14, 36, 24, 1, 2), 8);
  add(zoo, "cavity", Builder().box({0, 0, 0}, {3, 3, 3}).turn_inside_out().box({1, 1, 1}, {2, 2, 2}).boundary(), 26,
      counts(12, 24, 16, 2, 0), 48);
  add(zoo, "body in a cavity",
      Builder()
          .box({0, 0, 0}, {5, 5, 5})
          .turn_inside_out()
          .box({1, 1, 1}, {4, 4, 4})
          .turn_inside_out()
          .box({2, 2, 2}, {3, 3, 3})
          .boundary(),
      99, counts(18, 36, 24, 3, 0), 48);
  add(zoo, "boxes touching along an edge", Builder().box({0, 0, 0}, {1, 1, 1}).box({1, 1, 0}, {2, 2, 1}).boundary(), 2,
      counts(12, 23, 14, 2, 0), 8);
  add(zoo, "boxes touching at a corner", Builder().box({0, 0, 0}, {1, 1, 1}).box({1, 1, 1}, {2, 2, 2}).boundary(), 2,
      counts(12, 24, 15, 2, 0), 12);
  // The hole reaches the outer edge over (2, 2): pulled apart there, the solid is a bent bar.
  add(zoo, "tunnel touching an edge",
      Builder().prism({{{0, 0}, {3, 0}, {3, 2}, {2, 2}, {2, 3}, {0, 3}}, unit_hole}, 0, 1).boundary(), 7,
      counts(12, 29, 18, 1, 0), 4);
  // The hole reaches the middle of a side face.
  add(zoo, "tunnel touching a face",
      Builder().prism({{{0, 0}, {2, 0}, {4, 0}, {4, 4}, {0, 4}}, {{2, 0}, {1, 1}, {2, 2}, {3, 1}}}, 0, 1).boundary(), 14,
      counts(10, 26, 16, 1, 0), 4);
  add(zoo, "cavity touching a corner",
      Builder()
          .box({0, 0, 0}, {3, 3, 3})
          .turn_inside_out()
          .tetrahedron({0, 0, 0}, {2, 1, 1}, {1, 2, 1}, {1, 1, 2})
          .boundary(),
      third(79), counts(10, 18, 11, 2, 0), 6);
  Builder wedge;
  wedge.box({0, 0, -1}, {4, 4, 0});
  wedge.face({{{1, 2, 0}, {1, 3, 1}, {3, 3, 1}, {3, 2, 0}}});
  wedge.face({{{1, 2, 0}, {3, 2, 0}, {3, 1, 1}, {1, 1, 1}}});
  wedge.face({{{1, 1, 1}, {3, 1, 1}, {3, 3, 1}, {1, 3, 1}}});
  wedge.face({{{1, 2, 0}, {1, 1, 1}, {1, 3, 1}}});
  wedge.face({{{3, 2, 0}, {3, 3, 1}, {3, 1, 1}}});
  add(zoo, "wedge on a face", wedge.boundary(), 18, counts(11, 21, 14, 2, 0), 4);
  add(zoo, "tip on a face",
      Builder().box({0, 0, -1}, {4, 4, 0}).tetrahedron({2, 2, 0}, {1, 1, 1}, {3, 1, 1}, {2, 3, 1}).boundary(), 16 + third(2),
      counts(10, 18, 12, 2, 0), 2);
  add(zoo, "Jessen's icosahedron", jessen_icosahedron(), 20, counts(20, 30, 12, 1, 0), 24);
  for (const IntegerSurface& surface : one_edge_solids())
    add(zoo, surface.name, Builder().numbered(surface.points, surface.faces).boundary(), surface.volume,
        counts(surface.faces.size(), surface.faces.size() + surface.points.size() - 2, surface.points.size(), 1, 0),
        surface.symmetries);
  return zoo;
}

Vector3 image(const std::array<Vector3, 3>& rows, const Vector3& p) {
  return {dot(rows[0], p), dot(rows[1], p), dot(rows[2], p)};
}

}  // namespace

const Number& generator_of_degree(int degree) {
  static FieldTower quadratic, cubic, quartic, octic;
  static const std::map<int, Number> generators = [] {
    std::map<int, Number> result{{1, Number(1)}};
    result[2] = quadratic.square_root(Number(2));
    result[3] = cubic.root(Number(2), 3);
    result[4] = quartic.root(Number(3), 4);
    for (const long radicand : {2L, 3L, 5L}) octic.square_root(Number(radicand));
    result[8] = octic.lifted(octic.square_root(Number(2)) + octic.square_root(Number(3)) + octic.square_root(Number(5)));
    return result;
  }();
  return generators.at(degree);
}

const std::vector<ZooSolid>& rational_solids() {
  static const std::vector<ZooSolid> zoo = make_rational_solids();
  return zoo;
}

const std::vector<ZooSolid>& regular_solids() {
  static FieldTower rational, silver, golden;
  static const std::vector<ZooSolid> zoo = [] {
    std::vector<ZooSolid> result;
    const Number g = Number::fraction(1, 2) * (Number(1) + golden.square_root(Number(5))), h = g - Number(1);
    const auto regular = [&](const char* name, std::vector<Vector3> points, const Number& scale, int degree,
                             const Number& volume, const SurfaceCounts& counts, int symmetries) {
      for (Vector3& p : points) p = scale * p;
      result.push_back({name, make_solid(HullDescription{std::move(points)}), degree, volume, counts, symmetries});
    };
    std::vector<Vector3> cube, octahedron, icosahedron, dodecahedron;
    for (const int i : {1, -1}) {
      for (const Vector3& p : {Vector3{i, 0, 0}, Vector3{0, i, 0}, Vector3{0, 0, i}}) octahedron.push_back(p);
      for (const int j : {1, -1}) {
        for (const int k : {1, -1}) cube.push_back({i, j, k});
        for (const Vector3& p : {Vector3{0, i, Number(j) * g}, Vector3{Number(j) * g, 0, i}, Vector3{i, Number(j) * g, 0}})
          icosahedron.push_back(p);
      }
    }
    dodecahedron = cube;
    for (const int i : {1, -1})
      for (const int j : {1, -1}) {
        const Number p = Number(i) * h, q = Number(j) * g;
        for (const Vector3& point : {Vector3{0, p, q}, Vector3{q, 0, p}, Vector3{p, q, 0}}) dodecahedron.push_back(point);
      }
    // Volumes for edge 2: eight times those of H. S. M. Coxeter, Regular Polytopes, Table I (from memory).
    const Number root2 = silver.square_root(Number(2)), root5 = golden.square_root(Number(5)),
                 half_root2 = Number::fraction(1, 2) * root2;
    regular("regular tetrahedron", {{1, 1, 1}, {1, -1, -1}, {-1, 1, -1}, {-1, -1, 1}}, half_root2, 2,
            Number::fraction(2, 3) * root2, counts(4, 6, 4, 1, 0), 24);
    regular("cube", cube, Number(1), 1, Number(8), counts(6, 12, 8, 1, 0), 48);
    regular("regular octahedron", octahedron, root2, 2, Number::fraction(8, 3) * root2, counts(8, 12, 6, 1, 0), 48);
    regular("regular dodecahedron", dodecahedron, g, 2, Number(30) + Number(14) * root5, counts(12, 30, 20, 1, 0), 24);
    regular("regular icosahedron", icosahedron, Number(1), 2, Number::fraction(10, 3) * (Number(3) + root5),
            counts(20, 30, 12, 1, 0), 24);
    return result;
  }();
  return zoo;
}

std::vector<ZooSolid> solids_of_degree(int degree) {
  const Number& g = generator_of_degree(degree);
  const std::array<Vector3, 3> rows = {Vector3{1, Number::fraction(1, 3) * g, 0}, Vector3{0, 1, Number::fraction(1, 2)},
                                       Vector3{Number::fraction(1, 5) * g, 0, 1}};
  const Number determinant = Number(1) + Number::fraction(1, 30) * g * g;
  std::vector<ZooSolid> result;
  for (const ZooSolid& original : rational_solids()) {
    Boundary boundary = boundary_of(original.solid);
    for (Vector3& p : boundary.vertices) p = image(rows, p);
    for (Facet& facet : boundary.facets) facet = facet_of(boundary.vertices, facet.cycles);
    result.push_back({original.name + ", degree " + std::to_string(degree), make_solid(SurfaceDescription{boundary}), degree,
                      determinant * original.volume, original.counts, 0});
  }
  return result;
}

const std::vector<ZooSolid>& all_solids() {
  static const std::vector<ZooSolid> zoo = [] {
    std::vector<ZooSolid> result = rational_solids();
    const auto append = [&](const ZooSolid& solid) { result.push_back(solid); };
    for (const ZooSolid& solid : regular_solids()) append(solid);
    const int degrees[] = {2, 3, 4, 8};
    std::vector<std::vector<ZooSolid>> over;
    for (const int degree : degrees) over.push_back(solids_of_degree(degree));
    for (std::size_t i = 0; i < rational_solids().size(); ++i) append(over[i % 4][i]);
    return result;
  }();
  return zoo;
}

Boundary boundary_of(const SolidPointer& solid) {
  if (const auto* surface = std::get_if<SurfaceDescription>(&solid->kind)) return surface->boundary;
  return convex_hull(std::get<HullDescription>(solid->kind).points);
}

WrittenSurface written(const Boundary& boundary) {
  WrittenSurface surface;
  surface.points = boundary.vertices;
  for (std::size_t i = 0; i < boundary.vertices.size(); ++i) surface.point_names.push_back("p" + std::to_string(i));
  for (std::size_t i = 0; i < boundary.facets.size(); ++i) {
    surface.faces.push_back(boundary.facets[i].cycles);
    surface.face_names.push_back("f" + std::to_string(i));
  }
  return surface;
}

}  // namespace cutproof::zoo
