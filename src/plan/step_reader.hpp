// SPDX-License-Identifier: GPL-3.0-or-later
// Start, steps and goal of a plan.
#pragma once

#include "plan/exact_plan.hpp"
#include "plan/resolver.hpp"

#include <functional>
#include <map>
#include <memory>
#include <set>
#include <string>
#include <utility>
#include <vector>

namespace cutproof {

class LemmaLibrary;
struct LemmaText;
using GivenValues = std::vector<std::pair<std::string, std::string>>;

/// Fills an exact plan from the sections of its text. Every entry is read, even after errors in others.
class StepReader {
 public:
  StepReader(PlanIndex& index, Resolver& resolver) : index_(index), resolver_(resolver) {}
  /// Of a plan that may use lemmas: `text` is the plan.
  StepReader(PlanIndex& index, Resolver& resolver, LemmaLibrary& library, LemmaText& text)
      : index_(index), resolver_(resolver), library_(&library), text_(&text) {}

  void read(ExactPlan& plan);
  /// True iff nothing of the plan was left out of what `read` filled: no error, and no limit that took a whole entry with
  /// it.
  bool is_whole() const { return is_whole_; }
  /// One section alone.
  void read_start(ExactPlan& plan);
  void read_goal(ExactPlan& plan);
  /// Tells of each `use` step of the plan, in each pass, without reading anything else; errors are left for `read`.
  using UseOfLemma = std::function<void(LemmaText&, const GivenValues&)>;
  void for_each_use(const UseOfLemma& tell);

 private:
  void read_head(ExactPlan& plan);
  void read_added(ExactPlan& plan);
  bool is_solid_kind(const std::string& key) const;
  /// A mapping with the kind of a solid, if perhaps misspelt, among its keys.
  bool describes_solid(const Node& node) const;
  void read_steps(const Node& steps, const FramePointer& frame, ExactPlan& plan);
  /// One step, or one for each pass of its loop; or a group of steps.
  void read_step(const Node& node, const FramePointer& frame, ExactPlan& plan);
  void read_group(const Node& node, const FramePointer& frame, ExactPlan& plan);
  Step step(const Node& node);
  CutStep cut(const Node& node);
  /// The names of the halves, the one on the side that the plane's normal points to first.
  void name_halves(CutStep& cut, const Node& into, std::size_t planes);
  MoveStep move(const Node& value);
  JoinStep join(const Node& node);
  SplitStep split(const Node& node);
  ExpectStep expect(const Node& value);
  AngleAudit audit(const Node& value);

  // lemmas (use_reader.cpp)
  UseStep use(const Node& node);
  void for_each_use(const Node& steps, const FramePointer& frame, const UseOfLemma& tell);
  LemmaText& lemma_named(const Node& node);
  GivenValues given_values(const Node& node, LemmaText& lemma);
  std::shared_ptr<const Lemma> lemma_with(const Node& name, LemmaText& lemma, const GivenValues& given);
  const std::vector<SolidPointer>& carried_sides(const Node& name, const Lemma& lemma, bool backwards);
  /// What `take` and `into` say, one node for each of the lemma's solids.
  std::vector<Node> for_each_solid_of(const Node& node, const std::string& key, const std::string& lemma,
                                      const std::vector<NamedSolid>& solids, const std::string& what);

  Selector selector(const Node& node);
  SelectorEntry by_place(const Node& node);
  void read_motion(MoveEntry& entry, const Node& node);
  /// `lay` or `onto`.
  MotionSearch search(const Node& node);
  void read_congruent(ExpectStep& result, const Node& node);
  void read_shapes(ExpectStep& result, const Node& node);
  void read_conditions(ExpectStep& result, const Node& node);
  SelectorEntry selector_entry(const Node& node, bool pattern_allowed);
  /// Refuses a name that stood in a mapping before.
  void note_name(std::set<std::string>& names, const std::string& name, const Node::Entry& entry);
  PlacedName piece_name(const Node& node);
  std::vector<PlacedName> piece_names(const Node& node);
  /// `into: slab.*`; empty where `into` is written in another way.
  std::optional<Numbering> numbering(const Node& into);
  /// `into` names what is made of one piece: refuses a selection that holds several, whatever is on the bench.
  void demand_one_piece(const Selector& pieces, const Node& into, const std::string& what, const std::string& hint);
  std::string free_text(const Node& node, const std::string& what);
  TextPlace place(const Node& node) const { return index_.document().place(node); }
  long count(const Number& number, const Node& node);

  /// What the node stands for; or, once a limit was reached, a blank, since such a plan is not run but its names are judged.
  template <class Value>
  Value exact(Value (Resolver::*read)(const Node&), const Node& node) {
    try {
      return (resolver_.*read)(node);
    } catch (const Recorded&) {
      if (!resolver_.has_stopped()) throw;
      return Value{};
    }
  }

  /// Runs work whose errors are recorded, so that the next entry is looked at, too; true iff there were none.
  template <class Work>
  bool attempt(Work work) {
    try {
      work();
      return true;
    } catch (const Recorded&) {
      is_whole_ = false;
      return false;
    }
  }

  PlanIndex& index_;
  Resolver& resolver_;
  LemmaLibrary* library_ = nullptr;
  LemmaText* text_ = nullptr;
  bool allow_mirror_ = false;
  bool is_whole_ = true;
  std::map<std::pair<const Lemma*, bool>, std::vector<SolidPointer>> carried_;
};

}  // namespace cutproof
