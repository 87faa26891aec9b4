// SPDX-License-Identifier: GPL-3.0-or-later
#include "dehn/invariant.hpp"

#include "dehn/dehn_sum.hpp"
#include "number/exact_text.hpp"
#include "number/print.hpp"

namespace cutproof {

namespace {

Vector3 lifted(const Vector3& v, const Field& field) {
  return {v.x.lifted_to(field), v.y.lifted_to(field), v.z.lifted_to(field)};
}

}  // namespace

DehnInvariant invariant_of(std::vector<CountedEdge> edges, const Field& field) {
  DehnInvariant invariant;
  invariant.field = &field;
  auto table = std::make_shared<AngleTable>(field);
  DehnSum sum(table);
  for (CountedEdge& edge : edges) {
    edge.term = {lifted(edge.term.edge, field), lifted(edge.term.first, field), lifted(edge.term.second, field)};
    sum.add(edge.term, edge.times);
  }
  invariant.edges = std::move(edges);
  std::vector<AngleTerm> terms;
  for (const auto& [angle, coefficient] : sum.terms()) terms.push_back({table->tangent_squared(angle), coefficient});
  invariant.decision = decide(std::move(terms));
  invariant.sums = gathered_terms(invariant.decision);
  return invariant;
}

DehnValue to_value(const DehnInvariant& invariant) {
  const std::string fault = fault_in_certificate(invariant);
  if (!fault.empty()) throw ToolFault("the certificate of a Dehn invariant is wrong: " + fault);
  DehnValue value;
  value.zero = invariant.decision.zero;
  value.distinct_angles = invariant.decision.angles.size();
  value.certificate = certificate_of(invariant);
  for (const GatheredTerm& term : invariant.sums) {
    const DihedralAngle angle{DihedralAngle::Kind::acute, term.tangent_squared};
    RadicalSum coefficient;
    coefficient.add(term.coefficient, invariant.decision.classes[term.part].radicand);
    const std::string exact = to_exact(coefficient), name = people_text(angle);
    value.terms.push_back({{exact, to_decimal(coefficient)}, cosine_text(angle), to_decimal_degrees(to_angle(angle)), name});
    const bool negative = !is_sum(exact) && exact.front() == '-';
    const std::string size = negative ? exact.substr(1) : is_sum(exact) ? "(" + exact + ")" : exact;
    value.text += value.text.empty() ? (negative ? "-" : "") : (negative ? " - " : " + ");
    value.text += size + " (x) " + name;
  }
  if (value.text.empty()) value.text = "0";
  return value;
}

}  // namespace cutproof
