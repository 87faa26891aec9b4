// SPDX-License-Identifier: GPL-3.0-or-later
// Whether a dissection exists at all: volumes and Dehn invariants of start and goal.
#include "dehn/invariant.hpp"
#include "verify/measure.hpp"
#include "verify/run.hpp"
#include "verify/text.hpp"

#include <utility>
#include <vector>

namespace cutproof {

void Run::compare_totals() {
  std::vector<Number> start_volumes, goal_volumes, added_volumes;
  for (std::size_t i = 0; i < start_.size(); ++i)
    (i < plan_.start.size() ? start_volumes : added_volumes).push_back(engine_.volume(start_[i]));
  for (std::size_t i = 0; i < plan_.goals.size(); ++i) goal_volumes.push_back(engine_.volume(goals_[i]));
  start_volume_ = balanced_sum(start_volumes);
  total_volume_ = start_volume_ + balanced_sum(added_volumes);
  const Number goal_volume = balanced_sum(goal_volumes);
  result_.start = VolumeAndDehn{value_text(start_volume_), {}};
  result_.goal = VolumeAndDehn{value_text(goal_volume), {}};
  if (start_volume_ == goal_volume) return;
  const Number difference = goal_volume - start_volume_;
  Finding differs = finding("volume-differs", plan_.goal_size_place);
  differs.statement = difference.sign() > 0 ? "larger" : "smaller";
  differs.facts = {{"start", fact(start_volume_)}, {"goal", fact(goal_volume)}, {"difference", fact(absolute(difference))}};
  differs.volume = value_text(difference);
  add_about_the_whole(std::move(differs));
  result_.dissection = "does not exist";
  result_.dissection_reason = DissectionReason::volumes_differ;
}

void Run::compare_invariants() {
  if (is_flat()) {
    // Polygons of equal area can be cut into each other (W. Wallace 1807, F. Bolyai, P. Gerwien 1833).
    if (!result_.dissection.empty()) return;
    result_.dissection = "exists";
    result_.dissection_reason = DissectionReason::both_agree;
    return;
  }
  // From true boundaries, so that every engine shows the same.
  std::vector<CountedEdge> start_edges, goal_edges, difference;
  for (std::size_t i = 0; i < plan_.start.size(); ++i)
    for (CountedEdge& edge : counted_edges(engine_.boundary(start_[i]))) start_edges.push_back(std::move(edge));
  for (std::size_t i = 0; i < plan_.goals.size(); ++i)
    for (CountedEdge& edge : counted_edges(engine_.boundary(goals_[i]))) goal_edges.push_back(std::move(edge));
  difference = goal_edges;
  for (const CountedEdge& edge : start_edges) difference.push_back({edge.term, -edge.times});
  result_.start->dehn = to_value(invariant_of(std::move(start_edges), *plan_.field));
  result_.goal->dehn = to_value(invariant_of(std::move(goal_edges), *plan_.field));
  result_.dehn_difference = to_value(invariant_of(std::move(difference), *plan_.field));
  if (result_.dehn_difference->zero) {
    if (!result_.dissection.empty()) return;  // the volumes differ
    result_.dissection = "exists";
    result_.dissection_reason = DissectionReason::both_agree;
    return;
  }
  Finding differs = finding("dehn-differs", plan_.goal_place);
  differs.facts["invariant"].text = result_.dehn_difference->text;
  add_about_the_whole(std::move(differs));
  if (result_.dissection.empty()) result_.dissection_reason = DissectionReason::invariants_differ;
  result_.dissection = "does not exist";
}

}  // namespace cutproof
