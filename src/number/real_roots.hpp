// SPDX-License-Identifier: GPL-3.0-or-later
// The real roots of polynomials with integer coefficients.
#pragma once

#include "number/flint.hpp"

namespace cutproof {

/// Encloses the `index`-th real root, in increasing order from 0, of a squarefree integer polynomial; false when there is
/// none.
bool enclose_real_root(arb_t ball, const fmpz_poly_t polynomial, int index, slong precision);
/// Which of the real roots of a squarefree polynomial the enclosed number is; ToolFault when it is none.
int index_of_real_root(const fmpz_poly_t polynomial, const Enclosure& root);
/// How many real roots a squarefree polynomial has.
int count_real_roots(const fmpz_poly_t polynomial);

}  // namespace cutproof
