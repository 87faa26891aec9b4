// SPDX-License-Identifier: GPL-3.0-or-later
// Names and syntax to exact values over one tower of fields. Evaluates lazily, so that names may be used before they stand.
//
// To keep chains of thousands of names off the machine's stack, an evaluation that has gone some names deep is given up, the
// name that it lacks is evaluated from the bottom of the stack, and the evaluation is tried again (`from_the_bottom`).
#pragma once

#include "plan/diagnostic.hpp"
#include "plan/evaluate.hpp"
#include "plan/plan_index.hpp"
#include "solid/description.hpp"

#include <map>
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
  Resolver(PlanIndex& index, FieldTower& tower, ReachedLimits& limits) : index_(index), tower_(tower), limits_(limits) {}

  Number number(const Node& node);
  Angle angle(const Node& node);
  /// Three coordinates in a list, or an expression.
  Vector3 vector(const Node& node);
  Plane plane(const Node& node);
  Motion motion(const Node& node);
  SolidPointer solid(const Node& node);

  std::optional<ExactValue> value_of(const std::string& name) override;
  std::optional<Plane> plane_of(const std::string& name) override;
  std::string nearest_name(const std::string& name) const override { return index_.nearest(NameSpace::value, name); }
  /// True iff a limit was reached, so that the plan will not be run.
  bool has_stopped() const { return limits_.count != 0; }
  /// Evaluates a defined name, whatever it is.
  void evaluate_name(NameSpace space, const std::string& name);
  /// The names that were evaluated, of all four spaces.
  const std::set<std::pair<NameSpace, std::string>>& used() const { return used_; }

  /// Runs work on a node and gives errors that have no place of their own the node's.
  template <class Work>
  auto placed(const Node& node, Work work) -> decltype(work());

 private:
  template <class Value>
  struct Memory {
    std::map<std::string, Value> values;
    std::set<std::string> failed;
  };
  using Key = std::pair<NameSpace, std::string>;
  /// Thrown to give up an evaluation until `key` has a value; `open` are the names whose evaluation is given up.
  struct Postponed {
    Key key;
    std::vector<Key> open;
  };
  /// The value of a name, computed once; reports cycles.
  template <class Value, class Compute>
  Value named(NameSpace space, const std::string& name, Memory<Value>& memory, Compute compute);
  void from_the_bottom(const Key& key);
  [[noreturn]] void fail_cycle(std::vector<Key> chain);
  void mark_failed(const Key& key);

  /// The value of a scalar's expression; in one tower the same text has the same value everywhere.
  template <class Value>
  Value expression(const Node& node, Value (*evaluate_it)(const Expression&, Scope&, FieldTower&),
                   std::map<std::string, Value>& known);
  ExactValue any_value(const Node& node);
  std::pair<Vector3, Vector3> axis(const Node& node);  ///< a point and a direction
  std::vector<Vector3> points(const Node& node, const std::string& what);
  std::vector<Vector3> base(const Node& node, bool* has_three_coordinates);
  std::array<Vector3, 3> three_points(const Node& node, const std::string& what);
  /// False where an error is to be told; throws Recorded where the name may have been lost to one that was told already.
  bool is_known(NameSpace space, const std::string& name) const;
  [[noreturn]] void unknown_name(const Node& node, NameSpace space, const std::string& what, const std::string& section);

  Plane plane_from(const Node& node);
  Motion motion_from(const Node& node);
  SolidPointer solid_from(const Node& node);
  SolidPointer box(const Node& node);
  SolidPointer prism(const Node& node);
  SolidPointer pyramid(const Node& node);
  SolidPointer hull(const Node& node);
  SolidPointer surface(const Node& node);
  SolidPointer half_spaces(const Node& node);
  SolidPointer zonohedron(const Node& node);
  /// A solid that a name and the length of its edges describe.
  SolidPointer uniform(const Node& node, const std::string& what, const std::vector<std::string>& known,
                       SolidPointer (*make)(const std::string&, const Number&, const Vector3&, FieldTower&));
  SolidPointer boolean(const Node& node, BooleanKind kind, const std::string& key);
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
  std::vector<Key> open_;        ///< names being evaluated, for cycles
  bool bottom_is_here_ = false;  ///< from_the_bottom is running
  std::set<Key> used_;
};

template <class Work>
auto Resolver::placed(const Node& node, Work work) -> decltype(work()) {
  if (limits_.too_many()) throw Recorded{};
  try {
    return work();
  } catch (const ExpressionError&) {
    throw;
  } catch (const InvalidInput& error) {
    index_.fail(node, error.what(), error.hint());
  } catch (const LimitReached& error) {
    if (++limits_.count == 1)
      limits_.first.emplace(error.limit(), index_.document().diagnostic(node.begin, node.end, error.what(), error.hint()));
    throw Recorded{};
  }
}

}  // namespace cutproof
