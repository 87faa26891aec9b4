// SPDX-License-Identifier: GPL-3.0-or-later
// Expressions to values: the whole grammar and every function of the plan language, and every error with its place and hint.
#include "number/print.hpp"
#include "plan/enclosure_guard.hpp"
#include "plan/evaluate.hpp"
#include "plan/spelling.hpp"

#include <catch2/catch.hpp>

#include <functional>
#include <map>
#include <random>

using namespace cutproof;

namespace {

/// Names with values given as expressions, evaluated when they are first asked for.
class TestScope : public Scope {
 public:
  explicit TestScope(FieldTower& tower) : tower_(tower) {}
  std::map<std::string, std::string> names;
  std::map<std::string, std::string> equations;

  std::optional<ExactValue> value_of(const std::string& name) override {
    const auto known = values_.find(name);
    if (known != values_.end()) return known->second;
    const auto found = names.find(name);
    if (found == names.end()) return std::nullopt;
    const ExpressionPointer tree = parse_expression(found->second);
    ExactValue value = evaluate(*tree, *this, tower_);
    return values_.emplace(name, std::move(value)).first->second;
  }
  std::optional<Plane> plane_of(const std::string& name) override {
    const auto found = equations.find(name);
    if (found == equations.end()) return std::nullopt;
    return evaluate_equation(found->second, *this, tower_);
  }
  std::string nearest_name(const std::string& name) const override {
    std::vector<std::string> candidates;
    for (const auto& each : names) candidates.push_back(each.first);
    return nearest_word(name, candidates);
  }

 private:
  FieldTower& tower_;
  std::map<std::string, ExactValue> values_;
};

struct Bench {
  FieldTower tower;
  TestScope scope{tower};
  Bench() {
    scope.names = {{"a", "2"},      {"h", "a*sqrt(3)/2"}, {"M", "[a/4, h/2, 0]"}, {"up", "[0, 0, 1]"},
                   {"t", "30 deg"}, {"height", "5"},      {"w", "sqrt(2)"},       {"zero", "w*w - 2"}};
    scope.equations = {{"floor", "z = 0"}, {"wall", "x = a"}, {"side", "y = 3"}, {"ramp", "x + z = 1"}};
  }
  ExactValue value(const std::string& text) {
    const ExpressionPointer tree = parse_expression(text);
    return evaluate(*tree, scope, tower);
  }
  std::string text(const std::string& expression) {
    const ExactValue result = value(expression);
    if (const auto* number = std::get_if<Number>(&result)) return to_exact(*number);
    if (const auto* angle = std::get_if<Angle>(&result)) return to_exact(*angle);
    const Vector3& v = std::get<Vector3>(result);
    return "[" + to_exact(v.x) + ", " + to_exact(v.y) + ", " + to_exact(v.z) + "]";
  }
};

std::string text(const std::string& expression) {
  return Bench().text(expression);
}

template <class Work>
std::string fault_of(Work work) {
  try {
    work();
  } catch (const ExpressionError& error) {
    return std::to_string(error.offset()) + "+" + std::to_string(error.length()) + " " + error.what() +
           (error.hint().empty() ? "" : " / " + error.hint());
  } catch (const LimitReached& reached) {
    return reached.limit();
  }
  return "none";
}

std::string fault(const std::string& expression) {
  return fault_of([&] { Bench().value(expression); });
}

}  // namespace

TEST_CASE("numbers are read exactly") {
  CHECK(text("0.125") == "1/8");
  CHECK(text(".5") == "1/2");
  CHECK(text("1e-3") == "1/1000");
  CHECK(text("2.50E+2") == "250");
  CHECK(text("0.1 + 0.2 - 0.3") == "0");
  CHECK(text("0e999999999999999999999") == "0");
  CHECK(text("00012") == "12");
  CHECK(fault("1e999999999") == "max-bits");
  CHECK(fault("1e-999999999") == "max-bits");
  CHECK(fault("1e99999999999999999999999999999999999999999999999999") == "max-bits");
  CHECK(fault("2^(10^9)") == "max-bits");
  CHECK(fault("2^2^2^2^2^2") == "max-bits");
  CHECK(fault("(1e100000)^4") == "max-bits");
}

