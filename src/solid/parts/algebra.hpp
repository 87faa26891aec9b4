// SPDX-License-Identifier: GPL-3.0-or-later
// Sets of interior-disjoint convex parts under union, intersection and difference, and how they hang together.
#pragma once

#include "solid/parts/convex.hpp"

#include <cstddef>
#include <vector>

namespace cutproof {

/// The points of `parts` outside `others`, regularised. Parts that lie wholly outside are kept as they are.
CellList difference(const CellList& parts, const CellList& others);
/// The points of both; the parts of each list are interior-disjoint, so those of the result are.
CellList intersection(const CellList& parts, const CellList& others);
/// True iff some part of one list and some part of the other share interior points.
bool interiors_meet(const CellList& parts, const CellList& others);

/// A partition of 0 .. n-1, refined by linking.
class Groups {
 public:
  explicit Groups(std::size_t count);
  std::size_t representative(std::size_t i);
  /// True iff they were in different groups.
  bool link(std::size_t i, std::size_t j);
  std::size_t count() const { return count_; }
  /// The groups, each in increasing order, in the order of their first elements.
  std::vector<std::vector<std::size_t>> members();

 private:
  std::vector<std::size_t> parent_;
  std::size_t count_;
};

/// The parts, grouped into connected solids: parts that share an area of their faces are linked. The groups are in the order
/// of their smallest corners (x, then y, then z), ties by volume, then by centroid.
std::vector<CellList> connected(const CellList& parts);

}  // namespace cutproof
