// SPDX-License-Identifier: GPL-3.0-or-later
// Positive numbers of a field, grouped by what they are up to squares.
#pragma once

#include "dehn/decision.hpp"

#include <vector>

namespace cutproof {

struct SquareClass {
  Number radicand;                   ///< as simple as was found: a small integer where one is in the class
  std::vector<std::size_t> members;  ///< increasing
  std::vector<Number> scales;        ///< positive; scale^2 * radicand = member
};

struct SquareClasses {
  std::vector<SquareClass> classes;  ///< in the order of their first members
  std::vector<SquareSymbols> separations;
};

/// Exact: numbers of one class have a quotient whose square root was found, numbers of different classes differ in a
/// quadratic character, and a square has none.
SquareClasses group_by_square_class(const std::vector<Number>& positive_numbers);

}  // namespace cutproof
