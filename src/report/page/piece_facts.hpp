// SPDX-License-Identifier: GPL-3.0-or-later
// What is told about a piece at the end, in the table and in the view alike.
#pragma once

#include "cutproof/result.hpp"

#include <map>
#include <string>
#include <vector>

namespace cutproof {

class PieceFacts {
 public:
  explicit PieceFacts(const CheckResult& result);

  /// An angle that edges of a piece have, and how many of them.
  struct Angle {
    std::string text;     ///< `45°`, `acos(1/3) = 70.53°`
    std::string degrees;  ///< decimal
    std::size_t count = 0;
  };

  /// True where the geometry of the end was kept.
  bool knows_edges() const { return !solids_.empty(); }
  /// True when some piece consists of more than one part.
  bool some_in_parts() const;
  bool knows_shapes() const { return !result_.shapes.empty(); }
  /// `A, as left and right`, `C, the mirror image of B`; empty where shapes are not known.
  std::string shape(const PieceResult& piece) const;
  /// By increasing angle; empty for a piece that is not known.
  std::vector<Angle> angles(const std::string& piece) const;
  /// `7 of 90°, 2 of 45°`.
  std::string edges(const std::string& piece) const;

 private:
  const CheckResult& result_;
  std::map<std::string, const SolidData*> solids_;
};

}  // namespace cutproof
