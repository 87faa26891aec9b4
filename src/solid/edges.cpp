// SPDX-License-Identifier: GPL-3.0-or-later
// What meets at an edge: half-planes sorted exactly round it. Everything else is counting.
#include "solid/edges.hpp"

#include "solid/turning.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <numeric>

namespace cutproof {

namespace {

/// One facet's passage along an edge: the corners of a cycle from `position` to the next.
struct Use {
  int facet, cycle, position;
  bool forward;  ///< from the smaller to the greater corner
};

struct Sector {
  Use forward, backward;
};

struct EdgeSectors {
  int from, to;
  std::vector<Sector> sectors;
};

/// Sorts half-planes counterclockwise round `axis`, beginning with the first one.
class AroundAxis {
 public:
  AroundAxis(Vector3 axis, Vector3 first) : axis_(std::move(axis)), first_(std::move(first)) {}
  bool operator()(const Vector3& a, const Vector3& b) const {
    const int quarter_a = part(a), quarter_b = part(b);
    if (quarter_a != quarter_b) return quarter_a < quarter_b;
    return dot(cross(a, b), axis_).sign() > 0;
  }

 private:
  /// 0 on the first half-plane, 1 before its opposite, 2 on the opposite, 3 after it
  int part(const Vector3& v) const {
    const int side = dot(cross(first_, v), axis_).sign();
    if (side != 0) return side > 0 ? 1 : 3;
    return dot(first_, v).sign() > 0 ? 0 : 2;
  }
  Vector3 axis_, first_;
};

/// At each edge the sectors of the solid: seen along the edge from its end, a sector reaches counterclockwise from a facet that runs
/// backward to the next one, which runs forward.
std::vector<EdgeSectors> sectors_of(const Boundary& boundary) {
  std::map<std::pair<int, int>, std::vector<Use>> uses;
  for (std::size_t f = 0; f < boundary.facets.size(); ++f)
    for (std::size_t c = 0; c < boundary.facets[f].cycles.size(); ++c) {
      const std::vector<int>& cycle = boundary.facets[f].cycles[c];
      for (std::size_t i = 0; i < cycle.size(); ++i) {
        const int a = cycle[i], b = cycle[i + 1 == cycle.size() ? 0 : i + 1];
        uses[{std::min(a, b), std::max(a, b)}].push_back({static_cast<int>(f), static_cast<int>(c), static_cast<int>(i), a < b});
      }
    }
  std::vector<EdgeSectors> result;
  for (auto& [ends, around] : uses) {
    EdgeSectors edge{ends.first, ends.second, {}};
    const auto first = std::find_if(around.begin(), around.end(), [](const Use& use) { return !use.forward; });
    if (first == around.end() || around.size() % 2 != 0) throw ToolFault("the facets at an edge do not close");
    std::iter_swap(around.begin(), first);
    if (around.size() > 2) {
      const Vector3 axis = boundary.vertices[static_cast<std::size_t>(ends.second)] - boundary.vertices[static_cast<std::size_t>(ends.first)];
      const auto half_plane = [&](const Use& use) {
        const Vector3 inward = cross(boundary.facets[static_cast<std::size_t>(use.facet)].plane.normal, axis);
        return use.forward ? inward : -inward;
      };
      const AroundAxis order(axis, half_plane(around.front()));
      std::sort(around.begin() + 1, around.end(), [&](const Use& a, const Use& b) { return order(half_plane(a), half_plane(b)); });
    }
    for (std::size_t i = 0; i < around.size(); i += 2) {
      if (around[i].forward || !around[i + 1].forward) throw ToolFault("the facets at an edge do not alternate");
      edge.sectors.push_back({around[i + 1], around[i]});
    }
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

}  // namespace

std::vector<TrueEdge> true_edges(const Boundary& canonical) {
  std::vector<TrueEdge> edges;
  const auto normal = [&](const Use& use) { return canonical.facets[static_cast<std::size_t>(use.facet)].plane.normal; };
  for (const EdgeSectors& edge : sectors_of(canonical)) {
    TrueEdge result{edge.from, edge.to, {}};
    const Vector3 vector = canonical.vertices[static_cast<std::size_t>(edge.to)] - canonical.vertices[static_cast<std::size_t>(edge.from)];
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

  // Number the passages along edges; the corner behind a passage is the sector of its facet that the walk round it goes through.
  std::vector<std::vector<std::size_t>> first_passage;
  std::size_t passages = 0;
  for (const Facet& facet : canonical.facets) {
    first_passage.emplace_back();
    for (const std::vector<int>& cycle : facet.cycles) {
      first_passage.back().push_back(passages);
      passages += cycle.size();
    }
  }
  const auto number = [&](const Use& use) {
    return first_passage[static_cast<std::size_t>(use.facet)][static_cast<std::size_t>(use.cycle)] + static_cast<std::size_t>(use.position);
  };

  // next[i]: the passage that follows i on the walk round one sector of the facet at a time
  std::vector<std::size_t> next(passages);
  long walks_beyond_one = 0;
  for (std::size_t f = 0; f < canonical.facets.size(); ++f) {
    const Facet& facet = canonical.facets[f];
    std::map<int, std::vector<std::pair<std::size_t, int>>> leaving;  // corner -> passage and where it leads
    std::vector<std::array<int, 2>> ends;
    const std::size_t base = first_passage[f].front();
    for (const std::vector<int>& cycle : facet.cycles)
      for (std::size_t i = 0; i < cycle.size(); ++i) {
        const int a = cycle[i], b = cycle[i + 1 == cycle.size() ? 0 : i + 1];
        leaving[a].emplace_back(base + ends.size(), b);
        ends.push_back({a, b});
      }
    const auto at = [&](int i) -> const Vector3& { return canonical.vertices[static_cast<std::size_t>(i)]; };
    const auto turn = [&](const Vector3& p, const Vector3& q, const Vector3& r) {
      return dot(cross(q - p, r - p), facet.plane.normal).sign();
    };
    for (std::size_t i = 0; i < ends.size(); ++i) {
      const auto& choices = leaving.at(ends[i][1]);
      auto chosen = choices.begin();
      for (auto choice = std::next(choices.begin()); choice != choices.end(); ++choice)
        if (turns_sharper(turn, at(ends[i][0]), at(ends[i][1]), at(choice->second), at(chosen->second))) chosen = choice;
      next[base + i] = chosen->first;
    }
    std::vector<char> passed(ends.size(), 0);
    long walks = 0;
    for (std::size_t i = 0; i < ends.size(); ++i) {
      if (passed[i]) continue;
      ++walks;
      for (std::size_t j = base + i; !passed[j - base]; j = next[j]) passed[j - base] = 1;
    }
    walks_beyond_one += walks - 1;
  }

  // Corner i belongs to the end of passage i. At each sector of an edge two facets are glued: the end of one passage is the start of the other.
  Components facets(canonical.facets.size()), corners(passages);
  std::vector<std::size_t> previous(passages);
  for (std::size_t i = 0; i < passages; ++i) previous[next[i]] = i;
  long edges = 0;
  for (const EdgeSectors& edge : sectors_of(canonical))
    for (const Sector& sector : edge.sectors) {
      ++edges;
      facets.unite(static_cast<std::size_t>(sector.forward.facet), static_cast<std::size_t>(sector.backward.facet));
      corners.unite(number(sector.forward), previous[number(sector.backward)]);
      corners.unite(number(sector.backward), previous[number(sector.forward)]);
    }
  counts.shells = facets.count();
  const long characteristic = corners.count() - edges + static_cast<long>(counts.faces) - walks_beyond_one;
  counts.genus = counts.shells - characteristic / 2;
  return counts;
}

RadicalSum surface_area(const Boundary& boundary) {
  RadicalSum area;
  for (const Facet& facet : boundary.facets) {
    Vector3 twice{0, 0, 0};
    const Vector3& base = boundary.vertices[static_cast<std::size_t>(facet.cycles.front().front())];
    for (const std::vector<int>& cycle : facet.cycles)
      for (std::size_t i = 0; i < cycle.size(); ++i)
        twice = twice + cross(boundary.vertices[static_cast<std::size_t>(cycle[i])] - base,
                              boundary.vertices[static_cast<std::size_t>(cycle[i + 1 == cycle.size() ? 0 : i + 1])] - base);
    area.add(Number::fraction(1, 2), dot(twice, twice));
  }
  return area;
}

}  // namespace cutproof
