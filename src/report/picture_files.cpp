// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/picture_files.hpp"

#include "report/escape.hpp"
#include "report/sentences.hpp"
#include "verify/check.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <algorithm>

namespace cutproof {
namespace {

constexpr std::size_t most_names = 30;

std::string listed(const std::vector<std::string>& names) {
  std::string text;
  for (std::size_t i = 0; i < names.size() && i < most_names; ++i) text += (i == 0 ? "" : ", ") + names[i];
  if (names.size() > most_names) text += fmt::format(" and {} more", names.size() - most_names);
  return text;
}

const StepResult* step_of(const CheckResult& result, int index) {
  const auto found =
      std::find_if(result.steps.begin(), result.steps.end(), [&](const StepResult& step) { return step.index == index; });
  return found == result.steps.end() ? nullptr : &*found;
}

// `step 3, cut: "a wedge from the end"`.
std::string step_words(const CheckResult& result, int index) {
  const StepResult* step = step_of(result, index);
  std::string text = fmt::format("step {}", index);
  if (step == nullptr) return text;
  text += ", " + step->kind;
  return step->title.empty() ? text : text + ": " + step->title;
}

std::string reason_without_pictures(const CheckResult& result) {
  if (result.pictures && !result.pictures->left_out.empty()) return result.pictures->left_out;
  return result.outcome == Outcome::invalid ? "the plan could not be carried out"
                                            : "the run ended before anything could be drawn";
}

}  // namespace

std::string picture_stem(const Picture& picture) {
  switch (picture.kind) {
    case Picture::Kind::start:
      return "start";
    case Picture::Kind::step:
      return fmt::format("step-{:03}", picture.step);
    case Picture::Kind::finding:
      return fmt::format("finding-{:03}", picture.finding + 1);
    case Picture::Kind::end:
      break;
  }
  return "end";
}

SvgText picture_words(const CheckResult& result, const Picture& picture) {
  SvgText words;
  const std::string plan = result.title.empty() ? result.plan : result.title;
  switch (picture.kind) {
    case Picture::Kind::start:
      words = {plan + ": the start", "The start."};
      break;
    case Picture::Kind::step:
      words = {plan + ": " + step_words(result, picture.step), "After " + step_words(result, picture.step) + "."};
      break;
    case Picture::Kind::end:
      words = {plan + ": the end", result.outcome == Outcome::verified ? "The end: the goal is filled." : "The end."};
      break;
    case Picture::Kind::finding:
      if (picture.finding < result.findings.size()) {
        const Finding& finding = result.findings[picture.finding];
        words = {plan + ": " + finding.code, "Step " + std::to_string(finding.step) + ": " + message_of(finding) + "."};
      }
      break;
  }
  if (picture.apart) words.description += " The pieces stand apart.";
  std::vector<std::string> coloured, pale;
  for (const PictureBody& body : picture.bodies) {
    if (body.role != BodyRole::piece) continue;
    std::vector<std::string>& names = body.pale ? pale : coloured;
    if (names.empty() || names.back() != body.piece) names.push_back(body.piece);
  }
  if (!coloured.empty()) words.description += " In colour: " + listed(coloured) + ".";
  if (!pale.empty()) words.description += " Pale: " + listed(pale) + ".";
  if (std::any_of(picture.patches.begin(), picture.patches.end(),
                  [](const PicturePatch& patch) { return !patch.cuts.empty(); }))
    words.description += " Dashed: cuts to come.";
  if (!picture.traces.empty()) words.description += " Red: what the finding speaks of; its hidden edges are dashed.";
  if (!picture.unnamed.empty()) words.description += " Too little is seen for the names of " + listed(picture.unnamed) + ".";
  return words;
}

std::vector<ReportFile> svg_report(const std::vector<CheckResult>& results) {
  using Json = nlohmann::ordered_json;
  std::vector<ReportFile> files;
  Json plans = Json::array();
  for (std::size_t i = 0; i < results.size(); ++i) {
    const CheckResult& result = results[i];
    const std::string folder = results.size() == 1 ? "" : fmt::format("{:03}/", i + 1);
    Json plan = {{"plan", escaped(result.plan)},
                 {"plan_sha256", result.plan_sha256},
                 {"title", escaped(result.title)},
                 {"outcome", outcome_word(result.outcome)},
                 {"pictures", Json::array()}};
    if (result.pictures) {
      for (const Picture& picture : result.pictures->pictures) {
        const SvgText words = picture_words(result, picture);
        const std::string path = folder + picture_stem(picture) + ".svg";
        files.push_back({path, svg_picture(picture, result.pictures->projection, words, "")});
        Json entry = {{"file", path}, {"step", picture.step}, {"title", escaped(words.title)}};
        if (picture.kind == Picture::Kind::finding) entry["finding"] = picture.finding + 1;
        plan["pictures"].push_back(entry);
      }
    }
    if (plan["pictures"].empty()) {
      plan["left_out"] = reason_without_pictures(result);
    } else if (!result.pictures->left_out.empty()) {
      plan["left_out"] = result.pictures->left_out;
    }
    plans.push_back(plan);
  }
  const Json index = {{"format", "cutproof-pictures"}, {"version", 1}, {"plans", plans}};
  files.push_back({"index.json", index.dump(1) + "\n"});
  return files;
}

}  // namespace cutproof
