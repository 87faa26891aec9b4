// SPDX-License-Identifier: GPL-3.0-or-later
#include "support.hpp"

#include "number/flint.hpp"
#include "number/tower.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace cutproof::test {

namespace {

const Field& adjoined(const std::vector<std::pair<long, unsigned long>>& roots) {
  static std::vector<std::unique_ptr<FieldTower>> towers;
  towers.push_back(std::make_unique<FieldTower>());
  for (const auto& [radicand, degree] : roots) towers.back()->root(Number(radicand), degree);
  return towers.back()->top();
}

}  // namespace

const Field& rationals() {
  return Field::rational();
}
const Field& root_two() {
  static const Field& it = adjoined({{2, 2}});
  return it;
}
const Field& root_five() {
  static const Field& it = adjoined({{5, 2}});
  return it;
}
const Field& cube_root_two() {
  static const Field& it = adjoined({{2, 3}});
  return it;
}
const Field& fourth_degree() {
  static const Field& it = adjoined({{2, 2}, {3, 2}});
  return it;
}

Number power_of_ten(int exponent, const Field& field) {
  Number result(1L, field);
  for (int i = 0; i < exponent; ++i) result = Number(10L, field) * result;
  return result;
}

Number root(long square, const Field& field) {
  return square_root_within_field(Number(square, field)).value();
}

namespace {

struct Rough {
  double x, y, z;
};
Rough rough(const Vector3& v) {
  return {v.x.approximate(), v.y.approximate(), v.z.approximate()};
}

/// Corners of the convex hull of points in a plane, counterclockwise seen from the side that `normal` points to.
std::vector<int> planar_hull(const std::vector<Vector3>& points, std::vector<int> members, const Vector3& normal) {
  int drop = 0;
  for (int axis = 1; axis < 3; ++axis)
    if (std::fabs(coordinate(normal, axis).approximate()) > std::fabs(coordinate(normal, drop).approximate())) drop = axis;
  const int u = (drop + 1) % 3, v = (drop + 2) % 3;
  const auto turn = [&](int a, int b, int c) {
    const auto d = [&](int from, int to, int axis) { return coordinate(points[to], axis) - coordinate(points[from], axis); };
    return (d(a, b, u) * d(a, c, v) - d(a, b, v) * d(a, c, u)).sign();
  };
  std::sort(members.begin(), members.end(), [&](int a, int b) {
    const int by_u = compare(coordinate(points[a], u), coordinate(points[b], u));
    return by_u != 0 ? by_u < 0 : coordinate(points[a], v) < coordinate(points[b], v);
  });
  std::vector<int> cycle;
  for (int pass = 0; pass < 2; ++pass) {
    const std::size_t floor = std::max<std::size_t>(cycle.size(), 1);
    for (const int each : members) {
      while (cycle.size() > floor && turn(cycle[cycle.size() - 2], cycle.back(), each) <= 0) cycle.pop_back();
      if (cycle.empty() || cycle.back() != each) cycle.push_back(each);
    }
    std::reverse(members.begin(), members.end());
  }
  cycle.pop_back();
  if (coordinate(normal, drop).sign() < 0) std::reverse(cycle.begin(), cycle.end());
  return cycle;
}

}  // namespace

