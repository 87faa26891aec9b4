// SPDX-License-Identifier: GPL-3.0-or-later
// The dihedral angles of a run, each kept once, whatever planes it came from.
//
// At an edge e between faces with normals n1, n2 let n1 x n2 = lambda * e and p = n1.n2. The interior angle is
// pi - arg(p + lambda*sqrt(-e.e)), so with phi = arctan(sqrt(T)), T = |n1 x n2|^2 / p^2 = (|n1|^2 |n2|^2 - p^2) / p^2 in K,
// it is -phi or phi modulo pi, as p*lambda is positive or negative; and |e| = |p/lambda| * sqrt(T). The term of the edge is
//     |e| (x) angle = -(p/lambda) * sqrt(T) (x) phi,
// with one element of K, p/lambda, and no square root. Angles that are equal or supplementary have equal T; equal T implies
// equal square classes.
#pragma once

#include "dehn/places.hpp"
#include "number/number.hpp"
#include "solid/geometry.hpp"

#include <cstdint>
#include <unordered_map>
#include <vector>

namespace cutproof {

/// Numbers the normals (up to sign) and the angles of one field. Grows; sums that share a table can be added and compared.
class AngleTable {
 public:
  explicit AngleTable(const Field& field);
  const Field& field() const { return field_; }

  /// The number of a normal; opposite normals have the same.
  int normal(const Vector3& normal);

  /// What the faces with these two normals contribute: an angle (-1 for a right angle or parallel faces, which contribute
  /// nothing) and a factor. An edge e = (n1 x n2)/lambda contributes factor * e[axis] * sqrt(T) (x) arctan(sqrt(T)).
  struct Contribution {
    int angle;
    Number factor;
  };
  /// `axis` (0, 1, 2) must be one along which n1 x n2 is not zero, unless the normals are parallel. Computed once: a piece
  /// that is put somewhere in one step is often taken away in the next.
  const Contribution& contribution(int first_normal, int second_normal, int axis);

  std::size_t size() const { return angles_.size(); }
  /// T > 0 of an angle arctan(sqrt(T)).
  const Number& tangent_squared(int angle);

 private:
  struct Normal {
    Vector3 vector;
    Number squared_length;
  };
  struct KnownAngle {
    Number sine, cosine;  ///< T = sine/cosine, not reduced: divided only when somebody asks
    Number tangent_squared;
    bool divided = false;
  };
  /// Three numbers in one: the indices of two normals and an axis.
  using PairKey = std::uint64_t;
  int index_of(const Vector3& normal) const;  // -1 when it is new
  Contribution computed_contribution(int first_normal, int second_normal, int axis);
  int angle_of(const Number& sine_squared, const Number& cosine_squared);

  const Field& field_;
  PrimePlace place_;
  std::vector<Normal> normals_;
  std::vector<KnownAngle> angles_;
  std::unordered_multimap<std::size_t, int> normals_by_hash_, angles_by_hash_;
  std::unordered_map<PairKey, Contribution> contributions_;
};

}  // namespace cutproof