TEST_CASE("operators") {
  CHECK(text("-2^2") == "-4");
  CHECK(text("2^-1") == "1/2");
  CHECK(text("a + -a") == "0");
  CHECK(text("2^3^2") == "512");
  CHECK(text("(-8)^(1/3)") == "-2");
  CHECK(text("(-8)^(2/3)") == "4");
  CHECK(text("1/2 + 3/4*w") == "(2 + 3*sqrt(2))/4");
  CHECK(text("w^2") == "2");
  CHECK(text("1/(1 + w)") == "sqrt(2) - 1");
  CHECK(text("2*[1, w, 0] - [1, 1, 1]/2") == "[3/2, 2*sqrt(2) - 1/2, -1/2]");
  CHECK(text("-[1, 2, 3]") == "[-1, -2, -3]");
  CHECK(text("M + up") == "[1/2, sqrt(3)/2, 1]");
  CHECK(text("(M + up).z*3") == "3");
  CHECK(text("[1, 2, 3]*2") == "[2, 4, 6]");
}

TEST_CASE("functions") {
  CHECK(text("sqrt(8)") == "2*sqrt(2)");
  CHECK(text("sqrt(3/4)") == "sqrt(3)/2");
  CHECK(text("cbrt(-16)") == "-2*cbrt(2)");
  CHECK(text("abs(1 - w)") == "sqrt(2) - 1");
  CHECK(text("min(w, 3/2, 1.42)") == "sqrt(2)");
  CHECK(text("max(1, w)") == "sqrt(2)");
  CHECK(text("cos(60 deg)") == "1/2");
  CHECK(text("sin(pi/4)") == "sqrt(2)/2");
  CHECK(text("tan(t)") == "sqrt(3)/3");
  CHECK(text("cos(pi/5)") == "(1 + sqrt(5))/4");
  CHECK(text("acos(1/3)") == "acos(1/3)");
  CHECK(text("asin(1/2)") == "30 deg");
  CHECK(text("atan(-1)") == "-45 deg");
  CHECK(text("angle([1, 0, 0], [1, 1, 0])") == "45 deg");
  CHECK(text("angle([1, 0, 0], [-2, 0, 0])") == "180 deg");
  CHECK(text("angle([1, 0, 0], [1, 2, 2])") == "acos(1/3)");
  CHECK(text("root(x^3 - x^2 - x - 1, 1.83)") == "root(x^3 - x^2 - x - 1, 183/100)");
  CHECK(text("root(height*x - (x - 1)*(x + 1)/a^2 - 1/4, 0)") == "0");
  CHECK(text("root((x - 3)^2*(x + w*w), 2.9)") == "3");
  CHECK(text("dot([1, 2, 3], M)") == "1/2 + sqrt(3)");
  CHECK(text("dot([1, 2, 3], [1, w, 1])") == "4 + 2*sqrt(2)");
  CHECK(text("cross([1, 0, 0], [0, 1, 0])") == "[0, 0, 1]");
  CHECK(text("norm([1, 1, 1])") == "sqrt(3)");
  CHECK(text("norm([3, 4, 0])") == "5");
  CHECK(text("meet(floor, wall, side)") == "[2, 3, 0]");
  CHECK(text("meet(ramp, floor, side)") == "[1, 3, 0]");
  CHECK(text("foot([0, 0, 0], ramp)") == "[1/2, 0, 1/2]");
  CHECK(text("foot([w, 1, 7], floor)") == "[sqrt(2), 1, 0]");
}

TEST_CASE("angles") {
  CHECK(text("360/7 deg") == "360/7 deg");
  CHECK(text("pi") == "180 deg");
  CHECK(text("2*t - 30 deg") == "30 deg");
  CHECK(text("t/2 + pi/12") == "30 deg");
  CHECK(text("acos(1/3) - acos(1/3)") == "0 deg");
  CHECK(text("acos(1/3) + acos(-1/3)") == "180 deg");
  CHECK(text("(1 - 3)*acos(1/3)") == "-2*acos(1/3)");
  CHECK(text("54.7356 deg") == "54.7356 deg");
  CHECK(fault("cos(54.7356 deg)") == "max-degree");
  Bench bench;
  bench.value("cos(2*acos(1/3) - acos(1/3) + acos(-1/3))");
  CHECK(bench.tower.top().degree() == 1);
}

