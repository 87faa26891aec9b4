// SPDX-License-Identifier: GPL-3.0-or-later
// From a plan's text to a result: reading and executing joined, and every way in which either can end turned into findings.
#include "files/check_text.hpp"

#include "files/digest.hpp"
#include "files/endings.hpp"
#include "files/read_file.hpp"
#include "files/solid_files.hpp"
#include "plan/read_plan.hpp"
#include "solid/both_engines.hpp"
#include "verify/check.hpp"
#include "verify/names.hpp"

#include <algorithm>
#include <exception>
#include <memory>
#include <new>
#include <optional>

namespace cutproof {
namespace {

// Adds a finding and counts it.
auto adding_to(CheckResult* result) {
  return [result](const Finding& finding) {
    result->findings.push_back(finding);
    ++result->counts[finding.code];
  };
}

}  // namespace

void add_excerpts(std::string_view text, CheckResult* result) {
  constexpr std::size_t longest = 500;
  std::vector<std::string_view> lines;
  for (std::string_view rest = text; !rest.empty();) {
    const std::size_t end = std::min(rest.find('\n'), rest.size());
    lines.push_back(rest.substr(0, std::min(rest.find('\r'), end)));
    rest.remove_prefix(std::min(end + 1, rest.size()));
  }
  const auto show = [&](auto& place) {
    const auto line = static_cast<std::size_t>(std::max(place.line, 0));
    if (line == 0 || line > lines.size() || !place.excerpt.empty() || lines[line - 1].size() > longest) return;
    place.excerpt = lines[line - 1];
    if (place.column > 0 && place.caret_length == 0)
      place.caret_length = value_length(place.excerpt, static_cast<std::size_t>(place.column));
  };
  for (Finding& finding : result->findings) {
    show(finding);
    if (!finding.suspects.empty()) show(finding.suspects.front());
  }
}

namespace {

void tell(const ProgressReceiver& progress, const CheckResult& so_far, const std::string& activity, int step, int line) {
  if (progress) progress(CheckProgress{so_far, activity, step, line});
}

// After the start and after each step: what is about to be done.
void tell_next(const ProgressReceiver& progress, const ExactPlan& plan, const CheckResult& so_far, bool solids_built) {
  const std::size_t done = so_far.steps.size(), total = plan.steps.size();
  if (!solids_built) {
    tell(progress, so_far, "building the solids", 0, plan.start_place.line);
  } else if (done < total) {
    const Step& step = plan.steps[done];
    tell(progress, so_far, "step " + std::to_string(done + 1) + " of " + std::to_string(total) + ": " + step.kind(),
         static_cast<int>(done + 1), step.place.line);
  } else {
    tell(progress, so_far, "comparing with the goal", static_cast<int>(total), plan.goal_place.line);
  }
}

}  // namespace

CheckResult check_plan_text(std::string_view text, const std::string& path, const CheckSettings& settings,
                            const ProgressReceiver& progress, const HistoryReceiver& history,
                            const ObserverMaker& make_observer) {
  CheckResult known;  // what every report of this run says, whatever becomes of it
  known.plan = path;
  known.plan_sha256 = sha256(text);
  known.engine = settings.engine;
  CheckResult result = known;
  std::size_t unlisted = 0;  // errors in the text
  bool was_run = false;
  const auto describe = [](const ExactPlan& plan, CheckResult* described) {
    described->title = plan.title;
    described->source = plan.source;
    described->note = plan.note;
    described->total_steps = plan.steps.size();
  };
  ParameterValues parameters;
  ReadLimits limits;
  const auto tell_parameters = [&parameters, &limits](CheckResult* described) {
    described->dimension = parameters.dimension;
    described->case_number = parameters.case_number;
    described->case_count = parameters.case_count;
    described->parameters = parameters.values;
    described->meshes = meshes_of(limits);
  };
  completes(
      [&] {
        tell(progress, known, "reading the plan", 0, 0);
        limits = limits_of(settings, path);
        limits.parameters.case_number = settings.case_number;
        if (progress)
          limits.progress = [&](const std::string& stage) { tell(progress, known, "reading the plan: " + stage, 0, 0); };
        const std::optional<ExactPlan> readable = [&]() -> std::optional<ExactPlan> {
          try {
            return read_plan(std::string(text), limits, &parameters);
          } catch (const InvalidPlan& error) {
            unlisted = error.count() - error.diagnostics().size();
            throw;
          } catch (const PlanLimit& error) {
            if (error.draft == nullptr) throw;
            NameErrors errors = check_names(*error.draft);  // an error beats a limit
            if (errors.count == 0) throw;
            describe(*error.draft, &result);
            result.findings = std::move(errors.listed);
            result.counts["invalid-input"] = errors.count;
            return std::nullopt;
          }
        }();
        if (!readable) return;
        const ExactPlan& plan = *readable;
        // After the plan, whose fields own every number: an engine may keep some until it goes.
        const std::shared_ptr<Engine> engine = make_engine(settings.engine);
        describe(plan, &known);
        tell_parameters(&known);
        tell_next(progress, plan, known, /*solids_built=*/false);
        CheckOptions options;
        options.max_bits = settings.max_bits;
        options.geometry = settings.geometry;
        options.details = settings.details;
        options.history = history;
        const std::unique_ptr<RunObserver> observer = make_observer ? make_observer(plan, engine) : nullptr;
        options.observer = observer.get();
        if (progress) {
          options.progress = [&](const CheckResult& so_far) { tell_next(progress, plan, so_far, true); };
        }
        result = check_plan(plan, *engine, options);
        was_run = true;
        result.plan = known.plan;
        result.plan_sha256 = known.plan_sha256;
        for (LemmaResult& lemma : result.lemmas)
          if (lemma.plan_sha256.empty()) lemma.plan_sha256 = known.plan_sha256;
        result.engine = known.engine;
      },
      adding_to(&result));
  tell_parameters(&result);
  if (unlisted != 0) result.counts["invalid-input"] += unlisted;
  if (!was_run) result.outcome = judge(result, /*complete=*/false);
  add_excerpts(text, &result);
  return result;
}

CheckResult check_plan_file(const std::string& path, const CheckSettings& settings, const ProgressReceiver& progress,
                            const HistoryReceiver& history, std::string* text_of_plan, const ObserverMaker& make_observer) {
  CheckResult result;
  result.plan = path;
  result.engine = settings.engine;
  std::string own_text;
  std::string& text = text_of_plan == nullptr ? own_text : *text_of_plan;
  if (completes([&] { text = read_file(path, settings.max_plan_size); }, adding_to(&result))) {
    return check_plan_text(text, path, settings, progress, history, make_observer);
  }
  result.outcome = judge(result, /*complete=*/false);
  return result;
}

std::vector<CheckResult> check_plan_cases(std::string_view text, const std::string& path, const CheckSettings& settings,
                                          const ProgressReceiver& progress) {
  std::vector<CheckResult> results;
  CheckSettings each = settings;
  each.case_number = 1;
  do {
    results.push_back(check_plan_text(text, path, each, progress));
  } while (each.case_number++ < results.front().case_count);
  return results;
}

CheckResult check_plan_text(std::string_view text, const std::string& path, const CheckSettings& settings,
                            const ProgressReceiver& progress) {
  return check_plan_text(text, path, settings, progress, {});
}
CheckResult check_plan_file(const std::string& path, const CheckSettings& settings, const ProgressReceiver& progress) {
  return check_plan_file(path, settings, progress, {});
}

}  // namespace cutproof
