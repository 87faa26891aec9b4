// SPDX-License-Identifier: GPL-3.0-or-later
// The motions among which `lay` and `onto` choose, told apart by where they put pieces.
#pragma once

#include "solid/congruence.hpp"

#include <cstddef>
#include <utility>
#include <vector>

namespace cutproof {

using PointPairs = std::vector<std::pair<Vector3, Vector3>>;

struct FoundMotions {
  Sense sense = Sense::direct;
  /// One for each way in which the pieces can come to lie, as sets of points: of each the one of least turn, those of least
  /// turn first.
  std::vector<Motion> ways;
  std::vector<std::pair<Motion, std::size_t>> motions;  ///< all that were looked at, and which way each is
  bool fits_without_corners = false;                    ///< there is a motion when `corners` is not heeded
  bool mirror_only = false;                             ///< there is none, but a mirror image fits
};

/// The motions that carry one surface onto the other, and points where `corners` says; mirror images only where they are
/// allowed and no proper motion does. `pieces` are what is moved; empty where every motion that carries the surface puts
/// them to the same place.
FoundMotions find_motions(const SurfaceForm& from, const SurfaceForm& onto, const PointPairs& corners, bool allow_mirror,
                          const std::vector<SurfaceForm>& pieces, Ambient ambient = Ambient::space);

/// Points of `candidates` and where way `chosen` puts them, few enough to be written: as `corners`, they leave this way
/// alone.
PointPairs corners_that_choose(const FoundMotions& found, std::size_t chosen, const std::vector<Vector3>& candidates);

}  // namespace cutproof
