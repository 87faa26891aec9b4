// SPDX-License-Identifier: GPL-3.0-or-later
// The domain of exact values; every node gives its place to the errors of its own arithmetic.
#include "plan/evaluate.hpp"

#include "number/decimal.hpp"
#include "number/flint.hpp"
#include "number/print.hpp"
#include "number/whole.hpp"
#include "plan/complaints.hpp"
#include "plan/enclosure_guard.hpp"
#include "plan/fold.hpp"
#include "plan/linear_form.hpp"
#include "plan/rational_polynomial.hpp"
#include "plan/spelling.hpp"

#include <algorithm>
#include <functional>
#include <iterator>

namespace cutproof {

namespace {

using Kind = Expression::Kind;

[[noreturn]] void refuse(const Expression& at, const std::string& message, const std::string& hint = "") {
  throw ExpressionError(message, hint, at.offset, at.length);
}

const char* kind_name(const ExactValue& value) {
  static const char* const names[] = {"a number", "a vector", "an angle"};
  return names[value.index()];
}

bool is_number(const ExactValue& value) {
  return std::holds_alternative<Number>(value);
}
bool is_vector(const ExactValue& value) {
  return std::holds_alternative<Vector3>(value);
}
bool is_angle(const ExactValue& value) {
  return std::holds_alternative<Angle>(value);
}

const Number& number_from(const ExactValue& value, const Expression& at) {
  if (is_angle(value))
    refuse(at, "a number is wanted here, and this is an angle",
           "`pi` is an angle (180 deg), not a length; `cos`, `sin` and `tan` make numbers of angles");
  if (is_vector(value)) refuse(at, "a number is wanted here, and this is a vector", "a component is written `v.x`");
  return std::get<Number>(value);
}

const Vector3& vector_from(const ExactValue& value, const Expression& at) {
  if (!is_vector(value))
    refuse(at, std::string("a point or vector is wanted here, and this is ") + kind_name(value), "write `[x, y, z]`");
  return std::get<Vector3>(value);
}

const Angle& angle_from(const ExactValue& value, const Expression& at) {
  if (is_number(value)) {
    const std::string text = to_exact(std::get<Number>(value));
    const bool plain = std::get<Number>(value).is_rational() && text.size() < 20;
    refuse(at, "an angle is wanted here, and this is a bare number", plain ? "`" + text + " deg`?" : "`90 deg`?");
  }
  if (is_vector(value))
    refuse(at, "an angle is wanted here, and this is a vector", "`angle(u, v)` is the angle of two vectors");
  return std::get<Angle>(value);
}

/// A rational factor of an angle, as an element of Q.
Number angle_factor(const ExactValue& value, const Expression& at) {
  const Number& factor = number_from(value, at);
  if (!factor.is_rational()) refuse(at, "an angle takes rational factors only, and this number is irrational");
  return to_rational_field(factor);
}

class Evaluator {
  using Values = Operands<ExactValue>;
  using Step = FoldStep<ExactValue>;

 public:
  Evaluator(Scope& scope, FieldTower& tower) : scope_(scope), tower_(tower) {}

  ExactValue value(const Expression& expression) { return fold<ExactValue>(expression, *this); }

  Step operator()(const Expression& at, const Values& operands) {
    try {
      Step answer = at.kind == Kind::call ? call(at, operands) : compute(at, operands);
      if (const auto* result = std::get_if<ExactValue>(&answer)) check_bits(*result);
      return answer;
    } catch (const ExpressionError&) {
      throw;
    } catch (const InvalidInput& error) {
      refuse(at, told(error).sentence, told(error).hint);
    }
  }
  const ExactLeaves& known() const { return known_; }
  /// False after rational arithmetic alone, in which no root can be taken for another.
  bool needs_guard() const { return needs_guard_; }

 private:
  Number number(const Expression& at) { return number_from(value(at), at); }

