// SPDX-License-Identifier: GPL-3.0-or-later
// The step `use`: pieces that are congruent to what a lemma starts from become what it makes of them. That the lemma holds
// was checked before; here only congruence is decided.
#include "plan/other_field.hpp"
#include "solid/congruence.hpp"
#include "verify/lemma_checks.hpp"
#include "verify/motion_text.hpp"
#include "verify/run.hpp"
#include "verify/text.hpp"

#include <algorithm>

namespace cutproof {

namespace {

FindingFact text_fact(std::string text) {
  FindingFact fact;
  fact.text = std::move(text);
  return fact;
}

std::string values_text(const Lemma& lemma) {
  std::string text;
  for (const auto& [name, value] : lemma.values) text += (text.empty() ? " with " : ", ") + name + " = " + value;
  return text;
}

Boundary lifted(Boundary boundary, const Field& field) {
  const auto lift = [&](Vector3& vector) {
    vector = {vector.x.lifted_to(field), vector.y.lifted_to(field), vector.z.lifted_to(field)};
  };
  for (Vector3& corner : boundary.vertices) lift(corner);
  for (Facet& facet : boundary.facets) {
    lift(facet.plane.normal);
    facet.plane.offset = facet.plane.offset.lifted_to(field);
  }
  return boundary;
}

}  // namespace

/// The solids that a lemma takes, in a field that holds them beside the plan's own, which stays as it is.
struct Run::TakenSolids {
  std::unique_ptr<FieldTower> tower;
  std::unique_ptr<Engine> engine;
  std::vector<SurfaceForm> forms;
  std::vector<Number> volumes;
};

const Run::TakenSolids& Run::taken_solids(const UseStep& step) {
  std::shared_ptr<const TakenSolids>& known = taken_solids_[{step.lemma.get(), step.backwards}];
  if (known != nullptr) return *known;
  auto solids = std::make_shared<TakenSolids>();
  solids->tower = plan_.tower->fork();
  solids->engine = engine_.another();
  const ExactPlan& lemma = step.lemma->plan;
  const std::vector<NamedSolid>& taken = step.backwards ? lemma.goals : lemma.start;
  std::vector<SolidPointer> described;
  for (int round = 0; round < 2; ++round) {  // the second time all numbers are in the field that holds all of them
    described.clear();
    for (const NamedSolid& each : taken) described.push_back(in_other_field(each.solid, *lemma.tower, *solids->tower));
  }
  for (const SolidPointer& each : described) {
    const Solid built = solids->engine->build(*each);
    if (built == nullptr) throw ToolFault("a solid that a lemma takes is empty in the field of the plan");
    solids->forms.emplace_back(lifted(solids->engine->boundary(built), solids->tower->top()));
    solids->volumes.push_back(volume(solids->forms.back().boundary()));
  }
  known = std::move(solids);
  return *known;
}

void Run::judge_lemma(const UseStep& step) {
  const CheckResult& lemma = lemmas_.of(*step.lemma);
  if (lemma.outcome == Outcome::verified || !told_lemmas_.insert(step.lemma.get()).second) return;
  const std::string called = "the lemma `" + step.name.name + "`" + values_text(*step.lemma);
  const Finding* first = nullptr;
  for (const Finding& each : lemma.findings)
    if (first == nullptr && (lemma.outcome != Outcome::refuted || each.code != "limit-reached")) first = &each;
  const std::string where =
      first == nullptr ? "" : (step.lemma->file.empty() ? "line " : step.lemma->file + ":") + std::to_string(first->line);
  const std::string why = first == nullptr ? "" : ": " + (first->message.empty() ? first->code : first->message);
  switch (lemma.outcome) {
    case Outcome::verified:
      return;
    case Outcome::refuted: {
      Finding fails = finding("lemma-fails", step.name.place);
      fails.facts["lemma"] = text_fact("`" + step.name.name + "`" + values_text(*step.lemma));
      fails.facts["count"] = fact(lemma.findings.size());
      fails.facts["first"] = text_fact(
          first == nullptr ? "" : first->code + " at its step " + std::to_string(first->step) + " (" + where + ")");
      add(std::move(fails));
      return;
    }
    case Outcome::invalid:
      throw InvalidStep(step.name, called + " is invalid" + why + (where.empty() ? "" : " (" + where + ")"),
                        first == nullptr ? "" : first->hint);
    case Outcome::stopped:
      add(finding_in_words("limit-reached", step.name.place, called + " was stopped" + why, {},
                           first == nullptr ? "" : first->hint));
      return;
    case Outcome::failed:
      break;
  }
  add(finding_in_words("tool-fault", step.name.place, called + " could not be checked" + why, {},
                       "this is a fault of the tool: please report it with the plan"));
}

void Run::apply(const UseStep& step) {
  result_.steps.back().lemma = step.name.name;
  judge_lemma(step);
  std::vector<Bench::Position> pieces;
  for (const UseStep::Taken& taken : step.taken) {
    const std::optional<Selection> selection = take({taken.piece});
    if (!selection) continue;
    for (const Bench::Position& piece : selection->all()) pieces.push_back(piece);
  }
  // What is left out leaves its pieces where they should be gone.
  const auto leave_out = [&] {
    const auto is_made = [&](const std::string& name) {
      return std::any_of(step.made.begin(), step.made.end(),
                         [&](const UseStep::Made& made) { return made.name.name == name; });
    };
    for (const UseStep::Made& made : step.made) bench_.add_phantom(made.name.name);
    for (const Bench::Position& piece : pieces) piece->stale = !is_made(piece->name);
    skip();
  };
  if (pieces.size() != step.taken.size()) return leave_out();

  const TakenSolids& solids = taken_solids(step);
  bool all_fit = true;
  std::vector<Motion> there;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    const BenchPiece& piece = *pieces[i];
    in_hand_ = {piece.name};
    const std::size_t index = step.taken[i].index;
    const SurfaceForm own(lifted(engine_.boundary(piece.solid), solids.tower->top()));
    const bool same_volume = piece.volume.lifted_to(solids.tower->top()) == solids.volumes[index];
    std::optional<Motion> fit;
    if (same_volume) fit = find_motion(own, solids.forms[index], Sense::direct, ambient());
    if (same_volume && !fit && plan_.allow_mirror) fit = find_motion(own, solids.forms[index], Sense::mirrored, ambient());
    if (fit) {
      there.push_back(std::move(*fit));
      continue;
    }
    const bool mirrored = same_volume && find_motion(own, solids.forms[index], Sense::mirrored, ambient()).has_value();
    const ExactPlan& lemma = step.lemma->plan;
    Finding none = finding("no-fit", step.taken[i].piece.place, {piece.name});
    none.statement = mirrored ? "lemma mirrored" : same_volume ? "lemma of this volume" : "lemma";
    none.facts["lemma"] = text_fact("`" + step.name.name + "`" + values_text(*step.lemma));
    none.facts["solid"] = text_fact("`" + (step.backwards ? lemma.goals : lemma.start)[index].name + "`");
    none.facts["side"] = text_fact(step.backwards ? "goal" : "start");
    none.facts["own"] = fact(piece.volume);
    none.facts["wanted"] = fact(solids.volumes[index]);
    left_out(std::move(none));
    all_fit = false;
  }
  if (!all_fit) return leave_out();

