// SPDX-License-Identifier: GPL-3.0-or-later
// A solid is empty because of an intersection or a difference in it, which may be defined far from where the solid is used.
#include "verify/empty_solids.hpp"

#include <algorithm>

namespace cutproof {

namespace {

/// The part that makes the solid empty; null when that is the solid itself.
SolidPointer empty_part(const SolidDescription& solid, Engine& engine) {
  if (const auto* placed = std::get_if<PlacedDescription>(&solid.kind)) return placed->solid;
  const auto* combination = std::get_if<BooleanDescription>(&solid.kind);
  if (combination == nullptr) return nullptr;
  const std::vector<SolidPointer>& operands = combination->operands;
  const auto is_empty = [&](const SolidPointer& operand) { return engine.build(*operand) == nullptr; };
  switch (combination->kind) {
    case BooleanKind::union_of_all:
      return operands.front();
    case BooleanKind::first_minus_others:
      return is_empty(operands.front()) ? operands.front() : nullptr;
    case BooleanKind::intersection_of_all:
      break;
  }
  const auto empty = std::find_if(operands.begin(), operands.end(), is_empty);
  return empty == operands.end() ? nullptr : *empty;
}

}  // namespace

std::string why_empty(SolidPointer solid, const std::vector<NamedSolid>& definitions, Engine& engine) {
  constexpr int deepest = 50;  // each level is built once more
  const NamedSolid* nearest = nullptr;
  for (int depth = 0; depth < deepest; ++depth) {
    const auto definition =
        std::find_if(definitions.begin(), definitions.end(), [&](const NamedSolid& each) { return each.solid == solid; });
    if (definition != definitions.end()) nearest = &*definition;
    SolidPointer part;
    try {
      part = empty_part(*solid, engine);
    } catch (const InvalidInput&) {  // a hint changes no outcome
      return "";
    } catch (const LimitReached&) {
      return "";
    }
    if (part != nullptr) {
      solid = part;
      continue;
    }
    const auto* combination = std::get_if<BooleanDescription>(&solid->kind);
    if (nearest == nullptr || combination == nullptr) return "";
    return "`" + nearest->name + "` (line " + std::to_string(nearest->place.line) + "): the " +
           (combination->kind == BooleanKind::intersection_of_all ? "intersection" : "difference") +
           " has no interior points";
  }
  return "";
}

}  // namespace cutproof