  void check_bits(const ExactValue& result) {
    const auto check = [this](const Number& number) {
      tower_.checked(number);
      if (!number.is_rational()) needs_guard_ = true;
    };
    if (is_number(result)) return check(std::get<Number>(result));
    if (!is_vector(result)) {
      needs_guard_ = true;
      return;
    }
    const Vector3& v = std::get<Vector3>(result);
    for (const Number* component : {&v.x, &v.y, &v.z}) check(*component);
  }

  Step compute(const Expression& at, const Values& operands) {
    check_so_far(at, operands);
    if (operands.size() < at.operands.size()) return next_operand(at, operands);
    switch (at.kind) {
      case Kind::number:
        return literal_value(at, tower_.limits());
      case Kind::name:
        return named(at);
      case Kind::vector:
        return Vector3{std::get<Number>(operands[0]), std::get<Number>(operands[1]),
                       is_flat() ? Number(0L, tower_.top()) : std::get<Number>(operands[2])};
      case Kind::component: {
        const Vector3& v = vector_from(operands[0], *at.operands[0]);
        return at.text == "x" ? v.x : at.text == "y" ? v.y : v.z;
      }
      case Kind::negate:
        return std::visit([](const auto& v) { return ExactValue(-v); }, operands[0]);
      case Kind::add:
      case Kind::subtract:
        return sum(at, operands[0], operands[1]);
      case Kind::multiply:
        return product(at, operands[0], operands[1]);
      case Kind::divide:
        return quotient(at, operands[0], operands[1]);
      case Kind::power: {
        const Number& exponent = number_from(operands[1], *at.operands[1]);
        if (!exponent.is_rational()) refuse(*at.operands[1], "an exponent must be rational, and this one is irrational");
        return tower_.power(std::get<Number>(operands[0]), to_rational_field(exponent));
      }
      case Kind::degrees: {
        const ExactValue& count = operands[0];
        if (is_angle(count)) refuse(at, "`deg` makes an angle of a number, and this is an angle already");
        if (is_number(count) && !std::get<Number>(count).is_rational())
          refuse(*at.operands[0], "an angle in degrees is a rational number here, and this one is irrational",
                 "write the angle's cosine, as in `acos(1/3)`");
        return degrees_angle(angle_factor(count, *at.operands[0]));
      }
      case Kind::call:
        break;
    }
    throw ToolFault("an expression of an unknown kind");
  }

  bool is_flat() const { return scope_.dimension() == 2; }

  /// What is wrong before any operand is looked at, and with the last one before the next is.
  void check_so_far(const Expression& at, const Values& operands) const {
    const std::size_t done = operands.size(), count = at.operands.size();
    if (at.kind == Kind::component && at.text == "z" && is_flat())
      refuse(at, "a vector of a plan of dimension 2 has no z", "its components are x and y");
    if (at.kind == Kind::vector) {
      if (is_flat() && count != 2)
        refuse(at, "a vector of a plan of dimension 2 has two components, not " + std::to_string(count), "write `[x, y]`");
      if (!is_flat() && count != 3)
        refuse(at, "a vector has three components, not " + std::to_string(count), "add z: `[x, y, 0]`");
      if (done > 0) number_from(operands.back(), *at.operands[done - 1]);
    }
    if (at.kind == Kind::power && done == 1) {
      if (is_vector(operands[0])) refuse(at, "a vector has no powers", "its squared length is `dot(v, v)`");
      number_from(operands[0], *at.operands[0]);
    }
  }

  ExactValue named(const Expression& at) {
    if (at.text == "pi") return pi_angle(Number(1));
    if (at.text == "z" && is_flat()) refuse(at, "there is no z in a plan of dimension 2");
    if (at.text == "x" || at.text == "y" || at.text == "z")
      refuse(at,
             "`" + at.text + "` is a coordinate: it has a meaning in the equation of a plane, and `x` inside `root` too");
    if (is_function_name(at.text, scope_.version()))
      refuse(at, "`" + at.text + "` is a function", "write `" + at.text + "(...)`");
    if (std::optional<ExactValue> found = scope_.value_of(at.text)) return lifted(*found);
    const std::string near = scope_.nearest_name(at.text);
    refuse(at, "nothing is named `" + at.text + "`",
           near.empty() ? "define it in `let` or `points`" : "did you mean `" + near + "`?");
  }

