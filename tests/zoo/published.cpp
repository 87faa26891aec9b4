// SPDX-License-Identifier: GPL-3.0-or-later
// Volumes and dihedral angles: H. S. M. Coxeter, Regular Polytopes, Table I, and R. Williams, The Geometrical Foundation of
// Natural Structure (both from memory). Cosines of right angles are 0; the others are the closed forms of the angles that
// these books give in degrees. Dehn invariants: J. H. Conway, C. Radin and L. Sadun, "On angles whose squared trigonometric
// functions are rational", Discrete Comput. Geom. 22 (1999) 321-332; the rows were also computed by an independent program.
//
// The snub cube's volume (8t + 6)/(3 sqrt(2(t^2 - 3))), t the tribonacci constant, was compared to 60 digits in PARI/GP with
// the sum of cones from the centre over 6 squares and 32 triangles, 7.8894773999753902..., and so were its two angles,
// 142.983 and 153.235 degrees.
#include "zoo/published.hpp"

#include "number/tower.hpp"

#include <algorithm>

namespace cutproof::zoo {

namespace {

/// Of the points, those with an even number of negative coordinates and none that is zero.
std::vector<Vector3> even_minuses(const std::vector<Vector3>& points) {
  std::vector<Vector3> result;
  for (const Vector3& p : points)
    if ((p.x * p.y * p.z).sign() > 0) result.push_back(p);
  return result;
}

/// Coordinates 1, 1/t, t: permuted evenly with an odd number of minuses, and oddly with an even number.
std::vector<Vector3> snub_cube(const Number& t) {
  const Number one(1), s = divide(one, t);
  std::vector<Vector3> result;
  for (const Vector3& p : symmetric_points({{one, s, t}}, false))
    if ((p.x * p.y * p.z).sign() < 0) result.push_back(p);
  for (const Vector3& p : symmetric_points({{s, one, t}}, false))
    if ((p.x * p.y * p.z).sign() > 0) result.push_back(p);
  return result;
}

}  // namespace

std::vector<Vector3> symmetric_points(const std::vector<Vector3>& points, bool all_permutations) {
  std::vector<Vector3> result;
  for (const Vector3& p : points)
    for (int signs = 0; signs < 8; ++signs) {
      const Number x = signs & 1 ? -p.x : p.x, y = signs & 2 ? -p.y : p.y, z = signs & 4 ? -p.z : p.z;
      std::vector<Vector3> images = {{x, y, z}, {y, z, x}, {z, x, y}};
      if (all_permutations) images.insert(images.end(), {{x, z, y}, {z, y, x}, {y, x, z}});
      for (const Vector3& image : images)
        if (std::find(result.begin(), result.end(), image) == result.end()) result.push_back(image);
    }
  return result;
}

const std::vector<PublishedSolid>& published_solids() {
  static FieldTower silver, golden, tribonacci;
  static const std::vector<PublishedSolid> solids = [] {
    std::vector<PublishedSolid> result;
    const auto add = [&](const char* name, std::vector<Vector3> points, std::size_t edges, const Number& squared_volume,
                         std::vector<Cosine> cosines, std::optional<std::array<long, 3>> dehn, const Field& field) {
      for (Vector3& p : points) p = {p.x.lifted_to(field), p.y.lifted_to(field), p.z.lifted_to(field)};
      result.push_back({name, std::move(points), edges, squared_volume, std::move(cosines), dehn});
    };
    using Dehn = std::array<long, 3>;
    const auto over = [](long n, long d) { return Number::fraction(n, d); };
    const Number one(1), two(2), three(3);
    const Cosine right{0, Number(0)}, minus_third{-1, over(1, 9)}, minus_root_third{-1, over(1, 3)};

    const Field& q = Field::rational();
    add("tetrahedron", even_minuses(symmetric_points({{1, 1, 1}}, true)), 6, over(1, 72), {{1, over(1, 9)}}, Dehn{-12, 0, 0},
        q);
    add("cube", symmetric_points({{1, 1, 1}}, true), 12, one, {right}, Dehn{0, 0, 0}, q);
    add("octahedron", symmetric_points({{1, 0, 0}}, true), 12, over(2, 9), {minus_third}, Dehn{24, 0, 0}, q);
    add("truncated tetrahedron", even_minuses(symmetric_points({{3, 1, 1}}, true)), 18, over(23 * 23, 72),
        {{1, over(1, 9)}, minus_third}, Dehn{12, 0, 0}, q);
    add("cuboctahedron", symmetric_points({{1, 1, 0}}, true), 24, over(50, 9), {minus_root_third}, Dehn{-24, 0, 0}, q);
    add("truncated octahedron", symmetric_points({{0, 1, 2}}, true), 36, Number(128), {minus_third, minus_root_third},
        Dehn{0, 0, 0}, q);
    add("rhombic dodecahedron", symmetric_points({{1, 1, 1}, {2, 0, 0}}, true), 24, over(256, 27), {{-1, over(1, 4)}},
        Dehn{0, 0, 0}, q);

    const Number root2 = silver.square_root(two);
    const Field& s = silver.top();
    const Cosine straight_half{-1, over(1, 2)}, minus_root_two_thirds{-1, over(2, 3)};  // 135, 144.74 degrees
    add("truncated cube", symmetric_points({{root2 - one, 1, 1}}, true), 36,
        square(over(1, 3) * (Number(21) + Number(14) * root2)), {right, minus_root_third}, Dehn{-24, 0, 0}, s);
    add("rhombicuboctahedron", symmetric_points({{1, 1, one + root2}}, true), 48,
        square(over(1, 3) * (Number(12) + Number(10) * root2)), {straight_half, minus_root_two_thirds}, Dehn{24, 0, 0}, s);
    add("truncated cuboctahedron", symmetric_points({{1, one + root2, one + two * root2}}, true), 72,
        square(Number(22) + Number(14) * root2), {straight_half, minus_root_two_thirds, minus_root_third}, Dehn{0, 0, 0}, s);

    const Number root5 = golden.square_root(Number(5)), g = over(1, 2) * (one + root5), h = g - one;
    const Field& f = golden.top();
    const Cosine at_116{-1, over(1, 5)}, at_138{-1, over(5, 9)}, at_142{-1, over(1, 15) * (Number(5) + two * root5)},
        at_148{-1, over(1, 10) * (Number(5) + root5)}, at_159{-1, over(1, 6) * (three + root5)};
    add("dodecahedron", symmetric_points({{1, 1, 1}, {0, h, g}}, false), 30,
        square(over(1, 4) * (Number(15) + Number(7) * root5)), {at_116}, Dehn{0, -30, 0}, f);
    add("icosahedron", symmetric_points({{0, 1, g}}, false), 30, square(over(5, 12) * (three + root5)), {at_138},
        Dehn{0, 0, 60}, f);
    add("icosidodecahedron", symmetric_points({{0, 0, two * g}, {1, g, g * g}}, false), 60,
        square(over(1, 6) * (Number(45) + Number(17) * root5)), {at_142}, Dehn{0, 30, -60}, f);
    add("truncated icosahedron",
        symmetric_points({{0, 1, three * g}, {1, two + g, two * g}, {g, two, two * g + one}}, false), 90,
        square(over(1, 4) * (Number(125) + Number(43) * root5)), {at_138, at_142}, Dehn{0, 30, 0}, f);
    add("truncated dodecahedron", symmetric_points({{0, h, two + g}, {h, g, two * g}, {g, two, g + one}}, false), 90,
        square(over(5, 12) * (Number(99) + Number(47) * root5)), {at_116, at_142}, Dehn{0, 0, -60}, f);
    add("rhombicosidodecahedron", symmetric_points({{1, 1, g * g * g}, {g * g, g, two * g}, {two + g, 0, g * g}}, false),
        120, square(over(1, 3) * (Number(60) + Number(29) * root5)), {at_148, at_159}, Dehn{0, -30, 60}, f);
    add("truncated icosidodecahedron",
        symmetric_points({{h, h, three + g},
                          {two * h, g, one + two * g},
                          {h, g * g, three * g - one},
                          {two * g - one, two, two + g},
                          {g, three, two * g}},
                         false),
        180, square(Number(95) + Number(50) * root5), {at_142, at_148, at_159}, Dehn{0, 0, 0}, f);

    const Number t = tribonacci.polynomial_root({-1, -1, -1, 1}, two);
    add("snub cube", snub_cube(t), 60, divide(square(Number(8) * t + Number(6)), Number(18) * (t * t - three)),
        {{-1, one - divide(two, three * t)}, {-1, square(over(1, 3) * (two * t - one))}}, std::nullopt, tribonacci.top());
    return result;
  }();
  return solids;
}

}  // namespace cutproof::zoo
