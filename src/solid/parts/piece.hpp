// SPDX-License-Identifier: GPL-3.0-or-later
// A piece as the parts engine keeps it, and comparisons of pieces with goals.
#pragma once

#include "solid/engine.hpp"
#include "solid/parts/convex.hpp"

#include <optional>
#include <vector>

namespace cutproof {

/// Layer k (from 0) is what the piece covers more than k times; each contains the next, none is empty, and there is nearly
/// always just one. The parts of a layer are interior-disjoint.
class PartsSolid : public EngineSolid {
 public:
  /// `kept` lives as long as the piece.
  explicit PartsSolid(std::vector<CellList> layers, std::shared_ptr<const void> kept = nullptr)
      : layers_(std::move(layers)), kept_(std::move(kept)) {}
  const std::vector<CellList>& layers() const { return layers_; }
  const CellList& region() const { return layers_.front(); }
  /// With multiplicity; computed once.
  const Number& volume() const;

 private:
  std::vector<CellList> layers_;
  std::shared_ptr<const void> kept_;
  mutable std::optional<Number> volume_;
};

/// Throws ToolFault for a piece of another engine.
const PartsSolid& as_parts(const Solid& piece);
/// Null when there are no parts.
Solid as_piece(CellList parts);

/// Volume, box and corners of the union of interior-disjoint parts.
Region region_of(const CellList& parts);

/// The multiplicities of all pieces added up.
Solid sum_of_pieces(const std::vector<Solid>& pieces);

std::vector<std::pair<std::size_t, std::size_t>> overlapping_pieces(const std::vector<Solid>& pieces,
                                                                    const std::vector<char>& suspect);
std::size_t count_linked(const std::vector<Solid>& pieces);

/// The questions of `Engine` about how pieces lie.
bool parts_reach_beyond(const Solid& piece, const Plane& plane);
bool parts_hold(const Solid& piece, const Vector3& point);
std::vector<char> parts_inside(const std::vector<Solid>& pieces, const Solid& solid);
std::vector<char> parts_touching(const std::vector<Solid>& pieces, const std::vector<Solid>& others);

GoalComparison compare_parts(const std::vector<Solid>& pieces, const std::vector<Solid>& goals, bool pieces_are_disjoint);

}  // namespace cutproof
