// SPDX-License-Identifier: GPL-3.0-or-later
// What `check` found, for programs. Keys are only ever added; docs/reports.md lists them.
#include "cutproof/report.hpp"
#include "report/finding_facts.hpp"
#include "report/json_parts.hpp"
#include "report/sentences.hpp"

#include <algorithm>
#include <utility>

namespace cutproof {
namespace {

using report_json::add_meshes;
using report_json::add_names;
using report_json::Json;
using report_json::json;
using report_json::text;

Json json(const VolumeAndDehn& side) {
  Json object = {{"volume", json(side.volume)}};
  if (side.dehn) object["dehn"] = json(*side.dehn);
  return object;
}

Json json(const ShapeResult& shape) {
  Json object = {{"volume", json(shape.volume)}};
  add_names("pieces", shape.pieces, &object);
  object["mirror_of"] = shape.mirror_of ? Json(*shape.mirror_of) : Json(nullptr);
  object["chiral"] = shape.chiral;
  return object;
}

Json json(const PlaneResult& plane) {
  return {{"normal", json(plane.normal)}, {"offset", plane.offset}, {"line", plane.line}, {"column", plane.column}};
}

Json json(const StepResult& step) {
  Json object = {{"index", step.index}, {"kind", step.kind}, {"title", text(step.title)}};
  if (!step.note.empty()) object["note"] = text(step.note);
  object["line"] = step.line;
  if (!step.pass.empty()) object["pass"] = json(step.pass);
  if (!step.lemma.empty()) object["lemma"] = text(step.lemma);
  if (step.skipped) object["skipped"] = true;
  object["pieces_before"] = step.pieces_before;
  object["pieces_after"] = step.pieces_after;
  add_names("removed", step.removed, &object);
  add_names("added", step.added, &object);
  add_names("moved", step.moved, &object);
  for (const MotionResult& motion : step.motions) object["motions"].push_back(json(motion));
  for (const PlaneResult& plane : step.planes) object["planes"].push_back(json(plane));
  object["volume"] = json(step.volume);
  if (step.dehn_ok) object["dehn_unchanged"] = *step.dehn_ok;
  return object;
}

Json json(const LemmaResult& lemma) {
  Json object = {{"name", text(lemma.name)}};
  object["file"] = lemma.file.empty() ? Json(nullptr) : text(lemma.file);
  object["plan_sha256"] = lemma.plan_sha256;
  object["with"] = json(lemma.parameters);
  object["outcome"] = outcome_word(lemma.outcome);
  object["uses"] = lemma.uses;
  object["used_by"] = Json::array();
  for (const LemmaUser& user : lemma.used_by)
    object["used_by"].push_back(
        {{"lemma", user.lemma ? Json(*user.lemma) : Json(nullptr)}, {"step", user.step}, {"uses", user.uses}});
  object["findings"] = json(lemma.findings);
  return object;
}

Json json(const std::optional<Value>& value) {
  return value ? json(*value) : Json(nullptr);
}

Json json(const std::vector<StepLabel>& steps) {
  Json list = Json::array();
  for (const StepLabel& step : steps)
    list.push_back({{"index", step.index}, {"kind", text(step.kind)}, {"title", text(step.title)}});
  return list;
}

// Only what differs.
Json json(const AgainstResult& against, const CheckResult& result) {
  Json object = Json::object();
  const auto add_names_of = [](const char* key, const std::vector<std::string>& names, Json* to) {
    if (!names.empty()) add_names(key, names, to);
  };
  const auto add_object = [&](const char* key, Json content) {
    if (!content.empty()) object[key] = std::move(content);
  };
  if (!against.known) object["plan"] = Json::array({nullptr, text(result.plan)});
  if (!against.old_plan.empty()) object["plan"] = Json::array({text(against.old_plan), text(result.plan)});
  if (!against.old_digest.empty()) object["plan_sha256"] = Json::array({against.old_digest, result.plan_sha256});
  if (against.old_outcome)
    object["outcome"] = Json::array({outcome_word(*against.old_outcome), outcome_word(result.outcome)});
  const auto values = [&](const char* key, const std::optional<ValueChange>& change) {
    if (change) object[key] = Json::array({json(change->before), json(change->now)});
  };
  const auto texts_of = [&](const char* key, const std::optional<std::array<std::string, 2>>& change) {
    if (!change) return;
    object[key] = Json::array();
    for (const std::string& each : *change) object[key].push_back(each.empty() ? Json(nullptr) : text(each));
  };
  values("volume", against.start_volume);
  values("goal_volume", against.goal_volume);
  texts_of("dehn", against.start_dehn);
  texts_of("goal_dehn", against.goal_dehn);
  Json pieces = Json::object(), steps = Json::object(), findings = Json::object();
  add_names_of("gone", against.pieces.gone, &pieces);
  add_names_of("new", against.pieces.added, &pieces);
  add_names_of("changed", against.pieces.changed, &pieces);
  add_object("pieces", std::move(pieces));
  if (!against.steps_gone.empty()) steps["gone"] = json(against.steps_gone);
  if (!against.steps_added.empty()) steps["new"] = json(against.steps_added);
  if (!against.steps_changed.empty()) steps["changed"] = json(against.steps_changed);
  add_object("steps", std::move(steps));
  add_names_of("gone", against.findings_gone, &findings);
  add_names_of("new", against.findings_added, &findings);
  add_names_of("same", against.findings_same, &findings);
  add_object("findings", std::move(findings));
  texts_of("shapes", against.shapes);
  return object;
}

Json json(const Mend& mend, const std::vector<std::string>& ids) {
  Json object = {{"kind", mend.kind}, {"words", text(mend.words)}, {"edits", Json::array()}, {"findings", Json::array()}};
  for (const MendEdit& edit : mend.edits) {
    object["edits"].push_back({{"line", edit.line},
                               {"column", edit.column},
                               {"end_line", edit.end_line},
                               {"end_column", edit.end_column},
                               {"text", text(edit.text)}});
  }
  for (const std::size_t finding : mend.findings)
    if (finding < ids.size()) object["findings"].push_back(ids[finding]);
  return object;
}

Json json(const CheckResult& result) {
  Json object = {{"plan", text(result.plan)}};
  if (!result.plan_sha256.empty()) object["plan_sha256"] = result.plan_sha256;
  object["title"] = text(result.title);
  if (!result.source.empty()) object["source"] = text(result.source);
  if (!result.note.empty()) object["note"] = text(result.note);
  object["dimension"] = result.dimension;
  if (result.case_number > 0) object["case"] = result.case_number;
  if (!result.parameters.empty()) object["parameters"] = json(result.parameters);
  add_meshes(result.meshes, &object);
  object["outcome"] = outcome_word(result.outcome);
  object["exit_code"] = exit_code(result.outcome);
  if (result.against) object["against"] = json(*result.against, result);
  object["proof"] = result.equicomplement ? "equicomplement" : "dissection";
  if (result.engine) object["engine"] = engine_word(*result.engine);
  if (result.field) object["field"] = json(*result.field);
  if (result.start) object["start"] = json(*result.start);
  if (result.goal) object["goal"] = json(*result.goal);
  if (result.dehn_difference) object["dehn_difference"] = json(*result.dehn_difference);
  if (!result.dissection.empty()) object["dissection"] = result.dissection;
  if (const std::string why = dissection_reason_of(result); !why.empty()) object["why"] = text(why);
  object["total_steps"] = result.total_steps;
  object["steps"] = Json::array();
  for (const StepResult& step : result.steps) object["steps"].push_back(json(step));
  object["pieces"] = Json::array();
  for (const PieceResult& piece : result.pieces) object["pieces"].push_back(json(piece));
  for (const ShapeResult& shape : result.shapes) object["shapes"].push_back(json(shape));
  if (result.smallest) {
    object["smallest"] = {{"edge", json(result.smallest->edge)},
                          {"edge_of", text(result.smallest->edge_of)},
                          {"volume", json(result.smallest->volume)},
                          {"volume_of", text(result.smallest->volume_of)}};
  }
  for (const LemmaResult& lemma : result.lemmas) object["lemmas"].push_back(json(lemma));
  object["findings"] = Json::array();
  const std::vector<std::string> ids = finding_ids(result);
  for (std::size_t i = 0; i < ids.size(); ++i) object["findings"].push_back(json(result.findings[i], ids[i]));
  object["consequences"] = json(result.consequences);
  for (const NoteResult& note : result.notes)
    object["notes"].push_back({{"line", note.line}, {"column", note.column}, {"message", text(note.message)}});
  if (result.mends_tried > 0 || !result.mends_ended_early.empty()) {
    object["mends"] = Json::array();
    for (const Mend& mend : result.mends) object["mends"].push_back(json(mend, ids));
    object["mends_tried"] = result.mends_tried;
    if (!result.mends_ended_early.empty()) object["mends_ended_early"] = text(result.mends_ended_early);
  }
  object["counts"] = Json(result.counts);
  object["pairs_disjoint"] = result.bench_checks;
  return object;
}

}  // namespace

std::string json_report(const std::vector<CheckResult>& results, bool always_list) {
  std::vector<Json> plans;
  int highest = 0;
  for (const CheckResult& result : results) {
    always_list = always_list || result.case_count > 0;
    highest = std::max(highest, exit_code(result.outcome));
    plans.push_back(json(result));
  }
  return report_json::written_list("plans", std::move(plans), highest, always_list);
}

}  // namespace cutproof
