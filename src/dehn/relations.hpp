// SPDX-License-Identifier: GPL-3.0-or-later
// Which angles of a square class are independent modulo rational multiples of pi, and how the others follow from these.
#pragma once

#include "dehn/decision.hpp"

#include <deque>
#include <map>
#include <memory>
#include <vector>

namespace cutproof {

/// The places at which characters of one order are taken, shared by the classes of a field.
class CharacterPlaces {
 public:
  CharacterPlaces(const Field& field, ulong l);
  ulong order() const { return l_; }
  const PrimePlace& place(std::size_t index) { return places_[index]; }
  /// An element of order l modulo the place's prime.
  ulong generator(std::size_t index);
  /// k in [0, l) with generator^k = power; `power` must lie in the subgroup of order l.
  ulong logarithm(std::size_t index, ulong power);

 private:
  struct Subgroup {
    ulong generator, giant_step;
    std::map<ulong, ulong> baby_steps;
  };
  Subgroup& subgroup(std::size_t index);
  ulong l_, steps_;
  PlaceSequence places_;
  std::deque<std::unique_ptr<Subgroup>> subgroups_;
};

class RelationSearch {
 public:
  explicit RelationSearch(const Field& field) : field_(field) {}
  /// Fills in l, characters, pivots and relations of a class whose radicand and scales are known. Earlier positions are
  /// preferred as pivots. Terminates: a prime l fails only when some product of the u_j is an l-th power times a root
  /// of unity, which finitely many l see, or when exponents are larger than the primes used so far can show.
  void find_relations(ClassDecision* part);

 private:
  CharacterPlaces& characters(std::size_t which);
  const Field& field_;
  std::vector<std::unique_ptr<CharacterPlaces>> by_order_;
};

}  // namespace cutproof
