// SPDX-License-Identifier: GPL-3.0-or-later
// Expressions to exact values. Every number is enclosed a second time in Arb balls straight from the text; a number outside
// its ball is a fault of the tool (a conjugate root slipped in), never of the plan.
#pragma once

#include "number/angle.hpp"
#include "number/tower.hpp"
#include "plan/expression.hpp"
#include "solid/geometry.hpp"

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace cutproof {

using ExactValue = std::variant<Number, Vector3, Angle>;

/// Where names get their meaning. Every function may evaluate lazily with the same Evaluator and tower, and reports cycles.
class Scope {
 public:
  virtual ~Scope() = default;
  /// Of the plan language.
  virtual int version() const { return newest_version; }
  /// Of the plan: in 2 a vector has two components (and z = 0 here), and planes are the upright ones over lines.
  virtual int dimension() const { return 3; }
  /// The value of a name in `let` or `points`; empty when nothing of this name is defined.
  virtual std::optional<ExactValue> value_of(const std::string& name) = 0;
  /// For `meet` and `foot`: the plane of this name; empty when there is none.
  virtual std::optional<Plane> plane_of(const std::string& name) = 0;
  /// The same of definitions with arguments, for these values of them; empty when none of this name has any
  /// (`has_arguments`: of those of values). Throws InvalidInput for a wrong number of them.
  virtual std::optional<ExactValue> value_of_call(const std::string& /*name*/,
                                                  const std::vector<ExactValue>& /*arguments*/) {
    return std::nullopt;
  }
  virtual bool has_arguments(const std::string& /*name*/) const { return false; }
  virtual std::optional<Plane> plane_of_call(const std::string& /*name*/, const std::vector<ExactValue>& /*arguments*/) {
    return std::nullopt;
  }
  /// A defined name near to this one, for hints; may be empty.
  virtual std::string nearest_name(const std::string& name) const = 0;
  /// Does work in which the same names mean the same; what it adjoins to the tower that it is given is forgotten with its
  /// numbers, and this scope's tower stays as it is.
  using Aside = std::function<void(Scope&, FieldTower&)>;
  virtual void aside(FieldTower& tower, const Aside& work) {
    const std::unique_ptr<FieldTower> fork = tower.fork();
    work(*this, *fork);
  }
};

/// Evaluates a parsed expression; adjoins to the tower what is missing. Throws ExpressionError (place inside the text) for
/// what has no meaning, LimitReached for limits.
ExactValue evaluate(const Expression& expression, Scope& scope, FieldTower& tower);
/// The same, for a place where only a number, a vector or an angle has a meaning; a bare number for an angle, `pi` for a
/// length and the like are ExpressionErrors with a hint.
Number evaluate_number(const Expression& expression, Scope& scope, FieldTower& tower);
Vector3 evaluate_vector(const Expression& expression, Scope& scope, FieldTower& tower);
Angle evaluate_angle(const Expression& expression, Scope& scope, FieldTower& tower);

/// Decided in a field that is forgotten. Comparing angles, and sizes of vectors, is an ExpressionError.
bool evaluate_condition(const Condition& condition, Scope& scope, FieldTower& tower);

/// A linear equation in x, y, z such as `x + 2*y = 1`, for planes: the normal points towards left > right.
Plane evaluate_equation(const Equation& equation, Scope& scope, FieldTower& tower);
Plane evaluate_equation(std::string_view text, Scope& scope, FieldTower& tower);

}  // namespace cutproof
