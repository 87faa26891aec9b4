// SPDX-License-Identifier: GPL-3.0-or-later
// Adjoining one real root of a polynomial to a field.
#pragma once

#include "number/field.hpp"
#include "number/flint.hpp"
#include "number/number.hpp"
#include "number/polynomial.hpp"

#include <functional>
#include <memory>
#include <optional>
#include <string>

namespace cutproof {

/// Told what begins that may take long: `adjoining sqrt(3) to a field of degree 2`, `finding a short generator
/// of a field of degree 4`.
using FieldProgress = std::function<void(const std::string&)>;

/// A root, and the field that was made for it (null when the root lies in the field that was there).
struct AdjoinedRoot {
  std::unique_ptr<Field> field;
  Number root;
};

/// Finds the root of `polynomial` (over `field`, degree at least 1, squarefree) that `root` encloses, in `field` or in an
/// extension of it, whose generator is `adjoined` (its
/// degree is found). Returns nothing when the extension would have a degree over
/// `largest_degree` over Q; `relative_degree`, when given, receives the root's degree over `field` in any case.
std::optional<AdjoinedRoot> adjoin_root(const Field& field, const Polynomial& polynomial, const Enclosure& root,
                                        Generator adjoined, int largest_degree, int* relative_degree = nullptr,
                                        const FieldProgress& progress = {});

}  // namespace cutproof
