// SPDX-License-Identifier: GPL-3.0-or-later
// The plan language's rules, written down a second time: what each step does, what counts as a finding, what is left out
// after one (docs/plan-language.md, docs/findings.md).
#include "oracle/oracle.hpp"

#include "files/plan_folder.hpp"
#include "number/print.hpp"
#include "oracle/names.hpp"
#include "oracle/places.hpp"
#include "oracle/shape.hpp"
#include "plan/complaints.hpp"
#include "plan/diagnostic.hpp"
#include "plan/lemmas.hpp"
#include "plan/meshes.hpp"
#include "plan/other_field.hpp"
#include "plan/read_plan.hpp"

#include <algorithm>
#include <list>
#include <map>
#include <memory>
#include <optional>
#include <utility>

namespace cutproof::oracle {
namespace {

struct OraclePiece {
  std::string name;
  Shape shape;
  bool overdue = false;    ///< would be gone, had every step run fully
  std::set<long> lineage;  ///< itself and all pieces that it was made of
};
using Pieces = std::list<OraclePiece>;
using Taken = std::vector<Pieces::iterator>;

struct Making {
  std::string name;
  Shape shape;
  bool overdue;
};

class OracleRun {
 public:
  OracleRun(const ExactPlan& plan, Judgement& judgement) : plan_(plan), judgement_(judgement) {}

  void execute() {
    const std::string impossible = impossible_name(plan_);
    if (!impossible.empty()) throw InvalidInput(impossible);
    const auto solid = [](const SolidPointer& description) {
      Shape shape = build(*description);
      if (shape.empty()) throw InvalidInput("an empty solid");
      return shape;
    };
    for (const NamedSolid& goal : plan_.goals) goals_.push_back(solid(goal.solid));
    for (std::size_t i = 0; i < goals_.size(); ++i)
      for (std::size_t j = i + 1; j < goals_.size(); ++j)
        if (share_interior_points(goals_[i], goals_[j])) throw InvalidInput("goals overlap");
    Number start_volume, goal_volume;
    for (const NamedSolid& start : plan_.start) {
      pieces_.push_back({start.name, solid(start.solid), false, {next_++}});
      start_volume += volume(pieces_.back().shape);
    }
    for (const Step& step : plan_.steps) {
      if (const auto* expect = std::get_if<ExpectStep>(&step.action)) {
        if (expect->filled != nullptr) solid(expect->filled);
        if (expect->congruent_to != nullptr) solid(expect->congruent_to);
      }
      if (const auto* move = std::get_if<MoveStep>(&step.action))
        for (const MoveEntry& entry : move->entries)
          for (const MotionPart& part : entry.parts)
            if (const auto* search = std::get_if<MotionSearch>(&part); search != nullptr && search->onto != nullptr)
              solid(search->onto);
    }
    for (const Shape& goal : goals_) goal_volume += volume(goal);
    if (!plan_.added.empty()) throw InvalidInput("the oracle adds nothing to both sides");
    const int last = static_cast<int>(plan_.steps.size());
    if (start_volume != goal_volume) found("volume-differs", last, goal_volume - start_volume);
    find_overlaps([](const OraclePiece&) { return true; });
    for (const Step& step : plan_.steps) {
      ++step_;
      std::visit([this](const auto& action) { run(action); }, step.action);
      Number total;
      for (const OraclePiece& piece : pieces_) total += volume(piece.shape);
      if (total != start_volume && !volumes_may_differ_) throw ToolFault("the oracle's own pieces changed their volume");
    }
    compare_with_goals();
  }

 private:
  void found(const std::string& code, int step) { judgement_.findings.push_back(code + "@" + std::to_string(step)); }
  void found(const std::string& code, int step, const Number& amount) {
    found(code, step);
    judgement_.findings.back() += "=" + to_exact(amount);
  }
  void expectation_failed() {
    if (!phantoms()) found("expectation-failed", step_);
  }

  // names

