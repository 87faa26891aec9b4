// SPDX-License-Identifier: GPL-3.0-or-later
// True edges and counts, from the half-planes round each edge. Facets are first slit open along edges that touch them from
// inside the solid (a tunnel may reach a face along a line): from then on two facets are glued at each sector of each edge,
// and the boundary pulled apart is what these gluings make.
#include "solid/edges.hpp"

#include "number/errors.hpp"
#include "solid/edge_fans.hpp"
#include "solid/turning.hpp"

#include <array>
#include <map>
#include <numeric>

namespace cutproof {

namespace {

const Vector3& corner(const Boundary& boundary, int index) {
  return boundary.vertices[index];
}

/// The boundary with a cycle `[a, b]` added to each facet that holds an edge ab of others in its inside, where these others
/// lie below it. (Where they lie above it, the facet's own sector of the solid stays whole and flat there.)
Boundary slit_open(const Boundary& canonical) {
  Boundary result = canonical;
  for (const EdgeFan& fan : edge_fans(canonical))
    for (const HalfPlane& inside : fan.around) {
      if (inside.cycle >= 0 || !inside.forward) continue;
      const Vector3& normal = canonical.facets[inside.facet].plane.normal;
      const Vector3 axis = corner(canonical, fan.to) - corner(canonical, fan.from);
      for (const HalfPlane& half : fan.around) {
        if (half.facet == inside.facet) continue;
        const Vector3 inward = cross(canonical.facets[half.facet].plane.normal, axis);
        if (dot(normal, half.forward ? inward : -inward).sign() >= 0) continue;
        result.facets[inside.facet].cycles.push_back({fan.from, fan.to});
        break;
      }
    }
  return result;
}

/// The half-planes that bound one sector of the solid.
struct Sector {
  HalfPlane forward, backward;
};

struct EdgeSectors {
  int from, to;
  std::vector<Sector> sectors;
};

std::vector<EdgeSectors> sectors_of(const Boundary& opened) {
  std::vector<EdgeSectors> result;
  for (const EdgeFan& fan : edge_fans(opened)) {
    if (!fan.alternates()) throw ToolFault("the facets at an edge do not alternate");
    EdgeSectors edge{fan.from, fan.to, {}};
    for (std::size_t i = 0; i < fan.around.size(); i += 2)
      if (fan.around[i].cycle >= 0) edge.sectors.push_back({fan.around[i + 1], fan.around[i]});
    for (const Sector& sector : edge.sectors)
      if (sector.forward.cycle < 0) throw ToolFault("a facet was not slit open");
    result.push_back(std::move(edge));
  }
  return result;
}

class Components {
 public:
  explicit Components(std::size_t count) : parent_(count) { std::iota(parent_.begin(), parent_.end(), 0); }
  std::size_t find(std::size_t i) {
    while (parent_[i] != i) i = parent_[i] = parent_[parent_[i]];
    return i;
  }
  void unite(std::size_t a, std::size_t b) { parent_[find(a)] = find(b); }
  long count() {
    long roots = 0;
    for (std::size_t i = 0; i < parent_.size(); ++i) roots += find(i) == i ? 1 : 0;
    return roots;
  }

 private:
  std::vector<std::size_t> parent_;
};

/// A facet's passages along edges, in the order of its cycles; walks round its inside, one sector of the inside at each
/// corner; and the connected regions of its inside (several only where it was slit open).
class FacetWalks {
 public:
  FacetWalks(const Boundary& boundary, const Facet& facet) : boundary_(boundary), facet_(facet) {
    for (const std::vector<int>& cycle : facet.cycles) {
      first_of_cycle_.push_back(ends_.size());
      for (std::size_t i = 0; i < cycle.size(); ++i) ends_.push_back({cycle[i], cycle[i + 1 == cycle.size() ? 0 : i + 1]});
    }
    find_next();
    find_walks();
    find_regions();
  }

