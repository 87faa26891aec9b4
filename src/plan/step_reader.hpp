// SPDX-License-Identifier: GPL-3.0-or-later
// Start, steps and goal of a plan.
#pragma once

#include "plan/exact_plan.hpp"
#include "plan/resolver.hpp"

#include <set>
#include <string>

namespace cutproof {

/// Fills an exact plan from the sections of its text. Every entry is read, even after errors in others.
class StepReader {
 public:
  StepReader(PlanIndex& index, Resolver& resolver) : index_(index), resolver_(resolver) {}

  void read(ExactPlan& plan);
  /// One section alone.
  void read_start(ExactPlan& plan);
  void read_goal(ExactPlan& plan);

 private:
  void read_head(ExactPlan& plan);
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
      return false;
    }
  }

  PlanIndex& index_;
  Resolver& resolver_;
};

}  // namespace cutproof
