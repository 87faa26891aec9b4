// SPDX-License-Identifier: GPL-3.0-or-later
// Congruence, exactly: all motions that carry one surface onto another, and the classes of congruent solids.
//
// One mechanism serves whole solids, the pieces of a plan, single faces and plane figures: invariants that every motion
// keeps are compared first, then one edge of the rarest kind is carried onto each edge of that kind, and each motion found
// so is kept when it carries corners onto corners and directed edges onto directed edges. No tolerance, and no square roots:
// a motion between surfaces that span space or a plane is the solution of a linear system in the field of their corners.
#pragma once

#include "solid/boundary.hpp"

#include <array>
#include <cstddef>
#include <functional>
#include <optional>
#include <utility>
#include <vector>

namespace cutproof {

/// Whether a motion keeps orientation (a proper motion) or makes mirror images.
enum class Sense { direct, mirrored };

/// Which motions there are: those of space; or those that leave every height z as it is. These are the motions of the plane,
/// done to figures thickened upright: turning a figure over is none, and its mirror image in the plane needs a reflection.
enum class Ambient { space, plane };

/// A surface with what all surfaces congruent to it share. Of a solid it is the whole canonical boundary; of a face only its
/// facets, canonical too (see `face_in`).
class SurfaceForm {
 public:
  /// `canonical` as `normalised` gives it, with at least one facet.
  explicit SurfaceForm(Boundary canonical);

  const Boundary& boundary() const { return boundary_; }

  /// Orders forms by what every motion and every reflection keeps: the numbers of corners and edges, the distances of
  /// corners from their common centroid, the lengths of edges, which lengths join which corners. Surfaces with unequal
  /// invariants are not congruent; those with equal ones may be.
  static int compare_invariants(const SurfaceForm& a, const SurfaceForm& b);

 private:
  friend class Carrying;
  using Kind = std::array<int, 3>;  ///< ranks of the first corner, of the second, and of the length
  struct Flag {
    Kind kind;
    int from, to;  ///< a directed edge of a facet
  };

  void measure_corners();
  void measure_edges();
  void gather_flats();

  Boundary boundary_;
  std::vector<Vector3> from_centroid_;                   ///< of each corner, times their number
  std::vector<Number> distances_, lengths_;              ///< squared, increasing, with multiplicity
  std::vector<int> corner_rank_;                         ///< in `distances_`
  std::vector<Flag> flags_;                              ///< sorted by kind, then by corners
  std::vector<Kind> edge_kinds_;                         ///< without direction, sorted
  std::vector<std::vector<std::pair<int, int>>> flats_;  ///< sorted directed edges of facets in one plane that touch, sorted
};

/// The motion of that sense that carries `a` exactly onto `b`, outside to outside; of several the first in the order of
/// `all_motions`' search. None iff there is none.
std::optional<Motion> find_motion(const SurfaceForm& a, const SurfaceForm& b, Sense sense, Ambient ambient = Ambient::space);

/// All of them, least turn first (largest trace), then by the exact entries: finitely many, since a surface spans a plane at
/// least.
std::vector<Motion> all_motions(const SurfaceForm& a, const SurfaceForm& b, Sense sense, Ambient ambient = Ambient::space);

/// The same one by one, in that order, until `use` returns false: finding the first is much cheaper than finding all.
void for_each_motion_by_turn(const SurfaceForm& a, const SurfaceForm& b, Sense sense, Ambient ambient,
                             const std::function<bool(const Motion&)>& use);

/// True iff the motion carries `a` exactly onto `b`, outside to outside.
bool carries(const Motion& motion, const SurfaceForm& a, const SurfaceForm& b);

/// The face that the solid has in the plane: its facets there whose outside is the side of `outside`'s normal, as a
/// canonical open surface. Empty when there is none. Its corners are those of the face alone.
Boundary face_in(const Boundary& canonical, const Plane& outside);

/// The same surface with the other side as its outside.
Boundary turned_inside_out(const Boundary& surface);

/// Congruence classes, filled solid by solid; keeps one surface a class.
class ShapeCatalogue {
 public:
  explicit ShapeCatalogue(Ambient ambient = Ambient::space) : ambient_(ambient) {}

  struct Shape {
    Number volume;
    SurfaceForm form;                      ///< of the first solid of the class
    bool chiral = false;                   ///< no motion carries it onto its mirror image
    std::optional<std::size_t> mirror_of;  ///< the class of its mirror images, when that is an earlier one
  };

  /// The class of the solid with this volume and surface: solids are in one class iff a proper motion carries one onto the
  /// other. Classes are numbered as they come.
  std::size_t add(const Number& volume, SurfaceForm form);

  const std::vector<Shape>& shapes() const { return shapes_; }

 private:
  Ambient ambient_;
  std::vector<Shape> shapes_;
  std::vector<std::vector<std::size_t>> alike_;  ///< groups of classes with equal volume and invariants, ordered by them
};

}  // namespace cutproof
