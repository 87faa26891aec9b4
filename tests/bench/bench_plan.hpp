// SPDX-License-Identifier: GPL-3.0-or-later
// What both baselines share with the tool: the plan, read by its own reader, so that only the geometry differs.
#pragma once

#include "files/read_file.hpp"
#include "plan/read_plan.hpp"
#include "solid/hull.hpp"

#include <memory>
#include <stdexcept>
#include <string>
#include <vector>

namespace cutproof {

inline ExactPlan read_bench_plan(const std::string& path) {
  return read_plan(read_file(path, 16 << 20));
}

/// The pieces of a map from names that a selector takes. The measured plans use names and `all`.
template <class Pieces>
std::vector<std::string> taken(const Selector& selector, const Pieces& pieces) {
  std::vector<std::string> names;
  for (const SelectorEntry& entry : selector) {
    if (entry.text != "all") names.push_back(entry.text);
    if (entry.text == "all")
      for (const auto& piece : pieces) names.push_back(piece.first);
  }
  return names;
}

/// The boundary of a convex solid that is given by its corners or its faces; null for copies and combinations of solids.
inline std::unique_ptr<Boundary> convex_boundary(const SolidDescription& solid) {
  if (const auto* hull = std::get_if<HullDescription>(&solid.kind))
    return std::make_unique<Boundary>(convex_hull(hull->points));
  const auto* surface = std::get_if<SurfaceDescription>(&solid.kind);
  if (surface == nullptr) return nullptr;
  auto boundary = std::make_unique<Boundary>(convex_hull(surface->boundary.vertices));
  if (volume(*boundary) != volume(surface->boundary))
    throw std::runtime_error("the baselines build solids from convex ones only");
  return boundary;
}

}  // namespace cutproof
