// SPDX-License-Identifier: GPL-3.0-or-later
#include "verify/lemma_checks.hpp"

#include <algorithm>

namespace cutproof {

namespace {

template <class Use>
void for_each_use(const ExactPlan& plan, const Use& use) {
  for (std::size_t i = 0; i < plan.steps.size(); ++i)
    if (const auto* step = std::get_if<UseStep>(&plan.steps[i].action)) use(*step, static_cast<int>(i) + 1);
}

}  // namespace

LemmaChecks::LemmaChecks() = default;
LemmaChecks::~LemmaChecks() = default;

void LemmaChecks::check(const ExactPlan& plan, Engine& engine, const CheckOptions& options) {
  for_each_use(plan, [&](const UseStep& step, int) {
    if (!checked_.try_emplace(step.lemma.get()).second) return;
    const std::shared_ptr<Engine> own = engine.another();  // an engine works in one tower of fields
    CheckOptions plain;
    plain.max_bits = options.max_bits;
    plain.lemmas = this;
    if (options.observer != nullptr) plain.observer = options.observer->observer_of(*step.lemma, own);
    auto result = std::make_unique<CheckResult>(check_plan(step.lemma->plan, *own, plain));
    checked_[step.lemma.get()] = std::move(result);
    order_.push_back(step.lemma);
  });
}

const CheckResult& LemmaChecks::of(const Lemma& lemma) const {
  const auto known = checked_.find(&lemma);
  if (known == checked_.end() || known->second == nullptr) throw ToolFault("a lemma is used that was not checked");
  return *known->second;
}

bool LemmaChecks::hold(const ExactPlan& plan) const {
  bool all = true;
  for_each_use(plan, [&](const UseStep& step, int) { all = all && of(*step.lemma).outcome == Outcome::verified; });
  return all;
}

std::vector<LemmaResult> LemmaChecks::results(const ExactPlan& plan) const {
  std::map<const Lemma*, std::size_t> index;
  std::vector<LemmaResult> results;
  for (const std::shared_ptr<const Lemma>& lemma : order_) {
    index[lemma.get()] = results.size();
    const CheckResult& own = of(*lemma);
    LemmaResult result;
    result.name = lemma->name;
    result.file = lemma->file;
    result.plan_sha256 = lemma->sha256;
    result.parameters = lemma->values;
    result.outcome = own.outcome;
    result.findings = own.findings;
    for (Finding& finding : result.findings) finding.file = lemma->file;
    results.push_back(std::move(result));
  }
  const auto count = [&](const ExactPlan& user, std::optional<std::size_t> number) {
    for_each_use(user, [&](const UseStep& step, int at) {
      const auto known = index.find(step.lemma.get());
      if (known == index.end()) return;  // the run ended before it was checked
      LemmaResult& result = results[known->second];
      ++result.uses;
      const bool goes_on = !result.used_by.empty() && result.used_by.back().lemma == number;
      if (!goes_on) result.used_by.push_back({number, at, 0});
      ++result.used_by.back().uses;
    });
  };
  count(plan, std::nullopt);
  for (std::size_t i = 0; i < order_.size(); ++i) count(order_[i]->plan, i);
  return results;
}

}  // namespace cutproof
