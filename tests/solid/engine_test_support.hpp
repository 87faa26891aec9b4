// SPDX-License-Identifier: GPL-3.0-or-later
// Solids, random choices and short words for the tests of engines. The solids are small, because the Nef engine is slow.
#pragma once

#include "solid/both_engines.hpp"
#include "solid/description.hpp"
#include "solid/geometry.hpp"
#include "zoo/zoo.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cstdlib>
#include <memory>
#include <random>
#include <string>
#include <vector>

namespace cutproof {

using PlanarPoint = std::pair<Number, Number>;
using PlanarCycle = std::vector<PlanarPoint>;

inline PlanarCycle scaled(const Number& unit, const std::vector<std::pair<int, int>>& points) {
  PlanarCycle cycle;
  for (const auto& [x, y] : points) cycle.emplace_back(unit * Number(x), unit * Number(y));
  return cycle;
}

/// The prism from z = 0 to z = height over polygons: each an outer cycle, counterclockwise, then its holes, clockwise.
inline Boundary prism_boundary(const std::vector<PlanarCycle>& cycles, const Number& height) {
  Boundary boundary;
  const auto index = [&boundary](const Vector3& p) {
    const auto known = std::find(boundary.vertices.begin(), boundary.vertices.end(), p);
    if (known != boundary.vertices.end()) return static_cast<int>(known - boundary.vertices.begin());
    boundary.vertices.push_back(p);
    return static_cast<int>(boundary.vertices.size()) - 1;
  };
  const Plane down{{0, 0, -1}, 0}, up{{0, 0, 1}, height};
  std::vector<Facet> bottoms, tops, sides;
  for (const PlanarCycle& cycle : cycles) {
    Number twice_area;
    for (std::size_t i = 0; i < cycle.size(); ++i) {
      const PlanarPoint &a = cycle[i], &b = cycle[(i + 1) % cycle.size()];
      twice_area += a.first * b.second - a.second * b.first;
    }
    if (twice_area.sign() > 0) {  // not a hole of the polygon before
      bottoms.push_back({down, {}});
      tops.push_back({up, {}});
    }
    std::vector<int> low, high;
    for (const auto& [x, y] : cycle) {
      low.push_back(index({x, y, 0}));
      high.push_back(index({x, y, height}));
    }
    for (std::size_t i = 0; i < cycle.size(); ++i) {
      const std::size_t next = (i + 1) % cycle.size();
      sides.push_back({plane_through(boundary.vertices[low[i]], boundary.vertices[low[next]], boundary.vertices[high[next]]),
                       {{low[i], low[next], high[next], high[i]}}});
    }
    tops.back().cycles.push_back(high);
    std::reverse(low.begin(), low.end());
    bottoms.back().cycles.push_back(low);
  }
  for (const std::vector<Facet>& facets : {bottoms, tops, sides})
    boundary.facets.insert(boundary.facets.end(), facets.begin(), facets.end());
  return boundary;
}

inline SolidPointer prism(const std::vector<PlanarCycle>& cycles, const Number& height) {
  return make_solid(SurfaceDescription{prism_boundary(cycles, height)});
}

inline SolidPointer box_solid(const Vector3& low, const Vector3& high) {
  std::vector<Vector3> corners;
  for (const Number& x : {low.x, high.x})
    for (const Number& y : {low.y, high.y})
      for (const Number& z : {low.z, high.z}) corners.push_back({x, y, z});
  return make_solid(HullDescription{corners});
}

/// A box within a box, the inner one turned inside out.
inline SolidPointer hollow_box(const Number& unit) {
  const auto square = [&](int low, int high) { return scaled(unit, {{low, low}, {high, low}, {high, high}, {low, high}}); };
  Boundary outer = prism_boundary({square(0, 3)}, Number(3) * unit), inner = prism_boundary({square(1, 2)}, unit);
  const int shift = static_cast<int>(outer.vertices.size());
  for (Vector3& p : inner.vertices) outer.vertices.push_back({p.x, p.y, p.z + unit});
  for (const Facet& facet : inner.facets) {
    std::vector<int> cycle(facet.cycles.front().rbegin(), facet.cycles.front().rend());
    for (int& corner : cycle) corner += shift;
    outer.facets.push_back(
        {plane_through(outer.vertices[cycle[0]], outer.vertices[cycle[1]], outer.vertices[cycle[2]]), {cycle}});
  }
  return make_solid(SurfaceDescription{outer});
}

struct NamedShape {
  std::string name;
  SolidPointer solid;
  Number volume;
  std::size_t vertices, facets, parts;
};

/// One solid of each kind, scaled by `unit`.
inline std::vector<NamedShape> test_shapes(const Number& unit) {
  const Number cube = unit * unit * unit;
  const auto polygon = [&](const std::vector<std::pair<int, int>>& points) { return scaled(unit, points); };
  const PlanarCycle square = polygon({{0, 0}, {3, 0}, {3, 3}, {0, 3}});
  return {
      {"tetrahedron", make_solid(HullDescription{{{0, 0, 0}, {unit, 0, 0}, {0, unit, 0}, {0, 0, unit}}}),
       Number::fraction(1, 6) * cube, 4, 4, 1},
      {"box with points on its faces",
       make_solid(HullDescription{{{0, 0, 0},
                                   {unit, 0, 0},
                                   {unit, unit, 0},
                                   {0, unit, 0},
                                   {0, 0, unit},
                                   {unit, 0, unit},
                                   {unit, unit, unit},
                                   {0, unit, unit},
                                   {Number::fraction(1, 2) * unit, 0, 0},
                                   {Number::fraction(1, 2) * unit, Number::fraction(1, 3) * unit, unit}}}),
       cube, 8, 6, 1},
      {"L", prism({polygon({{0, 0}, {2, 0}, {2, 1}, {1, 1}, {1, 2}, {0, 2}})}, unit), Number(3) * cube, 12, 8, 1},
      {"frame", prism({square, polygon({{1, 1}, {1, 2}, {2, 2}, {2, 1}})}, unit), Number(8) * cube, 16, 10, 1},
      {"hollow box", hollow_box(unit), Number(26) * cube, 16, 12, 1},
      // The hole touches the outside along the edge over (2, 2).
      {"pinched frame",
       prism({polygon({{0, 0}, {3, 0}, {3, 2}, {2, 2}, {2, 3}, {0, 3}}), polygon({{1, 1}, {1, 2}, {2, 2}, {2, 1}})}, unit),
       Number(7) * cube, 18, 12, 1},
      {"boxes touching along an edge",
       prism({polygon({{0, 0}, {1, 0}, {1, 1}, {0, 1}}), polygon({{1, 1}, {2, 1}, {2, 2}, {1, 2}})}, unit), Number(2) * cube,
       14, 12, 2},
  };
}

/// One engine, and what tests say to it. An engine works in one tower of fields, so each test case has a bench of its own.
struct Bench {
  explicit Bench(EngineChoice choice) : engine(make_engine(choice)) {}
  std::unique_ptr<Engine> engine;

