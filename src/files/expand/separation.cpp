// SPDX-License-Identifier: GPL-3.0-or-later
#include "files/expand/separation.hpp"

#include "number/errors.hpp"

#include <algorithm>
#include <optional>
#include <utility>

namespace cutproof {

namespace {

/// What is in a cell of one part.
struct Share {
  std::size_t part;
  Solid solid;
  Boundary boundary;
};

struct Sides {
  bool positive = false, negative = false;
};

Sides sides_of(const Share& share, const Plane& plane) {
  Sides sides;
  for (const Vector3& corner : share.boundary.vertices) {
    const int side = side_of(plane, corner);
    sides.positive = sides.positive || side > 0;
    sides.negative = sides.negative || side < 0;
    if (sides.positive && sides.negative) break;
  }
  return sides;
}

/// The plane of a face of one of the shares that leaves something on both of its sides: of these one that cuts the fewest
/// shares, and then parts them most evenly.
std::optional<Plane> best_plane(const std::vector<Share>& shares) {
  std::optional<Plane> best;
  std::pair<std::size_t, std::size_t> least;
  for (const Share& owner : shares)
    for (const Facet& facet : owner.boundary.facets) {
      std::size_t positive = 0, negative = 0;
      for (const Share& share : shares) {
        const Sides sides = sides_of(share, facet.plane);
        positive += sides.positive ? 1 : 0;
        negative += sides.negative ? 1 : 0;
      }
      if (positive == 0 || negative == 0) continue;
      const std::pair<std::size_t, std::size_t> cost{positive + negative - shares.size(), std::max(positive, negative)};
      if (best && !(cost < least)) continue;
      best = facet.plane;
      least = cost;
      if (cost.first == 0 && 3 * cost.second <= 2 * shares.size()) return best;  // hardly worth looking on
    }
  return best;
}

}  // namespace

Separation separate(Engine& engine, const std::vector<Solid>& parts) {
  Separation result;
  std::vector<std::pair<std::size_t, std::vector<Share>>> open(1);
  for (std::size_t i = 0; i < parts.size(); ++i) open.front().second.push_back({i, parts[i], engine.boundary(parts[i])});
  std::size_t cells = 1;
  while (!open.empty()) {
    const auto [cell, shares] = std::move(open.back());
    open.pop_back();
    if (shares.size() == 1) {
      result.leaves.push_back({cell, shares.front().part, shares.front().solid});
      continue;
    }
    const std::optional<Plane> plane = best_plane(shares);
    if (!plane) throw ToolFault("no plane of their faces parts pieces that are disjoint");
    std::vector<Share> positive, negative;
    for (const Share& share : shares) {
      const Sides sides = sides_of(share, *plane);
      if (!sides.positive || !sides.negative) {
        (sides.positive ? positive : negative).push_back(share);
        continue;
      }
      const Halves halves = engine.cut(share.solid, *plane);
      positive.push_back({share.part, halves.positive, engine.boundary(halves.positive)});
      negative.push_back({share.part, halves.negative, engine.boundary(halves.negative)});
    }
    result.cuts.push_back({cell, *plane, cells, cells + 1});
    open.emplace_back(cells + 1, std::move(negative));
    open.emplace_back(cells, std::move(positive));
    cells += 2;
  }
  std::stable_sort(result.leaves.begin(), result.leaves.end(),
                   [](const Separation::Leaf& a, const Separation::Leaf& b) { return a.part < b.part; });
  return result;
}

}  // namespace cutproof
