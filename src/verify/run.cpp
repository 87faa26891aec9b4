// SPDX-License-Identifier: GPL-3.0-or-later
// The course of a run, and what is checked about every change of the bench: each statement is checked, none assumed. The
// kinds of steps are in steps.cpp, expectations in expectations.cpp, the end in goal.cpp.
#include "verify/run.hpp"

#include "plan/complaints.hpp"
#include "solid/both_engines.hpp"
#include "verify/empty_solids.hpp"
#include "verify/text.hpp"

#include <algorithm>
#include <unordered_set>

namespace cutproof {

namespace {

constexpr std::size_t findings_listed_per_code = 100;

/// Calls `use(solid, place, key)` for each solid that the steps speak of, selections by place included.
template <class Use>
void for_each_solid(const Selector& selector, const Use& use) {
  for (const SelectorEntry& entry : selector) {
    if (entry.by_place == nullptr) continue;
    if (entry.by_place->inside != nullptr) use(entry.by_place->inside, entry.place, "inside");
    for (const std::optional<Selector>* inner : {&entry.by_place->touching, &entry.by_place->from, &entry.by_place->but})
      if (*inner) for_each_solid(**inner, use);
  }
}

/// The same for the solids that motions are looked for onto.
template <class Use>
void for_each_searched(const MoveEntry& entry, const Use& use) {
  for (const MotionPart& part : entry.parts)
    if (const auto* search = std::get_if<MotionSearch>(&part); search != nullptr && search->onto != nullptr)
      use(search->onto, search->place, "onto");
}

template <class Use>
void for_each_solid(const std::vector<Step>& steps, const Use& use) {
  for (const Step& step : steps) {
    if (const auto* cut = std::get_if<CutStep>(&step.action)) for_each_solid(cut->pieces, use);
    if (const auto* join = std::get_if<JoinStep>(&step.action)) for_each_solid(join->pieces, use);
    if (const auto* split = std::get_if<SplitStep>(&step.action)) for_each_solid(split->pieces, use);
    if (const auto* lemma = std::get_if<UseStep>(&step.action)) {
      for (const UseStep::Made& made : lemma->made) use(made.solid, made.name.place, "into");
      if (lemma->by) for_each_searched(*lemma->by, use);
    }
    if (const auto* move = std::get_if<MoveStep>(&step.action))
      for (const MoveEntry& entry : move->entries) {
        for_each_solid(entry.pieces, use);
        for_each_searched(entry, use);
      }
    const auto* expect = std::get_if<ExpectStep>(&step.action);
    if (expect == nullptr) continue;
    if (expect->filled != nullptr) use(expect->filled, expect->filled_place, "filled");
    if (expect->congruent_to != nullptr) use(expect->congruent_to, expect->congruent_place, "congruent");
    for_each_solid(expect->filled_by, use);
    for_each_solid(expect->shapes_of, use);
    for (const std::optional<Selector>* selector : {&expect->connected, &expect->congruent})
      if (*selector) for_each_solid(**selector, use);
  }
}

}  // namespace

TextPlace Run::current_place() const {
  if (step_ == 0) return plan_.start_place;
  if (step_ > static_cast<int>(plan_.steps.size())) return plan_.goal_place;
  return plan_.steps[step_ - 1].place;
}

bool Run::has_room(const std::string& code) const {
  const auto count = result_.counts.find(code);
  return count == result_.counts.end() || count->second < findings_listed_per_code;
}

Finding Run::finding(const std::string& code, const TextPlace& place, std::vector<std::string> pieces) const {
  Finding finding;
  finding.code = code;
  finding.step = current_step();
  set_place(finding, place);
  finding.pieces = std::move(pieces);
  return finding;
}

Finding Run::finding_in_words(const std::string& code, const TextPlace& place, const std::string& message,
                              std::vector<std::string> pieces, const std::string& hint) const {
  Finding result = finding(code, place, std::move(pieces));
  result.message = message;
  set_place(result, place);
  result.hint = hint;
  return result;
}

Finding Run::told(Finding finding) const {
  if (is_flat()) flatten(&finding);
  return finding;
}

void Run::demand_flat(const Motion& motion) const {
  if (is_flat() && !(motion.rows()[2] == Vector3{0, 0, 1} && motion.shift().z.is_zero()))
    throw ToolFault("a motion leads out of the plane of a plan of dimension 2");
}

void Run::add(Finding finding) {
  const bool room = has_room(finding.code);
  ++result_.counts[finding.code];
  if (room && finding.suspects.empty()) note_suspects(&finding);
  if (room) result_.findings.push_back(told(std::move(finding)));
}

void Run::add_about_the_whole(Finding finding) {
  finding.step = static_cast<int>(plan_.steps.size());
  add(std::move(finding));
}

void Run::note_suspects(Finding* finding) const {
  for (const std::string& name : finding->pieces) {
    const BenchPiece* piece = bench_.find(name);
    if (piece == nullptr) continue;
    const auto add = [&](const Placement& placed) {
      finding->suspects.push_back({name, placed.step, placed.place.line, placed.place.column});
    };
    add(piece->placed);
    std::for_each(piece->earlier.rbegin(), piece->earlier.rend(), add);
  }
}

void Run::describe(Finding& finding, const Region& region) {
  describe_region(region, finding);
  for (RunObserver* observer : observers_) observer->on_region(finding, region);
}

void Run::execute() {
  build_solids();
  for (RunObserver* observer : observers_) observer->on_start(start_names_, start_, goal_names_, goals_);
  compare_totals();
  compare_invariants();
  place_start();
  for (RunObserver* observer : observers_) observer->on_bench(0, bench_);
  if (options_.progress) options_.progress(result_);
  for (const Step& step : plan_.steps) {
    ++step_;
    in_hand_.clear();
    StepResult entry;
    entry.index = step_;
    entry.kind = step.kind();
    entry.title = step.title;
    entry.note = step.note;
    entry.line = step.place.line;
    if (step.place.pass != nullptr) entry.pass = *step.place.pass;
    entry.pieces_before = bench_.size();
    result_.steps.push_back(entry);
    try {
      std::visit([this](const auto& action) { apply(action); }, step.action);
    } catch (...) {
      result_.steps.pop_back();  // it was not done: there is no bench after it to tell of
      throw;
    }
    StepResult& done = result_.steps.back();
    done.pieces_after = bench_.size();
    done.volume = value_text(total_volume_);
    const bool balances = dehn_.balances();
    // What is thickened has the invariant 0, whatever is cut: nobody is told of it, and another value is no plan's fault.
    if (is_flat() && !balances) throw ToolFault("a step in the plane changed the invariant of what is thickened");
    if (!is_flat()) done.dehn_ok = balances;
    if (!balances) {
      std::vector<std::string> touched = done.removed.first;
      touched.insert(touched.end(), done.moved.first.begin(), done.moved.first.end());
      add(finding("dehn-changed", step.place, std::move(touched)));
    }
    for (RunObserver* observer : observers_) observer->on_bench(step_, bench_);
    if (options_.progress) options_.progress(result_);
  }
  ++step_;
  in_hand_.clear();
  compare_with_goal();
  list_pieces();
  for (RunObserver* observer : observers_) observer->on_end(bench_);
  if (options_.progress) options_.progress(result_);
}

void Run::build_solids() {
  const auto build = [this](const NamedSolid& named, const std::string& role) {
    in_hand_ = {named.name};
    Solid piece;
    try {
      piece = engine_.build(*named.solid);
    } catch (const InvalidInput& error) {
      throw InvalidStep({named.name, named.place}, cutproof::told(error).sentence, cutproof::told(error).hint);
    }
    if (piece == nullptr) {
      const std::string why = why_empty(named.solid, plan_.definitions, engine_);
      throw InvalidStep({named.name, named.place},
                        "the " + role + " `" + named.name + "` is empty: it has no interior points",
                        why.empty() ? "a solid that is used needs a volume" : why);
    }
    check_size(piece, named.name);
    return piece;
  };
  start_names_ = plan_.start;
  goal_names_ = plan_.goals;
  for (const NamedSolid& named : plan_.start) start_.push_back(build(named, "start solid"));
  for (const NamedSolid& named : plan_.goals) goals_.push_back(build(named, "goal"));
  for (const AddedSolid& added : plan_.added) {
    start_names_.push_back(added.named);
    start_.push_back(build(added.named, "added solid"));
    if (added.by)
      for_each_searched(*added.by, [&](const SolidPointer& solid, const TextPlace& place, const std::string& key) {
        if (expected_.count(solid.get()) == 0) expected_[solid.get()] = build({key, solid, place}, "solid of");
      });
  }
  for_each_solid(plan_.steps, [&](const SolidPointer& solid, const TextPlace& place, const std::string& key) {
    if (expected_.count(solid.get()) == 0) expected_[solid.get()] = build({key, solid, place}, "solid of");
  });
  for (const UnusedSolid& unused : plan_.unused) {
    in_hand_ = {unused.named.name};
    const std::unique_ptr<Engine> engine = engine_.another();  // an engine works in one tower of fields
    if (engine->build(*unused.named.solid) != nullptr) continue;
    const std::string why = why_empty(unused.named.solid, *unused.definitions, *engine);
    throw InvalidStep({unused.named.name, unused.named.place},
                      "the solid `" + unused.named.name + "` is empty: it has no interior points",
                      (why.empty() ? "" : why + "; ") + std::string("nothing uses it: mend it, or delete it"));
  }
  place_added();
  in_hand_.clear();
  for (const NamedSolid& goal : goal_names_) in_hand_.push_back(goal.name);
  const auto overlapping = engine_.overlapping_pairs(goals_, std::vector<char>(goals_.size(), 1));
  if (overlapping.empty()) return;
  const NamedSolid& a = goal_names_[overlapping.front().first];
  const NamedSolid& b = goal_names_[overlapping.front().second];
  const Region region = engine_.overlap(goals_[overlapping.front().first], goals_[overlapping.front().second]);
  throw InvalidStep({b.name, b.place},
                    "the goals `" + a.name + "` and `" + b.name + "` overlap in a region of volume " +
                        short_text(region.volume) + " between " + short_text(region.box.minimum, plan_.dimension) + " and " +
                        short_text(region.box.maximum, plan_.dimension),
                    "goals must have disjoint interiors: move one of them");
}

void Run::place_added() {
  for (std::size_t i = 0; i < plan_.added.size(); ++i) {
    const AddedSolid& added = plan_.added[i];
    const std::string& name = added.named.name;
    Solid there = start_[plan_.start.size() + i];
    in_hand_ = {name};
    if (added.by) {
      const std::optional<Motion> motion =
          added.by->parts.empty() ? added.by->motion : found_motion(*added.by, {name}, {there});
      if (!motion) continue;  // that is a finding
      if (!added.by->parts.empty())
        for (RunObserver* observer : observers_) observer->on_found(*added.by, *motion);
      if (!motion->is_proper() && !plan_.allow_mirror) add(finding("mirrored", added.by->motion_place, {name}));
      there = engine_.moved(there, *motion);
      check_size(there, name);
    }
    goal_names_.push_back(added.named);
    goals_.push_back(std::move(there));
  }
}

void Run::place_start() {
  for (std::size_t i = 0; i < start_.size(); ++i) {
    BenchPiece piece;
    piece.name = start_names_[i].name;
    piece.solid = start_[i];
    piece.volume = engine_.volume(start_[i]);
    piece.identity = lineage_.new_identity();
    piece.placed.place = start_names_[i].place;
    bench_.insert(bench_.pieces().end(), std::move(piece));
  }
  find_overlaps(std::vector<char>(bench_.size(), 1));
}

std::vector<Solid> Run::solids_on_bench() const {
  std::vector<Solid> solids;
  solids.reserve(bench_.size());
  for (const BenchPiece& piece : bench_.pieces()) solids.push_back(piece.solid);
  return solids;
}

void Run::find_overlaps(const std::vector<char>& suspect) {
  const auto suspects = static_cast<std::size_t>(std::count(suspect.begin(), suspect.end(), 1));
  std::vector<const BenchPiece*> pieces;
  in_hand_.clear();
  for (const BenchPiece& piece : bench_.pieces()) {
    if (suspect[pieces.size()]) in_hand_.push_back(piece.name);
    pieces.push_back(&piece);
  }
  const auto overlapping = engine_.overlapping_pairs(solids_on_bench(), suspect);
  result_.bench_checks +=
      suspects * (pieces.size() - suspects) + suspects * (suspects - (suspects > 0)) / 2 - overlapping.size();
  for (const auto& [i, j] : overlapping) {
    const BenchPiece &a = *pieces[i], &b = *pieces[j];
    if (lineage_.is_reported(a.identity, b.identity)) continue;
    lineage_.report(a.identity, b.identity);
    if (!has_room("overlap")) {
      ++result_.counts["overlap"];
      continue;
    }
    in_hand_ = {a.name, b.name};
    const Region region = engine_.overlap(a.solid, b.solid);
    Finding overlap = finding("overlap", current_place(), {a.name, b.name});
    describe(overlap, region);
    add(std::move(overlap));
  }
}

void Run::check_size(const Solid& piece, const std::string& name) const {
  const std::size_t bits = engine_.bits(piece);
  if (bits > options_.max_bits)
    throw LimitReached("max-bits", "the coordinates of `" + name + "` have numbers of " + std::to_string(bits) +
                                       " bits; the limit is " + std::to_string(options_.max_bits));
}

void Run::note_failures(const Selection& selection) {
  for (const std::string& failure : selection.failures) {
    Finding consequence = expectation(current_place(), failure);
    consequence.code = "invalid-input";
    result_.consequences.push_back(told(std::move(consequence)));
  }
}

void Run::tell_replaced(const std::vector<Bench::Position>& consumed, const std::vector<BenchPiece>& made, bool by_lemma) {
  std::vector<const BenchPiece*> gone, come;
  for (const Bench::Position& piece : consumed) gone.push_back(&*piece);
  for (const BenchPiece& piece : made) come.push_back(&piece);
  for (RunObserver* observer : observers_) by_lemma ? observer->on_used(gone, come) : observer->on_replaced(gone, come);
}

bool Run::replace(std::vector<Replacement> replacements) {
  std::unordered_set<std::string> leaving, coming;
  for (const Replacement& replacement : replacements)
    for (const Bench::Position& piece : replacement.consumed) leaving.insert(piece->name);
  for (const Replacement& replacement : replacements)
    for (const Made& made : replacement.made) {
      const std::string& name = made.name.name;
      if (!coming.insert(name).second)
        throw InvalidStep(made.name, "this step would make two pieces named `" + name + "`", "give them names of their own");
      if (!bench_.has(name) || leaving.count(name) != 0) continue;
      const auto there = std::find_if(bench_.pieces().begin(), bench_.pieces().end(),
                                      [&](const BenchPiece& piece) { return piece.name == name; });
      const std::string message = "a piece named `" + name + "` is on the bench already";
      if (!there->stale) throw InvalidStep(made.name, message, "choose another name");
      Finding consequence =
          expectation(current_place(), message + ", because an earlier step could not be done: this step is skipped");
      consequence.code = "invalid-input";
      result_.consequences.push_back(told(std::move(consequence)));
      for (const Replacement& dropped : replacements) {
        for (const Bench::Position& piece : dropped.consumed) piece->stale = true;
        for (const Made& other : dropped.made) bench_.add_phantom(other.name.name);
      }
      skip();
      return false;
    }

  StepResult& entry = result_.steps.back();
  const auto* cut = std::get_if<CutStep>(&plan_.steps[step_ - 1].action);
  std::vector<std::vector<BenchPiece>> coming_pieces;
  for (Replacement& replacement : replacements) {
    std::vector<Number> before, after;
    std::vector<long> ancestors;
    Placement placed;  // a join and a split leave everything where it was
    std::vector<Placement> earlier;
    for (const Bench::Position& piece : replacement.consumed) {
      before.push_back(piece->volume);
      ancestors.push_back(piece->identity);
      if (piece->placed.step < placed.step) continue;
      placed = piece->placed;
      earlier = piece->earlier;
    }
    if (replacement.by_lemma) {
      const auto& use = std::get<UseStep>(plan_.steps[static_cast<std::size_t>(step_) - 1].action);
      placed = {step_, use.by ? use.by->motion_place : current_place()};
      earlier.clear();
    }
    if (cut != nullptr) {
      placed = {step_, cut->planes.size() == 1 ? cut->plane_places.front() : current_place()};
      earlier.clear();
    }
    std::vector<BenchPiece> fresh;
    for (Made& made : replacement.made) {
      in_hand_ = {made.name.name};
      check_size(made.solid, made.name.name);
      BenchPiece piece;
      piece.name = made.name.name;
      piece.volume = engine_.volume(made.solid);
      piece.solid = std::move(made.solid);
      piece.identity = lineage_.new_identity();
      piece.stale = made.stale;
      piece.placed = placed;
      piece.earlier = earlier;
      if (!replacement.by_lemma)
        for (const long ancestor : ancestors) lineage_.inherit(piece.identity, ancestor);
      after.push_back(piece.volume);
      if (replacement.proved) dehn_.put(engine_, piece.solid);
      fresh.push_back(std::move(piece));
    }
    const Number volume_before = balanced_sum(before), volume_after = balanced_sum(after);
    total_volume_ = total_volume_ - volume_before + volume_after;
    for (const Bench::Position& piece : replacement.consumed) {
      entry.removed.push_back(piece->name);
      if (replacement.proved) dehn_.take(engine_, piece->solid);
    }
    for (const BenchPiece& piece : fresh) entry.added.push_back(piece.name);
    tell_replaced(replacement.consumed, fresh, replacement.by_lemma);
    coming_pieces.push_back(std::move(fresh));
    if (replacement.proved && volume_before != volume_after) {
      Finding changed = finding("volume-changed", current_place(), entry.removed.first);
      changed.facts = {{"before", fact(volume_before)}, {"after", fact(volume_after)}};
      add(std::move(changed));
    }
  }
  // A name is free once its piece is consumed, whichever of this step's pieces that is: all are taken away before any is put
  // down. What is put down takes the place of the first piece that it was made of.
  std::vector<Bench::Position> places;
  for (const Replacement& replacement : replacements) {
    Bench::Position place = replacement.consumed.front();
    for (const Bench::Position& piece : replacement.consumed) {
      const Bench::Position next = bench_.erase(piece, step_, current_place());
      if (piece == place) place = next;
      for (Bench::Position& other : places)
        if (other == piece) other = next;
    }
    places.push_back(place);
  }
  for (std::size_t i = 0; i < coming_pieces.size(); ++i)
    for (BenchPiece& piece : coming_pieces[i]) bench_.insert(places[i], std::move(piece));
  return true;
}

}  // namespace cutproof
