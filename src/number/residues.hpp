// SPDX-License-Identifier: GPL-3.0-or-later
// Polynomials modulo a prime: what homomorphisms from a number field to residues are made of.
#pragma once

#include "number/field.hpp"
#include "number/flint.hpp"
#include "number/number.hpp"

#include <optional>
#include <vector>

namespace cutproof {

/// The simple roots of the polynomial modulo the prime, in increasing order; none when the prime divides the leading
/// coefficient.
std::vector<ulong> simple_roots(const fmpz_poly_t polynomial, ulong prime);

/// The number's image under a map of its field; nothing when the prime divides its denominator.
std::optional<ulong> residue(const Number& number, const ResidueMap& map);

}  // namespace cutproof
