// SPDX-License-Identifier: GPL-3.0-or-later
// From a plan to a verdict: names first, then the run, then `judge`.
#include "verify/check.hpp"

#include "plan/complaints.hpp"
#include "solid/both_engines.hpp"
#include "verify/geometry_keeper.hpp"
#include "verify/lemma_checks.hpp"
#include "verify/names.hpp"
#include "verify/run.hpp"
#include "verify/scene.hpp"
#include "verify/shape_keeper.hpp"
#include "verify/suspects.hpp"
#include "verify/text.hpp"

#include <algorithm>

namespace cutproof {

namespace {

void describe_plan(const ExactPlan& plan, CheckResult& result) {
  result.title = plan.title;
  result.source = plan.source;
  result.note = plan.note;
  result.dimension = plan.dimension;
  result.total_steps = plan.steps.size();
  result.equicomplement = !plan.added.empty();
  if (plan.field != nullptr) result.field = field_text(*plan.field);
  for (const PlanNote& note : plan.notes) result.notes.push_back({note.place.line, note.place.column, note.message});
}

Finding ended(const Run& run, const std::string& code, const std::string& message, const std::string& hint) {
  Finding finding;
  finding.code = code;
  finding.step = run.current_step();
  finding.pieces = run.current_pieces();
  finding.message = message;
  set_place(finding, run.current_place());
  finding.hint = hint;
  return finding;
}

}  // namespace

CheckResult check_plan(const ExactPlan& plan, Engine& engine, const CheckOptions& options) {
  GeometryKeeper keeper(options.geometry, engine);
  std::vector<RunObserver*> observers;
  if (options.geometry.any()) observers.push_back(&keeper);
  ShapeKeeper shapes(options.details.shapes_up_to, options.details.extents_up_to, engine, plan.dimension);
  if (options.details.shapes_up_to > 0 || options.details.extents_up_to > 0) observers.push_back(&shapes);
  SceneKeeper scene(engine);
  if (options.details.scene) observers.push_back(&scene);
  if (options.observer != nullptr) observers.push_back(options.observer);
  BlockHistory history(engine);
  if (options.history) observers.push_back(&history);
  LemmaChecks own_lemmas;
  LemmaChecks& lemmas = options.lemmas == nullptr ? own_lemmas : *options.lemmas;
  Run run(plan, engine, options, observers, lemmas);
  CheckResult& result = run.result();
  describe_plan(plan, result);
  bool complete = false;
  try {
    NameErrors errors = check_names(plan);
    result.findings = std::move(errors.listed);
    if (errors.count != 0) {
      result.counts["invalid-input"] = errors.count;
    } else {
      lemmas.check(plan, engine, options);
      run.execute();
      complete = lemmas.hold(plan);
    }
  } catch (const InvalidStep& error) {
    Finding finding = ended(run, "invalid-input", told(error).sentence, told(error).hint);
    finding.message = told(error).sentence;
    set_place(finding, error.where().place);
    finding.caret_length = static_cast<int>(error.where().name.size());
    finding.pieces.clear();
    result.findings.push_back(finding);
  } catch (const InvalidInput& error) {
    result.findings.push_back(ended(run, "invalid-input", told(error).sentence, told(error).hint));
  } catch (const LimitReached& error) {
    result.findings.push_back(ended(run, "limit-reached", told(error).sentence, told(error).hint));
  } catch (const EnginesDiffer& error) {
    result.findings.push_back(
        ended(run, "engines-differ", error.what(), "this is a fault of the tool: please report it with the plan"));
  } catch (const ToolFault& error) {
    result.findings.push_back(
        ended(run, "tool-fault", error.what(), "this is a fault of the tool: please report it with the plan"));
  }
  if (plan.dimension == 2)  // those that the run did not add
    for (Finding& finding : result.findings)
      if (finding.dimension != 2) flatten(&finding);
  shapes.give_to(&result);
  rank_suspects(run.bench(), &result);
  if (options.geometry.any()) result.geometry = std::move(keeper.kept());
  if (!complete)
    for (const Finding& finding : result.findings) result.counts.try_emplace(finding.code, 0);
  for (auto& [code, count] : result.counts) {
    const auto listed =
        static_cast<std::size_t>(std::count_if(result.findings.begin(), result.findings.end(),
                                               [&code = code](const Finding& finding) { return finding.code == code; }));
    count = std::max(count, listed);
  }
  std::stable_sort(result.findings.begin(), result.findings.end(),
                   [](const Finding& a, const Finding& b) { return a.step < b.step; });
  if (options.lemmas == nullptr) result.lemmas = lemmas.results(plan);
  result.outcome = judge(result, complete);
  if (options.details.scene) result.scene = scene.scene(result);
  if (options.history) options.history(history, &result);
  return std::move(result);
}

}  // namespace cutproof