TEST_CASE("errors name the place and what to write") {
  const std::pair<const char*, const char*> faults[] = {
      {"1 + b", "4+1 nothing is named `b` / define it in `let` or `points`"},
      {"2*hieght", "2+6 nothing is named `hieght` / did you mean `height`?"},
      {"sqr(2)", "0+6 there is no function `sqr` / did you mean `sqrt`?"},
      {"a(3)", "0+4 `a` is no function / a product needs its sign: `a*(...)`"},
      {"1 + sqrt", "4+4 `sqrt` is a function / write `sqrt(...)`"},
      {"sqrt(2, 3)", "0+10 `sqrt` takes 1 argument, not 2 / write `sqrt(a)`"},
      {"sqrt()", "0+6 `sqrt` takes 1 argument, not 0 / write `sqrt(a)`"},
      {"max()", "0+5 `max` needs arguments / write `max(a, b)`"},
      {"1 + cos(90)", "8+2 an angle is wanted here, and this is a bare number / `90 deg`?"},
      {"cos(w)", "4+1 an angle is wanted here, and this is a bare number / `90 deg`?"},
      {"1/(a - 2)", "2+7 division by zero: this is exactly 0"},
      {"[1, 2, 3]/zero", "10+4 division by zero: this is exactly 0"},
      {"sqrt(1 - a)", "5+5 the square root of a negative number (-1.00000) is not real"},
      {"(-4)^(1/2)", "0+10 an even root of a negative number is no real number"},
      {"1 + 0^0", "4+3 0^0 has no meaning"},
      {"0^-1", "0+4 0 to a negative power is a division by zero"},
      {"2^w", "2+1 an exponent must be rational, and this one is irrational"},
      {"root(x^2 - 1, 0)", "0+16 two real roots are equally near to 0 / write a number nearer to the root that you mean"},
      {"root(x^2 + 1, 0)", "0+16 this polynomial has no real root"},
      {"root(w*x, 0)",
       "5+1 this coefficient is irrational / `root` takes a polynomial in x with rational coefficients: `root(x^3 - x - 1, "
       "1.3)`"},
      {"root(x^w, 0)",
       "7+1 an exponent in a polynomial is a whole number from 0 on / `root` takes a polynomial in x with rational "
       "coefficients: "
       "`root(x^3 - x - 1, 1.3)`"},
      {"root(sqrt(x), 0)",
       "5+7 this makes no polynomial in x / `root` takes a polynomial in x with rational coefficients: `root(x^3 - x - 1, "
       "1.3)`"},
      {"root(x - 1, w)", "12+1 the place near the root must be a rational number"},
      {"x + 1", "0+1 `x` is a coordinate: it has a meaning in the equation of a plane, and `x` inside `root` too"},
      {"w + up", "0+6 a number and a vector cannot be added / a vector is written `[x, y, z]`"},
      {"1 + pi", "0+6 a number and an angle cannot be added / an angle is written `90 deg`; `pi` is an angle"},
      {"w*pi", "0+1 an angle takes rational factors only, and this number is irrational"},
      {"up*up", "0+5 two vectors have no plain product / write `dot(u, v)` or `cross(u, v)`"},
      {"pi*pi", "0+5 two angles have no product"},
      {"1/up", "2+2 a divisor must be a number, and this is a vector"},
      {"up^2", "0+4 a vector has no powers / its squared length is `dot(v, v)`"},
      {"a.x", "0+1 a point or vector is wanted here, and this is a number / write `[x, y, z]`"},
      {"norm(3)", "5+1 a point or vector is wanted here, and this is a number / write `[x, y, z]`"},
      {"w deg",
       "0+1 an angle in degrees is a rational number here, and this one is irrational / write the angle's cosine, as in "
       "`acos(1/3)`"},
      {"pi deg", "0+6 `deg` makes an angle of a number, and this is an angle already"},
      {"acos(2)", "0+7 no angle has this cosine: it is not between -1 and 1"},
      {"tan(90 deg)", "0+11 the tangent of a right angle has no meaning"},
      {"angle(up, [0, 0, 0])", "10+9 a zero vector makes no angle"},
      {"meet(floor, floor, wall)",
       "0+24 these three planes do not meet in one point / two of them are parallel, or all three run along one line; "
       "take others"},
      {"meet(floor, roof, wall)", "12+4 no plane is named `roof` / define it in `planes`"},
      {"meet(floor, 2, wall)", "12+1 the name of a plane is wanted here / name the plane in `planes`"},
  };
  for (const auto& [expression, message] : faults) {
    INFO(expression);
    CHECK(fault(expression) == message);
  }
}