  Solid box(const Vector3& low, const Vector3& high) { return engine->build(*box_solid(low, high)); }
  Solid cube(int x, int y, int z, int size = 1) { return box({x, y, z}, {x + size, y + size, z + size}); }
  Number volume(const Solid& piece) { return piece ? engine->volume(piece) : Number(0); }
  Number volume(const std::vector<Solid>& pieces) {
    std::vector<Number> volumes;
    for (const Solid& piece : pieces) volumes.push_back(engine->volume(piece));
    return balanced_sum(volumes);
  }
  bool same(const Solid& a, const Solid& b) { return engine->compare({a}, {b}).filled() && volume(a) == volume(b); }
  Vector3 middle(const Solid& piece) {
    const Box around = engine->box(piece);
    return Number::fraction(1, 2) * (around.minimum + around.maximum);
  }
  bool disjoint(const std::vector<Solid>& pieces) {
    return engine->overlapping_pairs(pieces, std::vector<char>(pieces.size(), 1)).empty();
  }
};

inline void check_equal(const Boundary& found, const Boundary& expected) {
  CHECK(found.vertices == expected.vertices);
  REQUIRE(found.facets.size() == expected.facets.size());
  for (std::size_t i = 0; i < found.facets.size(); ++i) {
    CHECK(found.facets[i].cycles == expected.facets[i].cycles);
    CHECK(found.facets[i].plane.normal == expected.facets[i].plane.normal);
    CHECK(found.facets[i].plane.offset == expected.facets[i].plane.offset);
  }
}

/// Whether slow tests run all their cases, or a fixed tenth of them.
inline bool slow_tests() {
  const char* text = std::getenv("CUTPROOF_SLOW");
  return text != nullptr && std::string(text) == "1";
}

/// Draws that depend on the seed alone.
class Dice {
 public:
  explicit Dice(unsigned seed) : generator_(seed) {}
  long upto(long last) { return static_cast<long>(generator_() % static_cast<unsigned long>(last + 1)); }
  long between(long first, long last) { return first + upto(last - first); }
  /// A number a + b * unit with small rational a, b.
  Number number(const Number& unit) {
    return Number::fraction(between(-6, 6), between(1, 3)) + Number::fraction(between(-2, 2), between(1, 3)) * unit;
  }
  Vector3 vector(const Number& unit) { return {number(unit), number(unit), number(unit)}; }
  Vector3 direction(const Number& unit) {
    while (true) {
      const Vector3 v = vector(unit);
      if (!is_zero(v)) return v;
    }
  }
  Plane plane_near(const Vector3& point, const Number& unit) {
    const Vector3 normal = upto(2) == 0 ? axis() : direction(unit);
    return {normal, dot(normal, point)};
  }
  /// A proper motion: the rotation with the quaternion (1, q), which needs no root, and a translation.
  Motion motion(const Number& unit) {
    const Vector3 q = upto(3) == 0 ? axis() : Vector3{number(unit), Number(between(-2, 2)), Number(between(-2, 2))};
    const Number length = dot(q, q), norm = Number(1) + length;
    const Motion shift = Motion::translation(vector(unit));
    if (is_zero(q)) return shift;
    return Motion::rotation(vector(unit), q, divide(Number(1) - length, norm), divide(Number(2), norm)).then(shift);
  }

 private:
  Vector3 axis() {
    const long which = upto(2);
    return {which == 0 ? 1 : 0, which == 1 ? 1 : 0, which == 2 ? 1 : 0};
  }
  std::mt19937 generator_;
};

}  // namespace cutproof
