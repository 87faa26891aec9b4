// SPDX-License-Identifier: GPL-3.0-or-later
// Everything about a cell follows from which corners lie on which planes: two corners are joined by an edge when no third
// one lies on all planes that they have in common.
#include "oracle/cell.hpp"

#include <algorithm>
#include <cmath>

namespace cutproof::oracle {
namespace {

constexpr std::size_t most_planes = 64;

std::uint64_t bit(std::size_t plane) {
  return std::uint64_t{1} << plane;
}

std::uint64_t new_plane(Cell& cell, const Plane& plane) {
  if (cell.planes.size() == most_planes) throw ToolFault("a cell of the oracle has more planes than it can number");
  cell.planes.push_back(plane);
  return bit(cell.planes.size() - 1);
}

bool joined_by_an_edge(const Cell& cell, std::size_t i, std::size_t j) {
  const std::uint64_t shared = cell.corners[i].planes & cell.corners[j].planes;
  for (std::size_t k = 0; k < cell.corners.size(); ++k)
    if (k != i && k != j && (cell.corners[k].planes & shared) == shared) return false;
  return true;
}

template <class Use>
void for_each_edge(const Cell& cell, const Use& use) {
  for (std::size_t i = 0; i < cell.corners.size(); ++i)
    for (std::size_t j = i + 1; j < cell.corners.size(); ++j)
      if (joined_by_an_edge(cell, i, j)) use(i, j);
}

// Drops planes that bear no face any more, and draws the box.
Cell finished(Cell cell) {
  std::vector<Plane> planes;
  std::vector<std::uint64_t> renamed(cell.corners.size(), 0);
  for (std::size_t f = 0; f < cell.planes.size(); ++f) {
    const auto bears = [&](const Cell::Corner& corner) { return (corner.planes & bit(f)) != 0; };
    if (std::count_if(cell.corners.begin(), cell.corners.end(), bears) < 3) continue;
    for (std::size_t i = 0; i < cell.corners.size(); ++i)
      if (bears(cell.corners[i])) renamed[i] |= bit(planes.size());
    planes.push_back(cell.planes[f]);
  }
  cell.planes = std::move(planes);
  std::fill_n(cell.lower, 3, INFINITY);
  std::fill_n(cell.upper, 3, -INFINITY);
  for (std::size_t i = 0; i < cell.corners.size(); ++i) {
    cell.corners[i].planes = renamed[i];
    const Number* const at[3] = {&cell.corners[i].at.x, &cell.corners[i].at.y, &cell.corners[i].at.z};
    for (int axis = 0; axis < 3; ++axis) {
      cell.lower[axis] = std::fmin(cell.lower[axis], at[axis]->interval().lower);
      cell.upper[axis] = std::fmax(cell.upper[axis], at[axis]->interval().upper);
    }
  }
  return cell;
}

bool all_outside(const Plane& plane, const Cell& cell) {
  return std::all_of(cell.corners.begin(), cell.corners.end(),
                     [&](const Cell::Corner& corner) { return side_of(plane, corner.at) >= 0; });
}

// Whether a face of one of them has the other one on its outer side.
bool parted_by_a_face(const Cell& a, const Cell& b) {
  const auto parts = [](const Cell& faces, const Cell& other) {
    return std::any_of(faces.planes.begin(), faces.planes.end(),
                       [&](const Plane& plane) { return all_outside(plane, other); });
  };
  return parts(a, b) || parts(b, a);
}

// The face raised along its normal to a prism; its planes from the third on stand on the face's edges.
Cell raised(const Cell& cell, std::size_t face) {
  const Plane& floor = cell.planes[face];
  const Vector3& up = floor.normal;
  Cell prism;
  const std::uint64_t at_bottom = new_plane(prism, opposite(floor));
  const std::uint64_t at_top = new_plane(prism, {up, floor.offset + dot(up, up)});
  std::vector<std::uint64_t> walls(cell.corners.size(), 0);
  for_each_edge(cell, [&](std::size_t i, std::size_t j) {
    if ((cell.corners[i].planes & cell.corners[j].planes & bit(face)) == 0) return;
    const Vector3 normal = cross(up, cell.corners[j].at - cell.corners[i].at);
    Plane wall{normal, dot(normal, cell.corners[i].at)};
    for (const Cell::Corner& corner : cell.corners)
      if ((corner.planes & bit(face)) != 0 && side_of(wall, corner.at) > 0) {
        wall = opposite(wall);
        break;
      }
    const std::uint64_t at_wall = new_plane(prism, wall);
    walls[i] |= at_wall;
    walls[j] |= at_wall;
  });
  for (std::size_t i = 0; i < cell.corners.size(); ++i) {
    if ((cell.corners[i].planes & bit(face)) == 0) continue;
    prism.corners.push_back({cell.corners[i].at, walls[i] | at_bottom});
    prism.corners.push_back({cell.corners[i].at + up, walls[i] | at_top});
  }
  return finished(std::move(prism));
}

}  // namespace

Cell hull(const std::vector<Vector3>& given) {
  std::vector<Vector3> points = given;
  std::sort(points.begin(), points.end());
  points.erase(std::unique(points.begin(), points.end()), points.end());
  Cell cell;
  std::vector<std::uint64_t> on(points.size(), 0);
  for (std::size_t i = 0; i < points.size(); ++i)
    for (std::size_t j = i + 1; j < points.size(); ++j)
      for (std::size_t k = j + 1; k < points.size(); ++k) {
        if ((on[i] & on[j] & on[k]) != 0) continue;  // on one face that is known, or in line on an edge
        const Vector3 normal = cross(points[j] - points[i], points[k] - points[i]);
        if (is_zero(normal)) continue;
        Plane plane = reduced({normal, dot(normal, points[i])});
        bool below = false, above = false;
        std::vector<std::size_t> inside;
        for (std::size_t p = 0; p < points.size() && !(below && above); ++p) {
          const int side = side_of(plane, points[p]);
          below = below || side < 0;
          above = above || side > 0;
          if (side == 0) inside.push_back(p);
        }
        if (below == above) {
          if (!below) throw InvalidInput("a hull of points in one plane");
          continue;
        }
        const std::uint64_t face = new_plane(cell, above ? opposite(plane) : plane);
        for (const std::size_t p : inside) on[p] |= face;
      }
  for (std::size_t p = 0; p < points.size(); ++p) {
    int faces = 0;
    for (std::size_t f = 0; f < cell.planes.size(); ++f) faces += (on[p] & bit(f)) != 0 ? 1 : 0;
    if (faces >= 3) cell.corners.push_back({points[p], on[p]});
  }
  if (cell.corners.size() < 4) throw InvalidInput("a hull of points in one plane");
  return finished(std::move(cell));
}

Sides split(const Cell& cell, const Plane& plane) {
  std::vector<int> side;
  bool below = false, above = false;
  for (const Cell::Corner& corner : cell.corners) {
    side.push_back(side_of(plane, corner.at));
    below = below || side.back() < 0;
    above = above || side.back() > 0;
  }
  if (!above) return {cell, std::nullopt};
  if (!below) return {std::nullopt, cell};
  Cell low, high;
  low.planes = high.planes = cell.planes;
  const std::uint64_t cut = new_plane(low, plane);
  new_plane(high, opposite(plane));
  for (std::size_t i = 0; i < cell.corners.size(); ++i) {
    const Cell::Corner& corner = cell.corners[i];
    if (side[i] <= 0) low.corners.push_back({corner.at, side[i] == 0 ? corner.planes | cut : corner.planes});
    if (side[i] >= 0) high.corners.push_back({corner.at, side[i] == 0 ? corner.planes | cut : corner.planes});
  }
  for_each_edge(cell, [&](std::size_t i, std::size_t j) {
    if (side[i] * side[j] >= 0) return;
    const Cell::Corner &from = cell.corners[i], &to = cell.corners[j];
    const Number a = evaluate(plane, from.at), b = evaluate(plane, to.at);
    const Vector3 at = from.at + divide(a, a - b) * (to.at - from.at);
    low.corners.push_back({at, (from.planes & to.planes) | cut});
    high.corners.push_back(low.corners.back());
  });
  return {finished(std::move(low)), finished(std::move(high))};
}

Cell placed(const Cell& cell, const Motion& motion, const Number& factor, const Vector3& about) {
  Cell image = cell;
  for (Plane& plane : image.planes) {
    const Number to_centre = dot(plane.normal, about);
    plane = motion(Plane{plane.normal, to_centre + factor * (plane.offset - to_centre)});
  }
  for (Cell::Corner& corner : image.corners) corner.at = motion(about + factor * (corner.at - about));
  return finished(std::move(image));
}

Measure measure(const Cell& cell) {
  std::vector<Number> volumes, x, y, z;
  const Vector3& top = cell.corners.front().at;
  std::vector<std::pair<std::size_t, std::size_t>> edges;
  for_each_edge(cell, [&](std::size_t i, std::size_t j) { edges.emplace_back(i, j); });
  for (std::size_t f = 0; f < cell.planes.size(); ++f) {
    if ((cell.corners.front().planes & bit(f)) != 0) continue;
    std::size_t first = 0;
    while ((cell.corners[first].planes & bit(f)) == 0) ++first;
    const Vector3& foot = cell.corners[first].at;
    for (const auto& [i, j] : edges) {
      if (i == first || j == first || (cell.corners[i].planes & cell.corners[j].planes & bit(f)) == 0) continue;
      const Vector3 &p = cell.corners[i].at, &q = cell.corners[j].at;
      const Number six = absolute(dot(foot - top, cross(p - top, q - top)));
      const Vector3 weighted = six * (top + foot + p + q);
      volumes.push_back(six);
      x.push_back(weighted.x);
      y.push_back(weighted.y);
      z.push_back(weighted.z);
    }
  }
  return {Number::fraction(1, 6) * balanced_sum(volumes),
          Number::fraction(1, 24) * Vector3{balanced_sum(x), balanced_sum(y), balanced_sum(z)}};
}

Vector3 middle(const Cell& cell) {
  Vector3 sum;
  for (const Cell::Corner& corner : cell.corners) sum = sum + corner.at;
  return Number::fraction(1, static_cast<long>(cell.corners.size())) * sum;
}

bool boxes_apart(const Cell& a, const Cell& b) {
  for (int axis = 0; axis < 3; ++axis)
    if (a.upper[axis] < b.lower[axis] || b.upper[axis] < a.lower[axis]) return true;
  return false;
}

std::optional<Cell> common(const Cell& a, const Cell& b) {
  if (boxes_apart(a, b) || parted_by_a_face(a, b)) return std::nullopt;
  std::optional<Cell> rest = a;
  for (const Plane& plane : b.planes) {
    rest = split(*rest, plane).below;
    if (!rest) break;
  }
  return rest;
}

bool share_area(const Cell& a, const Cell& b) {
  if (boxes_apart(a, b)) return false;
  for (std::size_t f = 0; f < a.planes.size(); ++f)
    for (std::size_t g = 0; g < b.planes.size(); ++g) {
      bool same_side = false;
      if (!coincide(a.planes[f], b.planes[g], &same_side) || same_side) continue;
      std::optional<Cell> rest = raised(a, f);
      const Cell other = raised(b, g);
      for (std::size_t wall = 2; wall < other.planes.size() && rest; ++wall) rest = split(*rest, other.planes[wall]).below;
      return rest.has_value();  // convex cells meet in one plane at most
    }
  return false;
}

std::vector<Cell> difference(const Cell& a, const Cell& b) {
  if (!common(a, b)) return {a};
  std::vector<Cell> outside;
  std::optional<Cell> rest = a;
  for (const Plane& plane : b.planes) {
    Sides sides = split(*rest, plane);
    if (sides.above) outside.push_back(std::move(*sides.above));
    rest = std::move(sides.below);
  }
  return outside;
}

}  // namespace cutproof::oracle
