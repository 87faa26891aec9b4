// SPDX-License-Identifier: GPL-3.0-or-later
// Decides whether a sum of lengths (x) angles is zero, and keeps all that proves the answer.
//
// Square classes never mix (Kummer theory), so each is decided alone. Within the class of r every angle is the argument
// of 1 + s*sqrt(-r) with s in K, and a relation between angles modulo rational multiples of pi is one between the numbers
// u = (1 + s*sqrt(-r)) / (1 - s*sqrt(-r)) modulo roots of unity. Power residue characters prove independence, exact products
// prove relations; docs/dehn.md has the proofs.
#pragma once

#include "dehn/places.hpp"
#include "number/number.hpp"

#include <vector>

namespace cutproof {

/// coefficient * sqrt(T) (x) arctan(sqrt(T)), T = tangent_squared > 0.
struct AngleTerm {
  Number tangent_squared, coefficient;
};

/// One power residue character of order l: sqrt(-r) goes to `root` at the place, and u_j^((q-1)/l) = generator^logs[j], with
/// `generator` of order l.
struct Character {
  PrimePlace place;
  ulong root, generator;
  std::vector<ulong> logs;
};

/// The product of u_j^exponents[j] is a root of unity of this order.
struct Relation {
  std::size_t dependent;        ///< the position that it expresses in the pivots; every other exponent not 0 is a pivot's
  std::vector<long> exponents;  ///< by position in the class
  ulong order;
};

/// The angles of one square class.
struct ClassDecision {
  Number radicand;                    ///< r > 0
  std::vector<std::size_t> angles;    ///< which terms of the decision belong here, increasing; a position is an index here
  std::vector<Number> scales;         ///< s_j > 0 with s_j^2 * r = T_j
  ulong l = 0;                        ///< the prime order of the characters; 0 when there is no pivot
  std::vector<Character> characters;  ///< as many as pivots; their columns at the pivots are independent modulo l
  std::vector<std::size_t> pivots;    ///< positions, increasing
  std::vector<Relation> relations;    ///< one for every position that is no pivot
  std::vector<Number>
      coefficients;  ///< by pivot: the class's part is the sum of coefficient * sqrt(r) (x) arctan(sqrt(T_pivot))
};

/// Quadratic residue symbols (1 or -1) of the classes' radicands at a place.
struct SquareSymbols {
  PrimePlace place;
  std::vector<int> symbols;
};

struct Decision {
  std::vector<AngleTerm> angles;  ///< coefficients not zero, the simplest first: by the length of T, then by its value
  std::vector<ClassDecision> classes;
  std::vector<SquareSymbols> separations;  ///< any two classes differ in at least one of these places
  bool zero = true;                        ///< all coefficients of all classes are zero
};

/// All terms in one field (ToolFault otherwise). Equal angles may come twice. Exact; throws LimitReached when relations have
/// exponents of astronomical size.
Decision decide(std::vector<AngleTerm> terms);

}  // namespace cutproof
