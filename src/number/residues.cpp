// SPDX-License-Identifier: GPL-3.0-or-later
#include "number/residues.hpp"

#include "number/coefficients.hpp"

#include <algorithm>

namespace cutproof {

std::vector<ulong> simple_roots(const fmpz_poly_t polynomial, ulong prime) {
  std::vector<ulong> roots;
  if (fmpz_fdiv_ui(fmpz_poly_lead(polynomial), prime) == 0) return roots;
  ResiduePolynomial reduced(prime), derivative(prime);
  fmpz_poly_get_nmod_poly(reduced, polynomial);
  nmod_poly_derivative(derivative, reduced);
  nmod_poly_factor_t factors;
  nmod_poly_factor_init(factors);
  nmod_poly_roots(factors, reduced, 0);
  for (slong i = 0; i < factors->num; ++i) {
    const ulong root = n_negmod(nmod_poly_get_coeff_ui(factors->p + i, 0), prime);
    if (nmod_poly_evaluate_nmod(derivative, root) != 0) roots.push_back(root);
  }
  nmod_poly_factor_clear(factors);
  std::sort(roots.begin(), roots.end());
  return roots;
}

std::optional<ulong> residue(const Number& number, const ResidueMap& map) {
  const Coefficients parts = coefficients(number.element(), number.field().nf());
  const ulong q = map.prime;  // below 2^32: products fit
  const ulong denominator = fmpz_fdiv_ui(parts.denominator, q);
  if (denominator == 0) return std::nullopt;
  ulong value = 0;
  for (slong i = parts.length - 1; i >= 0; --i)
    value = (value * map.generator_residue + fmpz_fdiv_ui(parts.numerator + i, q)) % q;
  return value * n_invmod(denominator, q) % q;
}

}  // namespace cutproof
