// SPDX-License-Identifier: GPL-3.0-or-later
// Names and syntax to exact values over one tower of fields. Evaluates lazily, so that names may be used before they stand.
//
// To keep chains of thousands of names off the machine's stack, an evaluation that has gone some names deep is given up, the
// name that it lacks is evaluated from the bottom of the stack, and the evaluation is tried again (`from_the_bottom`).
#pragma once

#include "plan/complaints.hpp"
#include "plan/diagnostic.hpp"
#include "plan/evaluate.hpp"
#include "plan/exact_plan.hpp"
#include "plan/frame.hpp"
#include "plan/plan_index.hpp"
#include "solid/description.hpp"

#include <algorithm>
#include <cstdint>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

namespace cutproof {

/// The first limit that the numbers of a text reached, and how many there were.
struct ReachedLimits {
  std::optional<PlanLimit> first;
  int count = 0;
  /// Each may cost a while: after some, nothing more is computed.
  bool too_many() const { return count >= 4; }
};

/// Errors are recorded in the index's document, and Recorded is thrown; limits are counted, and Recorded is thrown as well,
/// so that everything else is still looked at: an error beats a limit, wherever it stands.
class Resolver final : public Scope {
 public:
  Resolver(PlanIndex& index, FieldTower& tower, ReachedLimits& limits);
  ~Resolver() override;

  Number number(const Node& node);
  Angle angle(const Node& node);
  /// Three coordinates in a list, in the plane two (and z = 0), or an expression.
  Vector3 vector(const Node& node);
  Plane plane(const Node& node);
  Motion motion(const Node& node);
  SolidPointer solid(const Node& node);

  // --- repetition: resolver_loops.cpp
  /// The node with what its names mean in the frame, and with all loops in it written out. `NAME: { for, each }` is a loop
  /// only where the keys are names of pieces.
  Node written_out(const Node& node, const FramePointer& frame, bool keys_are_names = false);
  /// Does work in each pass of a mapping's `for` that its `when` keeps; the frame has the indices.
  using InPass = std::function<void(const FramePointer&)>;
  void for_each_pass(const Node& loop, const FramePointer& frame, const InPass& work);
  /// Counts the passes of all loops in a node, and of those inside them, without doing anything in them.
  void count_passes(const Node& node, const FramePointer& frame, bool keys_are_names = false);
  bool is_loop(const Node& node) const;
  /// A condition, or a list of them, as seen from the frame.
  bool holds(const Node& node, const FramePointer& frame);
  /// What a scalar calls its plane, motion or solid: `cell(k + 1)` becomes `cell(3)`.
  std::string reference_text(const Node& node);
  /// The name of a piece with the values of what stands in its parentheses.
  std::string piece_text(const Node& node);

  int version() const override { return index_.version(); }
  int dimension() const override { return index_.dimension(); }
  std::optional<ExactValue> value_of(const std::string& name) override;
  std::optional<ExactValue> value_of_call(const std::string& name, const std::vector<ExactValue>& arguments) override;
  bool has_arguments(const std::string& name) const override;
  std::optional<Plane> plane_of_call(const std::string& name, const std::vector<ExactValue>& arguments) override;
  void aside(FieldTower& tower, const Aside& work) override;
  /// The same for work on names alone.
  void aside(const std::function<void(Scope&)>& work) {
    aside(tower_, [&](Scope& scope, FieldTower&) { work(scope); });
  }
  /// The value of a node as an expression without names; what it adjoins is forgotten.
  std::string exact_text_aside(const Node& node);
  /// The tower that all numbers are in.
  FieldTower& tower() { return tower_; }
  /// Refuses names of the plan in a value; indices of loops around it may stand in it.
  void refuse_names(const Node& node);
  std::optional<Plane> plane_of(const std::string& name) override;
  std::string nearest_name(const std::string& name) const override { return index_.nearest(NameSpace::value, name); }
  /// True iff a limit was reached, so that the plan will not be run.
  bool has_stopped() const { return limits_.count != 0; }
  /// Evaluates a defined name, whatever it is.
  void evaluate_name(NameSpace space, const std::string& name);
  /// The names that were evaluated, of all four spaces; of definitions with arguments whatever the values were.
  const std::set<std::pair<NameSpace, std::string>>& used() const { return used_; }

  /// The values of `let` and `points` that were needed so far, by their names (with the values of their arguments).
  const std::map<std::string, ExactValue>& known_values() const { return values_.values; }

