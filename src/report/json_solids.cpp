// SPDX-License-Identifier: GPL-3.0-or-later
// What `measure` and `compare` found, for programs.
#include "cutproof/report.hpp"
#include "plan/dimension_words.hpp"
#include "report/json_parts.hpp"
#include "report/sentences.hpp"

#include <algorithm>
#include <utility>

namespace cutproof {
namespace {

using report_json::add_extent;
using report_json::add_meshes;
using report_json::Json;
using report_json::json;
using report_json::text;

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

}  // namespace

std::string json_report(const std::vector<MeasureResult>& results) {
  std::vector<Json> solids;
  int highest = 0;
  for (const MeasureResult& result : results) {
    highest = std::max(highest, exit_code(result.answer));
    solids.push_back(json(result));
  }
  return report_json::written_list("solids", std::move(solids), highest, /*always_list=*/false);
}

std::string json_report(const CompareResult& result) {
  return report_json::written_report(json(result));
}

}  // namespace cutproof
