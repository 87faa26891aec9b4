// SPDX-License-Identifier: GPL-3.0-or-later
// Polynomials over a number field.
#pragma once

#include "number/number.hpp"

#include <vector>

namespace cutproof {

/// Coefficients over one field, lowest first; the last one is not zero.
using Polynomial = std::vector<Number>;

/// The value at a number of the polynomial's field or of one above it.
Number evaluate(const Polynomial& polynomial, const Number& at);

/// The remainder of a division by a monic polynomial; as many coefficients as the divisor's degree.
Polynomial remainder(Polynomial dividend, const Polynomial& monic);

/// The product modulo a monic polynomial; as many coefficients as its degree.
Polynomial product_modulo(const Polynomial& a, const Polynomial& b, const Polynomial& monic);

/// True when the residues of the polynomial (monic, over one field) at primes prove that it is irreducible over its field:
/// no sum of degrees of factors is possible at all of them. False says nothing.
bool proved_irreducible(const Polynomial& polynomial);

}  // namespace cutproof
