// SPDX-License-Identifier: GPL-3.0-or-later
// Solids and fields for the tests of the Dehn invariant, built here by other means than the tool's own.
#pragma once

#include "dehn/dehn_sum.hpp"
#include "dehn/invariant.hpp"
#include "number/field.hpp"
#include "solid/boundary.hpp"

#include <memory>
#include <optional>
#include <random>
#include <string>
#include <vector>

namespace cutproof::test {

/// Fields live as long as the program.
const Field& rationals();
const Field& root_two();       ///< Q(sqrt(2))
const Field& root_five();      ///< Q(sqrt(5))
const Field& cube_root_two();  ///< Q(cbrt(2)): one real place, two complex ones
const Field& fourth_degree();  ///< Q(sqrt(2), sqrt(3)), totally real

/// The square root of a small integer that has one in the field.
Number root(long square, const Field& field);
Number power_of_ten(int exponent, const Field& field);

/// The convex hull of points not in one plane: all planes through three points are tried, exactly where doubles are close.
Boundary hull(const std::vector<Vector3>& points);
/// Every edge once, of a surface in which two facets meet at each edge.
std::vector<CountedEdge> edges_of(const Boundary& boundary, int times = 1);
DehnSum sum_of(const std::shared_ptr<AngleTable>& table, const std::vector<CountedEdge>& edges);

/// Whether the invariant is zero, numerically: no proof, and no code shared with the decision. Empty where gp is not
/// installed and where no angles are left or too many.
std::optional<bool> second_opinion(const std::vector<CountedEdge>& edges, const Field& field);

/// The two convex solids into which a plane cuts a convex one; null when it misses.
std::vector<std::vector<Vector3>> halves(const std::vector<Vector3>& points, const Plane& plane);

/// A number with coefficients n/d, |n| <= size, 1 <= d <= 3, in powers of the field's generator.
Number random_number(std::mt19937& random, const Field& field, long size);
Vector3 random_vector(std::mt19937& random, const Field& field, long size);
/// A rotation with rational matrix from a random quaternion, and a shift.
Motion random_motion(std::mt19937& random, const Field& field);

}  // namespace cutproof::test
