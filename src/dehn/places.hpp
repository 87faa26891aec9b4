// SPDX-License-Identifier: GPL-3.0-or-later
// Homomorphisms from the numbers of a field to residues: what the hashes and the power residue characters are made of.
#pragma once

#include "number/field.hpp"
#include "number/flint.hpp"
#include "number/number.hpp"

#include <deque>
#include <optional>
#include <vector>

namespace cutproof {

/// A prime ideal of degree one: a prime q below 2^62 and a simple root of the field's minimal polynomial modulo q, which the
/// generator goes to. Numbers whose denominators q does not divide have a residue, and sums and products go to sums and
/// products.
struct PrimePlace {
  ulong q;
  ulong root;
};

/// The residue at a place; empty when q divides the number's denominator.
std::optional<ulong> residue(const Number& number, const PrimePlace& place);

inline ulong add_mod(ulong a, ulong b, ulong q) {
  return n_addmod(a, b, q);
}
inline ulong subtract_mod(ulong a, ulong b, ulong q) {
  return n_submod(a, b, q);
}
inline ulong multiply_mod(ulong a, ulong b, ulong q) {
  return n_mulmod2_preinv(a, b, q, n_preinvert_limb(q));
}
inline ulong power_mod(ulong base, ulong exponent, ulong q) {
  return n_powmod2_ui_preinv(base, exponent, q, n_preinvert_limb(q));
}

/// All places with q = 1 modulo `step` and q > `above`, in increasing order (of q, then of the root); found when asked for.
class PlaceSequence {
 public:
  PlaceSequence(const Field& field, ulong above, ulong step);
  /// Throws LimitReached when primes below 2^62 run out.
  const PrimePlace& operator[](std::size_t index);

 private:
  void find_more();
  const Field& field_;
  ulong next_, step_;
  std::deque<PrimePlace> found_;  // a deque: references stay valid
};

}  // namespace cutproof
