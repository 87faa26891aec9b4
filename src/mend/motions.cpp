// SPDX-License-Identifier: GPL-3.0-or-later
// A piece that lies wrong is carried into the hole that the goal has without it: the motion that carries it there follows
// the one that the plan has, or becomes its new number.
#include "dehn/torsion.hpp"
#include "mend/search.hpp"
#include "number/print.hpp"
#include "plan/no_names.hpp"
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

// `a`, `b` and `c`.
std::string quoted_list(const std::vector<std::string>& names) {
  std::string text;
  for (std::size_t i = 0; i < names.size(); ++i)
    text += (i == 0 ? "" : i + 1 == names.size() ? " and " : ", ") + in_quotes(names[i]);
  return text;
}

std::string only_mirror_image_fits(const std::vector<std::string>& names) {
  return (names.size() == 1
              ? "only the mirror image of " + in_quotes(names.front()) + " fits the hole: no motion can put it there"
              : "only the mirror images of " + quoted_list(names) + " fit the holes: no motion can put them there");
}

// Motions that carry the surface onto one of the holes, or onto all of them as one.
std::vector<Motion> into_holes(const Boundary& piece, const std::vector<Boundary>& holes, Sense sense, Ambient ambient) {
  const Number wanted = volume(piece);
  const SurfaceForm form(piece);
  std::vector<Motion> motions;
  const auto look_at = [&](const Boundary& hole) {
    if (volume(hole) != wanted) return;
    const SurfaceForm there(hole);
    if (SurfaceForm::compare_invariants(form, there) != 0) return;
    for (Motion& motion : all_motions(form, there, sense, ambient)) {
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
    if (!kind.value.is_sequence())
      return {{kind.value.begin, kind.value.end, vector_text(wanted.shift(), text.dimension())}};
    std::vector<TextEdit> edits;
    for (int axis = 0; axis < text.dimension() && kind.value.entries.size() == static_cast<std::size_t>(text.dimension());
         ++axis) {
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

// What a text of numbers and functions alone stands for, where that is rational.
std::optional<Number> rational_constant(const Node& node) {
  if (!node.is_scalar()) return std::nullopt;
  try {
    FieldTower tower;
    NoNames scope;
    const Number value = evaluate_number(*parse_expression(node.text), scope, tower);
    if (!value.is_rational()) return std::nullopt;
    Rational rational;
    value.get_rational(rational);
    return Number(rational, Field::rational());
  } catch (const InvalidInput&) {
  } catch (const LimitReached&) {
  }
  return std::nullopt;
}

// Edits of a list of motions whose last one is a translation by plain numbers: the numbers by which it does `then`, too.
std::vector<TextEdit> last_translation_instead(const Node& node, const Motion& then) {
  if (!node.is_sequence() || node.entries.empty()) return {};
  const Node& last = node.entries.back().value;
  if (!last.is_mapping() || last.entries.size() != 1 || last.entries.front().key != "translation") return {};
  const Node& vector = last.entries.front().value;
  if (!vector.is_sequence() || vector.entries.size() != 3 || !then.then(Motion::translation(-then.shift())).is_identity())
    return {};
  std::vector<TextEdit> edits;
  for (int axis = 0; axis < 3; ++axis) {
    const Number& more = coordinate(then.shift(), axis);
    if (more.is_zero()) continue;
    const Node& number = vector.entries[static_cast<std::size_t>(axis)].value;
    const std::optional<Number> was = rational_constant(number);
    if (!was) return {};
    edits.push_back({number.begin, number.end, scalar_text(to_exact(*was + more))});
  }
  return edits;
}

// A motion's node gets `then` behind it.
TextEdit followed_by(const PlanText& text, const Node& node, const Motion& old, const Motion& then) {
  const std::string source = text.source(node), more = motion_text(then, text.dimension());
  if (node.is_sequence() && source.back() == ']') return {node.end - 1, node.end - 1, ", " + more};
  if (old.is_proper()) {
    std::string whole = motion_text(old.then(then), text.dimension());
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
    const std::vector<TextEdit> last = last_translation_instead(*node, then);
    if (!last.empty() && failure.trials.mends({kind, words, last, Weight::number, false})) return true;
  }
  return failure.trials.mends({kind, words, {followed_by(failure.text, *node, entry.motion, then)}, Weight::change, false});
}

// In a `move` of the plan, a motion of a piece that has none.
std::vector<TextEdit> added_entry(const PlanText& text, const Step& step, const std::string& piece, const Motion& motion) {
  const Node* node = text.mapping_with_key_at(step.place);
  const Node* move = node == nullptr ? nullptr : node->find("move");
  if (move == nullptr || !move->is_mapping() || move->entries.empty()) return {};
  const std::string entry = piece + ": " + motion_text(motion, text.dimension());
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

// `motion` is what is to happen at the end; in an earlier step it is carried back through the motions that follow.
void move_as_well(const Failure& failure, const BenchPiece& piece, const Motion& motion) {
  const std::string words = "move " + in_quotes(piece.name) + " as well";
  const std::vector<const MoveEntry*>& moves = failure.evidence->moves(piece);
  for (int step = static_cast<int>(failure.plan->steps.size()); step > 0; --step) {
    const Step& there = failure.plan->steps[static_cast<std::size_t>(step) - 1];
    if (std::get_if<CutStep>(&there.action) != nullptr && failure.evidence->comes_from_cut(piece, step)) break;
    const bool moved_there = std::any_of(moves.begin(), moves.end(),
                                         [&](const MoveEntry* entry) { return failure.evidence->step_of(*entry) == step; });
    if (std::get_if<MoveStep>(&there.action) == nullptr || moved_there) continue;
    const Motion since = failure.evidence->since(piece, step);
    const std::vector<TextEdit> edits =
        added_entry(failure.text, there, piece.name, since.then(motion).then(since.inverse()));
    if (!edits.empty() && failure.trials.mends({"motion", words, edits, Weight::addition, false})) return;
    break;
  }
  const std::vector<TextEdit> edits =
      failure.text.added_steps({"move: { " + piece.name + ": " + motion_text(motion, failure.text.dimension()) + " }"});
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
        failure.trials.note_look(failure.evidence->pieces().size());
        const std::vector<std::size_t> moved = moved_by(failure, &entry);
        const std::string words =
            "change the motion of " + in_quotes(piece.name) + (moved.size() > 1 ? " and what moves with it" : "");
        for (const Motion& motion : into_holes(failure.evidence->boundary(moved), failure.evidence->holes(moved),
                                               Sense::direct, failure.text.ambient())) {
          if (motion.is_identity()) break;  // it lies in its hole
          if (propose_move(failure, entry, later.then(motion).then(later.inverse()), "motion", words)) break;
        }
      }
      later = entry.motion.then(later);
    }
    for (const Motion& motion : into_holes(failure.evidence->boundary({index}), failure.evidence->holes({index}),
                                           Sense::direct, failure.text.ambient())) {
      if (motion.is_identity() || failure.result->mends.size() != found || failure.trials.done()) break;
      move_as_well(failure, piece, motion);
    }
  }
}

namespace {

// A motion that does to the piece at that entry what puts it into its hole at the end, and whether only a reflection would.
struct IntoHole {
  std::optional<Motion> proper;
  bool only_mirrored = false;
};

IntoHole instead_of(const Failure& failure, std::size_t index, const MoveEntry& entry) {
  const BenchPiece& piece = failure.evidence->pieces()[index];
  const Motion later = failure.evidence->since(piece, failure.evidence->step_of(entry));
  const Boundary lies = failure.evidence->boundary({index});
  const SurfaceForm before(moved(lies, entry.motion.then(later).inverse()));
  const Number wanted = volume(lies);
  IntoHole found;
  for (const Boundary& hole : failure.evidence->holes({index})) {
    if (volume(hole) != wanted) continue;
    const SurfaceForm there(moved(hole, later.inverse()));
    if (const auto motion = find_motion(before, there, Sense::direct, failure.text.ambient())) return {motion, false};
    found.only_mirrored =
        found.only_mirrored || find_motion(before, there, Sense::mirrored, failure.text.ambient()).has_value();
  }
  return found;
}

}  // namespace

void mend_mirrored(const Failure& failure) {
  if (!failure.found("mirrored")) return;
  std::vector<TextEdit> edits;
  bool all = true;
  for (Finding& finding : failure.result->findings) {
    if (finding.code != "mirrored") continue;
    std::vector<std::string> only_mirrored;
    for (const std::string& name : finding.pieces) {
      const auto index = failure.evidence->index_of(name);
      const MoveEntry* entry = nullptr;
      if (index)
        for (const MoveEntry* each : failure.evidence->moves(failure.evidence->pieces()[*index]))
          if (!each->motion.is_proper() && each->motion_place.line == finding.line &&
              each->motion_place.column == finding.column)
            entry = each;
      const Node* node = entry == nullptr ? nullptr : failure.text.node_at(entry->motion_place);
      if (node == nullptr) {
        all = false;
        continue;
      }
      const IntoHole found = instead_of(failure, *index, *entry);
      if (found.only_mirrored) only_mirrored.push_back(name);
      if (!found.proper) {
        all = false;
        continue;
      }
      // Pieces that share the motion get the same one, or none.
      const std::string text = motion_text(*found.proper, failure.text.dimension());
      const auto known =
          std::find_if(edits.begin(), edits.end(), [&](const TextEdit& edit) { return edit.begin == node->begin; });
      if (known == edits.end()) edits.push_back({node->begin, node->end, text});
    }
    if (!only_mirrored.empty()) finding.hint = only_mirror_image_fits(only_mirrored) + "; `mirror: allow` would permit it";
  }
  if (all && !edits.empty())
    failure.trials.mends(
        {"mirror", "use proper motions, which put the pieces into the same places", edits, Weight::change, false});
}

namespace {

// The entries of one step that moved one piece and the other one, each its own.
std::vector<std::pair<const MoveEntry*, const MoveEntry*>> entries_of_one_step(const Failure& failure, std::size_t one,
                                                                               std::size_t other) {
  std::vector<std::pair<const MoveEntry*, const MoveEntry*>> pairs;
  for (const MoveEntry* a : failure.evidence->moves(failure.evidence->pieces()[one]))
    for (const MoveEntry* b : failure.evidence->moves(failure.evidence->pieces()[other]))
      if (a != b && failure.evidence->step_of(*a) == failure.evidence->step_of(*b)) pairs.emplace_back(a, b);
  return pairs;
}

// Each of the two is carried into a hole that both leave: the last motion of its own that each has is followed by another.
void into_two_holes(const Failure& failure, const MoveEntry& a, std::size_t one, const MoveEntry& b, std::size_t other) {
  const std::vector<Boundary> holes = failure.evidence->holes({one, other});
  if (holes.size() != 2) return;
  const auto edits_for = [&](const MoveEntry& entry, std::size_t index, const Boundary& hole) {
    std::vector<std::vector<TextEdit>> choices;
    const BenchPiece& piece = failure.evidence->pieces()[index];
    const Node* node = failure.text.node_at(entry.motion_place);
    const Motion later = failure.evidence->since(piece, failure.evidence->step_of(entry));
    for (const Motion& motion :
         into_holes(failure.evidence->boundary({index}), {hole}, Sense::direct, failure.text.ambient())) {
      if (node == nullptr || motion.is_identity() || !choices.empty()) break;
      choices.push_back({followed_by(failure.text, *node, entry.motion, later.then(motion).then(later.inverse()))});
    }
    return choices;
  };
  for (const std::size_t first : {std::size_t{0}, std::size_t{1}}) {
    if (failure.trials.done()) return;
    const auto for_one = edits_for(a, one, holes[first]), for_other = edits_for(b, other, holes[1 - first]);
    if (for_one.empty() || for_other.empty()) continue;
    std::vector<TextEdit> edits = for_one.front();
    edits.insert(edits.end(), for_other.front().begin(), for_other.front().end());
    failure.trials.mends({"exchange",
                          "change the motions of " + in_quotes(failure.evidence->pieces()[one].name) + " and " +
                              in_quotes(failure.evidence->pieces()[other].name) + ", each into the hole of the other",
                          edits, Weight::change, false});
  }
}

}  // namespace

void mend_exchanged(const Failure& failure) {
  const std::vector<std::size_t> suspects = failure.suspects(8);
  const auto each_pair = [&](auto use) {
    for (std::size_t i = 0; i < suspects.size(); ++i)
      for (std::size_t k = i + 1; k < suspects.size(); ++k)
        for (const auto& [a, b] : entries_of_one_step(failure, suspects[i], suspects[k]))
          if (!failure.trials.done()) use(*a, suspects[i], *b, suspects[k]);
  };
  each_pair([&](const MoveEntry& a, std::size_t one, const MoveEntry& b, std::size_t other) {
    const Node *here = failure.text.node_at(a.motion_place), *there = failure.text.node_at(b.motion_place);
    if (here == nullptr || there == nullptr) return;
    failure.trials.mends(
        {"exchange",
         "exchange the motions of " + in_quotes(failure.evidence->pieces()[one].name) + " and " +
             in_quotes(failure.evidence->pieces()[other].name),
         {{here->begin, here->end, failure.text.source(*there)}, {there->begin, there->end, failure.text.source(*here)}},
         Weight::change,
         false});
  });
  if (!failure.result->mends.empty()) return;
  each_pair([&](const MoveEntry& a, std::size_t one, const MoveEntry& b, std::size_t other) {
    into_two_holes(failure, a, one, b, other);
  });
}

void tell_what_fits(const Failure& failure) {
  if (!failure.result->mends.empty()) return;
  for (Finding& finding : failure.result->findings) {
    const bool tells = finding.code == "overlap" || finding.code == "missing" || finding.code == "excess";
    if (!tells || !finding.hint.empty() || finding.suspects.empty()) continue;
    const auto index = failure.evidence->index_of(finding.suspects.front().piece);
    if (!index) continue;
    const Boundary piece = failure.evidence->boundary({*index});
    const std::vector<Boundary> holes = failure.evidence->holes({*index});
    if (holes.empty() || !into_holes(piece, holes, Sense::direct, failure.text.ambient()).empty()) continue;
    const std::string name = finding.suspects.front().piece;
    finding.hint = !into_holes(piece, holes, Sense::mirrored, failure.text.ambient()).empty()
                       ? only_mirror_image_fits({name})
                       : "no motion puts " + in_quotes(name) +
                             " into a hole that the others leave: look at the cuts that made it, or at another piece";
    break;
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
