// SPDX-License-Identifier: GPL-3.0-or-later
// Planes and rigid motions: a filter in doubles in front of each predicate, exact arithmetic behind it.
#include "solid/geometry.hpp"

#include "number/errors.hpp"
#include "number/flint.hpp"
#include "number/print.hpp"

#include <string>

namespace cutproof {

namespace {

bool excludes_zero(const Interval& interval) {
  return interval.certainly_positive() || interval.certainly_negative();
}

/// True iff a*d = b*c.
bool proportional(const Number& a, const Number& b, const Number& c, const Number& d) {
  if (excludes_zero(a.interval() * d.interval() - b.interval() * c.interval())) return false;
  return a * d == b * c;
}

/// row . columns, for a row vector times the matrix with these rows
Vector3 combination(const Vector3& row, const std::array<Vector3, 3>& rows) {
  const auto along = [&](int axis) {
    return sum_of_products(
        {{&row.x, &coordinate(rows[0], axis)}, {&row.y, &coordinate(rows[1], axis)}, {&row.z, &coordinate(rows[2], axis)}});
  };
  return {along(0), along(1), along(2)};
}

std::array<Vector3, 3> transposed(const std::array<Vector3, 3>& m) {
  return {Vector3{m[0].x, m[1].x, m[2].x}, Vector3{m[0].y, m[1].y, m[2].y}, Vector3{m[0].z, m[1].z, m[2].z}};
}

/// The matrix u v^T.
std::array<Vector3, 3> outer_product(const Vector3& u, const Vector3& v) {
  return {u.x * v, u.y * v, u.z * v};
}

std::array<Vector3, 3> operator+(const std::array<Vector3, 3>& a, const std::array<Vector3, 3>& b) {
  return {a[0] + b[0], a[1] + b[1], a[2] + b[2]};
}

std::array<Vector3, 3> scaled_identity(const Number& k) {
  return {Vector3{k, 0, 0}, Vector3{0, k, 0}, Vector3{0, 0, k}};
}

Number inverse_of(const Number& a) {
  return divide(Number(1), a);
}

std::string length_text(const Number& squared) {
  RadicalSum length;
  if (!squared.is_zero()) length.add(Number(1), squared);
  return to_exact(length);
}

}  // namespace

std::string to_exact(const Vector3& v) {
  return "[" + to_exact(v.x) + ", " + to_exact(v.y) + ", " + to_exact(v.z) + "]";
}

int side_of(const Plane& plane, const Vector3& p) {
  const Vector3& n = plane.normal;
  const Interval estimate = n.x.interval() * p.x.interval() + n.y.interval() * p.y.interval() +
                            n.z.interval() * p.z.interval() - plane.offset.interval();
  if (estimate.certainly_positive()) return 1;
  if (estimate.certainly_negative()) return -1;
  return evaluate(plane, p).sign();
}

Plane plane_through(const Vector3& p, const Vector3& q, const Vector3& r) {
  const Vector3 normal = cross(q - p, r - p);
  if (is_zero(normal))
    throw InvalidInput("the three points " + to_exact(p) + ", " + to_exact(q) + " and " + to_exact(r) +
                           " are in line, so they fix no plane",
                       "give three points that are not in line");
  return {normal, dot(normal, p)};
}

Plane reduced(const Plane& plane) {
  fmpq_t content, part;
  fmpq_poly_t polynomial;
  fmpq_init(content);
  fmpq_init(part);
  fmpq_poly_init(polynomial);
  for (const Number* number : {&plane.normal.x, &plane.normal.y, &plane.normal.z, &plane.offset}) {
    number->get_polynomial(polynomial);
    fmpq_poly_content(part, polynomial);
    fmpq_gcd(content, content, part);
  }
  Plane result = plane;
  if (!fmpq_is_zero(content) && !fmpq_is_one(content)) {
    fmpq_inv(content, content);
    const Number scale(content, plane.normal.x.field());
    result = {scale * plane.normal, scale * plane.offset};
  }
  fmpq_poly_clear(polynomial);
  fmpq_clear(part);
  fmpq_clear(content);
  return result;
}

bool coincide(const Plane& a, const Plane& b, bool* same_side) {
  const Vector3 &m = a.normal, &n = b.normal;
  const bool same = proportional(m.x, m.y, n.x, n.y) && proportional(m.x, m.z, n.x, n.z) &&
                    proportional(m.y, m.z, n.y, n.z) && proportional(m.x, a.offset, n.x, b.offset) &&
                    proportional(m.y, a.offset, n.y, b.offset) && proportional(m.z, a.offset, n.z, b.offset);
  if (same && same_side != nullptr) *same_side = dot(m, n).sign() > 0;
  return same;
}

Motion::Motion() : rows_(scaled_identity(Number(1))) {}

Motion::Motion(const std::array<Vector3, 3>& rows, const Vector3& shift) : rows_(rows), shift_(shift) {
  for (int i = 0; i < 3; ++i)
    for (int j = 0; j <= i; ++j)
      if (dot(rows[i], rows[j]) != Number(i == j ? 1 : 0)) throw InvalidInput("the matrix of a motion must be orthogonal");
  proper_ = dot(cross(rows[0], rows[1]), rows[2]).sign() > 0;
}

Motion Motion::translation(const Vector3& shift) {
  Motion result;
  result.shift_ = shift;
  return result;
}

Motion Motion::rotation(const Vector3& point, const Vector3& axis, const Number& cosine, const Number& sine_by_axis_length) {
  if (is_zero(axis)) throw InvalidInput("the axis of a rotation has length 0", "give two different points, or x, y or z");
  const Number squared_length = dot(axis, axis);
  if (square(cosine) + square(sine_by_axis_length) * squared_length != Number(1))
    throw InvalidInput("the cosine and the sine of a rotation do not belong to one angle");
  // Rodrigues: R v = cos v + (sin/|d|) d x v + (1 - cos) d (d . v) / (d . d)
  const Vector3 turn = sine_by_axis_length * axis;
  const std::array<Vector3, 3> cross_matrix = {Vector3{0, -turn.z, turn.y}, Vector3{turn.z, 0, -turn.x},
                                               Vector3{-turn.y, turn.x, 0}};
  const Number along = divide(Number(1) - cosine, squared_length);
  const auto rows = scaled_identity(cosine) + cross_matrix + outer_product(along * axis, axis);
  Motion result(rows, true);
  result.shift_ = point - result.direction(point);
  return result;
}

Motion Motion::reflection(const Plane& plane) {
  if (is_zero(plane.normal)) throw InvalidInput("the normal of a plane has length 0");
  const Vector3 twice = (Number(2) * inverse_of(dot(plane.normal, plane.normal))) * plane.normal;
  Motion result(scaled_identity(Number(1)) + outer_product(-twice, plane.normal), false);
  result.shift_ = plane.offset * twice;
  return result;
}

Motion Motion::map(const std::array<Vector3, 3>& from, const std::array<Vector3, 3>& to) {
  static const char* const ordinal[] = {"first", "second", "third"};
  for (int i = 0; i < 3; ++i)
    for (int j = i + 1; j < 3; ++j) {
      const Vector3 before = from[j] - from[i], after = to[j] - to[i];
      const Number squared_before = dot(before, before), squared_after = dot(after, after);
      if (squared_before == squared_after) continue;
      throw InvalidInput("this map of points is not rigid: the " + std::string(ordinal[i]) + " and the " + ordinal[j] +
                             " point, " + to_exact(from[i]) + " and " + to_exact(from[j]) + ", have the distance " +
                             length_text(squared_before) + ", but their images, " + to_exact(to[i]) + " and " +
                             to_exact(to[j]) + ", have the distance " + length_text(squared_after),
                         "the three distances between the points must be those between their images");
    }
  const Vector3 u = from[1] - from[0], v = from[2] - from[0], w = cross(u, v);
  if (is_zero(w))
    throw InvalidInput("the three points " + to_exact(from[0]) + ", " + to_exact(from[1]) + " and " + to_exact(from[2]) +
                           " are in line, so they fix no motion",
                       "give three points that are not in line");
  const Vector3 image_u = to[1] - to[0], image_v = to[2] - to[0], image_w = cross(image_u, image_v);
  // The rows of the inverse of the matrix with columns u, v, w are v x w, w x u and u x v = w, divided by w . w.
  const Number scale = inverse_of(dot(w, w));
  const auto rows = outer_product(image_u, scale * cross(v, w)) + outer_product(image_v, scale * cross(w, u)) +
                    outer_product(image_w, scale * w);
  Motion result(rows, true);
  result.shift_ = to[0] - result.direction(from[0]);
  return result;
}

Motion Motion::align(const std::array<Vector3, 3>& from, const std::array<Vector3, 3>& to, const Number& lengths,
                     const Number& areas) {
  const Vector3 u = from[1] - from[0], n = cross(u, from[2] - from[0]), t = cross(n, u);
  const Vector3 to_u = to[1] - to[0], to_n = cross(to_u, to[2] - to[0]);
  for (const auto& [normal, points] : {std::pair{&n, &from}, std::pair{&to_n, &to}})
    if (is_zero(*normal))
      throw InvalidInput("the three points " + to_exact((*points)[0]) + ", " + to_exact((*points)[1]) + " and " +
                             to_exact((*points)[2]) + " are in line, so they fix no motion",
                         "give three points that are not in line");
  // u and n go to vectors of their own lengths, |u| = lengths / |to_u|; they and t = n x u are at right angles.
  const Vector3 image_u = divide(lengths, dot(to_u, to_u)) * to_u, image_n = divide(areas, dot(to_n, to_n)) * to_n;
  const auto rows = outer_product(image_u, inverse_of(dot(u, u)) * u) + outer_product(image_n, inverse_of(dot(n, n)) * n) +
                    outer_product(cross(image_n, image_u), inverse_of(dot(t, t)) * t);
  const Motion turn(rows, Vector3{});  // proves that the lengths and areas were right
  if (!turn.is_proper()) throw ToolFault("three points were aligned by a mirror image");
  return Motion(rows, to[0] - turn.direction(from[0]));
}

bool Motion::is_identity() const {
  const Motion identity;
  return rows_ == identity.rows_ && is_zero(shift_);
}

Vector3 Motion::direction(const Vector3& v) const {
  return {dot(rows_[0], v), dot(rows_[1], v), dot(rows_[2], v)};
}

Plane Motion::operator()(const Plane& plane) const {
  const Vector3 normal = direction(plane.normal);
  return reduced({normal, plane.offset + dot(normal, shift_)});
}

Motion Motion::inverse() const {
  Motion result;
  result.rows_ = transposed(rows_);
  result.shift_ = -result.direction(shift_);
  result.proper_ = proper_;
  return result;
}

Motion Motion::then(const Motion& next) const {
  Motion result;
  for (int i = 0; i < 3; ++i) result.rows_[i] = combination(next.rows_[i], rows_);
  result.shift_ = next(shift_);
  result.proper_ = proper_ == next.proper_;
  return result;
}

Box box_around(const std::vector<Vector3>& points) {
  if (points.empty()) throw ToolFault("no box lies around no points");
  Box box{points.front(), points.front()};
  for (const Vector3& p : points) {
    if (p.x < box.minimum.x) box.minimum.x = p.x;
    if (p.y < box.minimum.y) box.minimum.y = p.y;
    if (p.z < box.minimum.z) box.minimum.z = p.z;
    if (p.x > box.maximum.x) box.maximum.x = p.x;
    if (p.y > box.maximum.y) box.maximum.y = p.y;
    if (p.z > box.maximum.z) box.maximum.z = p.z;
  }
  return box;
}

}  // namespace cutproof
