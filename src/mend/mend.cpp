// SPDX-License-Identifier: GPL-3.0-or-later
// The order in which kinds of mends are tried, and what keeps a search from harming a result.
#include "cutproof/mend.hpp"

#include "files/solid_files.hpp"
#include "mend/search.hpp"
#include "plan/complaints.hpp"
#include "plan/read_plan.hpp"

#include <algorithm>
#include <memory>
#include <new>
#include <optional>
#include <set>

namespace cutproof {

std::vector<std::size_t> Failure::suspects(std::size_t most) const {
  std::vector<std::size_t> indices;
  const auto add = [&](const std::string& piece) {
    const auto index = evidence->index_of(piece);
    if (index && indices.size() < most && std::find(indices.begin(), indices.end(), *index) == indices.end())
      indices.push_back(*index);
  };
  for (const Finding& finding : result->findings)
    if (!finding.suspects.empty()) add(finding.suspects.front().piece);
  for (const Finding& finding : result->findings) {
    for (const Suspect& suspect : finding.suspects) add(suspect.piece);
    for (const std::string& piece : finding.pieces) add(piece);
  }
  return indices;
}

namespace {

constexpr std::size_t most_pieces = 2000;

void search(std::string_view text, const CheckSettings& settings, CheckResult* result,
            const std::function<void()>& progress) {
  CheckSettings plain = settings;
  plain.geometry = {};
  plain.details = {};
  ReadLimits limits = limits_of(settings, result->plan);
  limits.parameters.case_number = settings.case_number;
  std::optional<PlanText> scanned;
  try {
    scanned.emplace(text, limits.document);
  } catch (const InvalidPlan&) {
    return;  // no text that could be changed, as the findings say
  } catch (const LimitReached&) {
    return;
  }
  const PlanText& plan_text = *scanned;
  Trials trials(plan_text, plain, result, progress);
  if (result->outcome != Outcome::refuted) {
    const Failure failure{plan_text, nullptr, nullptr, result, trials};
    mend_as_told(failure);
    if (result->outcome == Outcome::stopped) mend_angles(failure);
    if (result->outcome == Outcome::invalid && result->findings.size() == 1) {
      trials.begin_kind();
      mend_numbers(failure);
      mend_maps(failure, limits, plain);
    }
    return;
  }
  const ExactPlan plan = read_plan(std::string(text), limits);
  const Evidence evidence(plan, settings.engine, settings.max_bits);
  if (!evidence.complete() || evidence.pieces().size() > most_pieces) return;
  const Failure failure{plan_text, &plan, &evidence, result, trials};
  // Where volumes or invariants differ, no other cut and no other motion can help.
  using Kinds = std::vector<void (*)(const Failure&)>;
  const bool sides_differ = failure.found("volume-differs") || failure.found("dehn-differs");
  const Kinds kinds = sides_differ ? Kinds{mend_numbers, mend_extra_pieces, mend_goal_size}
                                   : Kinds{mend_motions, mend_halves, mend_mirrored,    mend_exchanged, mend_steps_apart,
                                           mend_numbers, mend_planes, mend_missing_cut, mend_goal_place};
  for (const auto kind : kinds) {
    if (trials.all_done()) break;
    trials.begin_kind();
    kind(failure);
  }
  if (!sides_differ) tell_what_fits(failure);
}

}  // namespace

void add_mends(std::string_view text, const CheckSettings& settings, CheckResult* result,
               const std::function<void()>& progress) {
  if (result->outcome == Outcome::verified || result->outcome == Outcome::failed) return;
  try {
    search(text, settings, result, progress);
  } catch (const std::bad_alloc&) {
    throw;
  } catch (const std::exception& error) {  // a limit, or a fault: the result stands as it is
    result->mends_ended_early = told(error).sentence;
  }
}

}  // namespace cutproof
