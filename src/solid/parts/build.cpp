// SPDX-License-Identifier: GPL-3.0-or-later
// Building convex parts: hulls, a binary space partition for closed surfaces, set operations and copies.
//
// The partition starts from the convex hull and splits a cell by the plane of a facet that passes through it, as long as any
// does. A facet, clipped to a cell, is kept as closed cycles that may run back along themselves: clipping a cycle at a line
// moves no winding number on the kept side, so the area vector of the clipped cycles, holes included, is exactly that of the
// clipped facet, and zero exactly when nothing is left of it. A cell that no facet passes through lies on one side of all of
// them; the last facet that bounded it says whether that is the inside.
#include "solid/parts/build.hpp"

#include "number/errors.hpp"
#include "solid/hull.hpp"
#include "solid/parts/algebra.hpp"
#include "solid/parts/motion.hpp"

#include <algorithm>
#include <map>
#include <optional>

namespace cutproof {

namespace {

/// What a cell holds of a facet.
struct Fragment {
  PlanePointer plane;
  bool at_reflex_edge;
  std::vector<Cycle> cycles;
};

bool has_area(const Fragment& fragment) {
  std::vector<Number> x, y, z;
  if (fragment.cycles.empty()) return false;
  const Vector3& origin = fragment.cycles.front().front()->point;
  for (const Cycle& cycle : fragment.cycles)
    for (std::size_t i = 0; i < cycle.size(); ++i) {
      const Vector3 term = cross(cycle[i]->point - origin, cycle[(i + 1) % cycle.size()]->point - origin);
      x.push_back(term.x);
      y.push_back(term.y);
      z.push_back(term.z);
    }
  return !balanced_sum(x).is_zero() || !balanced_sum(y).is_zero() || !balanced_sum(z).is_zero();
}

/// Where a fragment lies: it may have corners strictly on either side.
struct Sides {
  bool positive = false, negative = false;
};

Sides sides_of(const Fragment& fragment, const FacePlane& plane) {
  Sides sides;
  for (const Cycle& cycle : fragment.cycles)
    for (const CornerPointer& corner : cycle) {
      const int s = side(plane, *corner);
      sides.positive = sides.positive || s > 0;
      sides.negative = sides.negative || s < 0;
    }
  return sides;
}

/// Divides a fragment into its two sides.
void divide_fragment(const Fragment& fragment, const FacePlane& plane, Fragment& positive, Fragment& negative) {
  positive = {fragment.plane, fragment.at_reflex_edge, {}};
  negative = positive;
  for (const Cycle& cycle : fragment.cycles) {
    Cycle above, below;
    split_cycle(cycle, plane, above, below);
    if (!above.empty()) positive.cycles.push_back(std::move(above));
    if (!below.empty()) negative.cycles.push_back(std::move(below));
  }
}

class Partition {
 public:
  CellList parts;

  void descend(CellPointer cell, std::vector<Fragment> fragments, bool inside) {
    while (!fragments.empty()) {
      const std::size_t choice = best_plane(fragments);
      const PlanePointer plane = fragments[choice].plane;
      const CellHalves halves = split(cell, plane);
      std::vector<Fragment> above, below;
      for (Fragment& fragment : fragments) {
        if (fragment.plane == plane) continue;
        const Sides sides = sides_of(fragment, *plane);
        if (sides.positive && sides.negative) {
          Fragment positive, negative;
          divide_fragment(fragment, *plane, positive, negative);
          if (has_area(positive)) above.push_back(std::move(positive));
          if (has_area(negative)) below.push_back(std::move(negative));
        } else if (sides.positive) {
          above.push_back(std::move(fragment));
        } else if (sides.negative) {
          below.push_back(std::move(fragment));
        }
      }
      if (halves.positive && halves.negative) {
        descend(halves.positive, std::move(above), false);
        descend(halves.negative, std::move(below), true);
        return;
      }
      // The plane bounds the cell: its facets lie on the cell's surface, and the cell on their inner or outer side.
      inside = halves.negative != nullptr;
      fragments = std::move(inside ? below : above);
    }
    if (inside) parts.push_back(std::move(cell));
  }