Boundary hull(const std::vector<Vector3>& given) {
  std::vector<Vector3> points;
  for (const Vector3& each : given)
    if (std::find(points.begin(), points.end(), each) == points.end()) points.push_back(each);
  std::vector<Rough> near;
  for (const Vector3& each : points) near.push_back(rough(each));
  const int n = static_cast<int>(points.size());
  Boundary boundary;
  boundary.vertices = points;
  std::set<std::vector<int>> seen;
  for (int i = 0; i < n; ++i)
    for (int j = i + 1; j < n; ++j)
      for (int k = j + 1; k < n; ++k) {
        const Rough &p = near[i], &q = near[j], &r = near[k];
        const Rough a{q.x - p.x, q.y - p.y, q.z - p.z}, b{r.x - p.x, r.y - p.y, r.z - p.z};
        const Rough m{a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
        bool above = false, below = false;
        for (const Rough& t : near) {
          const double side = m.x * (t.x - p.x) + m.y * (t.y - p.y) + m.z * (t.z - p.z);
          above = above || side > 1e-7;
          below = below || side < -1e-7;
        }
        if (above && below) continue;
        Vector3 normal = cross(points[j] - points[i], points[k] - points[i]);
        if (is_zero(normal)) continue;
        int most = 0, least = 0;
        std::vector<int> members;
        for (int t = 0; t < n; ++t) {
          const int side = dot(normal, points[t] - points[i]).sign();
          most = std::max(most, side);
          least = std::min(least, side);
          if (side == 0) members.push_back(t);
        }
        if (most > 0 && least < 0) continue;
        if (!seen.insert(members).second) continue;
        if (most > 0) normal = -normal;
        boundary.facets.push_back({{normal, dot(normal, points[i])}, {planar_hull(points, members, normal)}});
      }
  return boundary;
}

std::vector<CountedEdge> edges_of(const Boundary& boundary, int times) {
  std::map<std::pair<int, int>, const Facet*> half_edges;
  for (const Facet& facet : boundary.facets)
    for (const auto& cycle : facet.cycles)
      for (std::size_t i = 0; i < cycle.size(); ++i) half_edges[{cycle[i], cycle[(i + 1) % cycle.size()]}] = &facet;
  std::vector<CountedEdge> edges;
  for (const auto& [ends, facet] : half_edges) {
    if (ends.first > ends.second) continue;
    const Facet* other = half_edges.at({ends.second, ends.first});
    edges.push_back(
        {{boundary.vertices[ends.second] - boundary.vertices[ends.first], facet->plane.normal, other->plane.normal}, times});
  }
  return edges;
}

DehnSum sum_of(const std::shared_ptr<AngleTable>& table, const std::vector<CountedEdge>& edges) {
  DehnSum sum(table);
  for (const CountedEdge& each : edges) sum.add(each.term, each.times);
  return sum;
}

std::vector<std::vector<Vector3>> halves(const std::vector<Vector3>& points, const Plane& plane) {
  std::vector<Vector3> above, below, on;
  for (const Vector3& p : points) {
    const int side = evaluate(plane, p).sign();
    (side > 0 ? above : side < 0 ? below : on).push_back(p);
  }
  if (above.empty() || below.empty()) return {};
  for (const Vector3& a : above)
    for (const Vector3& b : below) {
      const Number u = evaluate(plane, a), v = -evaluate(plane, b);
      on.push_back(divide(Number(1), u + v) * (v * a + u * b));
    }
  if (above.size() * below.size() == 0) return {};
  const std::vector<Vector3> middle = on;
  above.insert(above.end(), middle.begin(), middle.end());
  below.insert(below.end(), middle.begin(), middle.end());
  return {above, below};
}

Number random_number(std::mt19937& random, const Field& field, long size) {
  RationalPolynomial polynomial;
  Rational coefficient;
  for (int i = 0; i < field.degree(); ++i) {
    fmpq_set_si(coefficient, static_cast<long>(random() % (2 * size + 1)) - size, 1 + random() % 3);
    fmpq_poly_set_coeff_fmpq(polynomial, i, coefficient);
  }
  return Number::from_polynomial(polynomial, field);
}

Vector3 random_vector(std::mt19937& random, const Field& field, long size) {
  Vector3 v;
  v.x = random_number(random, field, size);
  v.y = random_number(random, field, size);
  v.z = random_number(random, field, size);
  return v;
}

Motion random_motion(std::mt19937& random, const Field& field) {
  const auto entry = [&] { return Number(static_cast<long>(random() % 9) - 4, field); };
  Vector3 axis{entry(), entry(), entry()};
  if (is_zero(axis)) axis.x = Number(1L, field);
  const Number w = entry(), squares = dot(axis, axis), norm = w * w + squares;
  const Number two(2L, field);
  return Motion::rotation({entry(), entry(), entry()}, axis, divide(w * w - squares, norm), divide(two * w, norm));
}

}  // namespace cutproof::test
