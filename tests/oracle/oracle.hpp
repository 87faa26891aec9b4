// SPDX-License-Identifier: GPL-3.0-or-later
// A third way to judge a plan, for tests: the plan's reader, and from there on nothing that `check` uses. Neither engine,
// nor the bench, nor the checks of src/verify.
#pragma once

#include "cutproof/result.hpp"

#include <cstddef>
#include <set>
#include <string>
#include <utility>
#include <vector>

namespace cutproof::oracle {

struct Judgement {
  /// Never `failed`. Refuted exactly when `findings` is not empty and nothing is invalid.
  Outcome outcome = Outcome::verified;
  /// `code@step`, with `=volume` (exact) for overlap, missing, excess and volume-differs; sorted. Nothing is said about Dehn
  /// invariants. For `invalid` and `stopped` what was found before.
  std::vector<std::string> findings;
  /// Lines and columns of expectations that the oracle does not judge: dihedral angles, Dehn invariants.
  std::set<std::pair<int, int>> not_judged;
  std::string why;  ///< for `invalid` and `stopped`
};

/// Of a plan with `cases` the one with this number, from 1. Other files that it names are looked for beside `path`.
Judgement judge_plan(const std::string& text, const std::string& path, std::size_t case_number = 1);

}  // namespace cutproof::oracle
