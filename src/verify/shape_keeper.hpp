// SPDX-License-Identifier: GPL-3.0-or-later
// Which of the pieces at the end are of one shape, and how small they get.
#pragma once

#include "verify/observer.hpp"

#include <optional>

namespace cutproof {

class ShapeKeeper final : public RunObserver {
 public:
  /// Looks at the end of the run, when there are at most so many pieces.
  ShapeKeeper(std::size_t most_pieces, Engine& engine) : most_pieces_(most_pieces), engine_(engine) {}
  void on_end(const Bench& bench) override;
  /// Fills `shapes`, `smallest` and the shapes of the pieces, when the run came to its end.
  void give_to(CheckResult* result);

 private:
  std::size_t most_pieces_;
  Engine& engine_;
  std::vector<ShapeResult> shapes_;
  std::vector<std::size_t> shape_of_;  ///< of each piece, in the bench's order
  std::optional<SmallestResult> smallest_;
};

}  // namespace cutproof
