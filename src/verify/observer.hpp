// SPDX-License-Identifier: GPL-3.0-or-later
// Who looks on while a plan is run, and changes nothing: how geometry gets into results.
#pragma once

#include "verify/bench.hpp"

#include "cutproof/result.hpp"

#include <memory>
#include <string>
#include <vector>

namespace cutproof {

struct Lemma;

/// Told by a run what it does, in this order of events. Whatever an observer throws ends the run as if it were the run's
/// own.
class RunObserver {
 public:
  virtual ~RunObserver() = default;
  /// All solids are built; the start lies in the order of the plan.
  virtual void on_start(const std::vector<NamedSolid>&, const std::vector<Solid>& /*start*/, const std::vector<NamedSolid>&,
                        const std::vector<Solid>& /*goals*/) {}
  /// A cut, join or split makes pieces of exactly the points of others: told for each piece, or pieces, that go, before any
  /// name changes on the bench.
  virtual void on_replaced(const std::vector<const BenchPiece*>& /*consumed*/,
                           const std::vector<const BenchPiece*>& /*made*/) {}
  /// What a selection by place takes.
  virtual void on_selected(const PlaceSelection&, const std::vector<Bench::Position>&) {}
  /// The motion that was found for an entry of the step's `move`: what is in its list, one after the other. Told before the
  /// start for what is added to both sides.
  virtual void on_found(const MoveEntry&, const Motion&) {}
  /// What a `use` takes fits a lemma that holds: the motion of each piece onto the lemma's solid, and that of what the lemma
  /// makes, from where it lies there.
  virtual void on_fitted(const UseStep&, const std::vector<Motion>& /*there*/, const Motion& /*back*/) {}
  /// A lemma brings pieces in place of others; their points are not those of what goes. Told like `on_replaced`.
  virtual void on_used(const std::vector<const BenchPiece*>& /*consumed*/, const std::vector<const BenchPiece*>& /*made*/) {}
  /// A piece has been moved.
  virtual void on_moved(const BenchPiece&, const Motion&) {}
  /// The bench after a step (0: before the first) whose checks are done.
  virtual void on_bench(int /*step*/, const Bench&) {}
  /// A finding that is listed, and the region that it speaks of; it may be given more to say.
  virtual void on_region(Finding&, const Region&) {}
  /// The goal has been compared: the run is complete.
  virtual void on_end(const Bench&) {}
  /// Who looks on while a lemma of this plan is run, before the plan itself; null: nobody.
  virtual RunObserver* observer_of(const Lemma&, const std::shared_ptr<Engine>&) { return nullptr; }
};

}  // namespace cutproof
