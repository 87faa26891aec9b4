// SPDX-License-Identifier: GPL-3.0-or-later
// Merging polygons into facets. The edges of interior-disjoint polygons, all counterclockwise, add up to the edges of their
// union: inside it every segment is run along both ways. So cancelling is all that merging needs, once edges are split
// where others end on them.
#include "solid/parts_outline.hpp"

#include "number/errors.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

namespace cutproof {

using Edges = std::vector<std::array<int, 2>>;

void CornerNumbers::finish() {
  std::vector<const Corner*> sorted;
  for (const auto& entry : numbers_) sorted.push_back(entry.first);
  std::sort(sorted.begin(), sorted.end(), [](const Corner* a, const Corner* b) { return a->point < b->point; });
  for (const Corner* corner : sorted) {
    if (corners_.empty() || corners_.back()->point != corner->point) corners_.push_back(corner);
    numbers_[corner] = static_cast<int>(corners_.size()) - 1;
  }
}

namespace {

void cancel(Edges& edges) {
  // The two directions of a segment stand next to each other.
  const auto key = [](const std::array<int, 2>& e) { return std::make_pair(std::min(e[0], e[1]), std::max(e[0], e[1])); };
  std::sort(edges.begin(), edges.end(), [&key](const auto& a, const auto& b) {
    return key(a) < key(b);
  });
  Edges left;
  for (std::size_t i = 0; i < edges.size();) {
    std::size_t end = i;
    int balance = 0;
    for (; end < edges.size() && key(edges[end]) == key(edges[i]); ++end) balance += edges[end][0] < edges[end][1] ? 1 : -1;
    if (balance < -1 || balance > 1) throw ToolFault("polygons of one facet overlap");
    const auto [low, high] = key(edges[i]);
    if (balance == 1) left.push_back({low, high});
    if (balance == -1) left.push_back({high, low});
    i = end;
  }
  edges = std::move(left);
}

bool in_line(const Corner& a, const Corner& b, const Corner& p) {
  const double scale = b.size + a.size + p.size, error = 1e-12 * scale * scale + 8 * scale * (a.radius + b.radius + p.radius);
  const double ux = b.x - a.x, uy = b.y - a.y, uz = b.z - a.z, vx = p.x - a.x, vy = p.y - a.y, vz = p.z - a.z;
  if (std::fabs(uy * vz - uz * vy) > error || std::fabs(uz * vx - ux * vz) > error || std::fabs(ux * vy - uy * vx) > error)
    return false;
  return is_zero(cross(b.point - a.point, p.point - a.point));
}

/// Splits every edge at the corners that lie on it. Numbers follow the lexicographic order, which on a segment runs along it.
void split_edges(std::vector<Outline>& outlines, const std::vector<const Corner*>& corners) {
  std::vector<char> is_used(corners.size(), 0);
  for (const Outline& outline : outlines)
    for (const auto& edge : outline.edges) is_used[edge[0]] = is_used[edge[1]] = 1;
  std::vector<int> used;
  for (std::size_t i = 0; i < corners.size(); ++i)
    if (is_used[i]) used.push_back(static_cast<int>(i));
  std::map<std::pair<int, int>, std::vector<int>> inner_corners;
  const auto inside = [&](int low, int high) -> const std::vector<int>& {
    const auto [place, fresh] = inner_corners.try_emplace({low, high});
    if (fresh) {
      const Corner &a = *corners[low], &b = *corners[high];
      const double slack = a.radius + b.radius;
      for (auto i = std::upper_bound(used.begin(), used.end(), low); i != used.end() && *i < high; ++i) {
        const Corner& p = *corners[*i];
        const double reach = slack + p.radius;
        if (p.y < std::fmin(a.y, b.y) - reach || p.y > std::fmax(a.y, b.y) + reach || p.z < std::fmin(a.z, b.z) - reach ||
            p.z > std::fmax(a.z, b.z) + reach || !in_line(a, b, p))
          continue;
        place->second.push_back(*i);
      }
    }
    return place->second;
  };
  for (Outline& outline : outlines) {
    Edges split;
    for (const auto& [from, to] : outline.edges) {
      const std::vector<int>& between = inside(std::min(from, to), std::max(from, to));
      int last = from;
      const auto step = [&](int next) {
        split.push_back({last, next});
        last = next;
      };
      if (from < to) {
        std::for_each(between.begin(), between.end(), step);
      } else {
        std::for_each(between.rbegin(), between.rend(), step);
      }
      step(to);
    }
    outline.edges = std::move(split);
  }
}

/// Traces the edges of one plane into cycles, and gives each hole to the cycle that it lies in.
class Tracer {
 public:
  Tracer(const Outline& outline, const std::vector<const Corner*>& corners)
      : edges_(outline.edges), plane_(outline.plane), corners_(corners) {
    for (std::size_t i = 0; i < edges_.size(); ++i) leaving_[edges_[i][0]].push_back(static_cast<int>(i));
    // Two axes that the plane's projection keeps apart, in the order in which counterclockwise stays so.
    const int axis = !plane_.normal.x.is_zero() ? 0 : !plane_.normal.y.is_zero() ? 1 : 2;
    first_ = (axis + 1) % 3;
    second_ = (axis + 2) % 3;
    if (coordinate(plane_.normal, axis).sign() < 0) std::swap(first_, second_);
  }

