// SPDX-License-Identifier: GPL-3.0-or-later
#include "verify/solid_data.hpp"

#include "dehn/torsion.hpp"
#include "number/nearest.hpp"
#include "number/print.hpp"
#include "solid/edges.hpp"
#include "verify/text.hpp"

#include <optional>

namespace cutproof {

const EdgeAngle& AngleTexts::of(const DihedralAngle& angle) {
  const std::size_t hash = angle.tangent_squared.hash() * 8 + static_cast<std::size_t>(angle.kind);
  const auto [first, last] = known_.equal_range(hash);
  for (auto each = first; each != last; ++each)
    if (each->second.first == angle) return each->second.second;
  const Angle exact = to_angle(angle);
  const std::optional<Number> of_pi = multiple_of_pi(exact);
  EdgeAngle text;
  text.exact = to_exact(of_pi ? pi_angle(*of_pi) : exact);
  text.cosine = cosine_text(angle);
  text.degrees = to_decimal_degrees(exact);
  text.reflex = angle.is_reflex();
  return known_.emplace(hash, std::pair(angle, std::move(text)))->second.second;
}

std::vector<CornerData> corner_data(const Boundary& boundary) {
  std::vector<CornerData> corners;
  for (const Vector3& corner : boundary.vertices)
    corners.push_back({{to_exact(corner.x), to_exact(corner.y), to_exact(corner.z)},
                       {nearest_double(corner.x), nearest_double(corner.y), nearest_double(corner.z)}});
  return corners;
}

std::vector<FacetData> facet_data(const Boundary& boundary) {
  std::vector<FacetData> facets;
  for (const Facet& facet : boundary.facets) {
    FacetData face;
    for (const std::vector<int>& cycle : facet.cycles) face.cycles.emplace_back(cycle.begin(), cycle.end());
    facets.push_back(std::move(face));
  }
  return facets;
}

SolidData solid_data(const Boundary& canonical, AngleTexts* texts) {
  SolidData data;
  data.corners = corner_data(canonical);
  data.facets = facet_data(canonical);
  for (const TrueEdge& edge : true_edges(canonical)) {
    EdgeData line;
    line.from = static_cast<std::size_t>(edge.from);
    line.to = static_cast<std::size_t>(edge.to);
    line.length = length_text(dot(edge.sectors.front().edge, edge.sectors.front().edge));
    for (const EdgeTerm& sector : edge.sectors) line.angles.push_back(texts->of(dihedral_angle(sector)));
    data.edges.push_back(std::move(line));
  }
  return data;
}

}  // namespace cutproof
