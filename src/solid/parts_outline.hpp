// SPDX-License-Identifier: GPL-3.0-or-later
// Merging polygons of many planes into facets: edges that run both ways cancel, the others are traced into cycles.
#pragma once

#include "solid/boundary.hpp"
#include "solid/parts_convex.hpp"

#include <array>
#include <unordered_map>
#include <vector>

namespace cutproof {

/// Numbers for corners, in lexicographic order of their points: equal points have equal numbers.
class CornerNumbers {
 public:
  void add(const CornerPointer& corner) { numbers_.try_emplace(corner.get(), -1); }
  void finish();
  int of(const CornerPointer& corner) const { return numbers_.at(corner.get()); }
  /// One corner of each number.
  const std::vector<const Corner*>& corners() const { return corners_; }

 private:
  std::unordered_map<const Corner*, int> numbers_;
  std::vector<const Corner*> corners_;
};

/// The part of a surface that lies in one plane and looks towards its positive side: polygons that share no area, each
/// counterclockwise. `edges` is filled by `merged`.
struct Outline {
  Plane plane;
  std::vector<Cycle> polygons;
  std::vector<std::array<int, 2>> edges;
};

/// The surface with the polygons of each plane merged into facets, edges split wherever a corner of any facet lies on them.
/// Where a facet touches itself at a corner its cycles run along the inside of each of its angles.
Boundary merged(std::vector<Outline> outlines);

}  // namespace cutproof