  ExactValue lifted(const ExactValue& found) const {
    if (is_number(found)) return tower_.lifted(std::get<Number>(found));
    if (!is_vector(found)) return found;
    const Vector3& v = std::get<Vector3>(found);
    return Vector3{tower_.lifted(v.x), tower_.lifted(v.y), tower_.lifted(v.z)};
  }

  ExactValue sum(const Expression& at, const ExactValue& left, const ExactValue& right) const {
    const bool minus = at.kind == Kind::subtract;
    if (left.index() != right.index()) {
      const bool with_angle = is_angle(left) || is_angle(right);
      refuse(
          at,
          std::string(kind_name(left)) + " and " + kind_name(right) + (minus ? " cannot be subtracted" : " cannot be added"),
          !with_angle                           ? "a vector is written `[x, y, z]`"
          : is_vector(left) || is_vector(right) ? ""
                                                : "an angle is written `90 deg`; `pi` is an angle");
    }
    if (is_number(left)) {
      const Number &a = std::get<Number>(left), &b = std::get<Number>(right);
      return minus ? a - b : a + b;
    }
    if (is_vector(left)) {
      const Vector3 &a = std::get<Vector3>(left), &b = std::get<Vector3>(right);
      return minus ? a - b : a + b;
    }
    const Angle &a = std::get<Angle>(left), &b = std::get<Angle>(right);
    return minus ? a - b : a + b;
  }

  ExactValue product(const Expression& at, const ExactValue& left, const ExactValue& right) const {
    if (is_number(left) && is_number(right)) return std::get<Number>(left) * std::get<Number>(right);
    if (is_vector(left) && is_vector(right))
      refuse(at, "two vectors have no plain product", "write `dot(u, v)` or `cross(u, v)`");
    if (is_angle(left) && is_angle(right)) refuse(at, "two angles have no product");
    if ((is_angle(left) && is_vector(right)) || (is_vector(left) && is_angle(right)))
      refuse(at, "a vector and an angle have no product", "`pi` is an angle, not a number");
    if (is_vector(left)) return number_from(right, *at.operands[1]) * std::get<Vector3>(left);
    if (is_vector(right)) return number_from(left, *at.operands[0]) * std::get<Vector3>(right);
    if (is_angle(left)) return angle_factor(right, *at.operands[1]) * std::get<Angle>(left);
    return angle_factor(left, *at.operands[0]) * std::get<Angle>(right);
  }

  ExactValue quotient(const Expression& at, const ExactValue& left, const ExactValue& right) const {
    const Expression& below = *at.operands[1];
    if (!is_number(right)) refuse(below, std::string("a divisor must be a number, and this is ") + kind_name(right));
    const Number& divisor = std::get<Number>(right);
    if (divisor.is_zero()) refuse(below, "division by zero: this is exactly 0");
    if (is_angle(left)) return divide(Number(1), angle_factor(right, below)) * std::get<Angle>(left);
    if (is_number(left)) return divide(std::get<Number>(left), divisor);
    return divide(Number(1), divisor) * std::get<Vector3>(left);
  }

  // --- functions
  // ------------------------------------------------------------------------------------------------------------

  void expect_arguments(const Expression& at, std::size_t count, const char* usage) const {
    if (at.operands.size() != count)
      refuse(at,
             "`" + at.text + "` takes " + std::to_string(count) + (count == 1 ? " argument" : " arguments") + ", not " +
                 std::to_string(at.operands.size()),
             std::string("write `") + usage + "`");
  }

