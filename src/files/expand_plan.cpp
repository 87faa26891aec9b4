// SPDX-License-Identifier: GPL-3.0-or-later
// A plan is carried out as `check` does it, and what happens is written down in the words of version 1.
#include "cutproof/writing.hpp"
#include "files/check_text.hpp"
#include "files/expand/step_writer.hpp"
#include "files/read_file.hpp"
#include "plan/exact_value.hpp"
#include "plan/plan_index.hpp"

#include <algorithm>
#include <set>
#include <utility>

namespace cutproof {

namespace {

/// Writes a plan when its run is complete.
class Expansion final : public RunRecord {
 public:
  Expansion(const ExactPlan& plan, const std::shared_ptr<Engine>& engine, std::size_t most_steps, ExpandedPlan* expanded)
      : RunRecord(plan, engine, records_, false), most_steps_(most_steps), expanded_(expanded) {}

  void on_end(const Bench& bench) override {
    RunRecord::on_end(bench);
    for (std::size_t i = 0; i < plan().steps.size(); ++i)
      if (std::holds_alternative<UseStep>(plan().steps[i].action) && !step(i).use) {
        expanded_->why_not =
            "the lemma of step " + std::to_string(i + 1) + " is not carried out, so it cannot be written out";
        return;
      }
    const std::optional<std::vector<NamedSolid>> there = added_there();
    if (!there) return;  // where something that is added must come to lie was not found
    PlainSteps text(most_steps_);
    StepWriter(text, records_, *this, {}).write_steps();
    PlanComments comments;
    const PlanValue root = written_plan(*there, text, &comments);
    expanded_->text = write_plan(root, comments);
  }

 private:
  /// What is added, where it must be in the end.
  std::optional<std::vector<NamedSolid>> added_there() const {
    std::vector<NamedSolid> there;
    for (const AddedSolid& added : plan().added) {
      NamedSolid solid = added.named;
      if (added.by) {
        const auto found = found_before().find(&*added.by);
        if (!added.by->parts.empty() && found == found_before().end()) return std::nullopt;
        const Motion& motion = added.by->parts.empty() ? added.by->motion : found->second;
        solid.solid = make_solid(PlacedDescription{solid.solid, motion, Number(1), {}});
      }
      there.push_back(std::move(solid));
    }
    return there;
  }

  PlanValue written_plan(const std::vector<NamedSolid>& added, const PlainSteps& text, PlanComments* comments) const {
    std::string added_names;
    for (const NamedSolid& each : added) added_names += (added_names.empty() ? "" : ", ") + each.name;
    PlanValue root = PlanValue::mapping();
    root.add("cutproof", 1);
    const std::string with = added.empty() ? "" : " (with " + added_names + " added to both sides)";
    if (!plan().title.empty()) root.add("title", plan().title + with);
    if (!plan().source.empty()) root.add("source", plan().source);
    if (plan().allow_mirror) root.add("mirror", "allow");
    PlanValue start = PlanValue::mapping();
    for (const NamedSolid& piece : plan().start) start.add(piece.name, written_value(*piece.solid));
    for (const AddedSolid& piece : plan().added) start.add(piece.named.name, written_value(*piece.named.solid));
    root.add("start", start);
    root.add("steps", text.steps());
    root.add("goal", goal(added));
    comments->keeps_lines = true;
    for (std::size_t begin = 0; begin < plan().note.size();) {
      const std::size_t end = std::min(plan().note.find('\n', begin), plan().note.size());
      add_comment(plan().note.substr(begin, end - begin), &comments->head);
      begin = end + 1;
    }
    if (!added.empty())
      add_comment("Added to both sides: " + added_names +
                      ". Here start and goal contain what is added, so this is a dissection "
                      "of the one with it into the other with it; without it they are equicomplementary.",
                  &comments->head);
    const PlanValue& steps = *root.find("steps");
    for (const auto& [number, texts] : text.comments())
      for (const std::string& each : texts)
        add_comment(
            each, &comments->at[number < steps.entries().size() ? &steps.entries()[number] : &root.entries().back()].before);
    return root;
  }