TEST_CASE("numbers, vectors and angles where they are wanted") {
  const auto wanted = [](const std::string& expression, char kind) {
    return fault_of([&] {
      Bench bench;
      const ExpressionPointer tree = parse_expression(expression);
      if (kind == 'n') evaluate_number(*tree, bench.scope, bench.tower);
      if (kind == 'v') evaluate_vector(*tree, bench.scope, bench.tower);
      if (kind == 'a') evaluate_angle(*tree, bench.scope, bench.tower);
    });
  };
  CHECK(wanted("2*pi", 'n') ==
        "0+4 a number is wanted here, and this is an angle / `pi` is an angle (180 deg), not a length; `cos`, "
        "`sin` and `tan` make numbers of angles");
  CHECK(wanted("M", 'n') == "0+1 a number is wanted here, and this is a vector / a component is written `v.x`");
  CHECK(wanted("3", 'v') == "0+1 a point or vector is wanted here, and this is a number / write `[x, y, z]`");
  CHECK(wanted("90", 'a') == "0+2 an angle is wanted here, and this is a bare number / `90 deg`?");
  CHECK(wanted("M", 'a') == "0+1 an angle is wanted here, and this is a vector / `angle(u, v)` is the angle of two vectors");
  CHECK(wanted("90 deg", 'a') == "none");
}

TEST_CASE("equations of planes") {
  const auto plane = [](const std::string& equation) {
    Bench bench;
    const Plane result = evaluate_equation(equation, bench.scope, bench.tower);
    return to_exact(result.normal.x) + " " + to_exact(result.normal.y) + " " + to_exact(result.normal.z) + " = " +
           to_exact(result.offset);
  };
  CHECK(plane("x + 2*y = 1") == "1 2 0 = 1");
  CHECK(plane("1 = z") == "0 0 -1 = -1");
  CHECK(plane("x = a/2") == "1 0 0 = 1");
  CHECK(plane("w*(x - y)/2 - 3 = -(z + w)") == "sqrt(2)/2 -sqrt(2)/2 1 = 3 - sqrt(2)");
  CHECK(plane("x*3 = M.x*2 + root(x^2 - x, 0.9)") == "3 0 0 = 2");
  // the normal points towards left > right
  Bench bench;
  const Plane above = evaluate_equation("z = 3", bench.scope, bench.tower);
  CHECK(evaluate(above, Vector3{Number(0), Number(0), Number(4)}).sign() == 1);
  const auto broken = [](const std::string& equation) {
    return fault_of([&] {
      Bench other;
      evaluate_equation(equation, other.scope, other.tower);
    });
  };
  const std::string linear = " / a plane's equation is linear in x, y and z: `x + 2*y = 1`",
                    write = " / write `x + 2*y = 1`";
  CHECK(broken("x + y") == "0+5 a plane's equation needs an `=`" + write);
  CHECK(broken("x = y = z") == "6+1 a plane's equation has one `=` only" + write);
  CHECK(broken("x == 1") == "3+1 a plane's equation has one `=` only" + write);
  CHECK(broken(" = 1") == "1+1 one side of the equation is empty" + write);
  CHECK(broken("x*y = 1") == "0+3 a product of coordinates is not linear" + linear);
  CHECK(broken("1/x = 1") == "2+1 a division by a coordinate is not linear" + linear);
  CHECK(broken("x^2 = 1") == "0+3 this is not linear in x, y and z" + linear);
  CHECK(broken("x - x = 1") == "0+9 no coordinate is left in this equation: it is no plane" + write);
  CHECK(broken("1 = x + bb") == "8+2 nothing is named `bb` / define it in `let` or `points`");
  CHECK(broken("x = 1/(a - 2)") == "6+7 division by zero: this is exactly 0");
}

