// SPDX-License-Identifier: GPL-3.0-or-later
// A decided invariant as the data that proves it.
#include "dehn/invariant.hpp"
#include "number/flint.hpp"
#include "number/real_roots.hpp"

#include <algorithm>
#include <iterator>

namespace cutproof {

namespace {

std::string text(const Rational& value) {
  char* raw = fmpq_get_str(nullptr, 10, value);
  std::string result = raw;
  flint_free(raw);
  return result;
}

FieldCoefficients data(const Number& number) {
  RationalPolynomial polynomial;
  number.get_polynomial(polynomial);
  FieldCoefficients coefficients;
  for (slong i = 0; i < fmpq_poly_length(polynomial); ++i) {
    Rational coefficient;
    fmpq_poly_get_coeff_fmpq(coefficient, polynomial, i);
    coefficients.push_back(text(coefficient));
  }
  return coefficients;
}

std::array<FieldCoefficients, 3> data(const Vector3& v) {
  return {data(v.x), data(v.y), data(v.z)};
}

/// The largest whole multiple of 1/2^step below an enclosed number, or the smallest above it.
Rational multiple_beside(const Ball& number, slong step, bool below) {
  constexpr slong longest = 4096;  // bits of an end; it is rounded outwards
  Ball scaled;
  arb_mul_2exp_si(scaled, number, step);
  arf_t end;
  arf_init(end);
  Rational multiple;
  if (below) {
    arb_get_lbound_arf(end, scaled, longest);
    arf_get_fmpz(multiple.numerator(), end, ARF_RND_CEIL);
    fmpz_sub_ui(multiple.numerator(), multiple.numerator(), 1);
  } else {
    arb_get_ubound_arf(end, scaled, longest);
    arf_get_fmpz(multiple.numerator(), end, ARF_RND_FLOOR);
    fmpz_add_ui(multiple.numerator(), multiple.numerator(), 1);
  }
  arf_clear(end);
  fmpq_div_2exp(multiple, multiple, static_cast<mp_bitcnt_t>(step));
  return multiple;
}

/// Two multiples of 1, or of 1/2, 1/4, ..., beside the field's generator, of the first of these that leaves the other real
/// roots of its minimal polynomial outside.
std::array<std::string, 2> isolating_interval(const Field& field) {
  constexpr slong highest_precision = 1 << 16;
  const int index = field.root_index();
  for (slong precision = 64; precision <= highest_precision; precision *= 2) {
    Ball root, before, after, end;
    field.enclose_generator(root, precision);
    const bool has_before = enclose_real_root(before, field.minimal_polynomial(), index - 1, precision);
    const bool has_after = enclose_real_root(after, field.minimal_polynomial(), index + 1, precision);
    for (slong step = 0; step < precision / 2; ++step) {
      const Rational lower = multiple_beside(root, step, true), upper = multiple_beside(root, step, false);
      arb_set_fmpq(end, lower, 2 * precision);
      if (has_before && arb_lt(before, end) == 0) continue;
      arb_set_fmpq(end, upper, 2 * precision);
      if (!has_after || arb_gt(after, end) != 0) return {text(lower), text(upper)};
    }
  }
  throw ToolFault("two roots of a minimal polynomial are too close to be told apart");
}

CertificateField data(const Field& field) {
  CertificateField result;
  for (slong i = 0; i <= field.degree(); ++i) {
    Rational coefficient;
    fmpz_poly_get_coeff_fmpz(coefficient.numerator(), field.minimal_polynomial(), i);
    result.minimal_polynomial.push_back(text(coefficient));
  }
  result.root_between = isolating_interval(field);
  return result;
}

CertificateEdge data(const CountedEdge& edge) {
  return {edge.times, data(edge.term.edge), data(edge.term.first), data(edge.term.second)};
}

CertificateAngle data(const AngleTerm& term) {
  return {data(term.tangent_squared), data(term.coefficient)};
}

CertificateSeparation data(const SquareSymbols& separation) {
  return {separation.place.q, separation.place.root, separation.symbols};
}

CertificateCharacter data(const Character& character) {
  return {character.place.q,
          character.place.root,
          character.root,
          character.generator,
          {character.logs.begin(), character.logs.end()}};
}

CertificateRelation data(const Relation& relation) {
  return {relation.dependent, relation.exponents, relation.order};
}

CertificateSum data(const GatheredTerm& term) {
  return {term.part, term.pivots, term.factors, data(term.coefficient), data(term.tangent_squared)};
}

CertificateClass data(const ClassDecision& part);

template <class Entry>
auto list(const std::vector<Entry>& entries) {
  std::vector<decltype(data(entries.front()))> result;
  result.reserve(entries.size());
  std::transform(entries.begin(), entries.end(), std::back_inserter(result), [](const Entry& each) { return data(each); });
  return result;
}

CertificateClass data(const ClassDecision& part) {
  return {data(part.radicand),   part.angles, list(part.scales),    part.l,
          list(part.characters), part.pivots, list(part.relations), list(part.coefficients)};
}

}  // namespace

DehnCertificate certificate_of(const DehnInvariant& invariant) {
  const Decision& decision = invariant.decision;
  return {data(*invariant.field), list(invariant.edges), list(decision.angles), list(decision.separations),
          list(decision.classes), list(invariant.sums),  decision.zero};
}

}  // namespace cutproof
