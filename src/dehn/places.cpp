// SPDX-License-Identifier: GPL-3.0-or-later
// Roots modulo q must be simple: then the place's local ring is a valuation ring, and a square of the field that has a
// residue different from 0 is a square of something that has one, too. Non-residues prove non-squares only because of that.
#include "dehn/places.hpp"

#include "number/complaint.hpp"
#include "number/flint.hpp"
#include "number/residues.hpp"

#include <algorithm>

namespace cutproof {

std::optional<ulong> residue(const Number& number, const PrimePlace& place) {
  RationalPolynomial polynomial;
  number.get_polynomial(polynomial);
  const ulong inverse = n_preinvert_limb(place.q);
  const ulong denominator = fmpz_fdiv_ui(fmpq_poly_denref(polynomial.value), place.q);
  if (denominator == 0) return {};
  ulong value = 0;
  const fmpz* coefficients = fmpq_poly_numref(polynomial.value);
  for (slong i = fmpq_poly_length(polynomial) - 1; i >= 0; --i) {
    value = n_mulmod2_preinv(value, place.root, place.q, inverse);
    value = n_addmod(value, fmpz_fdiv_ui(coefficients + i, place.q), place.q);
  }
  return n_mulmod2_preinv(value, n_invmod(denominator, place.q), place.q, inverse);
}

PlaceSequence::PlaceSequence(const Field& field, ulong above, ulong step)
    : field_(field), next_(above / step * step + 1), step_(step) {
  while (next_ <= above) next_ += step_;
}

const PrimePlace& PlaceSequence::operator[](std::size_t index) {
  while (found_.size() <= index) find_more();
  return found_[index];
}

void PlaceSequence::find_more() {
  while (n_is_prime(next_) == 0) next_ += step_;
  if (next_ >> 62 != 0) throw OverLimit("dehn-relations", Wrong::primes_for_relations);
  for (const ulong root : simple_roots(field_.minimal_polynomial(), next_)) found_.push_back({next_, root});
  next_ += step_;
}

}  // namespace cutproof