  Step call(const Expression& at, const Values& operands) {
    /// How operands are walked; those that are left to the function it reads itself.
    enum class Wanted { numbers, angles, vectors, vectors_from_the_last, left_to_it };
    struct Function {
      std::string_view name;
      std::size_t arguments;  ///< 0: any number from 1 on
      const char* usage;
      Wanted wanted;
      Step (Evaluator::*compute)(const Expression&, const Values&);
    };
    static constexpr Function functions[] = {
        {"sqrt", 1, "sqrt(a)", Wanted::numbers, &Evaluator::square_root},
        {"cbrt", 1, "cbrt(a)", Wanted::numbers, &Evaluator::cube_root},
        {"abs", 1, "abs(a)", Wanted::numbers, &Evaluator::absolute_value},
        {"min", 0, "min(a, b)", Wanted::numbers, &Evaluator::least_or_greatest},
        {"max", 0, "max(a, b)", Wanted::numbers, &Evaluator::least_or_greatest},
        {"cos", 1, "cos(60 deg)", Wanted::angles, &Evaluator::cosine},
        {"sin", 1, "sin(60 deg)", Wanted::angles, &Evaluator::sine},
        {"tan", 1, "tan(60 deg)", Wanted::angles, &Evaluator::tangent},
        {"acos", 1, "acos(1/3)", Wanted::numbers, &Evaluator::arc},
        {"asin", 1, "asin(1/3)", Wanted::numbers, &Evaluator::arc},
        {"atan", 1, "atan(2)", Wanted::numbers, &Evaluator::arc},
        {"angle", 2, "angle(u, v)", Wanted::vectors, &Evaluator::angle_of_vectors},
        {"root", 2, "root(x^3 - x - 1, 1.3)", Wanted::left_to_it, &Evaluator::root},
        {"dot", 2, "dot(u, v)", Wanted::vectors_from_the_last, &Evaluator::dot_product},
        {"cross", 2, "cross(u, v)", Wanted::vectors_from_the_last, &Evaluator::cross_product},
        {"norm", 1, "norm(v)", Wanted::vectors, &Evaluator::norm},
        {"meet", 3, "meet(A, B, C)", Wanted::left_to_it, &Evaluator::meet},
        {"foot", 2, "foot(P, A)", Wanted::left_to_it, &Evaluator::foot},
        {"floor", 1, "floor(a)", Wanted::left_to_it, &Evaluator::whole},
        {"ceil", 1, "ceil(a)", Wanted::left_to_it, &Evaluator::whole},
        {"mod", 2, "mod(a, b)", Wanted::left_to_it, &Evaluator::remainder},
    };
    const Function* const found =
        std::find_if(std::begin(functions), std::end(functions), [&](const Function& each) { return each.name == at.text; });
    const std::size_t count = at.operands.size(), done = operands.size();
    if (found == std::end(functions) || !is_function_name(at.text, scope_.version())) {
      if (done > 0 || scope_.has_arguments(at.text)) {
        if (done < count) return next_operand(at, operands);
        std::vector<ExactValue> arguments;
        for (std::size_t i = 0; i < count; ++i) arguments.push_back(std::move(operands[i]));
        if (std::optional<ExactValue> defined = scope_.value_of_call(at.text, arguments))
          return known_.values.insert_or_assign(&at, lifted(*defined)).first->second;
      }
      refuse_function(at);
    }
    needs_guard_ = true;
    if (at.text == "meet" && is_flat()) {
      expect_arguments(at, 2, "meet(A, B)");
    } else if (found->arguments > 0) {
      expect_arguments(at, found->arguments, found->usage);
    }
    if (at.operands.empty()) refuse(at, "`" + at.text + "` needs arguments", std::string("write `") + found->usage + "`");
    const Function& function = *found;
    if (function.wanted != Wanted::left_to_it) {
      const bool backwards = function.wanted == Wanted::vectors_from_the_last;
      const auto place = [&](std::size_t i) -> const Expression& { return *at.operands[backwards ? count - 1 - i : i]; };
      if (done > 0) {
        const Expression& last = place(done - 1);
        if (function.wanted == Wanted::numbers) number_from(operands.back(), last);
        if (function.wanted == Wanted::angles) angle_from(operands.back(), last);
        if (function.wanted == Wanted::vectors || backwards) vector_from(operands.back(), last);
      }
      if (done < count) return Walk{&place(done)};
    }
    return (this->*function.compute)(at, operands);
  }

