// SPDX-License-Identifier: GPL-3.0-or-later
// Three corners of the one hull are tried on every three of the other that are as far apart; a motion counts when what it
// carries has all its volume in common with where it is to come.
#include "oracle/places.hpp"

#include <algorithm>
#include <functional>
#include <optional>

namespace cutproof::oracle {
namespace {

Shape together(const std::vector<Shape>& shapes) {
  Shape all;
  for (const Shape& shape : shapes) all.insert(all.end(), shape.begin(), shape.end());
  return region(all);
}

/// Whether both are the same set of points.
bool same_points(const Shape& a, const Shape& b) {
  const Number own = volume(region(a));
  return own == volume(region(b)) && common_volume(a, b) == own;
}

std::vector<Vector3> hull_corners(const Shape& shape) {
  std::vector<Vector3> points;
  for (const Cell& cell : shape)
    for (const Cell::Corner& corner : cell.corners) points.push_back(corner.at);
  std::sort(points.begin(), points.end());
  points.erase(std::unique(points.begin(), points.end()), points.end());
  std::vector<Vector3> corners;
  for (const Cell::Corner& corner : hull(points).corners) corners.push_back(corner.at);
  return corners;
}

Number squared_distance(const Vector3& a, const Vector3& b) {
  return dot(a - b, a - b);
}

/// All motions of one sense that carry three of the corners to three of the others, and fit.
Ways all_motions(const std::vector<Vector3>& from, const std::vector<Vector3>& to, bool mirrored,
                 const std::function<bool(const Motion&)>& fits) {
  Ways found;
  for (std::size_t k = 2; k < from.size(); ++k) {
    const std::array<Vector3, 3> p = {from[0], from[1], from[k]};
    if (is_zero(cross(p[1] - p[0], p[2] - p[0]))) continue;
    for (const Vector3& a : to)
      for (const Vector3& b : to) {
        if (squared_distance(p[0], p[1]) != squared_distance(a, b)) continue;
        for (const Vector3& c : to) {
          if (squared_distance(p[0], p[2]) != squared_distance(a, c) ||
              squared_distance(p[1], p[2]) != squared_distance(b, c))
            continue;
          Motion motion = Motion::map(p, {a, b, c});
          if (mirrored) motion = motion.then(Motion::reflection(plane_through(a, b, c)));
          if (fits(motion)) found.push_back(motion);
        }
      }
    return found;
  }
  return found;
}

Ways told_apart(const std::vector<Shape>& moved, const Corners& corners, bool allow_mirror, bool flat,
                const std::function<Ways(bool)>& motions) {
  for (const bool mirrored : {false, true}) {
    if (mirrored && !allow_mirror) break;
    Ways ways;
    for (const Motion& motion : motions(mirrored)) {
      if (flat && (motion.rows()[2] != Vector3{0, 0, 1} || !motion.shift().z.is_zero())) continue;
      const bool goes_there =
          std::all_of(corners.begin(), corners.end(), [&](const auto& pair) { return motion(pair.first) == pair.second; });
      const auto same_way = [&](const Motion& known) {
        return std::all_of(moved.begin(), moved.end(),
                           [&](const Shape& shape) { return same_points(image(shape, known), image(shape, motion)); });
      };
      if (goes_there && std::none_of(ways.begin(), ways.end(), same_way)) ways.push_back(motion);
    }
    if (!ways.empty()) return ways;
  }
  return {};
}

/// The part of the plane that cells on one side have for a face, swept along a vector.
Shape swept_faces(const Shape& shape, const Plane& outside, const Vector3& along) {
  Shape swept;
  for (const Cell& cell : shape)
    for (std::size_t i = 0; i < cell.planes.size(); ++i) {
      bool same_side = false;
      if (!coincide(cell.planes[i], outside, &same_side) || !same_side) continue;
      std::vector<Vector3> points;
      for (const Cell::Corner& corner : cell.corners)
        if ((corner.planes >> i & 1) != 0) {
          points.push_back(corner.at);
          points.push_back(corner.at + along);
        }
      swept.push_back(hull(points));
    }
  return swept;
}

/// The face that a solid has in a plane: the plane turned so that its normal points out of the solid.
std::optional<Plane> face_in_plane(const Shape& shape, const Plane& plane) {
  const Shape up = swept_faces(shape, plane, plane.normal), down = swept_faces(shape, opposite(plane), plane.normal);
  const bool looks_up = !difference(up, down).empty(), looks_down = !difference(down, up).empty();
  if (looks_up == looks_down) return std::nullopt;
  return looks_up ? plane : opposite(plane);
}

Shape swept_face(const Shape& shape, const Plane& outside, const Vector3& along) {
  return difference(swept_faces(shape, outside, along), swept_faces(shape, opposite(outside), along));
}

std::vector<Vector3> corners_in(const Shape& swept, const Plane& plane) {
  std::vector<Vector3> corners = hull_corners(swept);
  corners.erase(
      std::remove_if(corners.begin(), corners.end(), [&](const Vector3& corner) { return side_of(plane, corner) != 0; }),
      corners.end());
  return corners;
}

}  // namespace

Shape image(const Shape& shape, const Motion& motion) {
  Shape moved;
  for (const Cell& cell : shape) moved.push_back(placed(cell, motion));
  return moved;
}

bool reaches(const Shape& shape, const Plane& plane, int side) {
  return std::any_of(shape.begin(), shape.end(), [&](const Cell& cell) {
    return std::any_of(cell.corners.begin(), cell.corners.end(),
                       [&](const Cell::Corner& corner) { return side_of(plane, corner.at) == side; });
  });
}

bool holds(const Shape& shape, const Vector3& point) {
  Number half(1);
  for (const Cell& cell : shape)
    for (const Plane& plane : cell.planes) {
      const Number value = absolute(evaluate(plane, point));
      const Number reach = absolute(plane.normal.x) + absolute(plane.normal.y) + absolute(plane.normal.z);
      if (!value.is_zero() && !(reach * half < value)) half = divide(value, reach + reach);
    }
  std::vector<Vector3> corners;
  for (const Number& x : {-half, half})
    for (const Number& y : {-half, half})
      for (const Number& z : {-half, half}) corners.push_back(point + Vector3{x, y, z});
  return common_volume({hull(corners)}, shape) == Number(8) * half * half * half;
}

bool lies_inside(const Shape& shape, const Shape& around) {
  return common_volume(shape, around) == volume(region(shape));
}

Ways ways_onto(const std::vector<Shape>& moved, const Shape& onto, const Corners& corners, bool allow_mirror, bool flat) {
  const Shape all = together(moved);
  if (volume(all) != volume(region(onto))) return {};
  return told_apart(moved, corners, allow_mirror, flat, [&](bool mirrored) {
    return all_motions(hull_corners(all), hull_corners(onto), mirrored,
                       [&](const Motion& motion) { return same_points(image(all, motion), onto); });
  });
}

Ways ways_to_lay(const std::vector<Shape>& moved, const Plane& plane, const Shape& against, const Plane& against_plane,
                 const Corners& corners, bool allow_mirror, bool flat) {
  const Shape all = together(moved), other = region(against);
  const std::optional<Plane> own = face_in_plane(all, plane), there = face_in_plane(other, against_plane);
  if (!own || !there) return {};
  const Shape laid = swept_face(all, *own, own->normal);
  return told_apart(moved, corners, allow_mirror, flat, [&](bool mirrored) {
    return all_motions(corners_in(laid, *own), corners_in(swept_face(other, *there, there->normal), *there), mirrored,
                       [&](const Motion& motion) {
                         // Body against body: what sticks out of the one face goes into the other's body.
                         const Vector3 along = motion.direction(own->normal);
                         return dot(along, there->normal).sign() < 0 && is_zero(cross(along, there->normal)) &&
                                same_points(image(laid, motion), swept_face(other, *there, along));
                       });
  });
}

}  // namespace cutproof::oracle
