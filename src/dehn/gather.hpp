// SPDX-License-Identifier: GPL-3.0-or-later
// What is shown of a decided invariant: its pivots, or fewer terms where angles that belong together have a sum that is no
// longer to write than they are.
#pragma once

#include "dehn/decision.hpp"

#include <vector>

namespace cutproof {

/// Terms of one class as one: the sum over its pivots of factor * coefficient * sqrt(r) (x) arctan(sqrt(T_pivot)) is
/// coefficient * sqrt(r) (x) arctan(sqrt(tangent_squared)), since the sum of factor * arctan(sqrt(T_pivot)) is
/// arctan(sqrt(tangent_squared)) modulo right angles.
struct GatheredTerm {
  std::size_t part;                 ///< which class of the decision
  std::vector<std::size_t> pivots;  ///< positions in the class, increasing
  std::vector<long> factors;        ///< not 0, without a common divisor
  Number coefficient, tangent_squared;
};

/// All pivots whose coefficients are not zero, each in one term; class by class, by first pivot. Those whose coefficients
/// are rational multiples of one another are one term where its angle's text is no longer than the longest of theirs and the
/// factors' sizes add up to at most 64. Of an angle and the negative of its complement the one with the shorter text is
/// taken; of two equally long ones the smaller.
std::vector<GatheredTerm> gathered_terms(const Decision& decision);

}  // namespace cutproof