  [[noreturn]] void refuse_function(const Expression& at) const {
    if (const int needed = version_of_word("a function", at.text); needed > scope_.version())
      refuse(at, "`" + at.text + "` is a function of version " + std::to_string(needed) + " of the plan language",
             "write `cutproof: " + std::to_string(needed) + "` at the top");
    if (at.text == "pi" || scope_.value_of(at.text))
      refuse(at, "`" + at.text + "` is no function", "a product needs its sign: `" + at.text + "*(...)`");
    std::vector<std::string> known = function_names(scope_.version());
    const std::string near = nearest_word(at.text, known);
    refuse(at, "there is no function `" + at.text + "`",
           near.empty() ? "the functions are" + listed(known) : "did you mean `" + near + "`?");
  }

  Step square_root(const Expression& at, const Values& operands) {
    const Number& radicand = std::get<Number>(operands[0]);
    if (radicand.sign() < 0)
      refuse(*at.operands[0],
             "the square root of a negative number (" + shortened(to_decimal(radicand, 6)) + ") is not real");
    return tower_.square_root(radicand);
  }
  Step cube_root(const Expression&, const Values& operands) { return tower_.root(std::get<Number>(operands[0]), 3); }
  Step absolute_value(const Expression&, const Values& operands) { return absolute(std::get<Number>(operands[0])); }
  Step least_or_greatest(const Expression& at, const Values& operands) {
    const Number* best = &std::get<Number>(operands[0]);
    for (std::size_t i = 1; i < operands.size(); ++i) {
      const Number& next = std::get<Number>(operands[i]);
      if ((at.text == "min") == (next < *best)) best = &next;
    }
    return tower_.lifted(*best);
  }
  Step cosine(const Expression&, const Values& operands) { return tower_.cosine(std::get<Angle>(operands[0])); }
  Step sine(const Expression&, const Values& operands) { return tower_.sine(std::get<Angle>(operands[0])); }
  Step tangent(const Expression&, const Values& operands) { return tower_.tangent(std::get<Angle>(operands[0])); }
  Step arc(const Expression& at, const Values& operands) {
    const Number& argument = std::get<Number>(operands[0]);
    return at.text == "acos" ? arc_cosine(argument) : at.text == "asin" ? arc_sine(argument) : arc_tangent(argument);
  }
  Step angle_of_vectors(const Expression& at, const Values& operands) {
    const Vector3 &u = std::get<Vector3>(operands[0]), &v = std::get<Vector3>(operands[1]);
    if (is_zero(u)) refuse(*at.operands[0], "a zero vector makes no angle");
    if (is_zero(v)) refuse(*at.operands[1], "a zero vector makes no angle");
    const Vector3 normal = cutproof::cross(u, v);
    return ray_angle(cutproof::dot(u, v), cutproof::dot(normal, normal));
  }
  Step dot_product(const Expression&, const Values& operands) {
    return cutproof::dot(std::get<Vector3>(operands[1]), std::get<Vector3>(operands[0]));
  }
  Step cross_product(const Expression&, const Values& operands) {
    const Vector3 product = cutproof::cross(std::get<Vector3>(operands[1]), std::get<Vector3>(operands[0]));
    return is_flat() ? ExactValue(product.z) : ExactValue(product);
  }
  Step norm(const Expression&, const Values& operands) {
    const Vector3& v = std::get<Vector3>(operands[0]);
    return tower_.square_root(cutproof::dot(v, v));
  }
  /// The coefficients wait among the operands.
  Step root(const Expression& at, const Values& operands) {
    if (operands.empty()) {
      const auto constant = [this](const Expression& part) { return number(part); };
      for (Number& coefficient : rational_polynomial(*at.operands[0], constant, tower_))
        operands.add(std::move(coefficient));
      return Walk{at.operands[1].get()};
    }
    const Number& near = number_from(operands.back(), *at.operands[1]);
    if (!near.is_rational()) refuse(*at.operands[1], "the place near the root must be a rational number");
    std::vector<Number> polynomial;
    for (std::size_t i = 0; i + 1 < operands.size(); ++i) polynomial.push_back(std::get<Number>(operands[i]));
    return tower_.polynomial_root(polynomial, to_rational_field(near));
  }
  Step meet(const Expression& at, const Values&) {
    const Plane a = plane(*at.operands[0]), b = plane(*at.operands[1]);
    const Plane c = is_flat() ? Plane{{0, 0, 1}, Number(0)} : plane(*at.operands[2]);
    const Vector3 bc = cutproof::cross(b.normal, c.normal);
    const Number determinant = cutproof::dot(a.normal, bc);
    if (determinant.is_zero())
      refuse(at, is_flat() ? "these two lines do not meet in one point" : "these three planes do not meet in one point",
             is_flat() ? "they are parallel; take others"
                       : "two of them are parallel, or all three run along one line; take others");
    const Vector3 sum =
        a.offset * bc + b.offset * cutproof::cross(c.normal, a.normal) + c.offset * cutproof::cross(a.normal, b.normal);
    return divide(Number(1), determinant) * sum;
  }
  Step foot(const Expression& at, const Values& operands) {
    if (operands.empty()) return next_operand(at, operands);
    const Vector3& p = vector_from(operands[0], *at.operands[0]);
    const Plane onto = plane(*at.operands[1]);
    const Number height = divide(cutproof::evaluate(onto, p), cutproof::dot(onto.normal, onto.normal));
    return p - height * onto.normal;
  }
  Plane plane(const Expression& at) {
    std::optional<Plane> found;
    if (at.kind == Kind::call && scope_.version() >= 2) {
      std::vector<ExactValue> arguments;
      for (const ExpressionPointer& operand : at.operands) arguments.push_back(value(*operand));
      found = scope_.plane_of_call(at.text, arguments);
    } else {
      if (at.kind != Kind::name) refuse_plane(at);
      found = scope_.plane_of(at.text);
    }
    if (!found) refuse(at, "no plane is named `" + at.text + "`", "define it in `planes`");
    return known_.planes.insert_or_assign(&at, std::move(*found)).first->second;
  }