  std::vector<Facet> facets() {
    std::vector<std::vector<int>> outer, holes;
    std::vector<char> done(edges_.size(), 0);
    for (std::size_t start = 0; start < edges_.size(); ++start) {
      if (done[start]) continue;
      std::vector<int> cycle;
      for (int edge = static_cast<int>(start); !done[edge]; edge = next(edge)) {
        done[edge] = 1;
        cycle.push_back(edges_[edge][0]);
      }
      (is_outer(cycle) ? outer : holes).push_back(std::move(cycle));
    }
    std::vector<Facet> result;
    for (const std::vector<int>& cycle : outer) result.push_back({plane_, {cycle}});
    for (std::vector<int>& hole : holes) result[container(outer, hole)].cycles.push_back(std::move(hole));
    return result;
  }

 private:
  const Number& first(int corner) const { return coordinate(corners_[corner]->point, first_); }
  const Number& second(int corner) const { return coordinate(corners_[corner]->point, second_); }

  /// 1 where a, b, c turn left, -1 right, 0 in line.
  int turn(int a, int b, int c) const {
    return ((first(b) - first(a)) * (second(c) - second(a)) - (second(b) - second(a)) * (first(c) - first(a))).sign();
  }

  /// The edge on which the facet's boundary goes on: the first one clockwise from the way back, so that no other edge lies in
  /// the angle between, which belongs to the facet.
  int next(int edge) const {
    const int back = edges_[edge][0], here = edges_[edge][1];
    const auto found = leaving_.find(here);
    if (found == leaving_.end()) throw ToolFault("the boundary of a facet is not closed");
    const auto quadrant = [&](int corner) { return turn(here, back, corner) + 1; };  // right of the way back first
    int best = found->second.front();
    for (const int other : found->second) {
      if (other == best) continue;
      const int a = edges_[other][1], b = edges_[best][1];
      const int qa = quadrant(a), qb = quadrant(b);
      if (qa != qb ? qa < qb : turn(here, b, a) > 0) best = other;
    }
    return best;
  }

  /// Judged at the cycle's smallest corner, where the facet's angle is convex exactly for an outer cycle.
  bool is_outer(const std::vector<int>& cycle) const {
    const std::size_t at = static_cast<std::size_t>(std::min_element(cycle.begin(), cycle.end()) - cycle.begin());
    const std::size_t n = cycle.size();
    return turn(cycle[(at + n - 1) % n], cycle[at], cycle[(at + 1) % n]) > 0;
  }

  /// True iff the middle of the first edge of `inner` lies inside `cycle`; it never lies on it, for edges don't cross or overlap.
  bool lies_in(const std::vector<int>& inner, const std::vector<int>& cycle) const {
    const Number x = first(inner[0]) + first(inner[1]), y = second(inner[0]) + second(inner[1]);  // all doubled
    bool inside = false;
    for (std::size_t i = 0; i < cycle.size(); ++i) {
      const int a = cycle[i], b = cycle[(i + 1) % cycle.size()];
      const Number ya = second(a) + second(a), yb = second(b) + second(b);
      const bool above = ya > y;
      if (above == (yb > y)) continue;
      const Number xa = first(a) + first(a), xb = first(b) + first(b);
      const int s = ((xb - xa) * (y - ya) - (yb - ya) * (x - xa)).sign();
      if ((s > 0) != above) inside = !inside;
    }
    return inside;
  }

  std::size_t container(const std::vector<std::vector<int>>& outer, const std::vector<int>& hole) const {
    if (outer.size() == 1) return 0;
    std::size_t best = outer.size();
    for (std::size_t i = 0; i < outer.size(); ++i)
      if (lies_in(hole, outer[i]) && (best == outer.size() || lies_in(outer[i], outer[best]))) best = i;
    if (best == outer.size()) throw ToolFault("a hole lies in no facet");
    return best;
  }

  const Edges& edges_;
  const Plane& plane_;
  const std::vector<const Corner*>& corners_;
  std::unordered_map<int, std::vector<int>> leaving_;
  int first_, second_;
};

}  // namespace

Boundary merged(std::vector<Outline> outlines) {
  CornerNumbers numbers;
  for (const Outline& outline : outlines)
    for (const Cycle& polygon : outline.polygons)
      for (const CornerPointer& corner : polygon) numbers.add(corner);
  numbers.finish();
  for (Outline& outline : outlines) {
    for (const Cycle& polygon : outline.polygons)
      for (std::size_t i = 0; i < polygon.size(); ++i) {
        const int from = numbers.of(polygon[i]), to = numbers.of(polygon[(i + 1) % polygon.size()]);
        if (from != to) outline.edges.push_back({from, to});
      }
    cancel(outline.edges);
  }
  split_edges(outlines, numbers.corners());
  Boundary boundary;
  for (Outline& outline : outlines) {
    cancel(outline.edges);
    if (outline.edges.empty()) continue;
    for (Facet& facet : Tracer(outline, numbers.corners()).facets()) boundary.facets.push_back(std::move(facet));
  }
  // Only corners that are left.
  std::vector<int> place(numbers.corners().size(), -1);
  for (Facet& facet : boundary.facets)
    for (std::vector<int>& cycle : facet.cycles)
      for (int& corner : cycle) {
        if (place[corner] < 0) {
          place[corner] = static_cast<int>(boundary.vertices.size());
          boundary.vertices.push_back(numbers.corners()[corner]->point);
        }
        corner = place[corner];
      }
  return boundary;
}

}  // namespace cutproof
