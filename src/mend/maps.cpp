// SPDX-License-Identifier: GPL-3.0-or-later
// A map of points that keeps no distances makes a plan invalid, so nothing can be carried out with it. In its place the
// pieces are left where they are; then they can be carried into their holes like any other piece.
#include "mend/evidence.hpp"
#include "mend/search.hpp"
#include "solid/congruence.hpp"

#include <algorithm>
#include <optional>

namespace cutproof {
namespace {

std::string nothing(int dimension) {
  return dimension == 2 ? "{ translation: [0, 0] }" : "{ translation: [0, 0, 0] }";
}

// The text with another value for the mapping. Everything behind it keeps its line, and its column as well where the mapping
// stands on one line.
std::string without_map(const PlanText& plan, const Node& map) {
  const std::string& text = plan.text();
  std::string instead = nothing(plan.dimension());
  const std::string old = text.substr(map.begin, map.end - map.begin);
  const auto lines = static_cast<std::size_t>(std::count(old.begin(), old.end(), '\n'));
  if (lines == 0 && old.size() > instead.size()) instead += std::string(old.size() - instead.size(), ' ');
  return text.substr(0, map.begin) + instead + std::string(lines, '\n') + text.substr(map.end);
}

// The motions of the plan that are this mapping, or a name for it.
std::vector<const MoveEntry*> entries_with(const Failure& failure, const ExactPlan& plan, const Node& map) {
  std::vector<const MoveEntry*> entries;
  for (const Step& step : plan.steps) {
    const auto* move = std::get_if<MoveStep>(&step.action);
    if (move == nullptr) continue;
    for (const MoveEntry& entry : move->entries) {
      const Node* node = failure.text.node_at(entry.motion_place);
      if (node != nullptr && node->is_scalar()) node = failure.text.definition("motions", node->text);
      if (node == &map) entries.push_back(&entry);
    }
  }
  return entries;
}

}  // namespace

void mend_maps(const Failure& failure, const ReadLimits& limits, const CheckSettings& settings) {
  if (failure.trials.all_done()) return;
  const Finding& finding = failure.result->findings.front();
  const Node* points = failure.text.node_at({finding.line, finding.column});
  if (points == nullptr || points->find("from") == nullptr || points->find("to") == nullptr) return;
  const Node* map = failure.text.mapping_around(*points);
  if (map == nullptr) return;
  const auto plan_without = [&]() -> std::optional<ExactPlan> {
    try {
      return read_plan(without_map(failure.text, *map), limits);
    } catch (const InvalidPlan&) {  // something else is wrong as well
      return std::nullopt;
    }
  };
  const std::optional<ExactPlan> readable = plan_without();
  if (!readable) return;
  const ExactPlan& plan = *readable;
  const std::vector<const MoveEntry*> entries = entries_with(failure, plan, *map);
  const Evidence evidence(plan, settings.engine, settings.max_bits);
  if (!evidence.complete() || entries.size() != 1) return;
  std::vector<std::size_t> carried;
  for (std::size_t i = 0; i < evidence.pieces().size(); ++i) {
    const std::vector<const MoveEntry*>& moves = evidence.moves(evidence.pieces()[i]);
    if (std::find(moves.begin(), moves.end(), entries.front()) != moves.end()) carried.push_back(i);
  }
  if (carried.empty()) return;
  failure.trials.begin_kind();
  const Boundary piece = evidence.boundary(carried);
  const Motion later = evidence.since(evidence.pieces()[carried.front()], evidence.step_of(*entries.front()));
  std::vector<Boundary> holes = evidence.holes(carried);
  if (holes.size() > 1) holes.push_back(together(holes));
  for (const Boundary& hole : holes) {
    if (volume(hole) != volume(piece)) continue;
    for (const Motion& motion : all_motions(SurfaceForm(piece), SurfaceForm(hole), Sense::direct, failure.text.ambient())) {
      if (failure.trials.done()) return;
      const std::string text = motion_text(later.then(motion).then(later.inverse()), failure.text.dimension());
      if (failure.trials.mends({"motion",
                                "use the motion that puts `" + evidence.pieces()[carried.front()].name + "` into its place",
                                {{map->begin, map->end, text}},
                                Weight::change,
                                false}))
        return;
    }
  }
}

}  // namespace cutproof