  [[noreturn]] void refuse_plane(const Expression& at) {
    const std::string name = name_with_signs(at);
    if (name.empty() || !scope_.plane_of(name))
      refuse(at, "the name of a plane is wanted here", "name the plane in `planes`");
    std::string other = name;
    std::replace_if(
        other.begin(), other.end(), [](char c) { return c == '-' || c == '.'; }, '_');
    refuse(at, "`" + name + "` has another meaning in an expression, and a plane's name is wanted here",
           "call the plane `" + other + "`");
  }
  /// A plane may be called `my-plane`, which reads as a difference here; empty for what is no such name.
  static std::string name_with_signs(const Expression& expression) {
    using Text = std::string;
    return fold<Text>(expression, [](const Expression& at, const Operands<Text>& operands) -> FoldStep<Text> {
      if (at.kind == Kind::name || at.kind == Kind::number) return at.text;
      if (at.kind != Kind::subtract && at.kind != Kind::component) return "";
      if (!operands.empty() && operands.back().empty()) return "";
      if (operands.size() < at.operands.size()) return next_operand(at, operands);
      return std::move(operands[0]) + (at.kind == Kind::component ? "." + at.text : "-" + operands[1]);
    });
  }

  /// Whatever stands in these is decided in a field that is forgotten.
  Step whole(const Expression& at, const Values&) {
    std::optional<Number> result;
    scope_.aside(tower_, [&](Scope& scope, FieldTower& tower) {
      const Number exact = evaluate_number(*at.operands[0], scope, tower);
      result = at.text == "floor" ? floor_of(exact) : -floor_of(-exact);
    });
    return known_.values.insert_or_assign(&at, *result).first->second;
  }
  Step remainder(const Expression& at, const Values&) {
    std::optional<Number> quotient, rational;
    scope_.aside(tower_, [&](Scope& scope, FieldTower& tower) {
      const Number a = evaluate_number(*at.operands[0], scope, tower), b = evaluate_number(*at.operands[1], scope, tower);
      if (b.is_zero()) refuse(*at.operands[1], "division by zero: this is exactly 0");
      quotient = floor_of(divide(a, b));
      const Number result = a - b * *quotient;
      if (result.is_rational()) rational = to_rational_field(result);
    });
    // An irrational remainder is itself in the field that its operands need.
    if (!rational) return number(*at.operands[0]) - *quotient * number(*at.operands[1]);
    return known_.values.insert_or_assign(&at, *rational).first->second;
  }

