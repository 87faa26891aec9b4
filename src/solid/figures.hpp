// SPDX-License-Identifier: GPL-3.0-or-later
// Figures of the plane, each thickened upright to the height 1: a polygon is the prism over it from z = 0 to z = 1, so that
// its volume is the polygon's area, a line is the upright plane over it, and a motion of the plane leaves every z as it is.
#pragma once

#include "number/tower.hpp"
#include "solid/description.hpp"

#include <vector>

namespace cutproof {

/// A rectangle with sides along the axes; `lowest` is its lowest corner. Throws InvalidInput unless both sizes are positive.
SolidPointer make_rectangle(const Vector3& size, const Vector3& lowest);

/// A simple polygon (its corners given either way round), without the insides of holes: simple polygons inside it that have
/// no point in common with it or with each other. InvalidInput otherwise, naming the corners at fault by their numbers
/// from 1.
SolidPointer make_polygon(const std::vector<Vector3>& outer, const std::vector<std::vector<Vector3>>& holes);

/// The convex hull of points that are not all on one line.
SolidPointer make_flat_hull(const std::vector<Vector3>& points);

/// The regular polygon with so many sides (3 or more) of the given length, its centre at a point and a level side below it.
/// Adjoins cosine and sine of 360/sides degrees.
SolidPointer make_regular_polygon(long sides, const Number& edge, const Vector3& centre, FieldTower& tower);

/// The figure x -> about + factor * (x - about), of the height 1 again.
SolidPointer scaled_figure(const SolidPointer& figure, const Number& factor, const Vector3& about);

/// The line through two points as an upright plane whose normal points to the left of the way from p to q. Throws
/// InvalidInput when they are equal.
Plane line_through(const Vector3& p, const Vector3& q);

}  // namespace cutproof
