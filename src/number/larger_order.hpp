// SPDX-License-Identifier: GPL-3.0-or-later
// An order of a number field, enlarged until it is maximal at small primes: the second round of H. Zassenhaus's algorithm
// (H. Cohen, "A Course in Computational Algebraic Number Theory", Springer 1993, 6.1). Where primes ramify in several steps
// of a tower, the products of powers of what was adjoined span far less than all algebraic integers, and the shortest of
// these are missing.
#pragma once

#include "number/flint.hpp"
#include "number/number.hpp"
#include "number/polynomial.hpp"

#include <memory>
#include <vector>

namespace cutproof {

/// A larger order's basis: an element a row, its coordinates in the products w_i * beta^j (at i * above + j) over one
/// denominator.
struct OrderBasis {
  explicit OrderBasis(slong degree) : numerators(degree, degree), denominator(1) { fmpz_mat_one(numerators); }
  IntegerMatrix numerators;
  Integer denominator;
};

/// `below`: the basis w of an order of K that holds the coefficients of `irreducible`, whose root beta is. `discriminant`:
/// the norm of its discriminant; primes below 100 whose squares divide it are looked at. What comes back is a basis of an
/// order in any case.
std::unique_ptr<OrderBasis> larger_order(const Polynomial& irreducible, const std::vector<Number>& below,
                                         const fmpz_t discriminant);

}  // namespace cutproof