TEST_CASE("what is printed can be pasted back") {
  std::mt19937_64 engine(401);
  const char* const radicals[][3] = {
      {"sqrt(2)", "sqrt(3)", "1"},          {"3^(1/4)", "3^(3/4)", "sqrt(3)"},
      {"cbrt(2)", "cbrt(2)^2", "sqrt(5)"},  {"sqrt(2 + sqrt(2))", "sqrt(2)", "1"},
      {"cos(pi/7)", "cos(pi/7)^2", "1"},    {"root(x^3 - x^2 - x - 1, 1.83)", "sqrt(2)", "1"},
      {"cos(acos(1/3)/3)", "1", "sqrt(2)"}, {"(2 + sqrt(2))^(1/4)", "(2 + sqrt(2))^(3/4)", "1"},
      {"2^(1/6)", "2^(5/6)", "cbrt(4)"}};
  for (const auto& set : radicals)
    for (int i = 0; i < 12; ++i) {
      std::string expression;
      for (const char* radical : set) {
        const long top = static_cast<long>(engine() % 41) - 20, below = static_cast<long>(engine() % 9) + 1;
        expression += (expression.empty() ? "" : " + ") + std::to_string(top) + "/" + std::to_string(below) + "*" + radical;
      }
      INFO("seed 401: " << expression);
      Bench first, fresh;
      const Number value = std::get<Number>(first.value(expression));
      const std::string printed = to_exact(value);
      INFO(printed);
      CHECK(std::get<Number>(first.value(printed)) == value);
      CHECK(to_decimal(std::get<Number>(fresh.value(printed)), 60) == to_decimal(value, 60));
    }
}

TEST_CASE("random expressions agree with balls computed straight from the text") {
  // evaluate() compares them itself and throws ToolFault; here the trees are random and the count is checked not to be
  // vacuous.
  std::mt19937_64 engine(402);
  const auto pick = [&](std::size_t bound) { return static_cast<std::size_t>(engine() % bound); };
  const std::function<std::string(int)> tree = [&](int depth) -> std::string {
    if (depth == 0) {
      static const char* const leaves[] = {"1", "2", "3", "1/2", "0.7", "w", "a", "h", "sqrt(5)"};
      return leaves[pick(9)];
    }
    switch (pick(9)) {
      case 0:
        return "(" + tree(depth - 1) + " + " + tree(depth - 1) + ")";
      case 1:
        return "(" + tree(depth - 1) + " - " + tree(depth - 1) + ")";
      case 2:
        return tree(depth - 1) + "*" + tree(depth - 1);
      case 3:
        return "(" + tree(depth - 1) + ")/(" + tree(depth - 1) + ")";
      case 4:
        return "sqrt(abs(" + tree(depth - 1) + "))";
      case 5:
        return "(" + tree(depth - 1) + ")^" + std::to_string(pick(4));
      case 6:
        return "max(" + tree(depth - 1) + ", " + tree(depth - 1) + ")";
      case 7:
        return "cbrt(" + tree(depth - 1) + ")";
      default:
        return "norm([" + tree(depth - 1) + ", 1, 0])";
    }
  };
  int evaluated = 0;
  for (int i = 0; i < 300; ++i) {
    const std::string expression = tree(1 + static_cast<int>(pick(3)));
    INFO("seed 402: " << expression);
    try {
      Bench().value(expression);
      ++evaluated;
    } catch (const InvalidInput&) {
    } catch (const LimitReached&) {
    }
  }
  CHECK(evaluated > 150);
}

TEST_CASE("the guard sees a conjugate in the place of the right root") {
  for (const char* expression : {"sqrt(2)", "1 + 3*cbrt(2)", "cos(36 deg)", "root(x^3 - 3*x + 1, 1.5)"}) {
    Bench bench;
    const ExpressionPointer tree = parse_expression(expression);
    const ExactValue right = evaluate(*tree, bench.scope, bench.tower);
    CHECK_NOTHROW(guard_enclosure(right, *tree, {}, bench.scope, bench.tower));
    CHECK_THROWS_AS(guard_enclosure(-std::get<Number>(right), *tree, {}, bench.scope, bench.tower), ToolFault);
    CHECK_THROWS_AS(
        guard_enclosure(std::get<Number>(right) + Number::fraction(1, 1000000000), *tree, {}, bench.scope, bench.tower),
        ToolFault);
  }
  Bench bench;
  const ExpressionPointer vector = parse_expression("[w, 1, h]");
  Vector3 value = std::get<Vector3>(evaluate(*vector, bench.scope, bench.tower));
  value.z = -value.z;
  CHECK_THROWS_AS(guard_enclosure(value, *vector, {}, bench.scope, bench.tower), ToolFault);
  const ExpressionPointer angle = parse_expression("acos(1/3)");
  CHECK_THROWS_AS(guard_enclosure(arc_cosine(Number::fraction(-1, 3)), *angle, {}, bench.scope, bench.tower), ToolFault);
}

TEST_CASE("forty nested square roots end at once") {
  std::string expression = "2";
  for (int i = 0; i < 40; ++i) expression = "sqrt(1 + " + expression + ")";
  CHECK(fault(expression) == "max-degree");
}
