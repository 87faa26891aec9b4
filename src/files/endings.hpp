// SPDX-License-Identifier: GPL-3.0-or-later
// Every way in which reading or measuring can end early, as a finding.
#pragma once

#include "cutproof/result.hpp"
#include "plan/complaints.hpp"
#include "plan/diagnostic.hpp"

#include <exception>
#include <new>
#include <string>
#include <vector>

namespace cutproof {

inline Finding finding_of(const Diagnostic& diagnostic, const char* code) {
  Finding finding;
  finding.code = code;
  finding.line = diagnostic.line;
  finding.column = diagnostic.column;
  finding.caret_length = diagnostic.length;
  finding.message = diagnostic.message;
  finding.hint = diagnostic.hint;
  finding.excerpt = diagnostic.excerpt;
  if (diagnostic.pass != nullptr) finding.pass = *diagnostic.pass;
  finding.used_line = diagnostic.used_at.line;
  finding.used_column = diagnostic.used_at.column;
  return finding;
}

inline Finding finding_of(const std::string& code, const std::string& message, const std::string& hint) {
  Finding finding;
  finding.code = code;
  finding.message = message;
  finding.hint = hint;
  return finding;
}

/// Runs `work` and gives `add` a finding for each thing that it throws; true when it came to its end. std::bad_alloc passes
/// through.
template <class Work, class Add>
bool completes(const Work& work, const Add& add) {
  try {
    work();
    return true;
  } catch (const InvalidPlan& error) {
    for (const Diagnostic& each : error.diagnostics()) add(finding_of(each, "invalid-input"));
  } catch (const PlanLimit& error) {
    add(finding_of(error.diagnostic(), "limit-reached"));
  } catch (const InvalidInput& error) {
    add(finding_of("invalid-input", told(error).sentence, told(error).hint));
  } catch (const LimitReached& error) {
    add(finding_of("limit-reached", told(error).sentence, told(error).hint));
  } catch (const std::bad_alloc&) {
    throw;
  } catch (const std::exception& error) {
    add(finding_of("tool-fault", error.what(), "this is a fault of the tool: please report it with the plan"));
  }
  return false;
}

}  // namespace cutproof
