// SPDX-License-Identifier: GPL-3.0-or-later
// Convex cells for the oracle: half-spaces and corners that know on which of them they lie (the double description of
// T. S. Motzkin and others, 1953). No faces are walked and nothing is ordered, so no code is shared in thought with an
// engine.
#pragma once

#include "solid/geometry.hpp"

#include <cstdint>
#include <optional>
#include <vector>

namespace cutproof::oracle {

/// A bounded convex set with interior points: where evaluate(plane, p) <= 0 for all its planes, each of which bears a face.
struct Cell {
  struct Corner {
    Vector3 at;
    std::uint64_t planes;  ///< bit i: on planes[i]
  };
  std::vector<Plane> planes;
  std::vector<Corner> corners;
  double lower[3], upper[3];  ///< a box around it
};

struct Measure {
  Number volume;
  Vector3 moment;  ///< volume times centroid
};

/// The two sides of a plane; empty where the cell has no interior points.
struct Sides {
  std::optional<Cell> below, above;  ///< below: evaluate(plane, p) <= 0
};

/// The hull of points that are not all in one plane: every plane through three of them that leaves none outside.
Cell hull(const std::vector<Vector3>& points);
Sides split(const Cell& cell, const Plane& plane);
/// The image under x -> motion(about + factor * (x - about)), factor > 0.
Cell placed(const Cell& cell, const Motion& motion, const Number& factor = Number(1), const Vector3& about = {});
/// A sum over tetrahedra: over every face not at the first corner, over every edge of it not at its first corner.
Measure measure(const Cell& cell);
/// The mean of the corners, an interior point.
Vector3 middle(const Cell& cell);

/// Whether the boxes leave no common point.
bool boxes_apart(const Cell& a, const Cell& b);
/// What two cells share, if they share interior points.
std::optional<Cell> common(const Cell& a, const Cell& b);
/// Whether they lie on two sides of one plane and share an area of it.
bool share_area(const Cell& a, const Cell& b);
/// The parts of `a` outside `b`: disjoint cells; `a` itself where they share no interior points.
std::vector<Cell> difference(const Cell& a, const Cell& b);

}  // namespace cutproof::oracle
