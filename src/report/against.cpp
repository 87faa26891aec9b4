// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/against.hpp"

#include "cutproof/report.hpp"

#include <algorithm>
#include <map>
#include <set>

namespace cutproof {
namespace {

// Every part with its length before it, so that no two lists of parts become one text.
std::string identity(const ReportedStep& step) {
  std::string text;
  const auto add = [&](const std::string& part) { text += std::to_string(part.size()) + ":" + part; };
  add(step.label.kind);
  add(step.label.title);
  for (const ReportedNames* each : {&step.removed, &step.added, &step.moved}) {
    add(std::to_string(each->count));
    for (const std::string& name : each->names) add(name);
  }
  return text;
}

std::optional<ValueChange> change(const std::optional<Value>& before, const std::optional<Value>& now) {
  const bool same = before && now ? before->exact == now->exact : !before && !now;
  return same ? std::nullopt : std::optional<ValueChange>({before, now});
}

std::optional<std::array<std::string, 2>> change(const std::string& before, const std::string& now) {
  return before == now ? std::nullopt : std::optional<std::array<std::string, 2>>({before, now});
}

void compare_steps(const ReportedPlan& old, const ReportedPlan& now, AgainstResult* result) {
  std::vector<std::string> before, after;
  for (const ReportedStep& step : old.steps) before.push_back(identity(step));
  for (const ReportedStep& step : now.steps) after.push_back(identity(step));
  std::set<std::size_t> kept, matched;
  for (const auto& [i, k] : common_run(before, after)) {
    kept.insert(i);
    matched.insert(k);
    if (old.steps[i].content != now.steps[k].content) result->steps_changed.push_back(now.steps[k].label);
  }
  for (std::size_t i = 0; i < before.size(); ++i)
    if (kept.count(i) == 0) result->steps_gone.push_back(old.steps[i].label);
  for (std::size_t k = 0; k < after.size(); ++k)
    if (matched.count(k) == 0) result->steps_added.push_back(now.steps[k].label);
}

// For each of these pieces the first of them that has the same shape.
std::vector<std::string> first_alike(const std::vector<const ReportedPiece*>& pieces) {
  std::map<std::size_t, std::string> first;
  std::vector<std::string> names;
  for (const ReportedPiece* piece : pieces)
    names.push_back(piece->shape ? first.emplace(*piece->shape, piece->name).first->second : "");
  return names;
}

void compare_pieces(const ReportedPlan& old, const ReportedPlan& now, NameChanges* changes) {
  std::map<std::string, const ReportedPiece*> before, after;
  for (const ReportedPiece& piece : old.pieces) before.emplace(piece.name, &piece);
  for (const ReportedPiece& piece : now.pieces) after.emplace(piece.name, &piece);
  for (const ReportedPiece& piece : old.pieces)
    if (after.count(piece.name) == 0) changes->gone.push_back(piece.name);
  std::vector<const ReportedPiece*> old_common, common;
  for (const ReportedPiece& piece : now.pieces) {
    const auto found = before.find(piece.name);
    if (found == before.end()) {
      changes->added.push_back(piece.name);
    } else {
      old_common.push_back(found->second);
      common.push_back(&piece);
    }
  }
  // A piece of the same volume has another shape where it is congruent to others than before.
  const std::vector<std::string> alike_before = first_alike(old_common), alike = first_alike(common);
  const bool shapes_known = !old.shapes.empty() && !now.shapes.empty();
  for (std::size_t i = 0; i < common.size(); ++i) {
    const bool same = common[i]->volume.exact == old_common[i]->volume.exact && common[i]->parts == old_common[i]->parts &&
                      (!shapes_known || alike[i] == alike_before[i]);
    if (!same) changes->changed.push_back(common[i]->name);
  }
}

void compare_findings(const ReportedPlan& old, const ReportedPlan& now, AgainstResult* result) {
  const std::set<std::string> before(old.findings.begin(), old.findings.end());
  const std::set<std::string> after(now.findings.begin(), now.findings.end());
  for (const std::string& id : old.findings)
    if (id.empty() || after.count(id) == 0) result->findings_gone.push_back(id);
  for (const std::string& id : now.findings)
    (before.count(id) == 0 ? result->findings_added : result->findings_same).push_back(id);
  if (result->findings_gone.empty() && result->findings_added.empty()) result->findings_same.clear();
}

}  // namespace

bool AgainstResult::any() const {
  return !known || old_outcome || start_volume || goal_volume || start_dehn || goal_dehn || pieces.any() ||
         !steps_gone.empty() || !steps_added.empty() || !steps_changed.empty() || !findings_gone.empty() ||
         !findings_added.empty() || shapes;
}

std::vector<std::pair<std::size_t, std::size_t>> common_run(const std::vector<std::string>& old,
                                                            const std::vector<std::string>& now) {
  std::vector<std::pair<std::size_t, std::size_t>> run;
  std::size_t first = 0, old_end = old.size(), end = now.size();
  for (; first < old_end && first < end && old[first] == now[first]; ++first) run.emplace_back(first, first);
  while (old_end > first && end > first && old[old_end - 1] == now[end - 1]) {
    --old_end;
    --end;
  }
  const std::size_t rows = old_end - first, columns = end - first;
  constexpr std::size_t most_cells = 50'000'000;
  if (rows > 0 && columns > 0 && rows <= most_cells / columns) {
    // length[i][k]: of the longest run of what stands behind i and k. Which way leads to it is kept, not the lengths.
    std::vector<std::size_t> below(columns + 1, 0), here(columns + 1, 0);
    std::vector<char> drops_old(rows * columns);
    for (std::size_t i = rows; i-- > 0; std::swap(below, here))
      for (std::size_t k = columns; k-- > 0;) {
        const bool equal = old[first + i] == now[first + k];
        drops_old[i * columns + k] = static_cast<char>(below[k] >= here[k + 1]);
        here[k] = equal ? below[k + 1] + 1 : std::max(below[k], here[k + 1]);
      }
    for (std::size_t i = 0, k = 0; i < rows && k < columns;) {
      if (old[first + i] == now[first + k]) {
        run.emplace_back(first + i++, first + k++);
      } else {
        ++(drops_old[i * columns + k] != 0 ? i : k);
      }
    }
  } else if (rows > 0 && columns > 0) {
    std::map<std::string, std::vector<std::size_t>> places;
    for (std::size_t i = first; i < old_end; ++i) places[old[i]].push_back(i);
    std::size_t next = first;
    for (std::size_t k = first; k < end; ++k) {
      const auto found = places.find(now[k]);
      if (found == places.end()) continue;
      const auto place = std::lower_bound(found->second.begin(), found->second.end(), next);
      if (place == found->second.end()) continue;
      run.emplace_back(*place, k);
      next = *place + 1;
    }
  }
  for (std::size_t i = old_end, k = end; i < old.size(); ++i, ++k) run.emplace_back(i, k);
  return run;
}

std::vector<std::optional<std::size_t>> matched_plans(const std::vector<ReportedPlan>& old,
                                                      const std::vector<ReportedPlan>& now) {
  std::vector<std::optional<std::size_t>> matches(now.size());
  std::vector<char> taken(old.size(), 0);
  const auto match = [&](auto key_of) {
    std::multimap<std::string, std::size_t> free;  // equal keys stay in the order of the list
    for (std::size_t i = 0; i < old.size(); ++i)
      if (taken[i] == 0 && !key_of(old[i]).empty()) free.emplace(key_of(old[i]), i);
    for (std::size_t k = 0; k < now.size(); ++k) {
      const auto found = matches[k] ? free.end() : free.lower_bound(key_of(now[k]));
      if (found == free.end() || found->first != key_of(now[k])) continue;
      matches[k] = found->second;
      taken[found->second] = 1;
      free.erase(found);
    }
  };
  const auto with_case = [](const std::string& key, const ReportedPlan& plan) {
    return key.empty() ? key : key + "\n" + std::to_string(plan.case_number);
  };
  match([&](const ReportedPlan& plan) { return with_case(plan.path, plan); });
  match([&](const ReportedPlan& plan) { return with_case(plan.digest, plan); });
  if (old.size() == 1 && now.size() == 1) matches[0] = 0;
  return matches;
}

AgainstResult difference(const ReportedPlan& old, const ReportedPlan& now) {
  AgainstResult result;
  if (old.path != now.path) result.old_plan = old.path;
  if (old.digest != now.digest) result.old_digest = old.digest;
  if (old.outcome != now.outcome) result.old_outcome = old.outcome;
  result.start_volume = change(old.start_volume, now.start_volume);
  result.goal_volume = change(old.goal_volume, now.goal_volume);
  result.start_dehn = change(old.start_dehn, now.start_dehn);
  result.goal_dehn = change(old.goal_dehn, now.goal_dehn);
  compare_steps(old, now, &result);
  compare_pieces(old, now, &result.pieces);
  compare_findings(old, now, &result);
  // Older versions, and plans of very many pieces, tell no shapes: that is no change.
  if (!old.shapes.empty() && !now.shapes.empty()) result.shapes = change(old.shapes, now.shapes);
  return result;
}

void hold_against(const std::vector<ReportedPlan>& old, std::vector<CheckResult>* results) {
  for (CheckResult& result : *results) result.against.reset();
  const std::vector<ReportedPlan> now = read_check_report(json_report(*results, /*always_list=*/true));
  const auto matches = matched_plans(old, now);
  for (std::size_t i = 0; i < results->size(); ++i) {
    AgainstResult& against = (*results)[i].against.emplace();
    if (matches[i]) {
      against = difference(old[*matches[i]], now[i]);
    } else {
      against.known = false;
    }
  }
}

}  // namespace cutproof
