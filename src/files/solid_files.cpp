// SPDX-License-Identifier: GPL-3.0-or-later
#include "files/solid_files.hpp"

#include "cutproof/solids.hpp"
#include "files/plan_folder.hpp"
#include "plan/dimension_words.hpp"
#include "verify/check.hpp"
#include "verify/empty_solids.hpp"

namespace cutproof {

std::string plan_place_text(const PlanPlace& place) {
  switch (place.kind) {
    case PlanPlace::Kind::start:
      return "start";
    case PlanPlace::Kind::goal:
      return "goal";
    case PlanPlace::Kind::end:
      return "end";
    case PlanPlace::Kind::after_step:
      break;
  }
  return std::to_string(place.step);
}

ReadLimits limits_of(const CheckSettings& settings, const std::string& plan_path) {
  ReadLimits limits;
  limits.document.max_bytes = settings.max_plan_size;
  limits.numbers.max_degree = settings.max_degree;
  limits.numbers.max_bits = settings.max_bits;
  limits.repetition.max_passes = settings.max_passes;
  limits.parameters.set = settings.set;
  limits.meshes =
      std::make_shared<Meshes>(plan_folder(plan_path, settings.outside, settings.max_plan_size), settings.max_bits);
  return limits;
}

std::vector<MeshResult> meshes_of(const ReadLimits& limits) {
  std::vector<MeshResult> meshes;
  if (limits.meshes == nullptr) return meshes;
  for (const MeshUse& use : limits.meshes->uses())
    meshes.push_back({use.file, use.sha256, use.snapped, use.changed, {use.largest_exact, use.largest_decimal}});
  return meshes;
}

Answer answer_of(const std::vector<Finding>& findings) {
  CheckResult judged;
  judged.findings = findings;
  switch (judge(judged, /*complete=*/false)) {
    case Outcome::invalid:
      return Answer::invalid;
    case Outcome::stopped:
      return Answer::stopped;
    default:
      return Answer::failed;
  }
}

Solid build_named(Engine& engine, const NamedSolid& solid, const std::vector<NamedSolid>& definitions, int dimension) {
  Solid piece = engine.build(*solid.solid);
  if (piece != nullptr) return piece;
  Diagnostic empty;
  empty.line = solid.place.line;
  empty.column = solid.place.column;
  empty.length = static_cast<int>(solid.name.size());
  empty.message = in_dimension(dimension, "the solid `" + solid.name + "` is empty: it has no interior points");
  const std::string why = why_empty(solid.solid, definitions, engine);
  empty.hint = hint_in_dimension(dimension, why.empty() ? "a solid that is used needs a volume" : why);
  throw InvalidPlan({empty});
}

}  // namespace cutproof
