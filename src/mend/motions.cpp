// SPDX-License-Identifier: GPL-3.0-or-later
// A piece that lies wrong is carried into the hole that the goal has without it: the motion that carries it there follows
// the one that the plan has, or becomes its new number.
#include "dehn/torsion.hpp"
#include "mend/search.hpp"
#include "number/print.hpp"
#include "solid/congruence.hpp"
#include "solid/edges.hpp"
#include "solid/screw.hpp"

#include <algorithm>
#include <optional>

namespace cutproof {
namespace {

constexpr std::size_t most_suspects = 20, most_motions = 3;

std::string in_quotes(const std::string& name) {
  return "`" + name + "`";
}

// Motions that carry the surface onto one of the holes, or onto all of them as one.
std::vector<Motion> into_holes(const Boundary& piece, const std::vector<Boundary>& holes, Sense sense) {
  const Number wanted = volume(piece);
  const SurfaceForm form(piece);
  std::vector<Motion> motions;
  const auto look_at = [&](const Boundary& hole) {
    if (volume(hole) != wanted) return;
    const SurfaceForm there(hole);
    if (SurfaceForm::compare_invariants(form, there) != 0) return;
    for (Motion& motion : all_motions(form, there, sense)) {
      if (motions.size() == most_motions) return;
      motions.push_back(std::move(motion));
    }
  };
  for (const Boundary& hole : holes) look_at(hole);
  if (holes.size() > 1) look_at(together(holes));
  return motions;
}

// Edits of a motion's text by which it does `wanted` instead of `old`, at the price of one number.
std::vector<TextEdit> numbers_instead(const PlanText& text, const Node& node, const Motion& old, const Motion& wanted) {
  if (!node.is_mapping() || node.entries.size() != 1) return {};
  const Node::Entry& kind = node.entries.front();
  const std::optional<Number> of_pi = multiple_of_pi(screw_of(wanted).angle);
  if (!of_pi) return {};
  if (kind.key == "translation" && of_pi->is_zero()) {
    if (!kind.value.is_sequence()) return {{kind.value.begin, kind.value.end, vector_text(wanted.shift())}};
    std::vector<TextEdit> edits;
    for (int axis = 0; axis < 3 && kind.value.entries.size() == 3; ++axis) {
      const Node& number = kind.value.entries[static_cast<std::size_t>(axis)].value;
      const Number& coordinate_wanted = coordinate(wanted.shift(), axis);
      if (coordinate(old.shift(), axis) != coordinate_wanted)
        edits.push_back({number.begin, number.end, scalar_text(to_exact(coordinate_wanted))});
    }
    return edits;
  }
  if (kind.key == "rotation" && kind.value.is_mapping() && !of_pi->is_zero()) {
    const Node* angle = kind.value.find("angle");
    if (angle == nullptr || !angle->is_scalar()) return {};
    const Vector3 was = screw_of(old).axis.direction, is = screw_of(wanted).axis.direction;
    const bool turned_round = is_zero(cross(was, is)) && dot(was, is).sign() < 0;
    const bool minus = (text.source(*angle).substr(0, 1) == "-") != turned_round;
    return {{angle->begin, angle->end, (minus ? "-" : "") + to_exact(pi_angle(*of_pi))}};
  }
  return {};
}

// A motion's node gets `then` behind it.
TextEdit followed_by(const PlanText& text, const Node& node, const Motion& old, const Motion& then) {
  const std::string source = text.source(node), more = motion_text(then);
  if (node.is_sequence() && source.back() == ']') return {node.end - 1, node.end - 1, ", " + more};
  if (old.is_proper()) {
    std::string whole = motion_text(old.then(then));
    if (node.is_sequence() || source.find('\n') != std::string::npos || whole.size() <= source.size() + more.size() + 4)
      return {node.begin, node.end, std::move(whole)};
  }
  return {node.begin, node.end, "[" + source + ", " + more + "]"};
}

bool propose_move(const Failure& failure, const MoveEntry& entry, const Motion& then, const std::string& kind,
                  const std::string& words) {
  const Node* node = failure.text.node_at(entry.motion_place);
  if (node == nullptr) return false;
  const Motion wanted = entry.motion.then(then);
  if (entry.motion.is_proper() && wanted.is_proper()) {
    const std::vector<TextEdit> edits = numbers_instead(failure.text, *node, entry.motion, wanted);
    if (!edits.empty() && failure.trials.mends({kind, words, edits, Weight::number, false})) return true;
    if (node->is_scalar())
      if (const Node* defined = failure.text.definition("motions", node->text)) {
        const std::vector<TextEdit> there = numbers_instead(failure.text, *defined, entry.motion, wanted);
        if (!there.empty() && failure.trials.mends({kind, words, there, Weight::number, false})) return true;
      }
  }
  return failure.trials.mends({kind, words, {followed_by(failure.text, *node, entry.motion, then)}, Weight::change, false});
}

// Behind the last step, or in a `move` of the plan, a motion of a piece that has none.
std::vector<TextEdit> added_step(const PlanText& text, const std::string& piece, const Motion& motion) {
  const Node* steps = text.root().find("steps");
  const std::string entry = piece + ": " + motion_text(motion);
  if (steps == nullptr || !steps->is_sequence()) return {};
  if (text.text()[steps->begin] == '[') {
    const std::string comma = steps->entries.empty() ? "" : ", ";
    return {{steps->end - 1, steps->end - 1, comma + "{ move: { " + entry + " } }"}};
  }
  if (steps->entries.empty()) return {};
  std::size_t at = steps->entries.back().value.end;
  while (at > 0 && (text.text()[at - 1] == '\n' || text.text()[at - 1] == '\r' || text.text()[at - 1] == ' ')) --at;
  const std::size_t line_end = std::min(text.text().find('\n', at), text.text().size());
  const int column = text.place(steps->begin).column;
  return {{line_end, line_end, "\n" + std::string(static_cast<std::size_t>(column - 1), ' ') + "- move: { " + entry + " }"}};
}

std::vector<TextEdit> added_entry(const PlanText& text, const Step& step, const std::string& piece, const Motion& motion) {
  const Node* node = text.mapping_with_key_at(step.place);
  const Node* move = node == nullptr ? nullptr : node->find("move");
  if (move == nullptr || !move->is_mapping() || move->entries.empty()) return {};
  const std::string entry = piece + ": " + motion_text(motion);
  const std::size_t first = move->entries.front().key_begin;
  if (text.text()[move->begin] == '{') return {{first, first, entry + ", "}};
  const int column = text.place(first).column;
  return {{first, first, entry + "\n" + std::string(static_cast<std::size_t>(column - 1), ' ')}};
}

}  // namespace

namespace {

// The pieces that an entry of a `move` moved, as one.
std::vector<std::size_t> moved_by(const Failure& failure, const MoveEntry* entry) {
  std::vector<std::size_t> pieces;
  for (std::size_t i = 0; i < failure.evidence->pieces().size(); ++i) {
    const std::vector<const MoveEntry*>& moves = failure.evidence->moves(failure.evidence->pieces()[i]);
    if (std::find(moves.begin(), moves.end(), entry) != moves.end()) pieces.push_back(i);
  }
  return pieces;
}

void move_as_well(const Failure& failure, const std::string& piece, const Motion& motion) {
  const std::string words = "move " + in_quotes(piece) + " as well";
  for (auto step = failure.plan->steps.rbegin(); step != failure.plan->steps.rend(); ++step) {
    if (std::get_if<MoveStep>(&step->action) == nullptr) continue;
    const std::vector<TextEdit> edits = added_entry(failure.text, *step, piece, motion);
    if (!edits.empty() && failure.trials.mends({"motion", words, edits, Weight::addition, false})) return;
    break;
  }
  const std::vector<TextEdit> edits = added_step(failure.text, piece, motion);
  if (!edits.empty()) failure.trials.mends({"motion", words, edits, Weight::addition, false});
}

}  // namespace

void mend_motions(const Failure& failure) {
  std::vector<const MoveEntry*> seen;
  for (const std::size_t index : failure.suspects(most_suspects)) {
    const BenchPiece& piece = failure.evidence->pieces()[index];
    const std::vector<const MoveEntry*>& moves = failure.evidence->moves(piece);
    const std::size_t found = failure.result->mends.size();
    // From the last motion back: the motions after it stay, so what is to happen at the end is carried back through them.
    Motion later;
    for (auto move = moves.rbegin(); move != moves.rend() && failure.result->mends.size() == found; ++move) {
      if (failure.trials.done()) return;
      const MoveEntry& entry = **move;
      if (std::find(seen.begin(), seen.end(), &entry) == seen.end()) {
        seen.push_back(&entry);
        const std::vector<std::size_t> moved = moved_by(failure, &entry);
        const std::string words =
            "change the motion of " + in_quotes(piece.name) + (moved.size() > 1 ? " and what moves with it" : "");
        for (const Motion& motion :
             into_holes(failure.evidence->boundary(moved), failure.evidence->holes(moved), Sense::direct)) {
          if (motion.is_identity()) break;  // it lies in its hole
          if (propose_move(failure, entry, later.then(motion).then(later.inverse()), "motion", words)) break;
        }
      }
      later = entry.motion.then(later);
    }
    if (!moves.empty() || failure.trials.done()) continue;
    for (const Motion& motion :
         into_holes(failure.evidence->boundary({index}), failure.evidence->holes({index}), Sense::direct)) {
      if (motion.is_identity() || failure.result->mends.size() != found) break;
      move_as_well(failure, piece.name, motion);
    }
  }
}

void mend_mirrored(const Failure& failure) {
  if (!failure.found("mirrored")) return;
  std::vector<TextEdit> edits;
  bool all = true;
  for (Finding& finding : failure.result->findings) {
    if (finding.code != "mirrored") continue;
    std::string only_mirrored;
    for (const std::string& name : finding.pieces) {
      const auto index = failure.evidence->index_of(name);
      const MoveEntry* entry = index ? failure.evidence->last_move(failure.evidence->pieces()[*index]) : nullptr;
      const Node* node = entry == nullptr ? nullptr : failure.text.node_at(entry->motion_place);
      if (node == nullptr || entry->motion.is_proper()) {
        all = false;
        continue;
      }
      const Boundary lies = failure.evidence->boundary({*index});
      Boundary before = lies;
      const Motion back = entry->motion.inverse();
      for (Vector3& corner : before.vertices) corner = back(corner);
      for (Facet& facet : before.facets) {  // a mirror image runs round its faces the other way
        facet.plane = back(facet.plane);
        for (std::vector<int>& cycle : facet.cycles) std::reverse(cycle.begin(), cycle.end());
      }
      const SurfaceForm was(normalised(before));
      std::optional<Motion> proper;
      for (const Boundary& hole : failure.evidence->holes({*index})) {
        if (volume(hole) != volume(lies)) continue;
        const SurfaceForm there(hole);
        if (!proper) proper = find_motion(was, there, Sense::direct);
        if (!proper && find_motion(was, there, Sense::mirrored)) only_mirrored = name;
      }
      if (proper) {
        edits.push_back({node->begin, node->end, motion_text(*proper)});
      } else {
        all = false;
      }
    }
    if (!only_mirrored.empty())
      finding.hint = "only the mirror image of " + in_quotes(only_mirrored) +
                     " fits the hole: no motion can put it there; `mirror: allow` would permit it";
  }
  if (all && !edits.empty())
    failure.trials.mends(
        {"mirror", "use proper motions, which put the pieces into the same places", edits, Weight::change, false});
}

void mend_exchanged(const Failure& failure) {
  const std::vector<std::size_t> suspects = failure.suspects(8);
  const auto node_of = [&](std::size_t index) -> const Node* {
    const MoveEntry* entry = failure.evidence->last_move(failure.evidence->pieces()[index]);
    return entry == nullptr ? nullptr : failure.text.node_at(entry->motion_place);
  };
  for (std::size_t i = 0; i < suspects.size(); ++i) {
    for (std::size_t k = i + 1; k < suspects.size(); ++k) {
      if (failure.trials.done()) return;
      const Node *a = node_of(suspects[i]), *b = node_of(suspects[k]);
      if (a == nullptr || b == nullptr || a == b) continue;
      const std::string& one = failure.evidence->pieces()[suspects[i]].name;
      const std::string& other = failure.evidence->pieces()[suspects[k]].name;
      failure.trials.mends({"exchange",
                            "exchange the motions of " + in_quotes(one) + " and " + in_quotes(other),
                            {{a->begin, a->end, failure.text.source(*b)}, {b->begin, b->end, failure.text.source(*a)}},
                            Weight::change,
                            false});
    }
  }
}

void mend_steps_apart(const Failure& failure) {
  // Two moves in a row, between which pieces overlap, become one.
  for (const Finding& finding : failure.result->findings) {
    if (finding.code != "overlap" || finding.step < 1) continue;
    const auto at = static_cast<std::size_t>(finding.step);
    if (at >= failure.plan->steps.size() || failure.trials.done()) continue;
    const Step &first = failure.plan->steps[at - 1], &second = failure.plan->steps[at];
    const Node* one = failure.text.mapping_with_key_at(first.place);
    const Node* other = failure.text.mapping_with_key_at(second.place);
    const Node* move = one == nullptr ? nullptr : one->find("move");
    const Node* next = other == nullptr ? nullptr : other->find("move");
    if (move == nullptr || next == nullptr || !move->is_mapping() || !next->is_mapping()) continue;
    const bool flow = failure.text.text()[move->begin] == '{';
    const std::size_t place = move->entries.front().key_begin;
    const std::string separator =
        flow ? ", " : "\n" + std::string(static_cast<std::size_t>(failure.text.place(place).column - 1), ' ');
    std::string added;
    for (const Node::Entry& entry : next->entries) {
      const std::string motion = failure.text.source(entry.value);
      if (motion.find('\n') != std::string::npos) added.clear();
      added += failure.text.text().substr(entry.key_begin, entry.key_end - entry.key_begin) + ": " + motion + separator;
    }
    // The second step goes, from its dash to the beginning of the next line.
    const std::string& text = failure.text.text();
    std::size_t begin = text.rfind('\n', other->begin), end = text.find('\n', other->end - 1);
    if (begin == std::string::npos || begin < move->begin) continue;
    if (end == std::string::npos) end = text.size();
    failure.trials.mends({"one-step",
                          "make one step of steps " + std::to_string(at) + " and " + std::to_string(at + 1),
                          {{place, place, added}, {begin, end, ""}},
                          Weight::change,
                          false});
  }
}

}  // namespace cutproof