  bool phantoms() const { return !phantom_names_.empty() || !phantom_stems_.empty(); }
  bool is_there(const std::string& name) const {
    return std::any_of(pieces_.begin(), pieces_.end(), [&](const OraclePiece& piece) { return piece.name == name; });
  }
  /// What the named entries take, then what the patterns take besides; a name without piece is invalid unless an earlier
  /// finding may be why.
  Taken take(const Selector& selector, std::size_t* by_name = nullptr) {
    Taken taken;
    const auto add = [&](Pieces::iterator piece) {
      if (std::find(taken.begin(), taken.end(), piece) == taken.end()) taken.push_back(piece);
    };
    for (const bool patterns : {false, true}) {
      if (patterns && by_name != nullptr) *by_name = taken.size();
      for (const SelectorEntry& entry : selector) {
        if (entry.is_pattern() != patterns) continue;
        bool any = false;
        if (entry.by_place != nullptr) {
          for (const auto& piece : lying(*entry.by_place)) {
            any = true;
            add(piece);
          }
          if (!any) nothing_there_ = true;
          continue;
        }
        for (auto piece = pieces_.begin(); piece != pieces_.end(); ++piece) {
          if (patterns ? !fits(entry.text, piece->name) : piece->name != entry.text) continue;
          any = true;
          add(piece);
        }
        if (!any && !phantoms()) throw InvalidInput("no piece " + entry.text);
      }
    }
    return taken;
  }
  /// The same for a step: without value where a selection by place takes nothing, which is a finding.
  std::optional<Taken> taken_by_step(const Selector& selector, std::size_t* by_name = nullptr) {
    nothing_there_ = false;
    Taken taken = take(selector, by_name);
    if (!nothing_there_) return taken;
    left_out("nothing-selected");
    return std::nullopt;
  }
  void left_out(const std::string& code) {
    if (!phantoms()) found(code, step_);
  }
  Taken lying(const PlaceSelection& place) {
    Taken result;
    const auto has = [](const Taken& pieces, const Pieces::iterator& piece) {
      return std::find(pieces.begin(), pieces.end(), piece) != pieces.end();
    };
    const bool before = nothing_there_;
    const Taken from = place.from ? take(*place.from) : Taken{}, but = place.but ? take(*place.but) : Taken{},
                touching = place.touching ? take(*place.touching) : Taken{};
    nothing_there_ = before;  // what is asked within a selection may be nothing
    const Shape around = place.inside != nullptr ? build(*place.inside) : Shape{};
    for (auto piece = pieces_.begin(); piece != pieces_.end(); ++piece) {
      if ((place.from && !has(from, piece)) || has(but, piece)) continue;
      if (place.above && reaches(piece->shape, *place.above, -1)) continue;
      if (place.below && reaches(piece->shape, *place.below, 1)) continue;
      if (place.holding && !holds(piece->shape, *place.holding)) continue;
      if (place.inside != nullptr && !lies_inside(piece->shape, around)) continue;
      if (place.touching && (has(touching, piece) || std::none_of(touching.begin(), touching.end(), [&](const auto& other) {
                               return count_linked_groups({piece->shape, other->shape}) == 1;
                             })))
        continue;
      result.push_back(piece);
    }
    return result;
  }
  void phantom(const std::string& name) {
    if (!is_there(name)) phantom_names_.insert(name);
  }

  // changes

  /// False when a name is borne by a piece that should be gone: the step is left out then.
  bool replace(const std::vector<std::pair<Taken, std::vector<Making>>>& changes) {
    std::set<std::string> leaving, coming;
    for (const auto& [consumed, made] : changes)
      for (const auto& piece : consumed) leaving.insert(piece->name);
    for (const auto& [consumed, made] : changes)
      for (const Making& making : made) {
        if (!coming.insert(making.name).second) throw InvalidInput("two pieces " + making.name);
        if (leaving.count(making.name) != 0) continue;
        for (const OraclePiece& piece : pieces_) {
          if (piece.name != making.name) continue;
          if (!piece.overdue) throw InvalidInput(making.name + " is there already");
          for (const auto& [dropped, not_made] : changes) {
            for (const auto& stays : dropped) stays->overdue = true;
            for (const Making& other : not_made) phantom(other.name);
          }
          return false;
        }
      }
    for (const auto& [consumed, made] : changes) {
      std::set<long> lineage;
      for (const auto& piece : consumed) lineage.insert(piece->lineage.begin(), piece->lineage.end());
      const auto place = std::next(consumed.front());
      for (const Making& making : made) {
        OraclePiece piece{making.name, making.shape, making.overdue, lineage};
        piece.lineage.insert(next_++);
        phantom_names_.erase(making.name);
        pieces_.insert(place, std::move(piece));
      }
      for (const auto& piece : consumed) pieces_.erase(piece);
    }
    return true;
  }

