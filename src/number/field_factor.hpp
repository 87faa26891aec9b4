// SPDX-License-Identifier: GPL-3.0-or-later
// The irreducible factor of a polynomial over a field that vanishes at one real root, after B. M. Trager, "Algebraic
// factoring and rational function integration", SYMSAC 1976: it is read from a factor over Q of the norm of h(x - k*alpha).
#pragma once

#include "number/polynomial.hpp"

namespace cutproof {

/// The monic irreducible factor over its field of a polynomial that is monic, squarefree and has algebraic integers for
/// roots; the one that vanishes at the real root that `root` encloses. ToolFault when the polynomial is not squarefree.
Polynomial irreducible_factor(const Polynomial& monic, const Enclosure& root);

}  // namespace cutproof
