// SPDX-License-Identifier: GPL-3.0-or-later
// Adjoining one real root of a polynomial to a field: B. M. Trager, "Algebraic factoring and rational function integration",
// SYMSAC 1976.
#pragma once

#include "number/field.hpp"
#include "number/flint.hpp"
#include "number/number.hpp"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace cutproof {

/// Coefficients over one field, lowest first; the last one is not zero.
using Polynomial = std::vector<Number>;

/// A root, and the field that was made for it (null when the root lies in the field that was there).
struct AdjoinedRoot {
  std::unique_ptr<Field> field;
  Number root;
};

/// Finds the root of `polynomial` (over `field`, degree at least 1, squarefree) that `root` encloses, in `field` or in an
/// extension of it, whose generator will be written as `text`. Returns nothing when the extension would have a degree over
/// `largest_degree` over Q; `relative_degree`, when given, receives the root's degree over `field` in any case.
std::optional<AdjoinedRoot> adjoin_root(const Field& field, const Polynomial& polynomial, const Enclosure& root,
                                        const std::string& text, int largest_degree, int* relative_degree = nullptr);

/// Encloses the `index`-th real root, in increasing order from 0, of a squarefree integer polynomial; false when there is
/// none.
bool enclose_real_root(arb_t ball, const fmpz_poly_t polynomial, int index, slong precision);
/// Which of the real roots of a squarefree polynomial the enclosed number is; ToolFault when it is none.
int index_of_real_root(const fmpz_poly_t polynomial, const Enclosure& root);
/// How many real roots a squarefree polynomial has.
int count_real_roots(const fmpz_poly_t polynomial);

}  // namespace cutproof
