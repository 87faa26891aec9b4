// SPDX-License-Identifier: GPL-3.0-or-later
// Which of the pieces at the end are of one shape, how small they get, and where they lie.
#pragma once

#include "verify/observer.hpp"

#include <optional>

namespace cutproof {

class ShapeKeeper final : public RunObserver {
 public:
  /// Looks at the end of the run, for each of the two when there are at most so many pieces.
  ShapeKeeper(std::size_t shapes_up_to, std::size_t extents_up_to, Engine& engine, int dimension)
      : shapes_up_to_(shapes_up_to), extents_up_to_(extents_up_to), engine_(engine), dimension_(dimension) {}
  void on_end(const Bench& bench) override;
  /// Fills `shapes`, `smallest`, and shapes and extents of the pieces, when the run came to its end.
  void give_to(CheckResult* result);

 private:
  void find_shapes(const Bench& bench, const std::vector<Boundary>& boundaries);

  std::size_t shapes_up_to_, extents_up_to_;
  Engine& engine_;
  int dimension_;  ///< 2: shapes of the plane, and what is thickened has upright edges that are none of theirs
  std::vector<ShapeResult> shapes_;
  std::vector<std::size_t> shape_of_;  ///< of each piece, in the bench's order
  std::optional<SmallestResult> smallest_;
  std::vector<ExtentResult> extents_;  ///< of each piece
};

}  // namespace cutproof
