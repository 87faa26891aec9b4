// SPDX-License-Identifier: GPL-3.0-or-later
// One run of one plan: the state between steps, and how each kind of step changes and checks it.
#pragma once

#include "solid/congruence.hpp"
#include "verify/bench.hpp"
#include "verify/check.hpp"
#include "verify/dehn_ledger.hpp"
#include "verify/observer.hpp"
#include "verify/piece_name.hpp"

#include <algorithm>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

namespace cutproof {

/// Executes a plan and collects what it finds; `check_plan` decides what that means.
class Run {
 public:
  /// The observers are told of everything while `execute` runs.
  Run(const ExactPlan& plan, Engine& engine, const CheckOptions& options, std::vector<RunObserver*> observers,
      const LemmaChecks& lemmas)
      : plan_(plan),
        engine_(engine),
        options_(options),
        observers_(std::move(observers)),
        lemmas_(lemmas),
        dehn_(*plan.field) {}

  /// Runs to the end. Throws InvalidStep, InvalidInput, LimitReached or ToolFault where the run cannot go on; what was found
  /// before stands in `result()`.
  void execute();
  CheckResult& result() { return result_; }
  /// For messages about a run that ended early: the step being executed (at the goal: the last one) and the pieces in hand.
  int current_step() const { return std::min(step_, static_cast<int>(plan_.steps.size())); }
  const std::vector<std::string>& current_pieces() const { return in_hand_; }
  const Bench& bench() const { return bench_; }
  TextPlace current_place() const;

 private:
  struct Made {
    PlacedName name;
    Solid solid;
    bool stale = false;
  };
  /// One piece or several that go, and what is made of exactly their points.
  struct Replacement {
    std::vector<Bench::Position> consumed;
    std::vector<Made> made;
    bool by_lemma = false;  ///< what is made lies elsewhere, and may be cut in another way
    bool proved = true;     ///< false: by a lemma that does not hold, so that nothing need balance
  };
  struct TakenSolids;
  struct NamedSolidPart {
    PieceName name;
    Solid solid;
  };

  // before the first step (run.cpp)
  void build_solids();
  /// Where what is added must be in the end.
  void place_added();
  void place_start();
  void compare_totals();
  void compare_invariants();

  // the kinds of steps (steps.cpp)
  // which pieces a step takes (places.cpp)
  /// The pieces that a selector takes, with its failures noted; none, and a finding, where a selection by place takes none.
  std::optional<Selection> take(const Selector& selector);
  Selection select(const Selector& selector);
  std::vector<Bench::Position> pieces_at(const PlaceSelection& place);
  void nothing_selected(const SelectorEntry& entry);
  /// What a cut or split by places that take nothing would have made, nobody can tell: it may be made of any piece.
  void add_phantoms_below_all();

  // motions that are found (searches.cpp)
  /// The motion of an entry whose parts must be found, for pieces as they lie now; none, and a finding, where there is none
  /// or several.
  std::optional<Motion> found_motion(const MoveEntry& entry, const std::vector<std::string>& names,
                                     const std::vector<Solid>& pieces);
  std::optional<Motion> found_motion(const MotionSearch& search, const Motion& before, const std::vector<std::string>& names,
                                     std::vector<Solid> pieces);
  /// A finding of a step that is left out, or a consequence while names stand for nothing because of an earlier one.
  void left_out(Finding finding);
  Solid built(const SolidPointer& solid) const { return expected_.at(solid.get()); }

  // lemmas (uses.cpp)
  void apply(const UseStep& step);
  /// Tells, once for each lemma, what is wrong with one that does not hold.
  void judge_lemma(const UseStep& step);
  const TakenSolids& taken_solids(const UseStep& step);

  void apply(const CutStep& step);
  void apply(const MoveStep& step);
  void apply(const JoinStep& step);
  void apply(const SplitStep& step);
  /// That a motion written there puts the piece where it lies from now on.
  void note_motion(BenchPiece& piece, const TextPlace& place) const;
  std::vector<NamedSolidPart> halves_of(const std::vector<NamedSolidPart>& parts, const Plane& plane, bool& passes);
  void missed(const CutStep& step, std::size_t index, const std::vector<std::string>& names,
              const std::vector<Solid>& pieces);

