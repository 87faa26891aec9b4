// SPDX-License-Identifier: GPL-3.0-or-later
// Pieces on the bench, measured where a plan has put them: it is carried out so far and no farther, whether it holds or not.
#include "files/measure_plan.hpp"

#include "files/solid_files.hpp"
#include "plan/read_plan.hpp"
#include "solid/both_engines.hpp"
#include "verify/check.hpp"
#include "verify/names.hpp"
#include "verify/observer.hpp"
#include "verify/text.hpp"

#include <algorithm>
#include <exception>
#include <utility>

namespace cutproof {

namespace {

using Kind = PlanPlace::Kind;

std::string counted_steps(std::size_t count) {
  return count == 1 ? "one step" : std::to_string(count) + " steps";
}

std::string where(const PlanPlace& place) {
  switch (place.kind) {
    case Kind::start:
      return "at the start";
    case Kind::goal:
      return "among the goals";
    case Kind::end:
      return "at the end";
    case Kind::after_step:
      break;
  }
  return place.step == 0 ? "at the start" : "after step " + std::to_string(place.step);
}

/// Measures what lies at a place when the run gets there.
class PlaceReader final : public RunObserver {
 public:
  PlaceReader(const SolidReference& reference, const ExactPlan& plan, std::size_t total_steps, const AngleRules* rules,
              Engine& engine)
      : reference_(reference), plan_(plan), total_steps_(total_steps), rules_(rules), engine_(engine) {}

  bool reached() const { return reached_; }
  /// What was measured; throws what went wrong in doing so.
  MeasureResult result() {
    if (error_) std::rethrow_exception(error_);
    return std::move(result_);
  }

  void on_start(const std::vector<NamedSolid>&, const std::vector<Solid>&, const std::vector<NamedSolid>& goal_names,
                const std::vector<Solid>& goals) override {
    if (reference_.place->kind != Kind::goal) return;
    std::vector<There> there;
    for (std::size_t i = 0; i < goals.size(); ++i) there.push_back({goal_names[i].name, goals[i]});
    read(there);
  }
  void on_bench(int step, const Bench& bench) override {
    const bool start = reference_.place->kind == Kind::start && step == 0;
    const bool after =
        reference_.place->kind == Kind::after_step && reference_.place->step == static_cast<std::size_t>(step);
    if (start || after) read(there(bench));
  }
  void on_end(const Bench& bench) override {
    if (reference_.place->kind == Kind::end) read(there(bench));
  }

 private:
  struct There {
    std::string name;
    Solid solid;
  };

  static std::vector<There> there(const Bench& bench) {
    std::vector<There> there;
    for (const BenchPiece& piece : bench.pieces()) there.push_back({piece.name, piece.solid});
    return there;
  }

  void read(const std::vector<There>& there) {
    reached_ = true;
    try {
      if (reference_.name) {
        measure_one(there);
      } else {
        list(there);
      }
      result_.total_steps = total_steps_;
    } catch (...) {
      error_ = std::current_exception();  // the run is not to blame
    }
  }

  void measure_one(const std::vector<There>& there) {
    const auto found =
        std::find_if(there.begin(), there.end(), [&](const There& each) { return each.name == *reference_.name; });
    if (found == there.end()) {
      std::vector<std::string> names;
      for (const There& each : there) names.push_back(each.name);
      throw InvalidInput("there is no piece `" + *reference_.name + "` " + where(*reference_.place),
                         bench_hint(*reference_.name, std::move(names)));
    }
    const Field& field = plan_.tower->top();  // an audit's angles may have raised it
    result_ = measure(engine_, found->solid, field, rules_, /*may_overlap_itself=*/true, plan_.dimension);
    result_.field = field_text(field);
  }

  void list(const std::vector<There>& there) {
    for (const There& each : there) {
      PieceResult piece;
      piece.name = each.name;
      piece.parts = engine_.count_connected_components(each.solid);
      piece.volume = value_text(engine_.volume(each.solid));
      piece.extent = extent_of(engine_.boundary(each.solid), plan_.dimension);
      result_.pieces.push_back(std::move(piece));
    }
    result_.listed = true;
    result_.dimension = plan_.dimension;
    result_.field = field_text(*plan_.field);
    result_.answer = Answer::yes;
  }

  const SolidReference& reference_;
  const ExactPlan& plan_;
  std::size_t total_steps_;
  const AngleRules* rules_;
  Engine& engine_;
  bool reached_ = false;
  MeasureResult result_;
  std::exception_ptr error_;
};

/// What ends a run that has shown enough.
struct ShownEnough {};

/// Findings that say more than that the plan is wrong: errors, limits, faults.
std::vector<Finding> beyond_refutation(const CheckResult& result) {
  std::vector<Finding> kept;
  for (const Finding& finding : result.findings) {
    CheckResult alone;
    alone.findings = {finding};
    if (judge(alone, /*complete=*/false) != Outcome::refuted) kept.push_back(finding);
  }
  return kept;
}

}  // namespace

MeasureResult measure_place(const std::string& text, const SolidReference& reference, const RulesOfAudit& rules_in,
                            const CheckSettings& settings, const ReadLimits& limits) {
  ReadLimits of_case = limits;  // what a check looks at first, too
  of_case.parameters.case_number = 1;
  ParameterValues values;
  ExactPlan plan = read_plan(text, of_case, &values);
  const PlanPlace& place = *reference.place;
  if (place.kind == Kind::after_step && place.step > plan.steps.size())
    throw InvalidInput("the plan has " + counted_steps(plan.steps.size()) + ": nothing is " + where(place),
                       "`@" + std::to_string(plan.steps.size()) + "` is the last one, `@end` what comes of it");
  const std::size_t total_steps = plan.steps.size();
  if (place.kind != Kind::end)  // what comes later may name pieces that are not there
    plan.steps.erase(plan.steps.begin() + static_cast<std::ptrdiff_t>(place.kind == Kind::after_step ? place.step : 0),
                     plan.steps.end());
  const std::optional<AngleRules> rules = rules_in(*plan.tower);
  const std::unique_ptr<Engine> engine = make_engine(settings.engine);  // after the plan, whose fields own every number
  PlaceReader reader(reference, plan, total_steps, rules ? &*rules : nullptr, *engine);
  CheckResult run;
  CheckOptions options;
  options.max_bits = settings.max_bits;
  options.observer = &reader;
  options.progress = [&](const CheckResult& so_far) {
    if (!reader.reached()) return;
    run.findings = so_far.findings;
    throw ShownEnough();
  };
  try {
    run = check_plan(plan, *engine, options);
  } catch (const ShownEnough&) {
  }
  add_excerpts(text, &run);
  MeasureResult result;
  result.findings = beyond_refutation(run);
  if (!result.findings.empty()) {
    result.answer = answer_of(result.findings);
  } else {
    result = reader.result();
  }
  result.case_number = values.case_number;
  result.case_count = values.case_count;
  result.parameters = std::move(values.values);
  return result;
}

}  // namespace cutproof
