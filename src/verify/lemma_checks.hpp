// SPDX-License-Identifier: GPL-3.0-or-later
// The lemmas of a plan, each checked once for each set of values, as a plan of its own.
#pragma once

#include "plan/lemmas.hpp"
#include "verify/check.hpp"

#include <map>
#include <memory>
#include <vector>

namespace cutproof {

class LemmaChecks {
 public:
  LemmaChecks();
  ~LemmaChecks();

  /// Checks every lemma that the plan uses and that was not checked yet, with a new engine of the same kind, and those that
  /// they use before them.
  void check(const ExactPlan& plan, Engine& engine, const CheckOptions& options);
  /// What became of a lemma that was checked.
  const CheckResult& of(const Lemma& lemma) const;
  /// True iff all lemmas that the plan uses are verified.
  bool hold(const ExactPlan& plan) const;
  /// All of them, for the report of a plan.
  std::vector<LemmaResult> results(const ExactPlan& plan) const;

 private:
  std::map<const Lemma*, std::unique_ptr<CheckResult>> checked_;
  std::vector<std::shared_ptr<const Lemma>> order_;  ///< each before its users
};

}  // namespace cutproof
