// SPDX-License-Identifier: GPL-3.0-or-later
// The parameters of a plan: which values they have, and whether these are what its `where` demands.
#pragma once

#include "plan/resolver.hpp"

#include <string>
#include <utility>
#include <vector>

namespace cutproof {

/// Where the values of parameters are taken from.
struct ParameterChoice {
  /// Names and expressions; then `cases` are left out.
  std::vector<std::pair<std::string, std::string>> set;
  std::size_t case_number = 0;  ///< from 1; 0: `cases` are left out
  /// The plan is used as a lemma: values that its `where` forbids are thrown as InvalidInput, since they stand elsewhere.
  bool of_lemma = false;
};

/// What is known of a plan's parameters, in the order of the plan.
struct ParameterValues {
  int dimension = 3;                                        ///< of the plan
  std::size_t case_number = 0;                              ///< 0: the plan has no `cases`, or they were left out
  std::size_t case_count = 0;                               ///< of the plan; 0 where they were left out
  std::vector<std::pair<std::string, std::string>> values;  ///< names and exact values
};

/// Gives the parameters the values that were chosen. Records what is wrong with these and throws Recorded.
void choose_parameters(PlanIndex& index, const ParameterChoice& choice, const NumberLimits& limits, ReachedLimits& reached,
                       ParameterValues* values);
/// Records an error, at the place that the values came from, where the plan's `where` does not hold, and throws Recorded.
/// Adjoins nothing to the resolver's tower.
void check_parameters(PlanIndex& index, Resolver& resolver, const ParameterChoice& choice, ParameterValues* values);

}  // namespace cutproof
