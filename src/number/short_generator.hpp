// SPDX-License-Identifier: GPL-3.0-or-later
// A generator of an extension L = K(beta) with a short minimal polynomial: H. Cohen, "A Course in Computational Algebraic
// Number Theory", Springer 1993, 4.4.2.
//
// The products of an order's basis in K with powers of beta span an order of L. Under the sum of squared absolute values
// over all embeddings it is a lattice; lattice reduction makes its basis short, and a sum of few of its shortest elements
// generates L. The reduction's matrix is exact, so what is read from it is, too: how short the generator is depends on
// approximations, that it is one does not.
#pragma once

#include "number/polynomial.hpp"

#include <memory>

namespace cutproof {

/// What L is made of, in powers of its generator gamma.
struct ShortGenerator {
  IntegerPolynomial minimal_polynomial;
  Polynomial gamma;  ///< coefficients in powers of beta
  RationalPolynomial generator_below, beta;
  std::unique_ptr<RationalMatrix> integral_basis;  ///< as in Field
};

/// `irreducible`: the monic minimal polynomial of beta over K, an algebraic integer that `beta` encloses; its degree is at
/// least 2. The generator is positive.
ShortGenerator short_generator(const Polynomial& irreducible, const Enclosure& beta);

/// Encloses the value of a polynomial over a field at a real number.
void enclose_value(arb_t ball, const Polynomial& polynomial, const Enclosure& at, slong precision);

}  // namespace cutproof
