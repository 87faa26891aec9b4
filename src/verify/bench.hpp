// SPDX-License-Identifier: GPL-3.0-or-later
// The bench: which pieces lie on it under which names, and which names stand for nothing because an earlier step failed.
#pragma once

#include "plan/exact_plan.hpp"
#include "solid/engine.hpp"

#include <functional>
#include <list>
#include <map>
#include <set>
#include <string>
#include <unordered_map>
#include <unordered_set>
#include <vector>

namespace cutproof {

/// The step that put a piece where it is, and where its text says so.
struct Placement {
  int step = 0;  ///< 0: the start
  TextPlace place;
};

struct BenchPiece {
  std::string name;
  Solid solid;
  Number volume;       ///< with multiplicity
  long identity = 0;   ///< for lineage: which overlaps were reported already
  bool stale = false;  ///< should be gone by now, had every earlier step run fully
  Placement placed;    ///< its last motion, else what made it
  /// Of the motions before that since it was cut or laid down the last ones, in their order.
  std::vector<Placement> earlier;
};

/// Input that only the run shows to be without meaning; ends the run as `invalid`.
class InvalidStep : public InvalidInput {
 public:
  InvalidStep(const PlacedName& where, const std::string& message, std::string hint = "")
      : InvalidInput(message, std::move(hint)), where_(where) {}
  const PlacedName& where() const { return where_; }

 private:
  PlacedName where_;
};

/// What a selector takes: pieces in the selector's order, then the bench's, each once.
struct Selection {
  std::vector<std::list<BenchPiece>::iterator> by_name, by_pattern;  ///< disjoint: a piece taken by name is not in the other
  std::vector<const SelectorEntry*> void_places;                     ///< selections by place that take nothing
  std::vector<std::string> failures;  ///< entries that take nothing, while phantoms exist: consequences of earlier findings
  std::vector<std::list<BenchPiece>::iterator> all() const;
  bool empty() const { return by_name.empty() && by_pattern.empty(); }
};

class Bench {
 public:
  using Position = std::list<BenchPiece>::iterator;

  std::list<BenchPiece>& pieces() { return pieces_; }
  const std::list<BenchPiece>& pieces() const { return pieces_; }
  std::size_t size() const { return pieces_.size(); }
  bool has(const std::string& name) const { return by_name_.count(name) != 0; }
  /// Null when there is none of this name.
  const BenchPiece* find(const std::string& name) const;

  /// Puts a piece in front of `before`. The name must be free.
  Position insert(Position before, BenchPiece piece);
  /// Takes away a piece that a step uses up.
  Position erase(Position piece, int step, const TextPlace& place);

  /// Resolves a selector. Phantoms are left out. An entry that takes nothing and names no phantom is InvalidStep, or a
  /// failure of the selection while phantoms exist. `by_place` tells, in the bench's order, what a selection by place takes.
  using ByPlace = std::function<std::vector<Position>(const SelectorEntry&)>;
  Selection select(const Selector& selector, const ByPlace& by_place);

  /// Declares a name that a dropped or skipped step would have made; `below`: every name that begins with `name.`; for a
  /// numbering: every name that it could make, and what would be made of it.
  void add_phantom(const std::string& name);
  void add_phantoms_below(const std::string& name);
  void add_phantoms(const Numbering& numbering) { phantom_numberings_.insert(numbering.stem); }
  bool is_phantom(const std::string& name) const;
  /// What to write instead of a name that is not on the bench.
  std::string hint_for(const std::string& name) const;
  bool has_phantoms() const { return !phantoms_.empty() || !phantom_stems_.empty() || !phantom_numberings_.empty(); }

 private:
  std::vector<std::string> names() const;
  bool may_match_phantom(const std::string& pattern) const;

  std::list<BenchPiece> pieces_;
  std::unordered_map<std::string, Position> by_name_;
  std::unordered_map<std::string, Placement> used_up_;  ///< by which step: of names that were on the bench once
  std::unordered_set<std::string> phantoms_;
  std::set<std::string> phantom_stems_;       ///< `T.`: every name that begins so
  std::set<std::string> phantom_numberings_;  ///< `slab.`: every name that begins so and goes on with a number
};

/// Which pairs of pieces overlap because their ancestors did, and were reported: such a pair is not reported again.
class OverlapLineage {
 public:
  long new_identity() { return next_++; }
  bool is_reported(long a, long b) const;
  void report(long a, long b);
  /// `descendant` consists of points of `ancestor`.
  void inherit(long descendant, long ancestor);

 private:
  long next_ = 1;
  std::unordered_map<long, std::unordered_set<long>> reported_;
};

}  // namespace cutproof
