// SPDX-License-Identifier: GPL-3.0-or-later
// Squares in a field. Both answers are proved: "no" by a quadratic residue symbol or by bounds for the root, "yes" by
// squaring the root. Sums of lengths ask this thousands of times, so the common cases are refuted first.
#include "number/extension.hpp"
#include "number/flint.hpp"
#include "number/lifting.hpp"
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
  std::optional<Number> root;
  const SquareRootFinder::Answer answer = field.square_root_finder().find(number, root);
  if (answer == SquareRootFinder::Answer::found) return absolute(*root);
  if (answer == SquareRootFinder::Answer::none) return std::nullopt;
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
