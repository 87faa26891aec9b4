// SPDX-License-Identifier: GPL-3.0-or-later
// The one interface of both engines: pieces that are cut, moved, joined, split and compared, all exactly.
//
// A piece is a solid with multiplicity: pieces that overlap and are joined all the same count twice where they overlapped.
// Layer k of a piece is the set of points that it covers at least k times; layer 1, the region, is what is seen. An engine's
// answers do not depend on how it represents a piece, so two engines give equal answers in equal order. An engine works in
// one tower of fields: it may keep planes and motions from one call to the next.
#pragma once

#include "solid/boundary.hpp"
#include "solid/description.hpp"
#include "solid/geometry.hpp"

#include <cstddef>
#include <functional>
#include <memory>
#include <string>
#include <utility>
#include <vector>

namespace cutproof {

/// A piece as one engine keeps it; immutable. Pieces of different engines must not be mixed.
class EngineSolid {
 public:
  virtual ~EngineSolid() = default;
};
using Solid = std::shared_ptr<const EngineSolid>;

/// A connected or not connected, not empty, regularised set of points: how an overlap or a gap is shown.
struct Region {
  Number volume;
  Box box;
  Boundary boundary;  ///< its true boundary, canonical (solid/edges.hpp)
  const std::vector<Vector3>& corners() const { return boundary.vertices; }
};

/// What is left of a piece on the two sides of a plane; null where it has no interior points.
struct Halves {
  Solid positive, negative;
};

/// A connected region (connected as for `split`) that differs between pieces and goals.
struct DifferenceRegion {
  Region region;
  std::vector<std::size_t> pieces;  ///< indices, increasing; see GoalComparison
};

struct GoalComparison {
  /// Goals minus the union of the pieces, in the order of smallest corners; `pieces` share area with it.
  std::vector<DifferenceRegion> missing;
  /// Union of the pieces minus the goals, in the order of smallest corners; `pieces` have interior points in it.
  std::vector<DifferenceRegion> excess;
  /// Piece and goals (at least two, increasing) in which it has interior points.
  std::vector<std::pair<std::size_t, std::vector<std::size_t>>> straddling;
  /// True iff the region covered by the pieces is exactly that of the goals: both lists of regions are empty.
  bool filled() const { return missing.empty() && excess.empty(); }
};

/// One term of a Dehn sum: an edge as a vector, and the outward normals (any positive length) of the two faces of the solid
/// that meet there, `first` being the face whose boundary, counterclockwise seen from outside, runs along `edge`.
/// Then cross(first, second) = lambda * edge with lambda > 0 at a convex edge and lambda < 0 at a reflex one.
struct EdgeTerm {
  Vector3 edge, first, second;
};

/// The same as an engine knows it: it refers to the piece's own numbers, since a term is formed for few of a piece's edges.
struct EdgeOfPiece {
  const Vector3 &from, &to;
  const Vector3 &first, &second;                     ///< normals of the two faces
  bool first_inward = false, second_inward = false;  ///< whether the negative of the normal points out of the solid
  EdgeTerm term() const { return {to - from, first_inward ? -first : first, second_inward ? -second : second}; }
};

class Engine {
 public:
  virtual ~Engine() = default;
  /// For messages: `parts`, `nef`, `both`.
  virtual std::string name() const = 0;
  /// A new engine of the same kind: one engine works in one tower of fields.
  virtual std::unique_ptr<Engine> another() const = 0;

  /// The solid as a piece; null when it is empty or flat (a boolean combination may be).
  virtual Solid build(const SolidDescription& solid) = 0;

  virtual Halves cut(const Solid& piece, const Plane& plane) = 0;
  virtual Solid moved(const Solid& piece, const Motion& motion) = 0;
  /// The pieces as one; multiplicities add up.
  virtual Solid joined(const std::vector<Solid>& pieces) = 0;
  /// The connected parts (of the region; parts that touch only along edges or at corners are apart), in the order of their
  /// smallest corners (x, then y, then z), ties by volume, then by centroid. Each keeps its multiplicities.
  virtual std::vector<Solid> connected_components(const Solid& piece) = 0;
  virtual std::size_t count_connected_components(const Solid& piece) { return connected_components(piece).size(); }

  /// Volume, counted with multiplicity.
  virtual Number volume(const Solid& piece) = 0;
  /// Smallest box around the piece.
  virtual Box box(const Solid& piece) = 0;
  /// The largest number of bits in the piece's coordinates.
  virtual std::size_t bits(const Solid& piece) = 0;

  /// All pairs i < j that share interior points and of which at least one is marked in `suspect` (same length as `pieces`);
  /// sorted. Unmarked pieces are known to be disjoint from each other or not of interest.
  virtual std::vector<std::pair<std::size_t, std::size_t>> overlapping_pairs(const std::vector<Solid>& pieces,
                                                                             const std::vector<char>& suspect) = 0;
  /// The set of points that lie in both regions; only called for overlapping pairs.
  virtual Region overlap(const Solid& a, const Solid& b) = 0;
  /// Into how many groups the pieces fall when pieces that share an area of their faces, or interior points, are linked.
  virtual std::size_t count_linked_groups(const std::vector<Solid>& pieces) = 0;
  /// Compares the union of the pieces' regions with the union of the goals'. The goals are disjoint; the pieces may overlap.
  virtual GoalComparison compare(const std::vector<Solid>& pieces, const std::vector<Solid>& goals) = 0;
  /// The same for pieces that are known to be pairwise disjoint (`overlapping_pairs` found none), which may spare work.
  virtual GoalComparison compare_disjoint(const std::vector<Solid>& pieces, const std::vector<Solid>& goals) {
    return compare(pieces, goals);
  }

  /// How pieces lie: what selections by place ask for. True iff the piece has interior points on the plane's positive side.
  virtual bool reaches_beyond(const Solid& piece, const Plane& plane);
  /// True iff the point lies in the interior of the region.
  virtual bool holds(const Solid& piece, const Vector3& point);
  /// For each piece whether its region lies in that of the solid; touching the solid's boundary from inside is fine.
  virtual std::vector<char> inside(const std::vector<Solid>& pieces, const Solid& solid);
  /// For each piece whether it is linked with one of the others, as in `count_linked_groups`.
  virtual std::vector<char> touching(const std::vector<Solid>& pieces, const std::vector<Solid>& others);

  /// Edges whose terms' sum over e.(pi - angle) determines the Dehn invariant of the piece, with multiplicity. Terms of flat
  /// edges and terms that cancel may or may not be left out: sums only decide, they are not shown.
  virtual void for_each_edge(const Solid& piece, const std::function<void(const EdgeOfPiece&)>& use) = 0;
  /// The terms of a second engine that is to agree with this one: other terms, but of equal sum. False when there is none.
  virtual bool for_each_reference_edge(const Solid&, const std::function<void(const EdgeOfPiece&)>&) { return false; }
  /// The true boundary of the region: coplanar neighbouring faces merged, edges split only at true vertices, flat edges
  /// gone.
  virtual Boundary boundary(const Solid& piece) = 0;
};

std::unique_ptr<Engine> make_parts_engine();
std::unique_ptr<Engine> make_nef_engine();

}  // namespace cutproof
