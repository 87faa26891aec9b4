// SPDX-License-Identifier: GPL-3.0-or-later
// Squares in a field. Both answers are proved: "no" by a quadratic residue symbol or by factoring x^2 - c, "yes" by squaring
// the root, wherever it came from. Sums of lengths ask this thousands of times, so the common cases avoid the factoring.
#include "number/extension.hpp"
#include "number/flint.hpp"
#include "number/residues.hpp"
#include "number/tower.hpp"

#include <algorithm>

namespace cutproof {

namespace {

std::optional<Number> rational_square_root(const Number& number) {
  Rational value, root;
  number.get_rational(value);
  if (!fmpz_is_square(value.numerator()) || !fmpz_is_square(value.denominator())) return std::nullopt;
  fmpz_sqrt(root.numerator(), value.numerator());
  fmpz_sqrt(root.denominator(), value.denominator());
  return Number(root, number.field());
}

/// True when the number's image under one of the field's residue maps is no square: then it is none in the field. A square
/// of the field maps to a square wherever it maps to a unit, because the generator's residue lifts to a root in the q-adic
/// integers.
bool refuted_by_residues(const Number& number) {
  for (std::size_t i = 0; i < Field::residue_map_count; ++i) {
    const ResidueMap& map = number.field().residue_map(i);
    const std::optional<ulong> value = residue(number, map);
    if (value && *value != 0 && n_jacobi_unsigned(*value, map.prime) < 0) return true;
  }
  return false;
}

/// A candidate for the root from its real value: a short integer relation d*s = sum of a_i * alpha^i, found by lattice
/// reduction. Nothing when the root found does not square to the number.
std::optional<Number> root_from_lattice(const Number& number) {
  const Field& field = number.field();
  const slong degree = field.degree();
  const slong precision = (degree + 2) * (static_cast<slong>(number.bits()) / 2 + 16);
  if (precision > 20000) return std::nullopt;
  Ball root, generator, power;
  number.enclose(root, precision + 64);
  arb_sqrtpos(root, root, precision + 64);
  field.enclose_generator(generator, precision + 64);
  fmpz_mat_t lattice;
  fmpz_mat_init(lattice, degree + 1, degree + 2);
  arb_one(power);
  for (slong i = 0; i <= degree; ++i) {
    Ball& entry = i < degree ? power : root;
    Ball scaled;
    arb_mul_2exp_si(scaled, entry, precision);
    arf_get_fmpz(fmpz_mat_entry(lattice, i, degree + 1), arb_midref(scaled.value), ARF_RND_NEAR);
    fmpz_one(fmpz_mat_entry(lattice, i, i));
    if (i < degree) arb_mul(power, power, generator, precision + 64);
  }
  fmpz_lll_t context;
  fmpz_lll_context_init_default(context);
  fmpz_lll(lattice, nullptr, context);
  const fmpz* relation = fmpz_mat_entry(lattice, 0, 0);
  std::optional<Number> result;
  if (!fmpz_is_zero(relation + degree)) {
    RationalPolynomial polynomial;
    for (slong i = 0; i < degree; ++i) fmpq_poly_set_coeff_fmpz(polynomial, i, relation + i);
    fmpq_poly_scalar_div_fmpz(polynomial, polynomial, relation + degree);
    const Number candidate = Number::from_polynomial(polynomial, field);
    if (square(candidate) == number) result = absolute(candidate);
  }
  fmpz_mat_clear(lattice);
  return result;
}

}  // namespace

std::optional<Number> square_root_within_field(const Number& number) {
  if (number.is_zero()) return number;
  if (number.sign() < 0) return std::nullopt;
  const Field& field = number.field();
  if (number.is_rational()) {
    if (const std::optional<Number> root = rational_square_root(number)) return root;
    if (field.degree() % 2 == 1) return std::nullopt;  // no quadratic subfield
  }
  if (refuted_by_residues(number)) return std::nullopt;
  if (const std::optional<Number> root = root_from_lattice(number)) return root;
  const std::optional<AdjoinedRoot> found = adjoin_root(
      field, {-number, Number(0L, field), Number(1L, field)},
      [&](arb_t ball, slong precision) {
        number.enclose(ball, precision);
        arb_sqrt(ball, ball, precision);
      },
      {}, field.degree());
  if (!found) return std::nullopt;
  if (square(found->root) != number) throw ToolFault("a square root does not square to its number");
  return absolute(found->root);
}

}  // namespace cutproof
