// SPDX-License-Identifier: GPL-3.0-or-later
// Geometry for other programs (docs/scene.md, docs/scene.schema.json): a line for each block, state, goal and region.
#include "report/scene.hpp"

#include "report/ci_formats.hpp"
#include "report/escape.hpp"

#include <nlohmann/json.hpp>

#include <string>

namespace cutproof {
namespace {

using Json = nlohmann::ordered_json;

std::string written(const Json& value) {
  return value.dump(-1, ' ', /*ensure_ascii=*/true);
}

// Bytes that are no UTF-8 are shown escaped.
Json text(const std::string& raw) {
  return is_utf8(raw) ? raw : escaped(raw);
}

Json vertices(const std::vector<CornerData>& corners) {
  Json list = Json::array();
  for (const CornerData& corner : corners) list.push_back(corner.nearest);
  return list;
}

Json facets(const std::vector<FacetData>& facets) {
  Json list = Json::array();
  for (const FacetData& facet : facets) list.push_back(facet.cycles);
  return list;
}

Json names(const std::vector<std::string>& raw) {
  Json list = Json::array();
  for (const std::string& name : raw) list.push_back(text(name));
  return list;
}

Json drawn(const SceneBlock& block) {
  return {{"vertices", vertices(block.corners)}, {"facets", facets(block.facets)}, {"end_piece", text(block.end_piece)}};
}

Json json(const SceneBlock& block) {
  Json exact = Json::array();
  for (const CornerData& corner : block.corners) exact.push_back({corner.exact.x, corner.exact.y, corner.exact.z});
  return {{"vertices", vertices(block.corners)},
          {"exact", exact},
          {"facets", facets(block.facets)},
          {"end_piece", text(block.end_piece)}};
}

Json json(const SceneState& state) {
  Json poses = Json::array(), pieces = Json::array();
  for (const ScenePose& pose : state.poses) poses.push_back({pose.block, pose.motion ? Json(*pose.motion) : Json(nullptr)});
  for (const ScenePiece& piece : state.pieces)
    pieces.push_back({{"name", text(piece.name)}, {"blocks", piece.blocks}, {"edges", piece.edges}});
  return {{"step", state.step}, {"kind", state.kind}, {"title", text(state.title)},
          {"line", state.line}, {"poses", poses},     {"gone", names(state.gone)},
          {"pieces", pieces}};
}

Json json(const SceneGoal& goal) {
  return {{"name", text(goal.name)}, {"vertices", vertices(goal.corners)}, {"facets", facets(goal.facets)}};
}

Json json(const SceneRegion& region) {
  return {{"kind", region.kind},
          {"step", region.step},
          {"pieces", names(region.pieces)},
          {"vertices", vertices(region.corners)},
          {"facets", facets(region.facets)}};
}

template <class Entry>
std::string list(const char* key, const std::vector<Entry>& entries) {
  std::string all;
  for (const Entry& entry : entries) all += (all.empty() ? "\n" : ",\n") + written(json(entry));
  return std::string("\"") + key + "\": [" + all + (all.empty() ? "]" : "\n]");
}

constexpr const char* header = "{\"format\": \"cutproof-scene\", \"version\": 1,\n";

std::string members(const CheckResult& result) {
  static const Scene nothing;
  const Scene& scene = result.scene ? *result.scene : nothing;
  return "\"plan\": " + written(text(result.plan)) + ",\n\"plan_sha256\": " + written(result.plan_sha256) +
         ",\n\"title\": " + written(text(result.title)) + ",\n\"outcome\": " + written(outcome_word(result.outcome)) +
         (result.dimension == 2 ? ",\n\"dimension\": 2" : "") + ",\n" + list("blocks", scene.blocks) + ",\n" +
         list("states", scene.states) + ",\n" + list("goals", scene.goals) + ",\n" + list("regions", scene.regions) + "}";
}

}  // namespace

std::string scene_for_drawing(const Scene& scene) {
  Json blocks = Json::array();
  for (const SceneBlock& block : scene.blocks) blocks.push_back(drawn(block));
  return "{\"blocks\":" + written(blocks) + "," + list("states", scene.states) + "," + list("goals", scene.goals) + "," +
         list("regions", scene.regions) + "}";
}

std::string scene_report(const std::vector<CheckResult>& results) {
  if (results.size() == 1) return header + members(results.front()) + "\n";
  std::string plans;
  for (const CheckResult& result : results) plans += (plans.empty() ? "\n{" : ",\n{") + members(result);
  return header + std::string("\"plans\": [") + plans + "]}\n";
}

}  // namespace cutproof
