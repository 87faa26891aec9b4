// SPDX-License-Identifier: GPL-3.0-or-later
// Volumes and centroids of convex parts, computed with a common denominator: greatest common divisors cost far more than the
// arithmetic, and so they are taken once at the end.
#include "number/flint.hpp"
#include "solid/parts/convex.hpp"

#include <algorithm>

namespace cutproof {

namespace {

/// The corners of a part, seen from its first one, times the common denominator of all coordinates.
struct ScaledCorners {
  explicit ScaledCorners(const std::vector<CornerPointer>& corners) : denominator(1), field(&Field::rational()) {
    Integer each;
    for (const CornerPointer& corner : corners)
      for (int axis = 0; axis < 3; ++axis) {
        const Number& number = coordinate(corner->point, axis);
        if (!field->stands_on(number.field())) field = &number.field();
        nf_elem_get_den(each, number.element(), number.field().nf());
        fmpz_lcm(denominator, denominator, each);
      }
    const auto scaled = [this](const Vector3& p) {
      return Vector3{p.x.times(denominator), p.y.times(denominator), p.z.times(denominator)};
    };
    const Vector3 origin = scaled(corners.front()->point);
    points.reserve(corners.size());
    for (const CornerPointer& corner : corners) points.push_back(scaled(corner->point) - origin);
  }

  Integer denominator;
  const Field* field;
  std::vector<Vector3> points;
};

/// Calls `use(a, b, c)` with the corners of triangles that fill the faces away from the first corner; with that one, they
/// make tetrahedra that fill the part.
template <class Use>
void for_each_triangle(const ConvexPart& part, Use use) {
  for (const CellFace& face : part.faces()) {
    const int *begin = part.cycles().data() + face.begin, *end = part.cycles().data() + face.end;
    if (std::find(begin, end, 0) != end) continue;
    for (const int* i = begin + 1; i + 1 < end; ++i) use(begin[0], i[0], i[1]);
  }
}

/// Twice the area vector of a cycle: edges are taken in pairs, as v x w - v x u = v x (w - u) with v_0 as origin.
Vector3 doubled_area(const std::vector<Vector3>& points, const int* begin, const int* end) {
  const Vector3& origin = points[*begin];
  Vector3 sum;
  bool empty = true;
  const auto add = [&](const Vector3& v, const Vector3& along) {
    Vector3 term = cross(v - origin, along);
    sum = empty ? std::move(term) : sum + term;
    empty = false;
  };
  const int* i = begin + 1;
  for (; i + 2 < end; i += 2) add(points[i[1]], points[i[2]] - points[i[0]]);
  if (i + 1 < end) add(points[i[0]], points[i[1]] - origin);
  return sum;
}

}  // namespace

const Number& ConvexPart::volume() const {
  if (!volume_) {
    ScaledCorners scaled(corners_);
    Number sum(0L, *scaled.field);
    for (const CellFace& face : faces_) {
      const int *begin = cycles_.data() + face.begin, *end = cycles_.data() + face.end;
      if (std::find(begin, end, 0) == end) sum += dot(scaled.points[*begin], doubled_area(scaled.points, begin, end));
    }
    Rational factor;
    fmpz_pow_ui(factor.denominator(), scaled.denominator, 3);
    fmpz_mul_ui(factor.denominator(), factor.denominator(), 6);
    fmpz_one(factor.numerator());
    volume_ = sum * Number(factor, *scaled.field);
    volume_->tighten();
  }
  return *volume_;
}

Number volume(const CellList& parts) {
  std::vector<Number> terms;
  for (const CellPointer& part : parts) terms.push_back(part->volume());
  return balanced_sum(terms);
}

Vector3 moment(const CellList& parts) {
  // A tetrahedron's moment is its volume times the mean of its corners.
  std::vector<Number> x, y, z;
  for (const CellPointer& part : parts)
    for_each_triangle(*part, [&](int a, int b, int c) {
      const auto& corners = part->corners();
      const Vector3 &o = corners.front()->point, &p = corners[a]->point, &q = corners[b]->point, &r = corners[c]->point;
      const Number weight = dot(p - o, cross(q - o, r - o)) * Number::fraction(1, 24);
      const Vector3 sum = o + p + q + r;
      x.push_back(weight * sum.x);
      y.push_back(weight * sum.y);
      z.push_back(weight * sum.z);
    });
  return {balanced_sum(x), balanced_sum(y), balanced_sum(z)};
}

}  // namespace cutproof
