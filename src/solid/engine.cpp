// SPDX-License-Identifier: GPL-3.0-or-later
// How pieces lie, by what every engine can do anyway. An engine that can tell sooner overrides these.
#include "solid/engine.hpp"

#include "solid/point_location.hpp"

#include <algorithm>

namespace cutproof {

namespace {

bool touch(const Box& a, const Box& b) {
  for (int axis = 0; axis < 3; ++axis)
    if (coordinate(a.maximum, axis) < coordinate(b.minimum, axis) ||
        coordinate(b.maximum, axis) < coordinate(a.minimum, axis))
      return false;
  return true;
}

bool lies_in(const Box& a, const Box& b) {
  for (int axis = 0; axis < 3; ++axis)
    if (coordinate(a.minimum, axis) < coordinate(b.minimum, axis) ||
        coordinate(a.maximum, axis) > coordinate(b.maximum, axis))
      return false;
  return true;
}

}  // namespace

bool Engine::reaches_beyond(const Solid& piece, const Plane& plane) {
  const std::vector<Vector3> corners = boundary(piece).vertices;
  return std::any_of(corners.begin(), corners.end(), [&](const Vector3& corner) { return side_of(plane, corner) > 0; });
}

bool Engine::holds(const Solid& piece, const Vector3& point) {
  return lies_in({point, point}, box(piece)) && locate(boundary(piece), point) > 0;
}

std::vector<char> Engine::inside(const std::vector<Solid>& pieces, const Solid& solid) {
  const Box around = box(solid);
  std::vector<char> result;
  for (const Solid& piece : pieces)
    result.push_back(lies_in(box(piece), around) && compare({piece}, {solid}).excess.empty() ? 1 : 0);
  return result;
}

std::vector<char> Engine::touching(const std::vector<Solid>& pieces, const std::vector<Solid>& others) {
  std::vector<Box> boxes;
  for (const Solid& other : others) boxes.push_back(box(other));
  std::vector<char> result;
  for (const Solid& piece : pieces) {
    const Box own = box(piece);
    bool found = false;
    for (std::size_t i = 0; i < others.size() && !found; ++i)
      found = touch(own, boxes[i]) && count_linked_groups({piece, others[i]}) == 1;
    result.push_back(found ? 1 : 0);
  }
  return result;
}

}  // namespace cutproof