  // every change of the bench (run.cpp)
  /// Puts the new pieces on the bench in place of the old ones, after checking names, volumes and lengths of numbers. False
  /// when a name meets a piece that should be gone: nothing is changed then.
  bool replace(std::vector<Replacement> replacements);
  /// Names all that is made by numbers, in the order of smallest corners (ties by volume, then by centroid).
  void number(const Numbering& numbering, std::vector<Replacement>& replacements);
  void tell_replaced(const std::vector<Bench::Position>& consumed, const std::vector<BenchPiece>& made, bool by_lemma);
  void check_size(const Solid& piece, const std::string& name) const;
  void find_overlaps(const std::vector<char>& suspect);
  std::vector<Solid> solids_on_bench() const;
  void skip() { result_.steps.back().skipped = true; }
  void note_failures(const Selection& selection);

  // expectations (expectations.cpp)
  void apply(const ExpectStep& step);
  void expect_congruent(const ExpectStep& step);
  void expect_shapes(const ExpectStep& step);
  /// The pieces that a selector takes; `examined_` counts them.
  std::vector<Bench::Position> examined(const Selector& selector);
  void expect_filled(const ExpectStep& step);
  void expect_angles(const AngleAudit& audit);
  void expect_zero_invariant(const SelectorEntry& piece, const TextPlace& place);

  // the goal (goal.cpp)
  void compare_with_goal();
  void list_pieces();

  bool is_flat() const { return plan_.dimension == 2; }
  Ambient ambient() const { return is_flat() ? Ambient::plane : Ambient::space; }
  /// Of a plan of dimension 2: throws ToolFault unless it stays in the plane.
  void demand_flat(const Motion& motion) const;
  /// As it is listed: in the words of the plan's dimension.
  Finding told(Finding finding) const;

  /// A finding of the step being executed.
  Finding finding(const std::string& code, const TextPlace& place, std::vector<std::string> pieces = {}) const;
  /// One for which the table of sentences (report/sentences.hpp) has no line.
  Finding finding_in_words(const std::string& code, const TextPlace& place, const std::string& message,
                           std::vector<std::string> pieces = {}, const std::string& hint = "") const;
  /// Counts a finding, and lists it while there is room.
  void add(Finding finding);
  /// The same for what no step is to blame for: it is listed with the comparison with the goal.
  void add_about_the_whole(Finding finding);
  /// A finding, or a consequence while names stand for nothing because of an earlier one.
  void expectation_failed(Finding finding);
  Finding expectation(const std::string& statement, const TextPlace& place, std::vector<std::string> pieces = {}) const;
  /// One in words.
  Finding expectation(const TextPlace& place, const std::string& message, std::vector<std::string> pieces = {}) const;
  /// Lists where the finding's pieces, as they lie on the bench now, got their places.
  void note_suspects(Finding* finding) const;
  /// Lets a finding that will be listed tell of its region.
  void describe(Finding& finding, const Region& region);
  /// False once a code has been found so often that further findings are only counted.
  bool has_room(const std::string& code) const;

  const ExactPlan& plan_;
  Engine& engine_;
  const CheckOptions& options_;
  std::vector<RunObserver*> observers_;
  CheckResult result_;
  Bench bench_;
  OverlapLineage lineage_;
  std::vector<NamedSolid> start_names_, goal_names_;  ///< the plan's own first, then what is added to both sides
  std::vector<Solid> start_, goals_;                  ///< in the same order
  std::map<const SolidDescription*, Solid> expected_;
  const LemmaChecks& lemmas_;
  std::map<std::pair<const Lemma*, bool>, std::shared_ptr<const TakenSolids>> taken_solids_;
  std::set<const Lemma*> told_lemmas_;
  Number start_volume_, total_volume_;
  DehnLedger dehn_;
  int step_ = 0;
  std::size_t examined_ = 0;  ///< by the expectations of this step
  std::vector<std::string> in_hand_;
};

}  // namespace cutproof
