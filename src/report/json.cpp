// SPDX-License-Identifier: GPL-3.0-or-later
// The report for programs. Keys are only ever added; docs/reports.md lists them.
#include "cutproof/report.hpp"
#include "cutproof/version.hpp"
#include "plan/dimension_words.hpp"
#include "report/certificate.hpp"
#include "report/escape.hpp"
#include "report/finding_facts.hpp"
#include "report/sentences.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>

namespace cutproof {
namespace {

using Json = nlohmann::ordered_json;

Json header() {
  return {{"format", "cutproof-report"}, {"version", 1}, {"cutproof", CUTPROOF_VERSION}};
}

// Text keeps every character (the writer turns all that is not ASCII into \uXXXX); only bytes that are no UTF-8 are escaped.
Json text(const std::string& raw) {
  return is_utf8(raw) ? raw : escaped(raw);
}

// JSON that is written as it stands. Reports consist of long lists of short texts, which would take many times the memory
// as values of their own. (The library's values for bytes have no other use here.)
Json as_it_stands(std::string_view written) {
  return Json::binary({written.begin(), written.end()});
}

std::string scalar(const Json& value) {
  return value.dump(-1, ' ', /*ensure_ascii=*/true);
}

Json texts(const std::vector<std::string>& raw, std::size_t most) {
  std::string list;
  for (std::size_t i = 0; i < std::min(most, raw.size()); ++i) list += (list.empty() ? "" : ", ") + scalar(text(raw[i]));
  return as_it_stands("[" + list + "]");
}

// A list of names, cut where it is long; then its true length stands beside it.
void add_names(const char* key, const NameList& names, Json* object) {
  (*object)[key] = texts(names.first, NameList::most);
  if (names.size() > names.first.size()) (*object)[std::string(key) + "_count"] = names.size();
}

Json json(const Value& value) {
  return {{"exact", value.exact}, {"decimal", value.decimal}};
}
Json json(const ExactPoint& point) {
  return texts({point.x, point.y, point.z}, point.z.empty() ? 2 : 3);
}

Json decimals(const ExactPoint& point) {
  return texts({point.decimal.begin(), point.decimal.end()}, point.z.empty() ? 2 : 3);
}

Json json(const DehnValue& dehn) {
  Json terms = Json::array();
  for (const DehnTerm& term : dehn.terms) {
    terms.push_back({{"coefficient", json(term.coefficient)},
                     {"angle", {{"cosine", term.cosine}, {"degrees", term.degrees}, {"text", term.angle}}}});
  }
  Json object = {{"zero", dehn.zero}, {"text", dehn.text}, {"distinct_angles", dehn.distinct_angles}, {"terms", terms}};
  if (dehn.certificate) object["certificate"] = as_it_stands(certificate_json(*dehn.certificate));
  return object;
}

Json json(const FieldResult& field) {
  return {{"degree", field.degree},
          {"generators", field.generators},
          {"minimal_polynomial", field.minimal_polynomial},
          {"root_index", field.root_index}};
}

Json json(const VolumeAndDehn& side) {
  Json object = {{"volume", json(side.volume)}};
  if (side.dehn) object["dehn"] = json(*side.dehn);
  return object;
}

Json json(const ExactBox& box) {
  return {{"min", json(box.minimum)}, {"max", json(box.maximum)}};
}
Json decimals(const ExactBox& box) {
  return {{"min", decimals(box.minimum)}, {"max", decimals(box.maximum)}};
}

void add_extent(const std::optional<ExtentResult>& extent, Json* object) {
  if (!extent) return;
  (*object)["box"] = json(extent->box);
  (*object)["box_decimal"] = decimals(extent->box);
  (*object)["centroid"] = json(extent->centroid);
  (*object)["centroid_decimal"] = decimals(extent->centroid);
}

Json json(const PieceResult& piece) {
  Json object = {{"name", text(piece.name)}, {"parts", piece.parts}, {"volume", json(piece.volume)}};
  if (piece.shape) object["shape"] = *piece.shape;
  add_extent(piece.extent, &object);
  return object;
}

Json json(const std::vector<Suspect>& suspects) {
  Json list = Json::array();
  for (const Suspect& suspect : suspects) {
    list.push_back(
        {{"piece", text(suspect.piece)}, {"step", suspect.step}, {"line", suspect.line}, {"column", suspect.column}});
    if (!suspect.path.empty()) list.back()["path"] = text(suspect.path);
  }
  return list;
}

Json json(const LoopPass& pass) {
  Json object = Json::object();
  for (const auto& [name, value] : pass) object[name] = text(value);
  return object;
}

Json json(const MotionResult& motion) {
  Json object;
  add_names("pieces", motion.pieces, &object);
  object["line"] = motion.line;
  object["column"] = motion.column;
  object["words"] = motion.words;
  object["proper"] = motion.proper;
  for (const ExactPoint& row : motion.rows)
    if (!row.x.empty()) object["rows"].push_back(json(row));
  object["shift"] = json(motion.shift);
  if (motion.screw) {
    Json& screw = object["screw"] = {{"point", json(motion.screw->point)}};
    if (!motion.screw->direction.x.empty()) screw["direction"] = json(motion.screw->direction);
    screw["degrees"] = motion.screw->degrees;
    screw["of_pi"] = motion.screw->of_pi.empty() ? Json(nullptr) : Json(motion.screw->of_pi);
    screw["along"] = motion.screw->along;
  }
  return object;
}

Json json(const MotionCandidate& candidate) {
  Json object = json(candidate.motion);
  object["words"] = candidate.words;
  object["corners"] = Json::object();
  for (const CornerImage& corner : candidate.corners)
    object["corners"]["[" + coordinates_text(corner.from) + "]"] = "[" + coordinates_text(corner.to) + "]";
  return object;
}

Json json(const Finding& finding, const std::string& id = "") {
  Json object = {{"code", finding.code}};
  if (!id.empty()) object["id"] = id;
  object["step"] = finding.step;
  object["line"] = finding.line;
  object["column"] = finding.column;
  if (!finding.path.empty()) object["path"] = text(finding.path);
  if (!finding.pass.empty()) object["pass"] = json(finding.pass);
  if (finding.used_line > 0) object["used_at"] = {{"line", finding.used_line}, {"column", finding.used_column}};
  add_names("pieces", finding.pieces, &object);
  object["message"] = text(message_of(finding));
  if (!finding.file.empty()) object["file"] = text(finding.file);
  if (const std::string hint = hint_of(finding); !hint.empty()) object["hint"] = text(hint);
  if (finding.volume) object["volume"] = json(*finding.volume);
  if (finding.box) {
    object["box"] = json(*finding.box);
    object["box_decimal"] = decimals(*finding.box);
  }
  for (const ExactPoint& corner : finding.corners) {
    object["corners"].push_back(json(corner));
    object["corners_decimal"].push_back(decimals(corner));
  }
  if (finding.region) object["region"] = *finding.region;
  if (!finding.suspects.empty()) object["suspects"] = json(finding.suspects);
  if (finding.missing) object["missing"] = json(*finding.missing);
  if (finding.excess) object["excess"] = json(*finding.excess);
  for (const MotionCandidate& candidate : finding.candidates) object["candidates"].push_back(json(candidate));
  for (const std::vector<std::string>& pieces : finding.classes) {
    object["classes"].push_back(Json::object());
    add_names("pieces", pieces, &object["classes"].back());
  }
  if (!finding.excerpt.empty()) object["excerpt"] = text(finding.excerpt);
  if (finding.caret_length > 0) object["caret_length"] = finding.caret_length;
  return object;
}
Json json(const std::vector<Finding>& findings) {
  Json list = Json::array();
  for (const Finding& finding : findings) list.push_back(json(finding));
  return list;
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

void add_meshes(const std::vector<MeshResult>& meshes, Json* object) {
  for (const MeshResult& mesh : meshes) {
    Json entry = {{"file", text(mesh.file)}, {"sha256", mesh.sha256}};
    if (mesh.snapped) {
      entry["changed"] = mesh.changed;
      entry["largest"] = json(mesh.largest);
    }
    (*object)["meshes"].push_back(std::move(entry));
  }
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

Json angle_json(const std::string& cosine, const std::string& degrees, const std::string& of_pi, const std::string& words) {
  return {{"cosine", cosine}, {"degrees", degrees}, {"of_pi", of_pi.empty() ? Json(nullptr) : Json(of_pi)}, {"text", words}};
}

const char* word(const MeasureResult& result) {
  static const char* const words[] = {"measured", "audit-failed", "invalid", "stopped", "failed"};
  return words[exit_code(result.answer)];
}

Json json(const MeasureResult& result) {
  Json object = {{"file", text(result.file)}};
  if (!result.place.empty()) object["at"] = result.place;
  object["solid"] = text(result.solid);
  if (result.case_number > 0) {
    object["case"] = result.case_number;
    object["parameters"] = json(result.parameters);
  }
  if (!result.file_sha256.empty()) object["file_sha256"] = result.file_sha256;
  object["outcome"] = word(result);
  object["exit_code"] = exit_code(result.answer);
  if ((result.listed || result.measured) && !result.place.empty()) object["total_steps"] = result.total_steps;
  if ((result.listed || result.measured) && result.field) object["field"] = json(*result.field);
  if (result.listed) {
    object["pieces"] = Json::array();
    for (const PieceResult& piece : result.pieces) object["pieces"].push_back(json(piece));
  }
  if (result.measured || result.listed) object["dimension"] = result.dimension;
  if (result.measured && result.dimension == 2) {
    object["area"] = json(result.volume);
    object["perimeter"] = json(result.perimeter);
    add_extent(result.extent, &object);
    object["corners"] = Json::array();
    for (const CornerResult& corner : result.corners)
      object["corners"].push_back({{"point", json(corner.point)},
                                   {"angle", angle_json(corner.cosine, corner.degrees, corner.of_pi, corner.angle)},
                                   {"reflex", corner.reflex}});
  } else if (result.measured) {
    object["volume"] = json(result.volume);
    object["area"] = json(result.area);
    add_extent(result.extent, &object);
    object["faces"] = result.faces;
    object["edges"] = result.edges;
    object["vertices"] = result.vertices;
    object["genus"] = result.genus;
    object["shells"] = result.shells;
    object["edge_kinds"] = Json::array();
    for (const EdgeKind& kind : result.edge_kinds) {
      object["edge_kinds"].push_back({{"count", kind.count},
                                      {"length", json(kind.length)},
                                      {"angle", angle_json(kind.cosine, kind.degrees, kind.of_pi, kind.angle)},
                                      {"reflex", kind.reflex}});
    }
    if (result.dehn) object["dehn"] = json(*result.dehn);
  }
  add_meshes(result.meshes, &object);
  if (result.audit) {
    Json edges = Json::array();
    for (const AuditedEdge& edge : result.audit->edges) {
      edges.push_back({{"from", json(edge.from)}, {"to", json(edge.to)}, {"angle", edge.angle}, {"degrees", edge.degrees}});
    }
    object["audit"] = {{"passed", result.audit->passed},
                       {"message", text(in_dimension(result.dimension, audit_text(*result.audit)))},
                       {"edges", edges}};
  }
  object["findings"] = json(result.findings);
  return object;
}

Json json(const std::vector<ComparedSolid>& solids) {
  Json list = Json::array();
  for (const ComparedSolid& solid : solids) {
    Json entry = {{"file", text(solid.file)}};
    if (!solid.side.empty()) entry["side"] = solid.side;
    entry["solid"] = text(solid.solid);
    entry["volume"] = json(solid.volume);
    list.push_back(std::move(entry));
  }
  return list;
}

Json json(const CompareResult& result) {
  static const char* const words[] = {"compared", "compared", "invalid", "stopped", "failed"};
  Json object = Json::object();
  if (result.case_number > 0) {
    object["case"] = result.case_number;
    object["values"] = Json::array();
    for (const CaseValues& values : result.case_values)
      object["values"].push_back({{"file", text(values.file)}, {"parameters", json(values.parameters)}});
  }
  object["outcome"] = words[exit_code(result.answer)];
  object["exit_code"] = exit_code(result.answer);
  if (!result.cases.empty()) {
    if (result.demand) object["demand"] = congruence_word(*result.demand);
    object["cases"] = Json::array();
    for (const CompareResult& of_case : result.cases) object["cases"].push_back(json(of_case));
  }
  if (result.compared) {
    object["dimension"] = result.dimension;
    if (result.field) object["field"] = json(*result.field);
    object["left"] = {{"solids", json(result.left)}, {"volume", json(result.left_volume)}};
    if (result.left_dehn) object["left"]["dehn"] = json(*result.left_dehn);
    object["right"] = {{"solids", json(result.right)}, {"volume", json(result.right_volume)}};
    if (result.right_dehn) object["right"]["dehn"] = json(*result.right_dehn);
    object["same_volume"] = result.same_volume;
    if (result.dimension == 3) object["same_dehn"] = result.same_dehn;
    object["dissection"] = result.dissection;
    object["why"] = text(dissection_reason_of(result));
    object["relation"] = congruence_word(result.relation);
    if (result.demand) object["demand"] = congruence_word(*result.demand);
    if (result.dehn_difference) object["dehn_difference"] = json(*result.dehn_difference);
    if (result.scale) object["scale"] = json(*result.scale);
    if (const std::string then = at_scale_text(result); !then.empty()) object["at_scale"] = text(then);
  }
  add_meshes(result.meshes, &object);
  object["findings"] = json(result.findings);
  return object;
}

void write(const Json& value, std::size_t indent, std::string* out) {
  if (value.is_binary()) {
    out->append(value.get_binary().begin(), value.get_binary().end());
  } else if (!value.is_structured() || value.empty()) {
    *out += scalar(value);
  } else {
    *out += value.is_object() ? '{' : '[';
    const char* separator = "\n";
    for (const auto& [key, each] : value.items()) {
      *out += separator + std::string(indent + 2, ' ');
      if (value.is_object()) *out += scalar(key) + ": ";
      write(each, indent + 2, out);
      separator = ",\n";
    }
    *out += '\n' + std::string(indent, ' ') + (value.is_object() ? '}' : ']');
  }
}

std::string written(Json object, Json content) {
  for (auto& [key, value] : content.items()) object[key] = std::move(value);
  std::string text;
  write(object, 0, &text);
  text += '\n';
  return text;
}

int exit_code_of(const CheckResult& result) {
  return exit_code(result.outcome);
}
int exit_code_of(const MeasureResult& result) {
  return exit_code(result.answer);
}

template <class Result>
std::string one_or_list(const std::vector<Result>& results, const char* list_key, bool always_list) {
  if (results.size() == 1 && !always_list) return written(header(), json(results.front()));
  Json object;
  int highest = 0;
  Json list = Json::array();
  for (const Result& result : results) {
    highest = std::max(highest, exit_code_of(result));
    list.push_back(json(result));
  }
  object["exit_code"] = highest;
  object[list_key] = std::move(list);
  return written(header(), std::move(object));
}

}  // namespace

std::string json_report(const std::vector<CheckResult>& results, bool always_list) {
  for (const CheckResult& result : results) always_list = always_list || result.case_count > 0;
  return one_or_list(results, "plans", always_list);
}
std::string json_report(const std::vector<MeasureResult>& results) {
  return one_or_list(results, "solids", /*always_list=*/false);
}
std::string json_report(const CompareResult& result) {
  return written(header(), json(result));
}

}  // namespace cutproof
