// SPDX-License-Identifier: GPL-3.0-or-later
#include "dehn/invariant.hpp"

#include "dehn/dehn_sum.hpp"
#include "number/print.hpp"

namespace cutproof {

namespace {

Vector3 lifted(const Vector3& v, const Field& field) {
  return {v.x.lifted_to(field), v.y.lifted_to(field), v.z.lifted_to(field)};
}

/// The angle in (0, pi) that a pivot stands for modulo pi: one that occurs in the solid, where it does.
DihedralAngle shown_angle(const std::vector<DihedralAngle>& angles, const Number& tangent_squared) {
  using Kind = DihedralAngle::Kind;
  bool obtuse = false, reflex_obtuse = false, reflex_acute = false;
  for (const DihedralAngle& angle : angles) {
    if (angle.kind == Kind::right || angle.kind == Kind::reflex_right) continue;
    if (angle.tangent_squared != tangent_squared) continue;
    if (angle.kind == Kind::acute) return angle;
    obtuse = obtuse || angle.kind == Kind::obtuse;
    reflex_acute = reflex_acute || angle.kind == Kind::reflex_beyond_half_turn;
    reflex_obtuse = reflex_obtuse || angle.kind == Kind::reflex_before_full_turn;
  }
  return {obtuse || (reflex_obtuse && !reflex_acute) ? Kind::obtuse : Kind::acute, tangent_squared};
}

bool is_sum(const std::string& text) {
  int depth = 0;
  for (std::size_t i = 0; i + 2 < text.size(); ++i) {
    depth += text[i] == '(' ? 1 : text[i] == ')' ? -1 : 0;
    if (depth == 0 && text[i] == ' ' && (text[i + 1] == '+' || text[i + 1] == '-')) return true;
  }
  return false;
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
  return invariant;
}

DehnValue to_value(const DehnInvariant& invariant) {
  const std::string fault = fault_in_certificate(invariant);
  if (!fault.empty()) throw ToolFault("the certificate of a Dehn invariant is wrong: " + fault);
  DehnValue value;
  value.zero = invariant.decision.zero;
  value.distinct_angles = invariant.decision.angles.size();
  value.certificate = certificate_json(invariant);
  std::vector<DihedralAngle> angles;
  if (!value.zero)
    for (const CountedEdge& edge : invariant.edges) angles.push_back(dihedral_angle(edge.term));
  for (const ClassDecision& part : invariant.decision.classes) {
    for (std::size_t i = 0; i < part.pivots.size(); ++i) {
      if (part.coefficients[i].is_zero()) continue;
      const Number& tangent_squared = invariant.decision.angles[part.angles[part.pivots[i]]].tangent_squared;
      const DihedralAngle angle = shown_angle(angles, tangent_squared);
      const bool supplement = angle.kind == DihedralAngle::Kind::obtuse;  // pi - phi is -phi modulo pi
      RadicalSum coefficient;
      coefficient.add(supplement ? -part.coefficients[i] : part.coefficients[i], part.radicand);
      const std::string exact = to_exact(coefficient), name = people_text(angle);
      value.terms.push_back(
          {{exact, to_decimal(coefficient)}, cosine_text(angle), to_decimal_degrees(to_angle(angle)), name});
      const bool negative = !is_sum(exact) && exact.front() == '-';
      const std::string size = negative ? exact.substr(1) : is_sum(exact) ? "(" + exact + ")" : exact;
      value.text += value.text.empty() ? (negative ? "-" : "") : (negative ? " - " : " + ");
      value.text += size + " (x) " + name;
    }
  }
  if (value.text.empty()) value.text = "0";
  return value;
}

}  // namespace cutproof
