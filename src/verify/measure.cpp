// SPDX-License-Identifier: GPL-3.0-or-later
#include "verify/measure.hpp"

#include "dehn/torsion.hpp"
#include "number/print.hpp"
#include "solid/edges.hpp"
#include "verify/text.hpp"

#include <algorithm>

namespace cutproof {

namespace {

/// Edges of equal angle, by edge and sector; angles are compared exactly, but once.
struct AngleGroup {
  DihedralAngle angle;
  std::vector<std::pair<const TrueEdge*, const EdgeTerm*>> edges;
};

/// -1, 0, 1 as the angle a is smaller than, equal to or greater than b.
int compare(const DihedralAngle& a, const DihedralAngle& b) {
  using Kind = DihedralAngle::Kind;
  if (a.kind != b.kind) return a.kind < b.kind ? -1 : 1;
  if (a.kind == Kind::right || a.kind == Kind::reflex_right) return 0;
  const int by_tangent = compare(a.tangent_squared, b.tangent_squared);
  const bool increasing = a.kind == Kind::acute || a.kind == Kind::reflex_beyond_half_turn;
  return increasing ? by_tangent : -by_tangent;
}

/// Smallest angle first; edges in the order of the list.
std::vector<AngleGroup> group_by_angle(const std::vector<TrueEdge>& edges) {
  std::vector<AngleGroup> groups;
  for (const TrueEdge& edge : edges) {
    for (const EdgeTerm& sector : edge.sectors) {
      const DihedralAngle angle = dihedral_angle(sector);
      const auto place =
          std::lower_bound(groups.begin(), groups.end(), angle,
                           [](const AngleGroup& group, const DihedralAngle& x) { return compare(group.angle, x) < 0; });
      const bool known = place != groups.end() && compare(place->angle, angle) == 0;
      const auto group = known ? place : groups.insert(place, {angle, {}});
      group->edges.push_back({&edge, &sector});
    }
  }
  return groups;
}

std::string rational_text(const std::optional<Number>& number) {
  return number ? to_exact(*number) : "";
}

std::vector<EdgeKind> edge_kinds(const std::vector<AngleGroup>& groups) {
  std::vector<EdgeKind> kinds;
  for (const AngleGroup& group : groups) {
    std::vector<std::pair<Number, std::size_t>> lengths;  // squared, with how many, increasing
    for (const auto& [edge, sector] : group.edges) {
      const Number squared_length = dot(sector->edge, sector->edge);
      const auto place = std::lower_bound(lengths.begin(), lengths.end(), squared_length,
                                          [](const auto& each, const Number& x) { return each.first < x; });
      if (place != lengths.end() && place->first == squared_length) {
        ++place->second;
      } else {
        lengths.insert(place, {squared_length, 1});
      }
    }
    const Angle angle = to_angle(group.angle);
    const std::optional<Number> of_pi = multiple_of_pi(angle);
    for (const auto& [squared_length, count] : lengths) {
      EdgeKind kind;
      kind.count = count;
      kind.length = length_text(squared_length);
      kind.cosine = cosine_text(group.angle);
      kind.degrees = to_decimal_degrees(angle);
      kind.of_pi = rational_text(of_pi);
      kind.angle = of_pi ? to_exact(pi_angle(*of_pi)) : people_text(group.angle);
      kind.reflex = group.angle.is_reflex();
      kinds.push_back(std::move(kind));
    }
  }
  return kinds;
}

/// Those that stand upright: the corners of a figure that was thickened.
std::vector<TrueEdge> upright(std::vector<TrueEdge> edges) {
  edges.erase(std::remove_if(edges.begin(), edges.end(),
                             [](const TrueEdge& edge) {
                               const Vector3& along = edge.sectors.front().edge;
                               return !along.x.is_zero() || !along.y.is_zero();
                             }),
              edges.end());
  return edges;
}

/// The angles that an audit or a measurement is about.
std::vector<TrueEdge> measured_edges(const Boundary& boundary, int dimension) {
  return dimension == 2 ? upright(true_edges(boundary)) : true_edges(boundary);
}

std::vector<CornerResult> corners_of(const Boundary& boundary, const std::vector<TrueEdge>& edges) {
  std::vector<CornerResult> corners;
  for (const TrueEdge& edge : edges)
    for (const EdgeTerm& sector : edge.sectors) {
      const DihedralAngle inside = dihedral_angle(sector);
      const Angle angle = to_angle(inside);
      const std::optional<Number> of_pi = multiple_of_pi(angle);
      CornerResult corner;
      corner.point = point_text(boundary.vertices[static_cast<std::size_t>(edge.from)], 2);
      corner.cosine = cosine_text(inside);
      corner.degrees = to_decimal_degrees(angle);
      corner.of_pi = rational_text(of_pi);
      corner.angle = of_pi ? to_exact(pi_angle(*of_pi)) : people_text(inside);
      corner.reflex = inside.is_reflex();
      corners.push_back(std::move(corner));
    }
  return corners;
}

/// The faces that stand upright over the figure's edges are as large as these are long.
RadicalSum perimeter_of(const Boundary& boundary) {
  Boundary sides{boundary.vertices, {}};
  for (const Facet& facet : boundary.facets)
    if (facet.plane.normal.z.is_zero()) sides.facets.push_back(facet);
  return surface_area(sides);
}

std::string angle_text(const DihedralAngle& angle) {
  const std::optional<Number> of_pi = multiple_of_pi(to_angle(angle));
  return of_pi ? to_exact(pi_angle(*of_pi)) : people_text(angle);
}

AuditResult audit(const Boundary& boundary, const std::vector<AngleGroup>& groups, const AngleRules& rules) {
  AuditResult result;
  for (const Angle& angle : rules.allowed) result.allowed.push_back(to_exact(angle));
  for (const auto& [angle, count] : rules.exceptions) result.exceptions.push_back({to_exact(angle), count});
  std::vector<long> found(rules.exceptions.size(), 0);
  std::vector<std::pair<std::pair<int, int>, AuditedEdge>> breaking;
  const auto list = [&](const AngleGroup& group) {
    for (const auto& [edge, sector] : group.edges) {
      AuditedEdge entry{point_text(boundary.vertices[edge->from]), point_text(boundary.vertices[edge->to]),
                        angle_text(group.angle), to_decimal_degrees(to_angle(group.angle))};
      breaking.emplace_back(std::pair(edge->from, edge->to), std::move(entry));
    }
  };
  for (const AngleGroup& group : groups) {
    const Angle angle = to_angle(group.angle);
    const auto same = [&](const Angle& other) { return equal(other, angle); };
    const auto exception =
        std::find_if(rules.exceptions.begin(), rules.exceptions.end(), [&](const auto& each) { return same(each.first); });
    const long count = static_cast<long>(group.edges.size());
    if (exception != rules.exceptions.end()) {
      found[static_cast<std::size_t>(exception - rules.exceptions.begin())] = count;
      if (count != exception->second) list(group);
    } else if (std::none_of(rules.allowed.begin(), rules.allowed.end(), same)) {
      result.faults.push_back({angle_text(group.angle), group.edges.size()});
      list(group);
    }
  }
  for (std::size_t i = 0; i < found.size(); ++i)
    if (found[i] != rules.exceptions[i].second)
      result.faults.push_back(
          {to_exact(rules.exceptions[i].first), static_cast<std::size_t>(found[i]), rules.exceptions[i].second});
  result.passed = result.faults.empty();
  std::stable_sort(breaking.begin(), breaking.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
  for (auto& each : breaking) result.edges.push_back(std::move(each.second));
  return result;
}

}  // namespace

std::vector<CountedEdge> counted_edges(const Boundary& canonical, int times) {
  std::vector<CountedEdge> edges;
  for (const TrueEdge& edge : true_edges(canonical))
    for (const EdgeTerm& sector : edge.sectors) edges.push_back({sector, times});
  return edges;
}

AuditResult audit_angles(const Boundary& canonical, const AngleRules& rules, int dimension) {
  const std::vector<TrueEdge> edges = measured_edges(canonical, dimension);
  return audit(canonical, group_by_angle(edges), rules);
}

ExtentResult extent_of(const Boundary& boundary, int dimension) {
  const Number size = volume(boundary);
  const Vector3 centroid = divide(Number(1L, size.field()), size) * moment(boundary);
  return {box_text(box_around(boundary.vertices), dimension), point_text(centroid, dimension)};
}

MeasureResult measure(Engine& engine, const Solid& piece, const Field& field, const AngleRules* rules,
                      bool may_overlap_itself, int dimension) {
  const Boundary boundary = engine.boundary(piece);
  const Number volume_by_boundary = volume(boundary);
  const int by_volume = compare(volume_by_boundary, engine.volume(piece));
  if (by_volume > 0 || (by_volume < 0 && !may_overlap_itself))
    throw ToolFault("the boundary of a solid encloses another volume than the solid has");
  MeasureResult result;
  result.volume = value_text(volume_by_boundary);
  const std::vector<TrueEdge> edges = measured_edges(boundary, dimension);
  const std::vector<AngleGroup> groups = group_by_angle(edges);
  if (rules != nullptr) result.audit = audit(boundary, groups, *rules);
  result.measured = true;
  result.answer = result.audit && !result.audit->passed ? Answer::no : Answer::yes;
  result.dimension = dimension;
  result.extent = extent_of(boundary, dimension);
  if (dimension == 2) {
    const RadicalSum perimeter = perimeter_of(boundary);
    result.perimeter = {to_exact(perimeter), to_decimal(perimeter)};
    result.corners = corners_of(boundary, edges);
    if (result.audit)
      for (AuditedEdge& edge : result.audit->edges) edge.from.z = edge.to.z = "";
    return result;
  }
  const RadicalSum area = surface_area(boundary);
  result.area = {to_exact(area), to_decimal(area)};
  const SurfaceCounts counts = count_surface(boundary);
  result.faces = counts.faces;
  result.edges = counts.edges;
  result.vertices = counts.vertices;
  result.shells = static_cast<std::size_t>(counts.shells);
  result.genus = counts.genus;
  result.edge_kinds = edge_kinds(groups);
  result.dehn = to_value(invariant_of(counted_edges(boundary), field));
  return result;
}

}  // namespace cutproof
