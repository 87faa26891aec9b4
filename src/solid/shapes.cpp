// SPDX-License-Identifier: GPL-3.0-or-later
// Everything that could make one of these shapes flat or self-crossing is checked here, exactly.
#include "solid/shapes.hpp"

#include "number/print.hpp"

#include <algorithm>

namespace cutproof {

namespace {

std::string corner_text(const std::vector<Vector3>& polygon, std::size_t i) {
  const Vector3& p = polygon[i];
  return "corner " + std::to_string(i + 1) + " (" + to_exact(p.x) + ", " + to_exact(p.y) + ", " + to_exact(p.z) + ")";
}

/// Whether the closed segments ab and cd, in one plane with the given normal, have a point in common.
bool segments_meet(const Vector3& a, const Vector3& b, const Vector3& c, const Vector3& d, const Vector3& normal) {
  const auto turn = [&](const Vector3& p, const Vector3& q, const Vector3& r) {
    return dot(cross(q - p, r - p), normal).sign();
  };
  const auto within = [](const Vector3& p, const Vector3& q, const Vector3& r) { return dot(p - r, q - r).sign() <= 0; };
  const int abc = turn(a, b, c), abd = turn(a, b, d), cda = turn(c, d, a), cdb = turn(c, d, b);
  if (abc * abd < 0 && cda * cdb < 0) return true;
  return (abc == 0 && within(a, b, c)) || (abd == 0 && within(a, b, d)) || (cda == 0 && within(c, d, a)) ||
         (cdb == 0 && within(c, d, b));
}

/// Twice the area vector of the polygon, after checking that it is simple and lies in one plane.
Vector3 checked_area(const std::vector<Vector3>& base) {
  const std::size_t n = base.size();
  if (n < 3) throw InvalidInput("a base needs at least three corners");
  const auto at = [&](std::size_t i) -> const Vector3& { return base[i % n]; };
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t j = i + 1; j < n; ++j)
      if (base[i] == base[j])
        throw InvalidInput("the base has one corner twice: " + corner_text(base, i) + " and corner " + std::to_string(j + 1),
                           "leave one of them out");
  Vector3 normal;
  for (std::size_t i = 1; i + 1 < n && is_zero(normal); ++i) normal = cross(base[i] - base[0], base[i + 1] - base[0]);
  if (is_zero(normal)) throw InvalidInput("the corners of the base lie on one line");
  for (std::size_t i = 0; i < n; ++i)
    if (!dot(normal, base[i] - base[0]).is_zero())
      throw InvalidInput(corner_text(base, i) + " of the base does not lie in the plane of the others");
  for (std::size_t i = 0; i < n; ++i) {
    if (is_zero(cross(at(i + 1) - at(i), at(i + 2) - at(i + 1))) && dot(at(i + 1) - at(i), at(i + 2) - at(i + 1)).sign() < 0)
      throw InvalidInput("the base turns back on itself at " + corner_text(base, (i + 1) % n));
    for (std::size_t j = i + 2; j < n; ++j) {
      if (i == 0 && j == n - 1) continue;
      if (segments_meet(at(i), at(i + 1), at(j), at(j + 1), normal))
        throw InvalidInput("the base crosses or touches itself: its edges from corner " + std::to_string(i + 1) + " to " +
                               std::to_string((i + 1) % n + 1) + " and from corner " + std::to_string(j + 1) + " to " +
                               std::to_string((j + 1) % n + 1) + " meet",
                           "give the corners in order round the polygon");
    }
  }
  Vector3 area;
  for (std::size_t i = 0; i < n; ++i) area = area + cross(at(i) - base[0], at(i + 1) - base[0]);
  return area;
}

Facet facet(const std::vector<Vector3>& vertices, std::vector<int> cycle) {
  // the area vector of the cycle is its outward normal
  Vector3 normal;
  const auto at = [&](std::size_t i) -> const Vector3& {
    return vertices[static_cast<std::size_t>(cycle[i % cycle.size()])];
  };
  for (std::size_t i = 0; i < cycle.size(); ++i) normal = normal + cross(at(i) - at(0), at(i + 1) - at(0));
  Plane plane{normal, dot(normal, at(0))};
  return {reduced(plane), {std::move(cycle)}};
}

}  // namespace

SolidPointer make_box(const Vector3& size, const Vector3& lowest) {
  for (const auto& [length, name] :
       {std::pair<const Number*, const char*>{&size.x, "first"}, {&size.y, "second"}, {&size.z, "third"}})
    if (length->sign() <= 0)
      throw InvalidInput("the " + std::string(name) + " size of this box is " + to_exact(*length) +
                         ", which is not positive");
  const Vector3 x{size.x, 0, 0}, y{0, size.y, 0}, z{0, 0, size.z};
  return make_prism({lowest, lowest + x, lowest + x + y, lowest + y}, z);
}

SolidPointer make_prism(const std::vector<Vector3>& given, const Vector3& along) {
  const Vector3 area = checked_area(given);
  const int side = dot(area, along).sign();
  if (side == 0) throw FlatShape("the prism is flat: its direction lies in the plane of its base");
  std::vector<Vector3> base = given;
  if (side < 0) std::reverse(base.begin(), base.end());  // now counterclockwise seen from where `along` points to
  const int n = static_cast<int>(base.size());
  Boundary boundary;
  boundary.vertices = base;
  for (const Vector3& corner : base) boundary.vertices.push_back(corner + along);
  std::vector<int> bottom, top;
  for (int i = 0; i < n; ++i) {
    bottom.push_back(n - 1 - i);
    top.push_back(n + i);
  }
  boundary.facets.push_back(facet(boundary.vertices, bottom));
  boundary.facets.push_back(facet(boundary.vertices, top));
  for (int i = 0; i < n; ++i) {
    const int j = (i + 1) % n;
    boundary.facets.push_back(facet(boundary.vertices, {i, j, n + j, n + i}));
  }
  return make_solid(SurfaceDescription{std::move(boundary)});
}

SolidPointer make_pyramid(const std::vector<Vector3>& given, const Vector3& apex) {
  const Vector3 area = checked_area(given);
  const int side = dot(area, apex - given[0]).sign();
  if (side == 0) throw FlatShape("the pyramid is flat: its apex lies in the plane of its base");
  std::vector<Vector3> base = given;
  if (side < 0) std::reverse(base.begin(), base.end());
  const int n = static_cast<int>(base.size());
  Boundary boundary;
  boundary.vertices = base;
  boundary.vertices.push_back(apex);
  std::vector<int> bottom;
  for (int i = 0; i < n; ++i) bottom.push_back(n - 1 - i);
  boundary.facets.push_back(facet(boundary.vertices, bottom));
  for (int i = 0; i < n; ++i) boundary.facets.push_back(facet(boundary.vertices, {i, (i + 1) % n, n}));
  return make_solid(SurfaceDescription{std::move(boundary)});
}

}  // namespace cutproof
