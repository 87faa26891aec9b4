// SPDX-License-Identifier: GPL-3.0-or-later
// What hides what: convex parts in the order in which they are painted, decided exactly.
//
// A binary space partition by the parts' own face planes (H. Fuchs, Z. M. Kedem, B. F. Naylor, "On visible surface
// generation by a priori tree structures", SIGGRAPH 1980) holds for every direction of view. Of the planes tried the one
// that splits fewest parts is taken.
#pragma once

#include "solid/parts/convex.hpp"

#include <cstddef>
#include <memory>
#include <vector>

namespace cutproof {

/// A convex part, or a fragment of one, and what it belongs to.
struct OwnedPart {
  CellPointer cell;
  std::size_t owner = 0;
};

/// The same points by interior-disjoint parts: of points that several parts hold, only the first of them keeps them. What
/// overlaps nothing is kept as it is.
std::vector<OwnedPart> parted(const std::vector<OwnedPart>& parts);

/// Interior-disjoint convex parts, put into painting order from any side. Same input, same tree.
class PaintersTree {
 public:
  explicit PaintersTree(std::vector<OwnedPart> parts);
  PaintersTree(PaintersTree&&) noexcept;
  PaintersTree& operator=(PaintersTree&&) noexcept;
  ~PaintersTree();

  /// All parts, those that a plane split as fragments, so that none hides any that comes later: on no line of view, which
  /// runs along `toward_viewer`, does an earlier one have a point before an interior point of a later one.
  std::vector<OwnedPart> order(const Vector3& toward_viewer) const;

 private:
  struct Node;
  std::unique_ptr<Node> root_;
};

}  // namespace cutproof