  std::size_t passages() const { return ends_.size(); }
  std::size_t passage(const HalfPlane& half) const {
    return first_of_cycle_[half.cycle] + static_cast<std::size_t>(half.position);
  }
  std::size_t next(std::size_t passage) const { return next_[passage]; }
  std::size_t walks() const { return walks_.size(); }
  std::size_t regions() const { return regions_; }
  std::size_t region_of(std::size_t passage) const { return region_of_walk_[walk_of_[passage]]; }

 private:
  const Vector3& at(int i) const { return boundary_.vertices[i]; }

  void find_next() {
    std::map<int, std::vector<std::size_t>> leaving;
    for (std::size_t i = 0; i < ends_.size(); ++i) leaving[ends_[i][0]].push_back(i);
    const auto turn = [&](const Vector3& p, const Vector3& q, const Vector3& r) {
      return dot(cross(q - p, r - p), facet_.plane.normal).sign();
    };
    for (const auto& [from, here] : ends_) {
      std::size_t chosen = ends_.size();
      for (const std::size_t choice : leaving.at(here)) {
        const bool straight_back = ends_[choice][1] == from;  // the last choice: round the end of a slit
        if (chosen == ends_.size() || ends_[chosen][1] == from ||
            (!straight_back && turns_sharper(turn, at(from), at(here), at(ends_[choice][1]), at(ends_[chosen][1]))))
          chosen = choice;
      }
      next_.push_back(chosen);
    }
  }

  void find_walks() {
    walk_of_.assign(ends_.size(), ends_.size());
    for (std::size_t i = 0; i < ends_.size(); ++i) {
      if (walk_of_[i] != ends_.size()) continue;
      walks_.emplace_back();
      for (std::size_t j = i; walk_of_[j] == ends_.size(); j = next_[j]) {
        walk_of_[j] = walks_.size() - 1;
        walks_.back().push_back(j);
      }
    }
  }

  /// Each region has one walk that runs counterclockwise; the other walks belong to the smallest one round them.
  void find_regions() {
    std::vector<Number> areas;
    for (const std::vector<std::size_t>& walk : walks_) {
      Vector3 area{0, 0, 0};
      const Vector3& base = at(ends_[walk.front()][0]);
      for (const std::size_t i : walk) area = area + cross(at(ends_[i][0]) - base, at(ends_[i][1]) - base);
      areas.push_back(dot(area, facet_.plane.normal));
    }
    region_of_walk_.assign(walks_.size(), walks_.size());
    for (std::size_t w = 0; w < walks_.size(); ++w)
      if (areas[w].sign() > 0) region_of_walk_[w] = regions_++;
    for (std::size_t w = 0; w < walks_.size(); ++w) {
      if (areas[w].sign() > 0) continue;
      std::size_t home = walks_.size();
      for (std::size_t other = 0; other < walks_.size(); ++other)
        if (areas[other].sign() > 0 && surrounds(walks_[other], walks_[w].front()) &&
            (home == walks_.size() || areas[other] < areas[home]))
          home = other;
      if (home == walks_.size()) throw ToolFault("a hole of a facet lies in no facet");
      region_of_walk_[w] = region_of_walk_[home];
    }
  }

  /// Whether the left side of a passage lies inside a walk: crossings of a ray that leaves the passage's middle to the left.
  bool surrounds(const std::vector<std::size_t>& walk, std::size_t passage) const {
    const Vector3 &a = at(ends_[passage][0]), &b = at(ends_[passage][1]);
    const Vector3 middle = Number::fraction(1, 2) * (a + b), along = b - a, left = cross(facet_.plane.normal, along);
    bool inside = false;
    for (const std::size_t i : walk) {
      const Vector3 p = at(ends_[i][0]) - middle, q = at(ends_[i][1]) - middle;
      const Number along_p = dot(p, along), along_q = dot(q, along);
      if ((along_p.sign() > 0) == (along_q.sign() > 0)) continue;
      const int height = (along_p * dot(q, left) - along_q * dot(p, left)).sign() * (along_p - along_q).sign();
      if (height > 0) inside = !inside;
    }
    return inside;
  }

