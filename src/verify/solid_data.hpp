// SPDX-License-Identifier: GPL-3.0-or-later
// The one way from the engines' boundaries to solids as data.
#pragma once

#include "cutproof/geometry.hpp"
#include "dehn/invariant.hpp"
#include "solid/boundary.hpp"

#include <unordered_map>
#include <utility>

namespace cutproof {

/// Angles whose texts are known: the same few come again and again, and it takes a proof to see that one is a rational
/// multiple of pi.
class AngleTexts {
 public:
  const EdgeAngle& of(const DihedralAngle& angle);

 private:
  std::unordered_multimap<std::size_t, std::pair<DihedralAngle, EdgeAngle>> known_;
};

/// Corners and facets in the boundary's order.
std::vector<CornerData> corner_data(const Boundary& boundary);
std::vector<FacetData> facet_data(const Boundary& boundary);

/// The data of a canonical boundary, as `Engine::boundary` and regions have it: corners and facets in its order, and its
/// true edges.
SolidData solid_data(const Boundary& canonical, AngleTexts* texts);

}  // namespace cutproof
