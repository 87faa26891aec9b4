// SPDX-License-Identifier: GPL-3.0-or-later
#include "number/polynomial.hpp"

#include "number/residues.hpp"

#include <bitset>
#include <utility>

namespace cutproof {

namespace {

constexpr std::size_t most_for_degrees = 512;

/// The degrees that products of the polynomial's irreducible factors modulo a prime can have.
std::bitset<most_for_degrees> possible_degrees(const ResiduePolynomial& polynomial) {
  std::bitset<most_for_degrees> possible(1);
  nmod_poly_factor_t factors;
  nmod_poly_factor_init(factors);
  nmod_poly_factor(factors, polynomial);
  for (slong i = 0; i < factors->num; ++i)
    for (slong times = 0; times < factors->exp[i]; ++times)
      possible |= possible << static_cast<std::size_t>(nmod_poly_degree(factors->p + i));
  nmod_poly_factor_clear(factors);
  return possible;
}

}  // namespace

Number evaluate(const Polynomial& polynomial, const Number& at) {
  Number value = polynomial.back().lifted_to(at.field());
  for (std::size_t i = polynomial.size() - 1; i-- > 0;) value = value * at + polynomial[i].lifted_to(at.field());
  return value;
}

Polynomial remainder(Polynomial dividend, const Polynomial& monic) {
  const std::size_t degree = monic.size() - 1;
  while (dividend.size() > degree) {
    const Number factor = std::move(dividend.back());
    dividend.pop_back();
    if (factor.is_zero()) continue;
    const std::size_t shift = dividend.size() - degree;
    for (std::size_t i = 0; i < degree; ++i)
      if (!monic[i].is_zero()) dividend[shift + i] -= factor * monic[i];
  }
  dividend.resize(degree, Number(0L, monic.back().field()));
  return dividend;
}

Polynomial product_modulo(const Polynomial& a, const Polynomial& b, const Polynomial& monic) {
  Polynomial result(a.size() + b.size() - 1, Number(0L, monic.back().field()));
  for (std::size_t i = 0; i < a.size(); ++i) {
    if (a[i].is_zero()) continue;
    for (std::size_t j = 0; j < b.size(); ++j)
      if (!b[j].is_zero()) result[i + j] += a[i] * b[j];
  }
  return remainder(std::move(result), monic);
}

bool proved_irreducible(const Polynomial& polynomial) {
  const Field& field = polynomial.back().field();
  const std::size_t degree = polynomial.size() - 1;
  if (degree <= 1) return true;
  if (degree >= most_for_degrees) return false;
  std::bitset<most_for_degrees> possible;
  possible.set();
  for (std::size_t i = 0; i < Field::residue_map_count; ++i) {
    const ResidueMap& map = field.residue_map(i);
    ResiduePolynomial residues(map.prime);
    bool integral = true;
    for (std::size_t j = 0; j <= degree && integral; ++j) {
      const std::optional<ulong> value = residue(polynomial[j], map);
      integral = value.has_value();
      if (integral) nmod_poly_set_coeff_ui(residues, static_cast<slong>(j), *value);
    }
    if (!integral) continue;
    possible &= possible_degrees(residues);
    if (possible.count() == 2) return true;  // 0 and the whole degree
  }
  return false;
}

}  // namespace cutproof
