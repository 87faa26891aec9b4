// SPDX-License-Identifier: GPL-3.0-or-later
#include "mend/trials.hpp"

#include "plan/dimension_words.hpp"

#include <algorithm>
#include <numeric>
#include <tuple>
#include <utility>

namespace cutproof {
namespace {

constexpr std::size_t most_trials = 200, free_trials = 10, enough = 3;
constexpr std::uint64_t most_work = 8'000'000;

// How much a check had to do: pieces that were on the bench after steps and pairs that were told apart, times the degree.
std::uint64_t work_of(const CheckResult& result) {
  std::uint64_t work = 1 + result.bench_checks;
  for (const StepResult& step : result.steps) work += step.pieces_after;
  return work * static_cast<std::uint64_t>(result.field ? result.field->degree : 1);
}

}  // namespace

void Trials::begin_kind() {
  limit_of_kind_ = result_->mends_tried + (most_trials - std::min(most_trials, result_->mends_tried)) / 2;
}

bool Trials::all_done() const {
  return result_->mends.size() >= enough || result_->mends_tried >= most_trials ||
         (result_->mends_tried >= free_trials && work_ > most_work) || looks_ > most_work;
}

void Trials::note_look(std::size_t pieces) {
  const std::uint64_t work = 50 * pieces * static_cast<std::uint64_t>(result_->field ? result_->field->degree : 1);
  work_ += work;
  looks_ += work;
}

bool Trials::done() const {
  return all_done() || result_->mends_tried >= limit_of_kind_;
}

bool Trials::other_cases_verify(const std::string& text, std::size_t count) {
  CheckSettings settings = settings_;
  for (settings.case_number = 1; settings.case_number <= count; ++settings.case_number) {
    if (settings.case_number == settings_.case_number) continue;
    const CheckResult trial = check_plan_text(text, result_->plan, settings);
    work_ += work_of(trial);
    if (trial.outcome != Outcome::verified) return false;
  }
  return true;
}

bool Trials::mends(const Proposal& proposal) {
  if (done()) return false;
  const std::string text = plan_.edited(proposal.edits);
  if (text == plan_.text() || !tried_.insert(text).second) return false;
  ++result_->mends_tried;
  const CheckResult trial = check_plan_text(text, result_->plan, settings_);
  work_ += work_of(trial);
  if (trial.outcome != Outcome::verified || !other_cases_verify(text, trial.case_count)) return false;
  Mend mend = plan_.told(proposal.edits);
  mend.kind = proposal.kind;
  mend.words = in_dimension(plan_.dimension(), proposal.words);
  mend.changes_sides = proposal.changes_sides;
  mend.findings.resize(result_->findings.size());
  std::iota(mend.findings.begin(), mend.findings.end(), std::size_t{0});
  std::size_t length = 0;
  for (const MendEdit& edit : mend.edits) length += edit.text.size();
  const auto rank = [](const Mend& one, const std::pair<Weight, std::size_t>& weight) {
    return std::tuple(one.changes_sides, weight);
  };
  const std::pair<Weight, std::size_t> own{proposal.weight, length};
  std::size_t place = 0;
  while (place < ranks_.size() && rank(result_->mends[place], ranks_[place]) <= rank(mend, own)) ++place;
  ranks_.insert(ranks_.begin() + static_cast<std::ptrdiff_t>(place), own);
  result_->mends.insert(result_->mends.begin() + static_cast<std::ptrdiff_t>(place), std::move(mend));
  if (progress_) progress_();
  return true;
}

}  // namespace cutproof
