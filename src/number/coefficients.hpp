// SPDX-License-Identifier: GPL-3.0-or-later
// How Antic lays out an element of a field: numerator coefficients over one denominator, in one of three shapes.
#pragma once

#include "number/flint.hpp"

namespace cutproof {

/// numerator coefficients of an element, lowest first, and how many there are up to the last that is not zero
struct Coefficients {
  const fmpz* numerator;
  slong length;
  const fmpz* denominator;
};

inline Coefficients coefficients(const nf_elem_struct* element, const nf_struct* nf) {
  if (nf->flag & NF_LINEAR) return {element->lelem->num, fmpz_is_zero(element->lelem->num) ? 0 : 1, element->lelem->den};
  if (nf->flag & NF_QUADRATIC) {
    slong length = 3;
    while (length > 0 && fmpz_is_zero(element->qelem->num + length - 1)) --length;
    return {element->qelem->num, length, element->qelem->den};
  }
  return {element->elem->coeffs, element->elem->length, element->elem->den};
}

/// Both are integers of one word in Q: the commonest case by far in rational plans.
inline bool are_small_integers(const nf_elem_struct* a, const nf_elem_struct* b, const nf_struct* nf) {
  return (nf->flag & NF_LINEAR) != 0 && *a->lelem->den == 1 && *b->lelem->den == 1 && !COEFF_IS_MPZ(*a->lelem->num) &&
         !COEFF_IS_MPZ(*b->lelem->num);
}

/// Where the coefficients of an element are written, with room for all of them.
struct CoefficientsToFill {
  fmpz* numerator;
  fmpz* denominator;
};

inline CoefficientsToFill coefficients_to_fill(nf_elem_struct* element, const nf_struct* nf) {
  if (nf->flag & NF_LINEAR) return {element->lelem->num, element->lelem->den};
  if (nf->flag & NF_QUADRATIC) return {element->qelem->num, element->qelem->den};
  return {element->elem->coeffs, element->elem->den};
}

/// To be called when `degree` coefficients were written: drops the leading zeros.
inline void coefficients_filled(nf_elem_struct* element, const nf_struct* nf, slong degree) {
  if (nf->flag & (NF_LINEAR | NF_QUADRATIC)) return;
  while (degree > 0 && fmpz_is_zero(element->elem->coeffs + degree - 1)) --degree;
  element->elem->length = degree;
}

}  // namespace cutproof