  template <class Suspect>
  void find_overlaps(const Suspect& suspect) {
    for (auto a = pieces_.begin(); a != pieces_.end(); ++a)
      for (auto b = std::next(a); b != pieces_.end(); ++b) {
        if (!suspect(*a) && !suspect(*b)) continue;
        const bool known = std::any_of(overlaps_.begin(), overlaps_.end(), [&](const std::pair<long, long>& pair) {
          return (a->lineage.count(pair.first) != 0 && b->lineage.count(pair.second) != 0) ||
                 (a->lineage.count(pair.second) != 0 && b->lineage.count(pair.first) != 0);
        });
        if (known || !share_interior_points(a->shape, b->shape)) continue;
        overlaps_.emplace_back(*a->lineage.rbegin(), *b->lineage.rbegin());
        found("overlap", step_, common_volume(a->shape, b->shape));
      }
  }

  // steps

  using Part = std::pair<std::string, Shape>;

  /// Cuts every part that the plane passes through; false when it passes through none.
  static bool cut(std::vector<Part>* parts, const Plane& plane) {
    bool passes = false;
    std::vector<Part> result;
    for (Part& part : *parts) {
      Shape above, below;
      for (const Cell& cell : part.second) {
        Sides sides = split(cell, plane);
        if (sides.above) above.push_back(std::move(*sides.above));
        if (sides.below) below.push_back(std::move(*sides.below));
      }
      if (above.empty() || below.empty()) {
        result.push_back(std::move(part));
        continue;
      }
      passes = true;
      result.emplace_back(part.first + ".1", std::move(above));
      result.emplace_back(part.first + ".2", std::move(below));
    }
    *parts = std::move(result);
    return passes;
  }

  void run(const CutStep& step) {
    std::size_t by_name = 0;
    const std::optional<Taken> selected = taken_by_step(step.pieces, &by_name);
    const Taken taken = selected.value_or(Taken{});
    if (!selected && !step.has_names) stems_below_all();
    if (step.has_names && taken.size() > 1) throw InvalidInput("`into` for several pieces");
    const auto drop = [&](const Pieces::iterator& piece) {
      if (!step.has_names) phantom_stems_.insert(piece->name + ".");
      piece->overdue = !step.has_names || (piece->name != step.positive.name && piece->name != step.negative.name);
    };
    const auto drop_names = [&] {
      if (!step.has_names) return;
      phantom(step.positive.name);
      phantom(step.negative.name);
    };
    if (taken.empty()) {
      drop_names();
      if (!step.has_names)
        for (const SelectorEntry& entry : step.pieces)
          if (!entry.is_pattern()) phantom_stems_.insert(entry.text + ".");
      return;
    }
    std::vector<std::pair<Taken, std::vector<Making>>> changes;
    const auto change = [&](const Pieces::iterator& piece, const std::vector<Part>& parts) {
      if (parts.size() < 2) return;
      std::vector<Making> made;
      for (const Part& part : parts) made.push_back({part.first, part.second, piece->overdue});
      if (step.has_names) {
        made.front().name = step.positive.name;
        made.back().name = step.negative.name;
      }
      changes.push_back({{piece}, std::move(made)});
    };
    for (std::size_t i = 0; i < by_name; ++i) {
      std::vector<Part> parts{{taken[i]->name, taken[i]->shape}};
      bool dropped = false;
      for (const Plane& plane : step.planes) {
        if (cut(&parts, plane)) continue;
        found("plane-misses", step_);
        dropped = true;
      }
      if (dropped) {
        drop_names();
        drop(taken[i]);
      } else {
        change(taken[i], parts);
      }
    }
    std::vector<std::vector<Part>> rest;
    for (std::size_t i = by_name; i < taken.size(); ++i) rest.push_back({{taken[i]->name, taken[i]->shape}});
    for (const Plane& plane : step.planes) {
      bool passes = rest.empty();
      for (std::vector<Part>& parts : rest) passes = cut(&parts, plane) || passes;
      if (passes) continue;
      found("plane-misses", step_);
      drop_names();
      for (std::size_t i = by_name; i < taken.size(); ++i) {
        if (step.has_names) {
          drop(taken[i]);
        } else {
          for (const Part& part : rest[i - by_name]) phantom_stems_.insert(part.first + ".");
        }
      }
    }
    for (std::size_t i = by_name; i < taken.size(); ++i) change(taken[i], rest[i - by_name]);
    if (!changes.empty()) replace(changes);
  }

