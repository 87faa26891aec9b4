// SPDX-License-Identifier: GPL-3.0-or-later
// Names and syntax to exact values over one tower of fields. Evaluates lazily, so that names may be used before they stand.
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

/// Errors are recorded in the index's document, and Recorded is thrown; limits are kept in `limit` (the first one), and Recorded is
/// thrown as well, so that everything else is still looked at.
class Resolver final : public Scope {
 public:
  Resolver(PlanIndex& index, FieldTower& tower, std::optional<PlanLimit>& limit) : index_(index), tower_(tower), limit_(limit) {}

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
  /// The value of a name, computed once; reports cycles.
  template <class Value, class Compute>
  Value named(NameSpace space, const std::string& name, Memory<Value>& memory, Compute compute);

  template <class Work>
  auto expression(const Node& node, Work work);
  ExactValue any_value(const Node& node);
  std::pair<Vector3, Vector3> axis(const Node& node);  ///< a point and a direction
  std::vector<Vector3> points(const Node& node, const std::string& what);
  std::vector<Vector3> base(const Node& node, bool* has_three_coordinates);
  std::array<Vector3, 3> three_points(const Node& node, const std::string& what);
  [[noreturn]] void unknown_name(const Node& node, NameSpace space, const std::string& what, const std::string& section);

  Plane plane_from(const Node& node);
  Motion motion_from(const Node& node);
  SolidPointer solid_from(const Node& node);
  SolidPointer box(const Node& node);
  SolidPointer prism(const Node& node);
  SolidPointer pyramid(const Node& node);
  SolidPointer hull(const Node& node);
  SolidPointer surface(const Node& node);
  SolidPointer regular(const Node& node);
  SolidPointer boolean(const Node& node, BooleanKind kind, const std::string& key);
  SolidPointer moved(const Node& node);
  SolidPointer scaled(const Node& node);
  SolidPointer mirrored(const Node& node);

  PlanIndex& index_;
  FieldTower& tower_;
  std::optional<PlanLimit>& limit_;
  Memory<ExactValue> values_;
  Memory<Plane> planes_;
  Memory<Motion> motions_;
  Memory<SolidPointer> solids_;
  std::vector<std::pair<NameSpace, std::string>> open_;  ///< names being evaluated, for cycles
  std::set<std::pair<NameSpace, std::string>> used_;
  int solid_depth_ = 0;
};

template <class Work>
auto Resolver::placed(const Node& node, Work work) -> decltype(work()) {
  try {
    return work();
  } catch (const ExpressionError&) {
    throw;
  } catch (const InvalidInput& error) {
    index_.fail(node, error.what(), error.hint());
  } catch (const LimitReached& error) {
    if (!limit_) limit_.emplace(error.limit(), index_.document().diagnostic(node.begin, node.end, error.what(), error.hint()));
    throw Recorded{};
  }
}

}  // namespace cutproof
