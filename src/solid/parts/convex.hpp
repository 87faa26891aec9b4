// SPDX-License-Identifier: GPL-3.0-or-later
// The atoms of the parts engine: convex polyhedra with exact corners and face planes, and doubles beside them as a filter.
//
// Parts are immutable and share corners and planes by pointer: the two halves of a cut share what lies on it, and all pieces
// cut by one plane share that plane. So a shared pointer often decides a question before any arithmetic does.
#pragma once

#include "solid/boundary.hpp"
#include "solid/geometry.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <memory>
#include <optional>
#include <vector>

namespace cutproof {

/// A point with a ball of doubles around it.
struct Corner {
  explicit Corner(Vector3 exact);
  Vector3 point;
  double x, y, z;
  double radius;  ///< no coordinate of `point` is farther than this from its double
  double size;    ///< |x| + |y| + |z|
};
using CornerPointer = std::shared_ptr<const Corner>;

/// A plane with doubles beside it, scaled so that the largest coefficient of the normal is about 1.
struct FacePlane {
  explicit FacePlane(Plane exact);
  Plane plane;
  double a, b, c, d;
  double size;                        ///< |a| + |b| + |c|
  double normal_error, offset_error;  ///< enclosure errors of the normal's coefficients and the offset, and rounding
};
using PlanePointer = std::shared_ptr<const FacePlane>;

/// A plane's value at a corner in doubles, and how far that can be from the true (equally scaled) one.
struct Estimate {
  double value, error;
  bool positive() const { return value > error; }
  bool negative() const { return value < -error; }
};

inline Estimate estimate(const FacePlane& p, const Corner& q) {
  return {p.a * q.x + p.b * q.y + p.c * q.z - p.d,
          1.001 * (p.size * q.radius + p.normal_error * (q.size + 3 * q.radius) + p.offset_error)};
}

/// 1 on the positive side, 0 on the plane, -1 on the other side; exact.
inline int side(const FacePlane& plane, const Corner& corner) {
  const Estimate guess = estimate(plane, corner);
  if (guess.positive()) return 1;
  if (guess.negative()) return -1;
  return evaluate(plane.plane, corner.point).sign();
}

/// The point where the segment from p to q crosses the plane, given the plane's values there, which have opposite signs.
CornerPointer crossing(const Corner& p, const Corner& q, const Number& value_at_p, const Number& value_at_q);

/// A closed polygon.
using Cycle = std::vector<CornerPointer>;
/// Cuts a cycle at a plane: what lies on either side, closed along the plane, and empty where nothing but corners or edges
/// on the plane would be left.
void split_cycle(const Cycle& cycle, const FacePlane& plane, Cycle& positive, Cycle& negative);

/// A face: a plane, turned round or not so that it faces outward, and a range of ConvexPart::cycles, counterclockwise from
/// outside.
struct CellFace {
  PlanePointer plane;
  bool flipped;
  int begin, end;

  /// 1 outside, 0 on the face's plane, -1 inside.
  int side_of(const Corner& corner) const { return flipped ? -side(*plane, corner) : side(*plane, corner); }
  Estimate estimate_at(const Corner& corner) const {
    const Estimate guess = estimate(*plane, corner);
    return flipped ? Estimate{-guess.value, guess.error} : guess;
  }
  Plane outward() const { return flipped ? opposite(plane->plane) : plane->plane; }
  bool same_plane_as(const CellFace& other) const { return plane == other.plane; }
};

/// A box of doubles that contains what it stands for.
struct DoubleBox {
  std::array<double, 3> lower, upper;
  bool meets(const DoubleBox& other) const {
    for (int i = 0; i < 3; ++i)
      if (upper[i] < other.lower[i] || other.upper[i] < lower[i]) return false;
    return true;
  }
};

/// 1 or -1 where the whole box certainly lies on that side of the plane, off it; 0 says nothing.
inline int certain_side(const FacePlane& plane, const DoubleBox& box) {
  std::array<double, 3> centre, reach;
  for (int i = 0; i < 3; ++i) {
    centre[i] = 0.5 * (box.lower[i] + box.upper[i]);
    reach[i] = 1.001 * std::max(box.upper[i] - centre[i], centre[i] - box.lower[i]);
  }
  const double value = plane.a * centre[0] + plane.b * centre[1] + plane.c * centre[2] - plane.d;
  const double size = std::fabs(centre[0]) + std::fabs(centre[1]) + std::fabs(centre[2]);
  const double error =
      1.001 * (std::fabs(plane.a) * reach[0] + std::fabs(plane.b) * reach[1] + std::fabs(plane.c) * reach[2] +
               plane.normal_error * (size + reach[0] + reach[1] + reach[2]) + plane.offset_error);
  return value > error ? 1 : value < -error ? -1 : 0;
}

/// A convex polyhedron with interior points. Every corner is a true corner and every two faces lie in different planes.
class ConvexPart {
 public:
  ConvexPart(std::vector<CornerPointer> corners, std::vector<CellFace> faces, std::vector<int> cycles);

  const std::vector<CornerPointer>& corners() const { return corners_; }
  const std::vector<CellFace>& faces() const { return faces_; }
  const std::vector<int>& cycles() const { return cycles_; }
  const DoubleBox& box() const { return box_; }
  /// The corner of a face's cycle, counted cyclically.
  const CornerPointer& corner(const CellFace& face, int i) const { return corners_[cycles_[face.begin + i]]; }
  /// For each entry of `cycles`: the face on the other side of the edge that starts there.
  std::vector<int> neighbours() const;
  /// The largest (`upper`) or smallest exact coordinate along an axis.
  const Number& extreme(int axis, bool upper) const;
  /// 1/3 sum over faces of p_f . A_f; computed once.
  const Number& volume() const;

 private:
  std::vector<CornerPointer> corners_;
  std::vector<CellFace> faces_;
  std::vector<int> cycles_;
  DoubleBox box_;
  mutable std::array<std::array<int, 2>, 3> extremes_;  // corner, or -1 while unknown
  mutable std::optional<Number> volume_;
};
using CellPointer = std::shared_ptr<const ConvexPart>;
using CellList = std::vector<CellPointer>;

/// True iff both are the same elements of the same field. Unlike ==, never mixes fields.
inline bool identical(const Number& a, const Number& b) {
  return &a.field() == &b.field() && a == b;
}
inline bool identical(const Vector3& a, const Vector3& b) {
  return identical(a.x, b.x) && identical(a.y, b.y) && identical(a.z, b.z);
}

/// What a plane leaves of a part on its two sides; null where it leaves no interior points.
struct CellHalves {
  CellPointer positive, negative;
};
CellHalves split(const CellPointer& part, const PlanePointer& plane);
/// The side of `part` that a face of another part looks away from (its inner side), or null.
CellPointer inner_half(const CellPointer& part, const CellFace& face);
/// The same two sides as seen from a face: `positive` is outside.
CellHalves split(const CellPointer& part, const CellFace& face);

/// True iff a convex part lies in another.
bool lies_inside(const ConvexPart& part, const ConvexPart& other);

/// A part from a convex boundary whose facets have one cycle each; throws ToolFault when it is none.
CellPointer part_from_convex_boundary(const Boundary& boundary);

Number volume(const CellList& parts);
/// Volume times centroid.
Vector3 moment(const CellList& parts);

}  // namespace cutproof
