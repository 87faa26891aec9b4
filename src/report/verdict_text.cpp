// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/verdict_text.hpp"

#include "report/findings_text.hpp"
#include "report/refutation_text.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace cutproof {
namespace {

bool ended_half_way(const CheckResult& result) {
  return result.outcome == Outcome::refuted && result.counts.count("limit-reached") != 0;
}

}  // namespace

std::size_t finding_count(const CheckResult& result) {
  std::size_t count = 0;
  for (const auto& [code, times] : result.counts) count += ended_half_way(result) && code == "limit-reached" ? 0 : times;
  return ended_half_way(result) ? count : std::max(count, result.findings.size());
}

std::string verdict_sentence(const CheckResult& result) {
  const std::string findings = counted(finding_count(result), "finding");
  const std::string reached =
      fmt::format("A limit was reached after {} of {}", result.steps.size(), counted(result.total_steps, "step"));
  switch (result.outcome) {
    case Outcome::verified:
      if (result.equicomplement)
        return "Start and goal are equicomplementary: with the same added to both, the one becomes the other. Decided "
               "exactly, "
               "without a tolerance: every cut splits its piece, every motion is rigid, no two pieces share interior "
               "points, "
               "and at the end they fill the goal and the places of what was added. The paths of motions were not examined.";
      return "Decided exactly, without a tolerance: every cut splits its piece, every motion is rigid, no two pieces share "
             "interior points, and at the end they fill the goal. The paths of motions were not examined.";
    case Outcome::refuted:
      if (ended_half_way(result))
        return "The plan does not hold: " + findings + ". " + reached + "; the rest was not looked at.";
      return "The plan was carried out exactly and does not hold: " + findings + ".";
    case Outcome::invalid:
      return (result.field || result.total_steps > 0 ? "The plan asks for something that is not there or has no meaning: "
                                                     : "The plan cannot be read: ") +
             findings + ".";
    case Outcome::stopped:
      if (result.steps.empty()) return "A limit was reached before the first step was done, so nothing is decided.";
      return reached + ", so nothing is decided.";
    case Outcome::failed:
      break;
  }
  return "This is a fault of the tool or of its surroundings and says nothing about the plan.";
}

std::size_t times_done(const CheckResult& result, const char* kind) {
  return static_cast<std::size_t>(std::count_if(result.steps.begin(), result.steps.end(), [&](const StepResult& step) {
    return step.kind == kind && !(step.added.empty() && step.moved.empty());
  }));
}

std::string idle_note(const CheckResult& result) {
  const bool cuts = times_done(result, "cut") > 0, moves = times_done(result, "move") > 0;
  if (result.steps.size() < result.total_steps || (cuts && moves) || times_done(result, "use") > 0) return "";
  return fmt::format("Note: this plan {}.", cuts    ? "moves nothing"
                                            : moves ? "cuts nothing"
                                                    : "cuts nothing and moves nothing");
}

std::string lemma_text(const LemmaResult& lemma) {
  constexpr std::size_t most = 80;
  std::string text = lemma.name;
  if (!lemma.file.empty()) text += " (" + lemma.file + ")";
  std::string with;
  for (const auto& [name, value] : lemma.parameters) with += (with.empty() ? " with " : ", ") + name + " = " + value;
  if (with.size() > most) with = with.substr(0, most) + "...";
  return text + with + ": " + (lemma.outcome == Outcome::verified ? "holds" : outcome_word(lemma.outcome)) + ", used " +
         (lemma.uses == 1 ? "once" : counted(lemma.uses, "time"));
}

std::string tally(const std::vector<CheckResult>& results) {
  std::string text;
  for (const Outcome outcome : {Outcome::verified, Outcome::refuted, Outcome::invalid, Outcome::stopped, Outcome::failed}) {
    const auto count =
        std::count_if(results.begin(), results.end(), [&](const auto& each) { return each.outcome == outcome; });
    if (count == 0) continue;
    text += fmt::format("{}{} {}", text.empty() ? ": " : ", ", count, outcome_word(outcome));
    const auto equicomplementary =
        std::count_if(results.begin(), results.end(), [](const auto& each) { return !proof_text(each).empty(); });
    if (outcome == Outcome::verified && equicomplementary > 0)
      text += fmt::format(" ({} equicomplementary)", equicomplementary);
  }
  return counted(results.size(), "plan") + text;
}

std::string values_text(const std::vector<std::pair<std::string, std::string>>& parameters) {
  constexpr std::size_t most = 80;
  std::string with;
  for (const auto& [name, value] : parameters) {
    with += (with.empty() ? " with " : ", ") + name + " = " + value;
    if (with.size() > most) return with.substr(0, most) + "...";
  }
  return with;
}

std::string case_words(const CheckResult& result) {
  const std::string with = values_text(result.parameters);
  if (result.case_number > 0) return "case " + std::to_string(result.case_number) + with;
  return with.empty() ? "" : with.substr(1);
}

std::string case_text(const CheckResult& result) {
  const std::string words = case_words(result);
  return words.empty() ? "" : ", " + words;
}

std::string plan_and_case(const CheckResult& result) {
  return result.plan + case_text(result) + proof_text(result);
}

std::string proof_text(const CheckResult& result) {
  return result.equicomplement && result.outcome == Outcome::verified ? ", equicomplementary" : "";
}

std::string case_prefix(const CheckResult& result) {
  return result.case_number > 0 ? "case " + std::to_string(result.case_number) + ": " : "";
}

std::vector<std::string> mesh_words(const std::vector<MeshResult>& meshes) {
  std::vector<std::string> words;
  for (const MeshResult& mesh : meshes) {
    const std::string snapped = mesh.changed == 0
                                    ? "no coordinate changed by snapping"
                                    : counted(mesh.changed, "coordinate") + " snapped, by at most " + brief(mesh.largest);
    words.push_back(mesh.snapped ? mesh.file + " (" + snapped + ")" : mesh.file);
  }
  return words;
}

}  // namespace cutproof
