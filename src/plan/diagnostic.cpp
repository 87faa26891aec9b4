// SPDX-License-Identifier: GPL-3.0-or-later
// The errors of a plan as exceptions.
#include "plan/diagnostic.hpp"

#include <algorithm>
#include <tuple>

namespace cutproof {

namespace {

std::vector<Diagnostic> sorted(std::vector<Diagnostic> diagnostics) {
  if (diagnostics.empty()) throw ToolFault("a plan was called invalid without a reason");
  std::stable_sort(diagnostics.begin(), diagnostics.end(), [](const Diagnostic& a, const Diagnostic& b) {
    return std::tie(a.line, a.column) < std::tie(b.line, b.column);
  });
  return diagnostics;
}

}  // namespace

InvalidPlan::InvalidPlan(std::vector<Diagnostic> diagnostics, std::size_t count)
    : InvalidInput(diagnostics.empty() ? "" : diagnostics.front().message,
                   diagnostics.empty() ? "" : diagnostics.front().hint),
      diagnostics_(sorted(std::move(diagnostics))),
      count_(std::max(count, diagnostics_.size())) {}

PlanLimit::PlanLimit(const std::string& limit, Diagnostic diagnostic, std::string file)
    : LimitReached(limit, diagnostic.message, diagnostic.hint), diagnostic_(std::move(diagnostic)), file_(std::move(file)) {}

}  // namespace cutproof
