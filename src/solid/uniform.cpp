// SPDX-License-Identifier: GPL-3.0-or-later
// The regular and the Archimedean solids: one table of corners. Their edges are the shortest distances between corners, so
// the scale follows from the corners themselves.
#include "number/print.hpp"
#include "solid/shapes.hpp"

#include <algorithm>
#include <optional>

namespace cutproof {

namespace {

enum class Orders { all, cyclic };

/// Which signs the coordinates get; a minus before 0 counts for none.
enum class Signs {
  all,
  even,    ///< an even number of minuses
  chiral,  ///< an even number in cyclic orders, an odd number in the others
};

struct Corners {
  Vector3 first;
  Orders orders;
  Signs signs = Signs::all;
};

/// All points of the orbits, each once.
std::vector<Vector3> all_corners(const std::vector<Corners>& orbits) {
  std::vector<Vector3> points;
  for (const auto& [p, orders, signs] : orbits)
    for (int minuses = 0; minuses < 8; ++minuses) {
      const bool odd = ((minuses ^ (minuses >> 1) ^ (minuses >> 2)) & 1) != 0;
      if (signs == Signs::even && odd) continue;
      const Number x = minuses & 1 ? -p.x : p.x, y = minuses & 2 ? -p.y : p.y, z = minuses & 4 ? -p.z : p.z;
      if (signs != Signs::chiral || !odd) points.insert(points.end(), {{x, y, z}, {y, z, x}, {z, x, y}});
      if (orders == Orders::all && (signs != Signs::chiral || odd))
        points.insert(points.end(), {{x, z, y}, {z, y, x}, {y, x, z}});
    }
  std::sort(points.begin(), points.end());
  points.erase(std::unique(points.begin(), points.end()), points.end());
  return points;
}

std::vector<Corners> regular_corners(const std::string& name, FieldTower& tower) {
  if (name == "tetrahedron") return {{{1, 1, 1}, Orders::all, Signs::even}};
  if (name == "cube") return {{{1, 1, 1}, Orders::all}};
  if (name == "octahedron") return {{{1, 0, 0}, Orders::cyclic}};
  const Number golden = Number::fraction(1, 2) * (Number(1) + tower.square_root(Number(5)));
  if (name == "icosahedron") return {{{0, 1, golden}, Orders::cyclic}};
  return {{{1, 1, 1}, Orders::all}, {{0, golden - Number(1), golden}, Orders::cyclic}};
}

std::vector<Corners> archimedean_corners(const std::string& name, FieldTower& tower) {
  const Number one(1), two(2), three(3);
  if (name == "truncated-tetrahedron") return {{{3, 1, 1}, Orders::all, Signs::even}};
  if (name == "cuboctahedron") return {{{1, 1, 0}, Orders::all}};
  if (name == "truncated-octahedron") return {{{0, 1, 2}, Orders::all}};
  if (name == "snub-cube") {
    const Number t = tower.polynomial_root({-1, -1, -1, 1}, Number::fraction(9, 5));
    return {{{one, divide(one, t), t}, Orders::all, Signs::chiral}};
  }
  if (name == "truncated-cube" || name == "rhombicuboctahedron" || name == "truncated-cuboctahedron") {
    const Number s = one + tower.square_root(two);
    if (name == "truncated-cube") return {{{s - two, one, one}, Orders::all}};
    if (name == "rhombicuboctahedron") return {{{one, one, s}, Orders::all}};
    return {{{one, s, two * s - one}, Orders::all}};
  }
  const Number g = Number::fraction(1, 2) * (one + tower.square_root(Number(5)));
  const Number inverse = g - one, squared = g + one, cubed = two * g + one;  // of g
  const auto cyclic = [](std::vector<Vector3> corners) {
    std::vector<Corners> orbits;
    for (Vector3& corner : corners) orbits.push_back({std::move(corner), Orders::cyclic});
    return orbits;
  };
  if (name == "icosidodecahedron") return cyclic({{0, 0, two * g}, {one, g, squared}});
  if (name == "truncated-dodecahedron") return cyclic({{0, inverse, two + g}, {inverse, g, two * g}, {g, two, squared}});
  if (name == "truncated-icosahedron") return cyclic({{0, one, three * g}, {one, two + g, two * g}, {g, two, cubed}});
  if (name == "rhombicosidodecahedron") return cyclic({{one, one, cubed}, {squared, g, two * g}, {two + g, 0, squared}});
  return cyclic({{inverse, inverse, three + g},  // truncated-icosidodecahedron
                 {two * inverse, g, cubed},
                 {inverse, squared, three * g - one},
                 {two * g - one, two, two + g},
                 {g, three, two * g}});
}

SolidPointer scaled_hull(const std::vector<Vector3>& corners, const Number& edge, const Vector3& centre, FieldTower& tower) {
  if (edge.sign() <= 0) throw InvalidInput("the edge of this solid is " + to_exact(edge) + ", which is not positive");
  std::optional<Number> shortest;  // from the first corner, which all others are like, squared
  for (const Vector3& corner : corners) {
    const Vector3 way = corner - corners.front();
    Number squared = dot(way, way);
    if (squared.sign() > 0 && (!shortest || squared < *shortest)) shortest = std::move(squared);
  }
  const Number length = tower.square_root(tower.lifted(*shortest));
  const Number scale = divide(tower.lifted(edge), length);
  HullDescription hull;
  for (const Vector3& corner : corners) {
    const Vector3 p = centre + scale * corner;
    hull.points.push_back({tower.lifted(p.x), tower.lifted(p.y), tower.lifted(p.z)});
  }
  return make_solid(std::move(hull));
}

void demand_name(const std::string& name, const std::vector<std::string>& names, const std::string& kind) {
  if (std::find(names.begin(), names.end(), name) != names.end()) return;
  std::string hint;
  for (std::size_t i = 0; i < names.size(); ++i) hint += (i == 0 ? "" : i + 1 == names.size() ? " or " : ", ") + names[i];
  throw InvalidInput("there is no " + kind + " solid `" + name + "`", hint);
}

}  // namespace

const std::vector<std::string>& regular_names() {
  static const std::vector<std::string> names = {"tetrahedron", "cube", "octahedron", "dodecahedron", "icosahedron"};
  return names;
}

const std::vector<std::string>& archimedean_names() {
  static const std::vector<std::string> names = {"truncated-tetrahedron",
                                                 "cuboctahedron",
                                                 "truncated-cube",
                                                 "truncated-octahedron",
                                                 "rhombicuboctahedron",
                                                 "truncated-cuboctahedron",
                                                 "icosidodecahedron",
                                                 "truncated-dodecahedron",
                                                 "truncated-icosahedron",
                                                 "rhombicosidodecahedron",
                                                 "truncated-icosidodecahedron",
                                                 "snub-cube"};
  return names;
}

SolidPointer make_regular(const std::string& name, const Number& edge, const Vector3& centre, FieldTower& tower) {
  demand_name(name, regular_names(), "regular");
  return scaled_hull(all_corners(regular_corners(name, tower)), edge, centre, tower);
}

SolidPointer make_archimedean(const std::string& name, const Number& edge, const Vector3& centre, FieldTower& tower) {
  demand_name(name, archimedean_names(), "Archimedean");
  return scaled_hull(all_corners(archimedean_corners(name, tower)), edge, centre, tower);
}

}  // namespace cutproof
