// SPDX-License-Identifier: GPL-3.0-or-later
// What a solid is made from, as exact data, before any engine builds it. Each engine builds it by its own path.
#pragma once

#include "solid/boundary.hpp"
#include "solid/geometry.hpp"

#include <memory>
#include <variant>
#include <vector>

namespace cutproof {

struct SolidDescription;
using SolidPointer = std::shared_ptr<const SolidDescription>;

/// The convex hull of points that are not all in one plane.
struct HullDescription {
  std::vector<Vector3> points;
};

/// A closed surface that passed `checked_boundary` (solid/boundary_check.hpp).
struct SurfaceDescription {
  Boundary boundary;
};

enum class BooleanKind { union_of_all, intersection_of_all, first_minus_others };
/// A regularised boolean combination of at least one solid. The result may be empty or flat: the engine that builds it tells
/// (Engine::build returns null), and the reader makes an error of that.
struct BooleanDescription {
  BooleanKind kind;
  std::vector<SolidPointer> operands;
};

/// A copy of a solid under x -> motion(about + factor * (x - about)); factor > 0. Mirror images are allowed.
struct PlacedDescription {
  SolidPointer solid;
  Motion motion;
  Number factor = Number(1);
  Vector3 about;
};

struct SolidDescription {
  std::variant<HullDescription, SurfaceDescription, BooleanDescription, PlacedDescription> kind;
};

template <class Kind>
SolidPointer make_solid(Kind kind) {
  return std::make_shared<const SolidDescription>(SolidDescription{std::move(kind)});
}

}  // namespace cutproof
