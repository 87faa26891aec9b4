// SPDX-License-Identifier: GPL-3.0-or-later
// The Dehn invariant as a value that terms can be added to and taken from.
//
// D(P) = sum over edges of length (x) interior dihedral angle in R (x)_Q (R / Q*pi): M. Dehn, Math. Ann. 55 (1901) 465-478.
// It adds up over dissections and does not change under motions. Right angles and flat edges contribute nothing,
// supplementary angles cancel, and after a cut nearly everything cancels without any number theory; `decide_zero` settles
// what is left.
#pragma once

#include "dehn/angle_table.hpp"
#include "solid/engine.hpp"

#include <map>
#include <memory>
#include <unordered_map>
#include <vector>

namespace cutproof {

/// sum of coefficient * sqrt(T) (x) arctan(sqrt(T)) over angles of a table. Sums that meet in an operation must share
/// theirs. Laws: (1) adding terms in any order gives equal sums; (2) (a + b) - b = a; (3) equal sums have equal terms, but
/// sums with different terms may be equal as invariants, where the angles have a rational relation.
class DehnSum {
 public:
  explicit DehnSum(std::shared_ptr<AngleTable> table) : table_(std::move(table)) {}

  /// Adds the term of an edge `times` times.
  void add(const EdgeTerm& term, int times = 1);
  void add(const EdgeOfPiece& edge, int times = 1);
  DehnSum& operator+=(const DehnSum& other);
  DehnSum& operator-=(const DehnSum& other);

  /// Angles of the table with their coefficients, none of them zero.
  const std::map<int, Number>& terms() const;
  /// True when all terms cancel by looking; false says nothing.
  bool is_empty() const { return terms().empty(); }
  const std::shared_ptr<AngleTable>& table() const { return table_; }

 private:
  void settle() const;

  std::shared_ptr<AngleTable> table_;
  // Edges wait here by the pair of their faces' normals (and by axis); most of them cancel without a product being formed.
  struct Pair {
    int first, second, axis;
    bool operator==(const Pair& o) const { return first == o.first && second == o.second && axis == o.axis; }
  };
  struct HashPair {
    std::size_t operator()(const Pair& p) const {
      return (static_cast<std::size_t>(p.first) * 0x9E3779B97F4A7C15u) ^ (static_cast<std::size_t>(p.second) * 4 + p.axis);
    }
  };
  mutable std::unordered_map<Pair, std::vector<Number>, HashPair> waiting_;
  mutable std::map<int, Number> terms_;
};

inline DehnSum operator+(DehnSum a, const DehnSum& b) {
  return a += b;
}
inline DehnSum operator-(DehnSum a, const DehnSum& b) {
  return a -= b;
}

/// The sum over a piece's edges, with multiplicity, as its engine gives them.
void add_piece(DehnSum& sum, Engine& engine, const Solid& piece, int times = 1);

/// True iff the invariant is zero. Exact; throws LimitReached only if the relations between the angles have exponents
/// of astronomical size.
bool is_zero(const DehnSum& sum);
/// True iff both are the same element of R (x) (R / Q*pi).
inline bool equal(const DehnSum& a, const DehnSum& b) {
  return is_zero(a - b);
}

}  // namespace cutproof