  /// Any piece may be what a step was meant for.
  void stems_below_all() {
    for (const OraclePiece& piece : pieces_) phantom_stems_.insert(piece.name + ".");
  }

  /// What the parts of an entry come to; none where nothing fits, or too much.
  std::optional<Motion> motion_of(const MoveEntry& entry, const Taken& taken) {
    if (entry.parts.empty()) return entry.motion;
    Motion all;
    for (const MotionPart& part : entry.parts) {
      if (const auto* written = std::get_if<Motion>(&part)) {
        all = all.then(*written);
        continue;
      }
      const auto& search = std::get<MotionSearch>(part);
      std::vector<Shape> moved;
      for (const auto& piece : taken) moved.push_back(image(piece->shape, all));
      Ways ways;
      if (search.onto != nullptr) {
        ways = ways_onto(moved, build(*search.onto), search.corners, plan_.allow_mirror, is_flat());
      } else {
        const auto against = std::find_if(pieces_.begin(), pieces_.end(),
                                          [&](const OraclePiece& piece) { return piece.name == search.against.text; });
        if (against == pieces_.end() && !phantoms()) throw InvalidInput("no piece " + search.against.text);
        if (against != pieces_.end())
          ways = ways_to_lay(moved, *search.face, against->shape, *search.against_face, search.corners, plan_.allow_mirror,
                             is_flat());
      }
      if (ways.size() != 1) {
        left_out(ways.empty() ? "no-fit" : "ambiguous");
        return std::nullopt;
      }
      all = all.then(ways.front());
    }
    return all;
  }

  void run(const MoveStep& step) {
    std::set<const OraclePiece*> moved;
    std::vector<std::pair<const MoveEntry*, Taken>> entries;
    for (const MoveEntry& entry : step.entries) {
      const std::optional<Taken> taken = taken_by_step(entry.pieces);
      if (!taken) continue;
      for (const auto& piece : *taken)
        if (!moved.insert(&*piece).second) throw InvalidInput(piece->name + " is moved twice");
      entries.emplace_back(&entry, *taken);
    }
    std::vector<std::pair<Taken, Motion>> motions;  // found before anything moves
    for (const auto& [entry, taken] : entries) {
      if (taken.empty()) continue;
      if (const std::optional<Motion> motion = motion_of(*entry, taken)) {
        motions.emplace_back(taken, *motion);
      } else {
        for (const auto& piece : taken) moved.erase(&*piece);
      }
    }
    for (const auto& [taken, motion] : motions) {
      const auto& rows = motion.rows();
      const bool mirrors = dot(rows[0], cross(rows[1], rows[2])).sign() < 0;
      if (mirrors && !plan_.allow_mirror) found("mirrored", step_);
      for (const auto& piece : taken) piece->shape = image(piece->shape, motion);
    }
    find_overlaps([&](const OraclePiece& piece) { return moved.count(&piece) != 0; });
  }

  void run(const JoinStep& step) {
    const Taken taken = taken_by_step(step.pieces).value_or(Taken{});
    if (taken.empty()) return phantom(step.result.name);
    Making joined{step.result.name, {}, false};
    std::vector<Shape> shapes;
    for (const auto& piece : taken) {
      joined.shape.insert(joined.shape.end(), piece->shape.begin(), piece->shape.end());
      shapes.push_back(piece->shape);
    }
    if (replace({{taken, {joined}}}) && count_linked_groups(shapes) > 1) found("join-apart", step_);
  }

  void run(const SplitStep& step) {
    const std::optional<Taken> selected = taken_by_step(step.pieces);
    const Taken taken = selected.value_or(Taken{});
    if (!selected && step.names.empty()) stems_below_all();
    if (taken.empty()) {
      for (const PlacedName& name : step.names) phantom(name.name);
      if (step.names.empty())
        for (const SelectorEntry& entry : step.pieces)
          if (!entry.is_pattern()) phantom_stems_.insert(entry.text + ".");
      return;
    }
    if (!step.names.empty() && taken.size() > 1) throw InvalidInput("`into` for several pieces");
    std::vector<std::pair<Taken, std::vector<Making>>> changes;
    for (const auto& piece : taken) {
      const std::vector<Shape> parts = connected_components(piece->shape);
      if (step.names.empty() && parts.size() == 1) continue;
      if (!step.names.empty() && step.names.size() != parts.size()) {
        expectation_failed();
        piece->overdue = true;
        for (const PlacedName& name : step.names) {
          phantom(name.name);
          if (name.name == piece->name) piece->overdue = false;
        }
        return;
      }
      std::vector<Making> made;
      for (std::size_t i = 0; i < parts.size(); ++i)
        made.push_back(
            {step.names.empty() ? piece->name + "." + std::to_string(i + 1) : step.names[i].name, parts[i], piece->overdue});
      changes.push_back({{piece}, std::move(made)});
    }
    if (!changes.empty()) replace(changes);
  }

