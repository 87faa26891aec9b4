// SPDX-License-Identifier: GPL-3.0-or-later
// Runs a plan on an engine and judges it. `judge` is the only code that can say "verified".
#pragma once

#include "cutproof/result.hpp"
#include "plan/exact_plan.hpp"
#include "solid/engine.hpp"
#include "verify/observer.hpp"

#include <functional>

namespace cutproof {

struct CheckOptions {
  std::size_t max_bits = 1u << 20;  ///< of a coordinate on the bench
  /// Called after the start, each step and the goal with all that was proved so far (outcome not yet decided).
  std::function<void(const CheckResult&)> progress;
  GeometryWish geometry;            ///< what `CheckResult::geometry` is to hold
  DetailWish details;               ///< what else the result is to hold
  RunObserver* observer = nullptr;  ///< somebody else who looks on
};

/// Executes and checks every step. Does not throw for anything a plan can do; LimitReached and ToolFault pass through after
/// `progress` has seen what was proved.
CheckResult check_plan(const ExactPlan& plan, Engine& engine, const CheckOptions& options);

/// The one place where an outcome is decided: failed beats invalid beats refuted beats stopped; `verified` only when
/// the run is complete and nothing was found.
Outcome judge(const CheckResult& result, bool complete);

}  // namespace cutproof