  PlanValue goal(const std::vector<NamedSolid>& added) const {
    std::vector<NamedSolid> goals = plan().goals;
    goals.insert(goals.end(), added.begin(), added.end());
    std::set<std::string> names;
    const bool all_named = std::all_of(goals.begin(), goals.end(), [&](const NamedSolid& goal) {
      const std::vector<std::string>& kinds = solid_kinds();
      return is_wide_name(goal.name) && std::find(kinds.begin(), kinds.end(), goal.name) == kinds.end() &&
             names.insert(goal.name).second;
    });
    if (goals.size() == 1 && (goals.front().name == "goal" || !all_named)) return written_value(*goals.front().solid);
    PlanValue result = all_named ? PlanValue::mapping() : PlanValue::list();
    for (const NamedSolid& goal : goals) result.add(all_named ? goal.name : "", written_value(*goal.solid));
    return result;
  }

  RunRecords records_;
  std::size_t most_steps_;
  ExpandedPlan* expanded_;
};

/// Whether version 1 of the language finds it, too.
bool is_of_version_1(const Finding& finding) {
  static const std::set<std::string> codes = {"plane-misses", "mirrored",       "overlap",      "join-apart",
                                              "straddles",    "missing",        "excess",       "volume-differs",
                                              "dehn-differs", "volume-changed", "dehn-changed", "invalid-input"};
  static const std::set<std::string> expectations = {"pieces", "more volume", "less volume", "connected",
                                                     "filled", "angles",      "dehn",        "split"};
  if (finding.code == "expectation-failed") return expectations.count(finding.statement) != 0;
  return codes.count(finding.code) != 0;
}

std::string why_not(const CheckResult& result) {
  for (const std::vector<Finding>* findings : {&result.findings, &result.consequences})
    for (const Finding& finding : *findings) {
      if (is_of_version_1(finding)) continue;
      return "version 1 cannot find `" + finding.code + "`" +
             (finding.code == "expectation-failed" ? " of what this `expect` says" : "") + ", as step " +
             std::to_string(finding.step) + " has it: what is left could be verified";
    }
  return "";
}

}  // namespace

ExpandedPlan expand_plan_text(std::string_view text, const std::string& path, const CheckSettings& settings,
                              const ProgressReceiver& progress) {
  ExpandedPlan expanded;
  CheckSettings own = settings;
  own.case_number = 0;
  expanded.result =
      check_plan_text(text, path, own, progress, {}, [&](const ExactPlan& plan, const std::shared_ptr<Engine>& engine) {
        return std::make_unique<Expansion>(plan, engine, settings.max_passes, &expanded);
      });
  const bool was_carried_out = expanded.result.outcome == Outcome::verified || expanded.result.outcome == Outcome::refuted;
  const std::string newer = was_carried_out ? why_not(expanded.result) : "";
  if (!newer.empty()) expanded.why_not = newer;
  if (!was_carried_out) expanded.why_not.clear();
  if (!was_carried_out || !expanded.why_not.empty()) expanded.text.clear();
  std::string with;
  for (const auto& [name, value] : expanded.result.parameters) with += (with.empty() ? "" : ", ") + name + " = " + value;
  if (with.empty() || expanded.text.empty()) return expanded;
  std::string head;
  for (const std::string& line : comment_lines("Written out with " + with + ".")) head += line + '\n';
  expanded.text.insert(0, head);
  return expanded;
}

ExpandedPlan expand_plan_file(const std::string& path, const CheckSettings& settings, const ProgressReceiver& progress) {
  std::string text;
  try {
    text = read_file(path, settings.max_plan_size);
  } catch (const std::exception&) {
    return {"", check_plan_file(path, settings, progress), ""};  // which says what is wrong with it
  }
  return expand_plan_text(text, path, settings, progress);
}

}  // namespace cutproof