  /// The solids that were needed so far by a name that does not just stand for another; their places are those of the names.
  std::vector<NamedSolid> defined_solids() const;

  /// Runs work on a node and gives errors that have no place of their own the node's, as `fault` does.
  template <class Work>
  auto placed(const Node& node, Work work) -> decltype(work());

 private:
  template <class Value>
  struct Memory {
    std::map<std::string, Value> values;
    std::set<std::string> failed;
  };
  using Arguments = std::shared_ptr<const std::vector<ExactValue>>;
  /// What is evaluated: a name, perhaps with values for its arguments.
  struct Key {
    NameSpace space;
    std::string name;
    Arguments arguments;  ///< null: none
    std::string text;     ///< the name with its values
    bool is_of(const Key& other) const { return space == other.space && name == other.name; }
  };
  /// Thrown to give up an evaluation until `key` has a value; `open` are the names whose evaluation is given up.
  struct Postponed {
    Key key;
    std::vector<Key> open;
  };
  /// The value of a name, computed once; reports cycles.
  template <class Value>
  Value named(const Key& key, Memory<Value> Resolver::*memory, Value (Resolver::*compute)(const Node&));
  Key key_of(NameSpace space, const std::string& name, Arguments arguments) const;
  std::string identity(const ExactValue& value) const;
  /// The body of a definition with the values of its arguments.
  Node body_of(const Key& key);
  ExactValue named_value(const Node& node) { return any_value(node); }
  ExactValue named_point(const Node& node) { return vector(node); }
  ExactValue value_of_key(const Key& key);
  void evaluate_key(const Key& key);
  /// What a scalar stands for where a plane, motion or solid is wanted: an index's entry, or a definition.
  template <class Value>
  Value by_name(const Node& node, NameSpace space, const std::string& what, const std::string& section,
                Memory<Value> Resolver::*memory, Value (Resolver::*read)(const Node&),
                Value (Resolver::*compute)(const Node&));
  const Definition* definition(NameSpace space, const std::string& name) const;
  /// Refuses a wrong number of values for a definition's arguments.
  static void check_count(const std::string& name, const Definition& definition, std::size_t count);
  void from_the_bottom(const Key& key);
  [[noreturn]] void fail_cycle(const std::vector<Key>& chain);
  void mark_failed(const Key& key);

  /// Does work with expressions of a scalar whose names mean what the frame says, and places the errors in its text.
  template <class Work>
  auto in_text(const Node& node, const FramePointer& frame, Work work) -> decltype(work());
  /// Names and numbers that loops are made of, without the cost of exact numbers: empty where it is more than that.
  std::optional<long> small_integer(const Expression& expression) const;
  /// Decided in a field that is forgotten.
  Rational integer(const Expression& expression);
  void passes_of_level(const Node& loop, std::size_t level, const FramePointer& frame, const InPass* work);
  void passes_of_rows(const Node& loop, const FramePointer& frame, const InPass* work);
  void passes(const Node& loop, const FramePointer& frame, const InPass* work);
  void keep(const Node& loop, const FramePointer& frame, const InPass* work);
  void check_index(const Node::Entry& entry, const FramePointer& frame);
  void write_out_entry(const Node& value, const FramePointer& frame, Node& list);
  /// The value of a scalar's expression; in one tower the same text has the same value everywhere.
  template <class Value>
  Value expression(const Node& node, Value (*evaluate_it)(const Expression&, Scope&, FieldTower&),
                   std::map<std::string, Value>& known);
  ExactValue any_value(const Node& node);
  std::pair<Vector3, Vector3> axis(const Node& node);  ///< a point and a direction
  std::vector<Vector3> points(const Node& node, const std::string& what);
  std::vector<Vector3> base(const Node& node, bool* has_three_coordinates);
  /// In the plane two, which differ, and one upright above the first, so that they fix a motion of the plane.
  std::array<Vector3, 3> three_points(const Node& node, const std::string& what);
  /// False where an error is to be told; throws Recorded where the name may have been lost to one that was told already.
  bool is_known(NameSpace space, const std::string& name) const;
  [[noreturn]] void unknown_name(const Node& node, const std::string& name, NameSpace space, const std::string& what,
                                 const std::string& section);

