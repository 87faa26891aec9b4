// SPDX-License-Identifier: GPL-3.0-or-later
#include "verify/compare.hpp"

#include "number/extension.hpp"
#include "number/print.hpp"
#include "solid/congruence.hpp"
#include "verify/measure.hpp"
#include "verify/text.hpp"

namespace cutproof {

namespace {

struct Side {
  Number volume;
  std::vector<CountedEdge> edges;
};

Side side_of(Engine& engine, const std::vector<Solid>& pieces, const Field& field) {
  Side side;
  std::vector<Number> volumes = {Number(0L, field)};
  for (const Solid& piece : pieces) {
    const Boundary boundary = engine.boundary(piece);
    volumes.push_back(volume(boundary));
    for (CountedEdge& edge : counted_edges(boundary)) side.edges.push_back(std::move(edge));
  }
  side.volume = balanced_sum(std::move(volumes));
  return side;
}

/// The left side's edges and the right side's, scaled, taken away.
DehnInvariant difference(const Side& left, const Side& right, const Number& scale, const Field& field) {
  std::vector<CountedEdge> edges = left.edges;
  for (CountedEdge edge : right.edges) {
    edge.term.edge = scale * edge.term.edge;
    edge.times = -edge.times;
    edges.push_back(std::move(edge));
  }
  return invariant_of(std::move(edges), field);
}

std::optional<Number> cube_root_within_field(const Number& number) {
  const Number zero(0L, number.field());
  const Enclosure enclosure = [&](arb_t ball, slong precision) {
    number.enclose(ball, precision + 8);
    arb_root_ui(ball, ball, 3, precision + 8);
  };
  const Polynomial cube = {-number, zero, zero, Number(1L, number.field())};
  // The cubic has one real root; K is real, so it either lies in K or the cubic is irreducible over K.
  const auto root = adjoin_root(number.field(), cube, enclosure, {}, number.field().degree());
  if (!root) return {};
  if (root->root * root->root * root->root != number) throw ToolFault("a cube root is wrong");
  return root->root;
}

Value cube_root_value(const Number& number) {
  std::string decimal;
  for (slong precision = 128;; precision *= 2) {
    Ball ball;
    number.enclose(ball, precision);
    arb_root_ui(ball, ball, 3, precision);
    if (arb_rel_accuracy_bits(ball) < 80) continue;
    char* text = arb_get_str(ball, 21, ARB_STR_NO_RADIUS);
    decimal = text;
    flint_free(text);
    break;
  }
  return {"cbrt(" + to_exact(number) + ")", decimal};
}

/// What scaling the right side to equal volume changes.
void consider_scaling(const Side& left, const Side& right, const Field& field, CompareResult* result) {
  if (left.volume.sign() <= 0 || right.volume.sign() <= 0) return;
  const Number ratio = divide(left.volume, right.volume);
  bool equal = false;
  if (const auto factor = cube_root_within_field(ratio)) {
    result->scale = value_text(*factor);
    equal = difference(left, right, *factor, field).decision.zero;
  } else {
    result->scale = cube_root_value(ratio);
    equal = result->left_dehn->zero && result->right_dehn->zero;
  }
  result->exists_at_scale = equal;
}

/// Of regions: what a side covers, however often.
Congruence relation_of(Engine& engine, const std::vector<Solid>& left, const std::vector<Solid>& right, Ambient ambient) {
  const auto form = [&](const std::vector<Solid>& pieces) { return SurfaceForm(engine.boundary(engine.joined(pieces))); };
  const SurfaceForm a = form(left), b = form(right);
  if (carries(Motion(), a, b)) return Congruence::same;
  if (find_motion(a, b, Sense::direct, ambient)) return Congruence::congruent;
  return find_motion(a, b, Sense::mirrored, ambient) ? Congruence::mirror_image : Congruence::different;
}

CompareResult compare_figures(Engine& engine, const std::vector<Solid>& left, const std::vector<Solid>& right,
                              const Field& field) {
  const auto area_of = [&](const std::vector<Solid>& figures) {
    std::vector<Number> areas = {Number(0L, field)};
    for (const Solid& figure : figures) areas.push_back(volume(engine.boundary(figure)));
    return balanced_sum(std::move(areas));
  };
  const Number left_area = area_of(left), right_area = area_of(right);
  CompareResult result;
  result.dimension = 2;
  result.left_volume = value_text(left_area);
  result.right_volume = value_text(right_area);
  result.same_volume = left_area == right_area;
  result.dissection = result.same_volume ? "exists" : "does not exist";
  result.reason = result.same_volume ? DissectionReason::both_agree : DissectionReason::volumes_differ;
  if (!result.same_volume && left_area.sign() > 0 && right_area.sign() > 0) {
    result.scale = length_text(divide(left_area, right_area));
    result.exists_at_scale = true;
  }
  result.relation = relation_of(engine, left, right, Ambient::plane);
  result.compared = true;
  result.answer = result.same_volume ? Answer::yes : Answer::no;
  return result;
}

}  // namespace

CompareResult compare_solids(Engine& engine, const std::vector<Solid>& left_pieces, const std::vector<Solid>& right_pieces,
                             const Field& field, int dimension) {
  if (dimension == 2) return compare_figures(engine, left_pieces, right_pieces, field);
  const Side left = side_of(engine, left_pieces, field), right = side_of(engine, right_pieces, field);
  CompareResult result;
  result.left_volume = value_text(left.volume);
  result.right_volume = value_text(right.volume);
  result.left_dehn = to_value(invariant_of(left.edges, field));
  result.right_dehn = to_value(invariant_of(right.edges, field));
  result.dehn_difference = to_value(difference(left, right, Number(1L, field), field));
  result.same_volume = left.volume == right.volume;
  result.same_dehn = result.dehn_difference->zero;
  const bool exists = result.same_volume && result.same_dehn;
  result.dissection = exists ? "exists" : "does not exist";
  result.reason = !result.same_volume ? DissectionReason::volumes_differ
                  : exists            ? DissectionReason::both_agree
                                      : DissectionReason::invariants_differ;
  if (!result.same_volume) consider_scaling(left, right, field, &result);
  result.relation = relation_of(engine, left_pieces, right_pieces, Ambient::space);
  result.compared = true;
  result.answer = exists ? Answer::yes : Answer::no;
  return result;
}

}  // namespace cutproof
