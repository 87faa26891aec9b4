// SPDX-License-Identifier: GPL-3.0-or-later
// Writes a certificate: only numbers, lists and plain keys, so no library is needed.
#include "dehn/invariant.hpp"
#include "number/flint.hpp"

#include <functional>

namespace cutproof {

namespace {

std::string quoted(const std::string& plain) {
  return "\"" + plain + "\"";
}

std::string text(const Rational& value) {
  char* raw = fmpq_get_str(nullptr, 10, value);
  std::string result = quoted(raw);
  flint_free(raw);
  return result;
}

std::string list(std::size_t size, const std::function<std::string(std::size_t)>& entry) {
  std::string result = "[";
  for (std::size_t i = 0; i < size; ++i) result += (i == 0 ? "" : ",") + entry(i);
  return result + "]";
}

template <class Integers>
std::string integers(const Integers& values) {
  return list(values.size(), [&](std::size_t i) { return std::to_string(values[i]); });
}

/// Coefficients in powers of the generator, lowest first, without zeros at the end.
std::string json(const Number& number) {
  RationalPolynomial polynomial;
  number.get_polynomial(polynomial);
  return list(static_cast<std::size_t>(fmpq_poly_length(polynomial)), [&](std::size_t i) {
    Rational coefficient;
    fmpq_poly_get_coeff_fmpq(coefficient, polynomial, static_cast<slong>(i));
    return text(coefficient);
  });
}

std::string json(const std::vector<Number>& numbers) {
  return list(numbers.size(), [&](std::size_t i) { return json(numbers[i]); });
}

std::string json(const Vector3& v) {
  return "[" + json(v.x) + "," + json(v.y) + "," + json(v.z) + "]";
}

std::string json(const Field& field) {
  const auto polynomial = list(static_cast<std::size_t>(field.degree()) + 1, [&](std::size_t i) {
    Rational coefficient;
    fmpz_poly_get_coeff_fmpz(coefficient.numerator(), field.minimal_polynomial(), static_cast<slong>(i));
    return text(coefficient);
  });
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
  return "{\"minimal_polynomial\":" + polynomial + ",\"root_between\":[" + text(lower) + "," + text(upper) + "]}";
}

std::string json(const Character& character) {
  return "{\"q\":" + std::to_string(character.place.q) + ",\"root\":" + std::to_string(character.place.root) +
         ",\"sqrt_minus_r\":" + std::to_string(character.root) + ",\"generator\":" + std::to_string(character.generator) +
         ",\"logs\":" + integers(character.logs) + "}";
}

std::string json(const Relation& relation) {
  return "{\"dependent\":" + std::to_string(relation.dependent) + ",\"exponents\":" + integers(relation.exponents) +
         ",\"order\":" + std::to_string(relation.order) + "}";
}

std::string json(const ClassDecision& part) {
  return "{\"radicand\":" + json(part.radicand) + ",\"angles\":" + integers(part.angles) +
         ",\"scales\":" + json(part.scales) + ",\"l\":" + std::to_string(part.l) +
         ",\"characters\":" + list(part.characters.size(), [&](std::size_t i) { return json(part.characters[i]); }) +
         ",\"pivots\":" + integers(part.pivots) +
         ",\"relations\":" + list(part.relations.size(), [&](std::size_t i) { return json(part.relations[i]); }) +
         ",\"coefficients\":" + json(part.coefficients) + "}";
}

}  // namespace

std::string certificate_json(const DehnInvariant& invariant) {
  const Decision& decision = invariant.decision;
  const auto edge = [&](std::size_t i) {
    const CountedEdge& each = invariant.edges[i];
    return "{\"times\":" + std::to_string(each.times) + ",\"edge\":" + json(each.term.edge) +
           ",\"first\":" + json(each.term.first) + ",\"second\":" + json(each.term.second) + "}";
  };
  const auto angle = [&](std::size_t i) {
    const AngleTerm& each = decision.angles[i];
    return "{\"tangent_squared\":" + json(each.tangent_squared) + ",\"coefficient\":" + json(each.coefficient) + "}";
  };
  const auto separation = [&](std::size_t i) {
    const SquareSymbols& each = decision.separations[i];
    return "{\"q\":" + std::to_string(each.place.q) + ",\"root\":" + std::to_string(each.place.root) +
           ",\"symbols\":" + integers(each.symbols) + "}";
  };
  const auto sum = [&](std::size_t i) {
    const GatheredTerm& each = invariant.sums[i];
    return "{\"class\":" + std::to_string(each.part) + ",\"pivots\":" + integers(each.pivots) +
           ",\"factors\":" + integers(each.factors) + ",\"coefficient\":" + json(each.coefficient) +
           ",\"tangent_squared\":" + json(each.tangent_squared) + "}";
  };
  return "{\"format\":\"cutproof-dehn-certificate\",\"version\":1,\"field\":" + json(*invariant.field) +
         ",\"edges\":" + list(invariant.edges.size(), edge) + ",\"angles\":" + list(decision.angles.size(), angle) +
         ",\"separations\":" + list(decision.separations.size(), separation) +
         ",\"classes\":" + list(decision.classes.size(), [&](std::size_t i) { return json(decision.classes[i]); }) +
         ",\"sums\":" + list(invariant.sums.size(), sum) + ",\"zero\":" + (decision.zero ? "true" : "false") + "}";
}

}  // namespace cutproof
