// SPDX-License-Identifier: GPL-3.0-or-later
// A decided invariant as the data that proves it.
#include "dehn/invariant.hpp"
#include "number/flint.hpp"

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

CertificateField data(const Field& field) {
  CertificateField result;
  for (slong i = 0; i <= field.degree(); ++i) {
    Rational coefficient;
    fmpz_poly_get_coeff_fmpz(coefficient.numerator(), field.minimal_polynomial(), i);
    result.minimal_polynomial.push_back(text(coefficient));
  }
  // Arb's enclosure contains no other root: it came from disjoint enclosures of all of them. The margin keeps ends off the
  // root.
  Ball ball, margin;
  field.enclose_generator(ball, 256);
  arb_one(margin);
  arb_mul_2exp_si(margin, margin, -200);
  arf_t end;
  arf_init(end);
  Rational lower, upper;
  arb_sub(ball, ball, margin, 512);
  arb_get_lbound_arf(end, ball, 512);
  arf_get_fmpq(lower, end);
  arb_add(ball, ball, margin, 512);
  arb_add(ball, ball, margin, 512);
  arb_get_ubound_arf(end, ball, 512);
  arf_get_fmpq(upper, end);
  arf_clear(end);
  result.root_between = {text(lower), text(upper)};
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
