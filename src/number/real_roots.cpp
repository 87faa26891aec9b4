// SPDX-License-Identifier: GPL-3.0-or-later
#include "number/real_roots.hpp"

#include "number/errors.hpp"

#include <algorithm>
#include <vector>

namespace cutproof {

namespace {

std::vector<Ball> real_roots(const fmpz_poly_t polynomial, slong precision) {
  const slong degree = fmpz_poly_degree(polynomial);
  acb_ptr roots = _acb_vec_init(degree);
  arb_fmpz_poly_complex_roots(roots, polynomial, 0, precision);
  std::vector<Ball> real;
  for (slong i = 0; i < degree; ++i)
    if (acb_is_real(roots + i)) {
      real.emplace_back();
      arb_set(real.back(), acb_realref(roots + i));
    }
  _acb_vec_clear(roots, degree);
  // The balls are disjoint, so their midpoints are in the order of the roots.
  std::sort(real.begin(), real.end(),
            [](const Ball& a, const Ball& b) { return arf_cmp(arb_midref(a.value), arb_midref(b.value)) < 0; });
  return real;
}

}  // namespace

bool enclose_real_root(arb_t ball, const fmpz_poly_t polynomial, int index, slong precision) {
  const std::vector<Ball> real = real_roots(polynomial, precision);
  if (index < 0 || index >= static_cast<int>(real.size())) return false;
  arb_set(ball, real[static_cast<std::size_t>(index)]);
  return true;
}

int index_of_real_root(const fmpz_poly_t polynomial, const Enclosure& root) {
  Ball ball;
  for (slong precision = 64; precision <= (1L << 20); precision *= 2) {
    const std::vector<Ball> candidates = real_roots(polynomial, precision);
    root(ball, precision);
    int index = -1, overlapping = 0;
    for (std::size_t i = 0; i < candidates.size(); ++i)
      if (arb_overlaps(candidates[i], ball)) {
        index = static_cast<int>(i);
        ++overlapping;
      }
    if (overlapping == 1) return index;
    if (overlapping == 0) break;
  }
  throw ToolFault("a root is none of the real roots of its minimal polynomial");
}

int count_real_roots(const fmpz_poly_t polynomial) {
  return static_cast<int>(fmpz_poly_num_real_roots(polynomial));
}

}  // namespace cutproof
