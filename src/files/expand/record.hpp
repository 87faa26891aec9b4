// SPDX-License-Identifier: GPL-3.0-or-later
// What happens while a plan is run, and its lemmas with it, kept for who writes it down afterwards.
#pragma once

#include "plan/lemmas.hpp"
#include "verify/observer.hpp"

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace cutproof {

class RunRecords;

struct RecordedPiece {
  long identity = 0;  ///< as long as no step makes other pieces of it
  std::string name;
  Solid solid;  ///< where it lies then; null in the record of a plan that is no lemma
};

/// Pieces that went, and what came in their place.
struct RecordedChange {
  std::vector<RecordedPiece> consumed, made;
};

/// How a `use` fitted.
struct RecordedUse {
  std::vector<Motion> there;  ///< of each piece it took, onto the lemma's solid
  Motion back;                ///< of what it made, from where that lies in the lemma
};

struct RecordedStep {
  std::vector<std::string> bench;  ///< the names before it
  std::map<const PlaceSelection*, std::vector<std::string>> selected;
  std::map<const MoveEntry*, Motion> found;
  std::vector<RecordedChange> changes;
  std::vector<std::pair<long, Motion>> moved;       ///< by identity
  std::vector<std::pair<std::string, Box>> places;  ///< of a `use`: where all pieces lie before it, in whole numbers
  std::optional<RecordedUse> use;                   ///< absent where it was left out, or its lemma does not hold
};

/// The record of one plan. It refers to the plan and to the engine, which must outlive it.
class RunRecord : public RunObserver {
 public:
  /// `keeps_solids`: of a lemma.
  RunRecord(const ExactPlan& plan, std::shared_ptr<Engine> engine, RunRecords& records, bool keeps_solids)
      : plan_(plan), engine_(std::move(engine)), records_(records), keeps_solids_(keeps_solids) {}

  void on_start(const std::vector<NamedSolid>&, const std::vector<Solid>& start, const std::vector<NamedSolid>&,
                const std::vector<Solid>& goals) override;
  void on_replaced(const std::vector<const BenchPiece*>& consumed, const std::vector<const BenchPiece*>& made) override;
  void on_selected(const PlaceSelection& place, const std::vector<Bench::Position>& pieces) override;
  void on_found(const MoveEntry& entry, const Motion& motion) override;
  void on_fitted(const UseStep&, const std::vector<Motion>& there, const Motion& back) override;
  void on_used(const std::vector<const BenchPiece*>& consumed, const std::vector<const BenchPiece*>& made) override;
  void on_moved(const BenchPiece& piece, const Motion& motion) override;
  void on_bench(int step, const Bench& bench) override;
  void on_end(const Bench& bench) override;
  RunObserver* observer_of(const Lemma& lemma, const std::shared_ptr<Engine>& engine) override;

  const ExactPlan& plan() const { return plan_; }
  Engine& engine() const { return *engine_; }
  const RecordedStep& step(std::size_t index) const { return steps_.at(index); }
  /// Of each solid that is added to both sides, how it was found to come to its place.
  const std::map<const MoveEntry*, Motion>& found_before() const { return found_before_; }
  /// The bench at the beginning and at the end; the solids of the goals.
  const std::vector<RecordedPiece>& first() const { return first_; }
  const std::vector<RecordedPiece>& last() const { return last_; }
  const std::vector<Solid>& goals() const { return goals_; }
  bool is_complete() const { return complete_; }
  /// Of a lemma: a box, in whole numbers, that all its pieces lie in all the time; those of its own lemmas, too.
  const Box& extent() const;
  /// How far the lemma of this `use` is carried out from where its text has it, in whole numbers, so that no piece that it
  /// does not take is in its way.
  Vector3 way_aside(std::size_t step) const;

 private:
  RecordedStep& now() { return steps_.at(static_cast<std::size_t>(done_)); }
  RecordedPiece recorded(const BenchPiece& piece) const;
  void reach(const Solid& solid);

  const ExactPlan& plan_;
  std::shared_ptr<Engine> engine_;
  RunRecords& records_;
  bool keeps_solids_, complete_ = false;
  int done_ = 0;                     ///< the last step whose bench was told
  std::vector<RecordedStep> steps_;  ///< and one more, which nothing happens in
  std::map<const MoveEntry*, Motion> found_before_;
  std::vector<RecordedPiece> first_, last_;
  std::vector<Solid> goals_;
  std::optional<Box> reached_;
  mutable std::optional<Box> extent_;
};

/// The records of a plan's lemmas.
class RunRecords {
 public:
  RunRecord& add(const Lemma& lemma, const std::shared_ptr<Engine>& engine);
  const RunRecord& of(const Lemma& lemma) const;

 private:
  std::map<const Lemma*, std::unique_ptr<RunRecord>> records_;
};

}  // namespace cutproof
