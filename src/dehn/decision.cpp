// SPDX-License-Identifier: GPL-3.0-or-later
#include "dehn/decision.hpp"

#include "dehn/relations.hpp"
#include "dehn/square_classes.hpp"

#include <algorithm>

namespace cutproof {

namespace {

bool simpler(const AngleTerm& a, const AngleTerm& b) {
  const std::size_t left = a.tangent_squared.bits(), right = b.tangent_squared.bits();
  return left != right ? left < right : a.tangent_squared < b.tangent_squared;
}

void collect_coefficients(const Decision& decision, ClassDecision* part) {
  const auto length = [&](std::size_t position) {
    return decision.angles[part->angles[position]].coefficient * part->scales[position];
  };
  for (const std::size_t pivot : part->pivots) {
    std::vector<Number> shares = {length(pivot)};
    for (const Relation& relation : part->relations) {
      // exponents[j] * phi_j + sum of exponents[p] * phi_p is in Q*pi
      const long share = relation.exponents[pivot];
      if (share == 0) continue;
      const Number factor = Number::fraction(-share, relation.exponents[relation.dependent]);
      shares.push_back(factor.lifted_to(part->radicand.field()) * length(relation.dependent));
    }
    part->coefficients.push_back(balanced_sum(std::move(shares)));
  }
}

}  // namespace

Decision decide(std::vector<AngleTerm> terms) {
  Decision decision;
  if (terms.empty()) return decision;
  const Field& field = terms.front().tangent_squared.field();
  for (AngleTerm& term : terms) {
    if (&term.tangent_squared.field() != &field || &term.coefficient.field() != &field)
      throw ToolFault("a Dehn invariant with terms of different fields");
    if (term.tangent_squared.sign() <= 0) throw ToolFault("the squared tangent of an angle is not positive");
    if (!term.coefficient.is_zero()) decision.angles.push_back(std::move(term));
  }
  if (decision.angles.empty()) return decision;
  std::stable_sort(decision.angles.begin(), decision.angles.end(), simpler);
  std::vector<Number> squares;
  for (const AngleTerm& term : decision.angles) squares.push_back(term.tangent_squared);
  SquareClasses grouped = group_by_square_class(squares);
  decision.separations = std::move(grouped.separations);
  RelationSearch search(field);
  for (SquareClass& each : grouped.classes) {
    ClassDecision part;
    part.radicand = std::move(each.radicand);
    part.angles = std::move(each.members);
    part.scales = std::move(each.scales);
    search.find_relations(&part);
    collect_coefficients(decision, &part);
    for (const Number& coefficient : part.coefficients)
      if (!coefficient.is_zero()) decision.zero = false;
    decision.classes.push_back(std::move(part));
  }
  return decision;
}

}  // namespace cutproof