  /// A lemma is judged by itself, in the oracle's own way, and what it makes is put where it says.
  void run(const UseStep& step) {
    const ExactPlan& lemma = step.lemma->plan;
    if (lemmas_.count(&lemma) == 0) {
      Judgement own;
      OracleRun(lemma, own).execute();
      lemmas_[&lemma] = own.findings.empty();
      if (!own.findings.empty()) found("lemma-fails", step_);
    }
    Taken all;
    for (const UseStep::Taken& each : step.taken)
      for (const auto& piece : taken_by_step({each.piece}).value_or(Taken{})) all.push_back(piece);
    bool fits_all = all.size() == step.taken.size();
    const std::unique_ptr<FieldTower> tower = plan_.tower->fork();
    for (std::size_t i = 0; fits_all && i < all.size(); ++i) {
      const NamedSolid& wanted = (step.backwards ? lemma.goals : lemma.start)[step.taken[i].index];
      if (congruent(all[i]->shape, build(*in_other_field(wanted.solid, *lemma.tower, *tower)))) continue;
      left_out("no-fit");
      fits_all = false;
    }
    std::vector<Making> made;
    for (const UseStep::Made& each : step.made) made.push_back({each.name.name, build(*each.solid), false});
    if (fits_all && step.by) {
      Pieces unnamed;
      Taken results;
      for (const Making& each : made) unnamed.push_back({each.name, each.shape, false, {}});
      for (auto piece = unnamed.begin(); piece != unnamed.end(); ++piece) results.push_back(piece);
      const std::optional<Motion> motion = motion_of(*step.by, results);
      fits_all = motion.has_value();
      if (motion) {
        const auto& rows = motion->rows();
        if (dot(rows[0], cross(rows[1], rows[2])).sign() < 0 && !plan_.allow_mirror) found("mirrored", step_);
        for (Making& each : made) each.shape = image(each.shape, *motion);
      }
    }
    if (!fits_all) {
      for (const Making& each : made) phantom(each.name);
      for (const auto& piece : all)
        piece->overdue =
            std::none_of(made.begin(), made.end(), [&](const Making& each) { return each.name == piece->name; });
      return;
    }
    if (!lemmas_.at(&lemma)) volumes_may_differ_ = true;
    std::set<std::string> names;
    for (const Making& each : made) names.insert(each.name);
    if (!replace({{all, made}})) return;
    for (OraclePiece& piece : pieces_)
      if (names.count(piece.name) != 0) piece.lineage = {next_++};
    find_overlaps([&](const OraclePiece& piece) { return names.count(piece.name) != 0; });
  }

  void run(const ExpectStep& step) {
    const auto not_judged = [&](const SelectorEntry& piece, const TextPlace& place) {
      take({piece});
      judgement_.not_judged.emplace(place.line, place.column);
    };
    for (const AngleAudit& audit : step.angles) not_judged(audit.piece, audit.place);
    for (const auto& [piece, place] : step.dehn_zero) not_judged(piece, place);
    if (step.piece_count && *step.piece_count != static_cast<long>(pieces_.size())) expectation_failed();
    for (const auto& [entry, expected, place] : step.volumes)
      for (const auto& piece : take({entry}))
        if (volume(piece->shape) != expected) expectation_failed();
    if (step.connected)
      for (const auto& piece : taken_by_step(*step.connected).value_or(Taken{}))
        if (connected_components(piece->shape).size() != 1) expectation_failed();
    if (step.congruent) expect_congruent(step);
    if (step.shape_count) expect_shapes(step);
    for (const DecidedCondition& condition : step.conditions)  // numbers alone, decided where the plan is read
      if (!condition.holds) expectation_failed();
    if (step.filled == nullptr) return;
    Shape together;
    const std::optional<Taken> filling = taken_by_step(step.filled_by.empty() ? Selector{{"all", {}, {}}} : step.filled_by);
    if (!filling) return;
    for (const auto& piece : *filling) together.insert(together.end(), piece->shape.begin(), piece->shape.end());
    const Shape expected = build(*step.filled);
    const Number shared = common_volume(together, expected);
    if (shared != volume(expected) || shared != volume(region(together))) expectation_failed();
  }

