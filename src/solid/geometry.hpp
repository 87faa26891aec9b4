// SPDX-License-Identifier: GPL-3.0-or-later
// Exact vectors, planes and rigid motions.
#pragma once

#include "number/number.hpp"

#include <array>
#include <optional>
#include <string>
#include <vector>

namespace cutproof {

/// A point or a vector of three-space.
struct Vector3 {
  Number x, y, z;
};

/// The coordinate along axis 0, 1 or 2.
inline const Number& coordinate(const Vector3& v, int axis) {
  return axis == 0 ? v.x : axis == 1 ? v.y : v.z;
}
inline Vector3 operator+(const Vector3& a, const Vector3& b) {
  return {a.x + b.x, a.y + b.y, a.z + b.z};
}
inline Vector3 operator-(const Vector3& a, const Vector3& b) {
  return {a.x - b.x, a.y - b.y, a.z - b.z};
}
inline Vector3 operator-(const Vector3& a) {
  return {-a.x, -a.y, -a.z};
}
inline Vector3 operator*(const Number& k, const Vector3& a) {
  return {k * a.x, k * a.y, k * a.z};
}
inline Number dot(const Vector3& a, const Vector3& b) {
  return sum_of_products({{&a.x, &b.x}, {&a.y, &b.y}, {&a.z, &b.z}});
}
/// The coordinate of the vector product along axis 0, 1 or 2.
inline Number cross_component(const Vector3& a, const Vector3& b, int axis) {
  const int next = (axis + 1) % 3, last = (axis + 2) % 3;
  return sum_of_products({{&coordinate(a, next), &coordinate(b, last)}, {&coordinate(a, last), &coordinate(b, next), true}});
}
inline Vector3 cross(const Vector3& a, const Vector3& b) {
  return {cross_component(a, b, 0), cross_component(a, b, 1), cross_component(a, b, 2)};
}
inline bool is_zero(const Vector3& a) {
  return a.x.is_zero() && a.y.is_zero() && a.z.is_zero();
}
inline bool operator==(const Vector3& a, const Vector3& b) {
  return a.x == b.x && a.y == b.y && a.z == b.z;
}
inline bool operator!=(const Vector3& a, const Vector3& b) {
  return !(a == b);
}
/// True iff a = -b.
inline bool are_opposite(const Vector3& a, const Vector3& b) {
  return are_opposite(a.x, b.x) && are_opposite(a.y, b.y) && are_opposite(a.z, b.z);
}
/// Lexicographic order by x, then y, then z: the order in which everything is shown and numbered.
inline int compare(const Vector3& a, const Vector3& b) {
  if (const int by_x = compare(a.x, b.x)) return by_x;
  if (const int by_y = compare(a.y, b.y)) return by_y;
  return compare(a.z, b.z);
}
inline bool operator<(const Vector3& a, const Vector3& b) {
  return compare(a, b) < 0;
}
/// `[x, y, z]` with exact numbers, as an expression.
std::string to_exact(const Vector3& v);

/// The plane normal . p = offset. Its positive side is where normal . p > offset. The normal is not zero and has any length.
struct Plane {
  Vector3 normal;
  Number offset;
};

/// normal . p - offset: positive on the plane's positive side, zero on it.
inline Number evaluate(const Plane& plane, const Vector3& p) {
  return dot(plane.normal, p) - plane.offset;
}
/// 1 on the positive side, 0 on the plane, -1 on the other side; filtered by enclosures, exact.
int side_of(const Plane& plane, const Vector3& p);
inline Plane opposite(const Plane& plane) {
  return {-plane.normal, -plane.offset};
}
/// The plane with normal (q-p) x (r-p); throws InvalidInput when the points are in line.
Plane plane_through(const Vector3& p, const Vector3& q, const Vector3& r);
/// Divides by the rational content of the four coefficients (the largest positive rational that leaves integral coprime
/// numerators): keeps numbers short and the side as it was. Never divides by an irrational.
Plane reduced(const Plane& plane);
/// True iff both are the same set of points (with either orientation); `same_side` tells whether the positive sides agree.
bool coincide(const Plane& a, const Plane& b, bool* same_side = nullptr);

/// A rigid motion x -> matrix * x + shift; matrix rows are orthonormal (by a check or by their formula).
class Motion {
 public:
  /// The identity.
  Motion();
  /// Throws InvalidInput unless matrix^T matrix = 1, exactly.
  Motion(const std::array<Vector3, 3>& rows, const Vector3& shift);

  static Motion translation(const Vector3& shift);
  /// Right-handed rotation about the line through `point` with direction `axis` (any length), by the angle with the given
  /// cosine and the given sine divided by the length of `axis`: no square root is needed beyond these two.
  /// Throws InvalidInput for a zero axis or when cosine^2 + sine^2 is not 1.
  static Motion rotation(const Vector3& point, const Vector3& axis, const Number& cosine, const Number& sine_by_axis_length);
  static Motion reflection(const Plane& plane);
  /// The proper motion that carries three points not in line to three others; throws InvalidInput (naming the two
  /// points whose distance differs) when there is none.
  static Motion map(const std::array<Vector3, 3>& from, const std::array<Vector3, 3>& to);

  /// The proper motion that carries the point from[0] to to[0], the ray from there through from[1] to that through to[1],
  /// and from[2] into the half-plane of to[2] that this ray bounds. `lengths` is the product of the lengths of from[1] -
  /// from[0] and to[1] - to[0], `areas` that of the two triangles' doubled areas: no other roots are needed. Throws
  /// InvalidInput for points in line.
  static Motion align(const std::array<Vector3, 3>& from, const std::array<Vector3, 3>& to, const Number& lengths,
                      const Number& areas);

  const std::array<Vector3, 3>& rows() const { return rows_; }
  const Vector3& shift() const { return shift_; }
  /// True iff the determinant is 1; a reflection's is -1.
  bool is_proper() const { return proper_; }
  bool is_identity() const;

  Vector3 direction(const Vector3& v) const;  ///< the motion's linear part applied to a vector
  Vector3 operator()(const Vector3& p) const { return direction(p) + shift_; }
  Plane operator()(const Plane& plane) const;  ///< the image, reduced
  Motion inverse() const;
  /// First this motion, then `next`.
  Motion then(const Motion& next) const;

 private:
  /// Of rows that are orthonormal because of the formula that they come from, which the tests confirm: no second proof.
  Motion(const std::array<Vector3, 3>& orthonormal_rows, bool proper) : rows_(orthonormal_rows), proper_(proper) {}

  std::array<Vector3, 3> rows_;
  Vector3 shift_;
  bool proper_ = true;
};

/// An axis-parallel box with exact corners.
struct Box {
  Vector3 minimum, maximum;
};
/// The smallest box around at least one point.
Box box_around(const std::vector<Vector3>& points);

}  // namespace cutproof