  std::vector<std::string> names;
  std::vector<Solid> made;
  for (const UseStep::Made& each : step.made) {
    names.push_back(each.name.name);
    made.push_back(built(each.solid));
  }
  Motion back;
  if (step.by) {
    const std::optional<Motion> motion = step.by->parts.empty() ? step.by->motion : found_motion(*step.by, names, made);
    if (!motion) return leave_out();
    demand_flat(*motion);
    if (!motion->is_proper() && !plan_.allow_mirror) add(finding("mirrored", step.by->motion_place, names));
    for (Solid& solid : made) solid = engine_.moved(solid, *motion);
    back = *motion;
    if (options_.details.motions) {
      MotionResult told = motion_result(*motion, plan_.dimension);
      told.pieces = names;
      told.line = step.by->motion_place.line;
      told.column = step.by->motion_place.column;
      result_.steps.back().motions.push_back(std::move(told));
    }
  }
  const bool holds = lemmas_.of(*step.lemma).outcome == Outcome::verified;
  if (holds)
    for (RunObserver* observer : observers_) observer->on_fitted(step, there, back);
  Replacement replacement;
  replacement.consumed = pieces;
  for (std::size_t i = 0; i < made.size(); ++i) replacement.made.push_back({step.made[i].name, made[i], false});
  replacement.by_lemma = true;
  replacement.proved = holds;
  if (!replace({std::move(replacement)})) return;
  std::vector<char> suspect;
  for (const BenchPiece& piece : bench_.pieces())
    suspect.push_back(std::find(names.begin(), names.end(), piece.name) != names.end() ? 1 : 0);
  find_overlaps(suspect);
}

}  // namespace cutproof