  static std::string listed(const std::vector<std::string>& names) {
    std::string list;
    for (const std::string& each : names) list += (list.empty() ? " `" : ", `") + each + "`";
    return list;
  }
  static std::string shortened(const std::string& text) { return text.size() < 40 ? text : text.substr(0, 40) + "..."; }

  Scope& scope_;
  FieldTower& tower_;
  ExactLeaves known_;
  bool needs_guard_ = false;
};

bool holds(const ComparisonChain& comparison, Scope& scope, FieldTower& tower) {
  using Sign = ComparisonChain::Kind;
  std::vector<ExactValue> sides;
  for (const ExpressionPointer& operand : comparison.operands) {
    sides.push_back(evaluate(*operand, scope, tower));
    if (is_angle(sides.back()))
      refuse(*operand, "angles are not compared", "compare their cosines, or numbers that tell the same");
  }
  bool all = true;
  for (std::size_t i = 0; i < comparison.kinds.size(); ++i) {
    const Sign sign = comparison.kinds[i];
    const ExactValue &left = sides[i], &right = sides[i + 1];
    if (left.index() != right.index())
      refuse(*comparison.operands[i + 1], std::string(kind_name(left)) + " is compared with " + kind_name(right) + " here");
    if (is_vector(left)) {
      if (sign != Sign::equal && sign != Sign::unequal)
        refuse(*comparison.operands[i + 1], "no vector is smaller or larger than another",
               "compare lengths: `norm(u) < norm(v)`");
      all = all && (std::get<Vector3>(left) == std::get<Vector3>(right)) == (sign == Sign::equal);
      continue;
    }
    const int order = compare(std::get<Number>(left), std::get<Number>(right));
    const bool results[] = {order == 0, order != 0, order<0, order <= 0, order> 0, order >= 0};
    all = all && results[static_cast<int>(sign)];
  }
  return all;
}

}  // namespace

bool evaluate_condition(const Condition& condition, Scope& scope, FieldTower& tower) {
  bool all = true;
  scope.aside(tower, [&](Scope& inner, FieldTower& fork) {
    for (const ComparisonChain& comparison : condition) {
      all = holds(comparison, inner, fork);
      if (!all) return;  // as in `k != 0 and 1/k < 3`
    }
  });
  return all;
}

Number to_rational_field(const Number& number) {
  Rational value;
  number.get_rational(value);
  return Number(value, Field::rational());
}

Number literal_value(const Expression& literal, const NumberLimits& limits) {
  return Number(decimal_value(literal.text, limits.max_bits), Field::rational());
}

ExactValue evaluate(const Expression& expression, Scope& scope, FieldTower& tower) {
  Evaluator evaluator(scope, tower);
  ExactValue result = evaluator.value(expression);
  if (evaluator.needs_guard()) guard_enclosure(result, expression, evaluator.known(), scope, tower);
  return result;
}

Number evaluate_number(const Expression& expression, Scope& scope, FieldTower& tower) {
  return number_from(evaluate(expression, scope, tower), expression);
}

Vector3 evaluate_vector(const Expression& expression, Scope& scope, FieldTower& tower) {
  return vector_from(evaluate(expression, scope, tower), expression);
}

Angle evaluate_angle(const Expression& expression, Scope& scope, FieldTower& tower) {
  return angle_from(evaluate(expression, scope, tower), expression);
}

}  // namespace cutproof
