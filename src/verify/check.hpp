// SPDX-License-Identifier: GPL-3.0-or-later
// Runs a plan on an engine and judges it. `judge` is the only code that can say "verified".
#pragma once

#include "cutproof/check.hpp"
#include "cutproof/result.hpp"
#include "plan/exact_plan.hpp"
#include "solid/engine.hpp"
#include "verify/block_history.hpp"
#include "verify/observer.hpp"

#include <functional>
#include <string>
#include <string_view>

namespace cutproof {

class LemmaChecks;

/// Gets the history of a run and its result, which may be given what was made of it; its verdict stands.
using HistoryReceiver = std::function<void(const BlockHistory&, CheckResult*)>;

struct CheckOptions {
  std::size_t max_bits = 1u << 20;  ///< of a coordinate on the bench
  /// Called after the start, each step and the goal with all that was proved so far (outcome not yet decided).
  std::function<void(const CheckResult&)> progress;
  GeometryWish geometry;            ///< what `CheckResult::geometry` is to hold
  DetailWish details;               ///< what else the result is to hold
  RunObserver* observer = nullptr;  ///< somebody else who looks on
  HistoryReceiver history;          ///< when there is one, a history is kept and given to it at the end of the run
  LemmaChecks* lemmas = nullptr;    ///< of the plan that uses this one as a lemma
};

/// Executes and checks every step. Does not throw for anything a plan can do; LimitReached and ToolFault pass through after
/// `progress` has seen what was proved.
CheckResult check_plan(const ExactPlan& plan, Engine& engine, const CheckOptions& options);

/// Puts the plan's lines beside findings that only the run could make.
void add_excerpts(std::string_view text, CheckResult* result);

/// The one place where an outcome is decided: failed beats invalid beats refuted beats stopped; `verified` only when
/// the run is complete and nothing was found.
Outcome judge(const CheckResult& result, bool complete);

}  // namespace cutproof