  const Boundary& boundary_;
  const Facet& facet_;
  std::vector<std::size_t> first_of_cycle_, next_, walk_of_, region_of_walk_;
  std::vector<std::array<int, 2>> ends_;
  std::vector<std::vector<std::size_t>> walks_;
  std::size_t regions_ = 0;
};

Vector3 twice_area(const Boundary& boundary, const Facet& facet) {
  Vector3 sum{0, 0, 0};
  const Vector3& base = corner(boundary, facet.cycles.front().front());
  for (const std::vector<int>& cycle : facet.cycles)
    for (std::size_t i = 0; i < cycle.size(); ++i)
      sum =
          sum + cross(corner(boundary, cycle[i]) - base, corner(boundary, cycle[i + 1 == cycle.size() ? 0 : i + 1]) - base);
  return sum;
}

}  // namespace

std::vector<TrueEdge> true_edges(const Boundary& canonical) {
  std::vector<TrueEdge> edges;
  const auto normal = [&](const HalfPlane& half) { return canonical.facets[half.facet].plane.normal; };
  for (const EdgeSectors& edge : sectors_of(slit_open(canonical))) {
    TrueEdge result{edge.from, edge.to, {}};
    const Vector3 vector = corner(canonical, edge.to) - corner(canonical, edge.from);
    for (const Sector& sector : edge.sectors) {
      const Vector3 first = normal(sector.forward), second = normal(sector.backward);
      if (!is_zero(cross(first, second))) result.sectors.push_back({vector, first, second});
    }
    if (!result.sectors.empty()) edges.push_back(std::move(result));
  }
  return edges;
}

SurfaceCounts count_surface(const Boundary& canonical) {
  SurfaceCounts counts;
  counts.faces = canonical.facets.size();
  counts.vertices = canonical.vertices.size();
  counts.edges = true_edges(canonical).size();

  const Boundary opened = slit_open(canonical);
  std::vector<FacetWalks> facets;
  std::vector<std::size_t> first_passage, first_region;
  std::size_t passages = 0, regions = 0, walks = 0;
  for (const Facet& facet : opened.facets) {
    facets.emplace_back(opened, facet);
    first_passage.push_back(passages);
    first_region.push_back(regions);
    passages += facets.back().passages();
    regions += facets.back().regions();
    walks += facets.back().walks();
  }
  std::vector<std::size_t> previous(passages);
  for (std::size_t f = 0; f < facets.size(); ++f)
    for (std::size_t i = 0; i < facets[f].passages(); ++i)
      previous[first_passage[f] + facets[f].next(i)] = first_passage[f] + i;
  const auto number = [&](const HalfPlane& half) { return first_passage[half.facet] + facets[half.facet].passage(half); };
  const auto region = [&](const HalfPlane& half) {
    return first_region[half.facet] + facets[half.facet].region_of(facets[half.facet].passage(half));
  };

  // A corner of a region stands at the end of a passage. Where two facets are glued, one's passage ends where the other's
  // starts.
  Components surface(regions), corners(passages);
  long edges = 0;
  for (const EdgeSectors& edge : sectors_of(opened))
    for (const Sector& sector : edge.sectors) {
      ++edges;
      surface.unite(region(sector.forward), region(sector.backward));
      corners.unite(number(sector.forward), previous[number(sector.backward)]);
      corners.unite(number(sector.backward), previous[number(sector.forward)]);
    }
  counts.shells = surface.count();
  // A region has one walk more than it has holes.
  const long holes = static_cast<long>(walks) - static_cast<long>(regions);
  const long characteristic = corners.count() - edges + static_cast<long>(regions) - holes;
  counts.genus = counts.shells - characteristic / 2;
  if (characteristic % 2 != 0 || counts.genus < 0) throw ToolFault("a boundary has no genus");
  return counts;
}

RadicalSum surface_area(const Boundary& boundary) {
  // The area vector is a multiple of the facet's normal, which is shorter and the same for parallel facets.
  RadicalSum area;
  for (const Facet& facet : boundary.facets) {
    const Vector3 &normal = facet.plane.normal, twice = twice_area(boundary, facet);
    const Number squared = dot(normal, normal);
    area.add(divide(dot(twice, normal), Number(2) * squared), squared);
  }
  return area;
}

}  // namespace cutproof
