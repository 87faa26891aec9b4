// SPDX-License-Identifier: GPL-3.0-or-later
// What every step changes in the total Dehn invariant of the bench: it must come to nothing.
#pragma once

#include "dehn/dehn_sum.hpp"
#include "solid/both_engines.hpp"

namespace cutproof {

class DehnLedger {
 public:
  explicit DehnLedger(const Field& field) : drift_(std::make_shared<AngleTable>(field)) {}

  /// Throws EnginesDiffer when two engines are at work and do not agree on the piece's invariant.
  void put(Engine& engine, const Solid& piece) {
    add_piece(drift_, engine, piece, 1);
    DehnSum difference(drift_.table());
    if (!engine.for_each_reference_edge(piece, [&](const EdgeOfPiece& edge) { difference.add(edge, -1); })) return;
    add_piece(difference, engine, piece, 1);
    if (!is_zero(difference))
      throw EnginesDiffer("the two engines disagree on the edges of a piece: its Dehn invariants differ");
  }
  void take(Engine& engine, const Solid& piece) { add_piece(drift_, engine, piece, -1); }

  /// True iff what was put since the last time this was true has the invariant of what was taken; decided exactly. Nearly
  /// always all terms cancel, and no relation between angles is searched for.
  bool balances() {
    if (!drift_.is_empty() && !is_zero(drift_)) return false;
    drift_ = DehnSum(drift_.table());
    return true;
  }

 private:
  DehnSum drift_;
};

}  // namespace cutproof