 private:
  /// The plane that divides the fewest fragments, among facets at reflex edges while there are any: once no reflex edge is
  /// left in a cell, the other planes only trim it. Only some are tried where there are very many.
  static std::size_t best_plane(const std::vector<Fragment>& fragments) {
    std::vector<std::size_t> candidates;
    for (const bool reflex : {true, false}) {
      for (std::size_t i = 0; i < fragments.size(); ++i)
        if (fragments[i].at_reflex_edge == reflex) candidates.push_back(i);
      if (!candidates.empty()) break;
    }
    const std::size_t most = 24, stride = (candidates.size() + most - 1) / most;
    std::size_t best = candidates.front(), fewest = fragments.size() + 1;
    for (std::size_t k = 0; k < candidates.size(); k += stride) {
      std::size_t divided = 0;
      for (const Fragment& fragment : fragments) {
        if (fragment.plane == fragments[candidates[k]].plane) continue;
        const Sides sides = sides_of(fragment, *fragments[candidates[k]].plane);
        divided += sides.positive && sides.negative;
      }
      if (divided < fewest) {
        fewest = divided;
        best = candidates[k];
      }
    }
    return best;
  }
};

/// For each facet, whether another one meets it at an angle of more than 180 degrees.
std::vector<char> facets_at_reflex_edges(const Boundary& boundary) {
  std::map<std::pair<int, int>, std::vector<std::size_t>> facets_by_edge;
  const auto for_each_edge = [&boundary](auto use) {
    for (std::size_t f = 0; f < boundary.facets.size(); ++f)
      for (const std::vector<int>& cycle : boundary.facets[f].cycles)
        for (std::size_t i = 0; i < cycle.size(); ++i) use(f, cycle[i], cycle[(i + 1) % cycle.size()]);
  };
  for_each_edge([&](std::size_t f, int from, int to) { facets_by_edge[{from, to}].push_back(f); });
  std::vector<char> reflex(boundary.facets.size(), 0);
  for_each_edge([&](std::size_t f, int from, int to) {
    const auto opposite_edge = facets_by_edge.find({to, from});
    if (opposite_edge == facets_by_edge.end()) return;
    for (const std::size_t g : opposite_edge->second) {
      const Vector3 turn = cross(boundary.facets[f].plane.normal, boundary.facets[g].plane.normal);
      if (dot(turn, boundary.vertices[to] - boundary.vertices[from]).sign() < 0) reflex[f] = reflex[g] = 1;
    }
  });
  return reflex;
}

CellPointer hull(const std::vector<Vector3>& points) {
  return part_from_convex_boundary(convex_hull(points));
}

CellList build(const HullDescription& solid) {
  return {hull(solid.points)};
}
CellList build(const SurfaceDescription& solid) {
  return build_parts(solid.boundary);
}

CellList build(const BooleanDescription& solid) {
  CellList result;
  for (std::size_t i = 0; i < solid.operands.size(); ++i) {
    CellList next = build_parts(*solid.operands[i]);
    if (i == 0) {
      result = std::move(next);
    } else if (solid.kind == BooleanKind::union_of_all) {
      const CellList added = difference(next, result);
      result.insert(result.end(), added.begin(), added.end());
    } else {
      result = solid.kind == BooleanKind::intersection_of_all ? intersection(result, next) : difference(result, next);
    }
  }
  return result;
}

CellList build(const PlacedDescription& solid) {
  CellMap map(solid.motion, solid.factor, solid.about);
  return map(build_parts(*solid.solid));
}

}  // namespace

CellList build_parts(const Boundary& boundary) {
  std::vector<CornerPointer> corners;
  for (const Vector3& vertex : boundary.vertices) corners.push_back(std::make_shared<const Corner>(vertex));
  std::vector<Vector3> used;
  std::vector<Fragment> fragments;
  const std::vector<char> reflex = facets_at_reflex_edges(boundary);
  std::vector<char> seen(boundary.vertices.size(), 0);
  for (std::size_t f = 0; f < boundary.facets.size(); ++f) {
    Fragment fragment{std::make_shared<const FacePlane>(reduced(boundary.facets[f].plane)), reflex[f] != 0, {}};
    for (const std::vector<int>& cycle : boundary.facets[f].cycles) {
      fragment.cycles.emplace_back();
      for (const int vertex : cycle) {
        fragment.cycles.back().push_back(corners[vertex]);
        if (!seen[vertex]) used.push_back(boundary.vertices[vertex]);
        seen[vertex] = 1;
      }
    }
    fragments.push_back(std::move(fragment));
  }
  const Number expected = volume(boundary);
  CellPointer start = hull(used);
  if (start->volume() == expected) return {start};
  Partition partition;
  partition.descend(std::move(start), std::move(fragments), false);
  if (volume(partition.parts) != expected) throw ToolFault("the convex parts of a solid do not add up to its volume");
  return std::move(partition.parts);
}

CellList build_parts(const SolidDescription& solid) {
  return std::visit([](const auto& kind) { return build(kind); }, solid.kind);
}

}  // namespace cutproof
