// SPDX-License-Identifier: GPL-3.0-or-later
// Changes of the start and the goal, for plans whose steps are right.
#include "mend/search.hpp"
#include "number/print.hpp"
#include "solid/congruence.hpp"
#include "solid/hull.hpp"

#include <algorithm>
#include <optional>

namespace cutproof {
namespace {

// The goals' nodes, in the order of the plan's goals, where a name stands its definition.
std::vector<const Node*> goal_nodes(const Failure& failure) {
  std::vector<const Node*> nodes;
  for (const NamedSolid& goal : failure.plan->goals) {
    const Node* node = failure.text.node_at(goal.place);
    if (failure.plan->goals.size() == 1 && failure.text.root().find("goal") != nullptr)
      node = failure.text.root().find("goal");
    if (node == nullptr)
      if (const Node* all = failure.text.mapping_with_key_at(goal.place)) node = all->find(goal.name);
    if (node != nullptr && node->is_scalar())
      if (const Node* defined = failure.text.definition(failure.text.dimension() == 2 ? "figures" : "solids", node->text))
        node = defined;
    nodes.push_back(node);
  }
  return nodes;
}

std::vector<std::size_t> all_pieces(const Failure& failure) {
  std::vector<std::size_t> all(failure.evidence->pieces().size());
  for (std::size_t i = 0; i < all.size(); ++i) all[i] = i;
  return all;
}

Vector3 size_of(const Box& box) {
  return box.maximum - box.minimum;
}

std::string box_text(const Box& box, int dimension) {
  return "{ box: { size: " + vector_text(size_of(box), dimension) + ", at: " + vector_text(box.minimum, dimension) + " } }";
}

}  // namespace

void mend_goal_size(const Failure& failure) {
  if (!failure.found("volume-differs")) return;
  std::vector<Number> pieces;
  for (const BenchPiece& piece : failure.evidence->pieces()) pieces.push_back(piece.volume);
  const Number missing = balanced_sum(pieces) - failure.evidence->goal_volume();
  const std::vector<const Node*> nodes = goal_nodes(failure);
  bool found = false;
  const int dimension = failure.text.dimension();
  for (std::size_t i = 0; i < nodes.size(); ++i) {
    if (nodes[i] == nullptr) continue;
    const Node* box = nodes[i]->find("box");
    const Node* size = box == nullptr ? nullptr : box->find("size");
    if (size == nullptr || !size->is_sequence() || size->entries.size() != static_cast<std::size_t>(dimension)) continue;
    const Vector3 now = size_of(box_around(failure.evidence->goal(i).vertices));
    const Number volume_now = now.x * now.y * now.z;
    const Number factor = divide(volume_now + missing, volume_now);
    if (factor.sign() <= 0) continue;
    for (int axis = 0; axis < dimension; ++axis) {
      const Node& number = size->entries[static_cast<std::size_t>(axis)].value;
      found = failure.trials.mends({"goal-size",
                                    "change the size of the goal",
                                    {{number.begin, number.end, scalar_text(to_exact(factor * coordinate(now, axis)))}},
                                    Weight::number,
                                    true}) ||
              found;
    }
  }
  // What the pieces make, where it has a short description.
  if (found || nodes.size() != 1 || nodes.front() == nullptr || failure.found("overlap")) return;
  const Boundary made = failure.evidence->boundary(all_pieces(failure));
  const Boundary hull = convex_hull(made.vertices);
  if (volume(hull) != volume(made)) return;
  const Box around = box_around(made.vertices);
  const Vector3 size = size_of(around);
  std::string text;
  if (size.x * size.y * size.z == volume(made)) {
    text = box_text(around, dimension);
  } else {
    for (const Vector3& corner : hull.vertices)
      if (dimension == 3 || corner.z.is_zero()) text += (text.empty() ? "" : ", ") + vector_text(corner, dimension);
    text = "{ convex-hull: [" + text + "] }";
  }
  failure.trials.mends({"goal-size",
                        "make the goal what the pieces make",
                        {{nodes.front()->begin, nodes.front()->end, text}},
                        Weight::change,
                        true});
}

void mend_goal_place(const Failure& failure) {
  const std::vector<const Node*> nodes = goal_nodes(failure);
  if (nodes.size() != 1 || nodes.front() == nullptr || failure.found("overlap")) return;
  const Boundary made = failure.evidence->boundary(all_pieces(failure)), goal = failure.evidence->goals();
  if (volume(made) != volume(goal)) return;
  const SurfaceForm from(goal), to(made);
  if (SurfaceForm::compare_invariants(from, to) != 0) return;
  const Node& node = *nodes.front();
  for (const Motion& motion : all_motions(from, to, Sense::direct, failure.text.ambient())) {
    if (failure.trials.done()) return;
    const Node* box = node.find("box");
    const Node* at = box == nullptr ? nullptr : box->find("at");
    const bool shifts = motion.then(Motion::translation(-motion.shift())).is_identity();
    if (shifts && at != nullptr) {
      const std::string text = vector_text(box_around(goal.vertices).minimum + motion.shift(), failure.text.dimension());
      if (failure.trials.mends({"goal-place", "move the goal", {{at->begin, at->end, text}}, Weight::number, true})) return;
    }
    const std::string source = failure.text.source(node);
    if (source.find('\n') != std::string::npos) return;
    const std::string text =
        "{ moved: { solid: " + source + ", by: " + motion_text(motion, failure.text.dimension()) + " } }";
    if (failure.trials.mends({"goal-place", "move the goal", {{node.begin, node.end, text}}, Weight::change, true})) return;
  }
}

void mend_extra_pieces(const Failure& failure) {
  const Node* start = failure.text.root().find("start");
  if (start == nullptr || !start->is_mapping() || start->entries.size() < 2) return;
  for (const BenchPiece& piece : failure.evidence->pieces()) {
    if (failure.trials.done()) return;
    const bool lies_outside =
        std::any_of(failure.result->findings.begin(), failure.result->findings.end(), [&](const Finding& f) {
          return (f.code == "excess" || f.code == "overlap") &&
                 std::count(f.pieces.begin(), f.pieces.end(), piece.name) != 0;
        });
    for (std::size_t i = 0; i < start->entries.size() && lies_outside; ++i) {
      const Node::Entry& entry = start->entries[i];
      if (entry.key != piece.name) continue;
      const bool last = i + 1 == start->entries.size();
      const TextEdit edit = last ? TextEdit{start->entries[i - 1].value.end, entry.value.end, ""}
                                 : TextEdit{entry.key_begin, start->entries[i + 1].key_begin, ""};
      failure.trials.mends({"remove-piece", "leave `" + piece.name + "` out of the start", {edit}, Weight::change, true});
    }
  }
}

}  // namespace cutproof