  bool is_flat() const { return plan_.dimension == 2; }

  bool congruent(const Shape& a, const Shape& b) const {
    return !ways_onto({a}, b, {}, plan_.allow_mirror, is_flat()).empty();
  }

  void expect_congruent(const ExpectStep& step) {
    const Taken taken = taken_by_step(*step.congruent).value_or(Taken{});
    if (taken.empty()) return;
    const Shape model = step.congruent_to != nullptr ? build(*step.congruent_to) : taken.front()->shape;
    if (!std::all_of(taken.begin(), taken.end(), [&](const auto& piece) { return congruent(model, piece->shape); }))
      expectation_failed();
  }

  void expect_shapes(const ExpectStep& step) {
    const std::optional<Taken> taken = taken_by_step(step.shapes_of.empty() ? Selector{{"all", {}, {}}} : step.shapes_of);
    if (!taken || (taken->empty() && !step.shapes_of.empty())) return;
    std::vector<const Shape*> models;
    for (const auto& piece : *taken)
      if (std::none_of(models.begin(), models.end(), [&](const Shape* model) { return congruent(*model, piece->shape); }))
        models.push_back(&piece->shape);
    if (static_cast<long>(models.size()) != *step.shape_count) expectation_failed();
  }

  // the end

  void compare_with_goals() {
    Shape covered, wanted;
    for (const OraclePiece& piece : pieces_) covered.insert(covered.end(), piece.shape.begin(), piece.shape.end());
    covered = region(covered);
    for (const Shape& goal : goals_) wanted.insert(wanted.end(), goal.begin(), goal.end());
    for (const OraclePiece& piece : pieces_)
      if (std::count_if(goals_.begin(), goals_.end(),
                        [&](const Shape& goal) { return share_interior_points(piece.shape, goal); }) > 1)
        found("straddles", step_);
    const Number shared = common_volume(covered, wanted);
    if (shared != volume(wanted)) list_regions("missing", difference(wanted, covered), volume(wanted) - shared);
    if (shared != volume(covered)) list_regions("excess", difference(covered, wanted), volume(covered) - shared);
  }

  void list_regions(const std::string& code, const Shape& cells, const Number& total) {
    if (volume(cells) != total) throw ToolFault("the oracle's differences do not add up");
    for (const Shape& part : connected_components(cells)) found(code, step_, volume(part));
  }

  const ExactPlan& plan_;
  Judgement& judgement_;
  Pieces pieces_;
  std::vector<Shape> goals_;
  std::set<std::string> phantom_names_, phantom_stems_;
  std::vector<std::pair<long, long>> overlaps_;  ///< found, by the youngest member of each lineage
  long next_ = 1;
  int step_ = 0;
  std::map<const ExactPlan*, bool> lemmas_;  ///< that were used so far, and whether they hold
  bool volumes_may_differ_ = false;          ///< a lemma was used that does not hold
  bool nothing_there_ = false;               ///< a selection by place took nothing
};

}  // namespace

Judgement judge_plan(const std::string& text, const std::string& path, std::size_t case_number) {
  Judgement judgement;
  try {
    ReadLimits limits;
    limits.parameters.case_number = case_number;
    limits.meshes =
        std::make_shared<Meshes>(plan_folder(path, /*outside=*/false, limits.document.max_bytes), limits.numbers.max_bits);
    const ExactPlan plan = read_plan(text, limits);
    OracleRun(plan, judgement).execute();
    judgement.outcome = judgement.findings.empty() ? Outcome::verified : Outcome::refuted;
  } catch (const InvalidInput& error) {  // InvalidPlan is one
    judgement.outcome = Outcome::invalid;
    judgement.why = told(error).sentence;
  } catch (const LimitReached& error) {  // PlanLimit is one
    judgement.outcome = judgement.findings.empty() ? Outcome::stopped : Outcome::refuted;
    judgement.why = told(error).sentence;
  }
  std::sort(judgement.findings.begin(), judgement.findings.end());
  return judgement;
}

}  // namespace cutproof::oracle