  /// What the names of values in a text stand for, and in which lines: `h` is 0 (line 2). Empty where there are none, or
  /// many: resolver_origins.cpp.
  std::string origins(const Node& node) const;
  /// For what has a wrong value (is flat, is not positive, ...): the hint says first where the value comes from.
  [[noreturn]] void fault(const Node& node, const std::string& message, const std::string& hint = "") const;

  Plane plane_from(const Node& node);
  Motion motion_from(const Node& node);
  Motion aligned(const std::array<Vector3, 3>& from, const std::array<Vector3, 3>& to);
  SolidPointer solid_from(const Node& node);
  SolidPointer box(const Node& node);
  SolidPointer prism(const Node& node);
  SolidPointer pyramid(const Node& node);
  SolidPointer hull(const Node& node);
  SolidPointer surface(const Node& node);
  SolidPointer mesh(const Node& node);  ///< resolver_mesh.cpp
  SolidPointer half_spaces(const Node& node);
  SolidPointer zonohedron(const Node& node);
  /// A solid that a name and the length of its edges describe.
  SolidPointer uniform(const Node& node, const std::string& what, const std::vector<std::string>& known,
                       SolidPointer (*make)(const std::string&, const Number&, const Vector3&, FieldTower&));
  SolidPointer boolean(const Node& node, BooleanKind kind, const std::string& key);
  // --- figures of plans of dimension 2: resolver_figures.cpp
  /// Null for the kinds that are read as in space.
  SolidPointer figure_from(const std::string& kind, const Node& value);
  SolidPointer rectangle(const Node& node);
  SolidPointer polygon(const Node& node);
  SolidPointer regular_polygon(const Node& node);
  SolidPointer moved(const Node& node);
  SolidPointer scaled(const Node& node);
  SolidPointer mirrored(const Node& node);

  PlanIndex& index_;
  FieldTower& tower_;
  ReachedLimits& limits_;
  Memory<ExactValue> values_;
  Memory<Plane> planes_;
  Memory<Motion> motions_;
  Memory<SolidPointer> solids_;
  std::map<std::string, Number> numbers_by_text_;
  std::map<std::string, Vector3> vectors_by_text_;
  std::map<std::string, Angle> angles_by_text_;
  std::map<std::string, ExactValue> values_by_text_;
  std::vector<Key> open_;      ///< names being evaluated, for cycles
  std::uintptr_t bottom_ = 0;  ///< of the stack, while from_the_bottom is running
  std::set<std::pair<NameSpace, std::string>> used_;
  FramePointer frame_;         ///< of the text being evaluated
  std::size_t position_ = 0;   ///< where it stands
  Resolver* outer_ = nullptr;  ///< of a resolver for what is done aside: the one it stands on, whose values it may use
  struct AsideField;
  std::unique_ptr<AsideField> aside_;
};

template <class Work>
auto Resolver::placed(const Node& node, Work work) -> decltype(work()) {
  if (limits_.too_many()) throw Recorded{};
  try {
    return work();
  } catch (const ExpressionError&) {
    throw;
  } catch (const InvalidInput& error) {
    fault(node, told(error).sentence, told(error).hint);
  } catch (const LimitReached& error) {
    if (++limits_.count == 1)
      limits_.first.emplace(error.limit(),
                            index_.diagnostic(node.begin, node.end, told(error).sentence, told(error).hint, node.frame));
    throw Recorded{};
  }
}

template <class Work>
auto Resolver::in_text(const Node& node, const FramePointer& frame, Work work) -> decltype(work()) {
  struct Inside {
    Inside(Resolver& resolver, const FramePointer& frame, std::size_t position)
        : owner(resolver), before(std::move(resolver.frame_)), at(resolver.position_) {
      owner.frame_ = frame;
      owner.position_ = position;
    }
    ~Inside() {
      owner.frame_ = std::move(before);
      owner.position_ = at;
    }
    Resolver& owner;
    FramePointer before;
    std::size_t at;
  } const inside(*this, frame, node.begin);
  return placed(node, [&] {
    try {
      return work();
    } catch (const ExpressionError& error) {
      Document& document = index_.document();
      const std::size_t begin = document.origin(node, error.offset());
      const std::size_t end = error.length() == 0 ? begin : document.origin(node, error.offset() + error.length() - 1) + 1;
      index_.report(begin, std::max(begin, end), told(error).sentence, told(error).hint, frame);
      throw Recorded{};
    }
  });
}

}  // namespace cutproof
