// SPDX-License-Identifier: GPL-3.0-or-later
// The one walk over expressions, and its domains: each on a table of expressions, and each on trees far higher than any
// program's stack bears.
#include "number/print.hpp"
#include "plan/enclosure_guard.hpp"
#include "plan/fold.hpp"
#include "plan/linear_form.hpp"
#include "plan/no_names.hpp"
#include "plan/rational_polynomial.hpp"

#include <catch2/catch.hpp>

#include <functional>

using namespace cutproof;

namespace {

using Kind = Expression::Kind;

/// Trees built from below. All nodes are held here and let go one by one, from the top, since a tree as high as these cannot
/// be taken down recursively.
class Forest {
 public:
  ~Forest() {
    while (!nodes_.empty()) nodes_.pop_back();
  }
  ExpressionPointer node(Kind kind, const std::string& text, std::vector<ExpressionPointer> operands = {}) {
    auto made = std::make_shared<Expression>();
    made->kind = kind;
    made->text = text;
    made->operands = std::move(operands);
    nodes_.push_back(made);
    return made;
  }
  /// `seed`, wrapped this many times.
  const Expression& wrapped(ExpressionPointer seed, const std::function<ExpressionPointer(ExpressionPointer)>& wrap) {
    for (int i = 0; i < 200000; ++i) seed = wrap(std::move(seed));
    return *seed;
  }

 private:
  std::vector<ExpressionPointer> nodes_;
};

struct High {
  const char* name;
  std::function<ExpressionPointer(Forest&, ExpressionPointer)> wrap;
};
/// Each leaves a number what it was.
const High high[] = {
    {"a sum to the left",
     [](Forest& f, ExpressionPointer below) {
       return f.node(Kind::add, "", {std::move(below), f.node(Kind::number, "0")});
     }},
    {"a sum to the right",
     [](Forest& f, ExpressionPointer below) {
       return f.node(Kind::add, "", {f.node(Kind::number, "0"), std::move(below)});
     }},
    {"two signs",
     [](Forest& f, ExpressionPointer below) {
       return f.node(Kind::negate, "", {f.node(Kind::negate, "", {std::move(below)})});
     }},
    {"quotients",
     [](Forest& f, ExpressionPointer below) {
       return f.node(Kind::divide, "", {std::move(below), f.node(Kind::number, "1")});
     }},
};

std::string linear(const Expression& tree) {
  NoNames scope;
  FieldTower tower;
  const LinearForm form = linear_form(tree, scope, tower);
  return "[" + to_exact(form.normal.x) + ", " + to_exact(form.normal.y) + ", " + to_exact(form.normal.z) + "] " +
         to_exact(form.constant);
}

std::string coefficients(const Expression& tree) {
  NoNames scope;
  FieldTower tower;
  std::string text;
  const auto constant = [&](const Expression& part) { return evaluate_number(part, scope, tower); };
  for (const Number& each : rational_polynomial(tree, constant, tower)) text += (text.empty() ? "" : " ") + to_exact(each);
  return text;
}

/// The place of the error, or the result.
std::string told(const std::string& text, const std::function<std::string(const Expression&)>& work) {
  try {
    return work(*parse_expression(text));
  } catch (const ExpressionError& error) {
    return "at `" + text.substr(error.offset(), error.length()) + "`";
  }
}

}  // namespace

TEST_CASE("no height overflows the stack, in any domain") {
  for (const High& each : high) {
    INFO(each.name);
    Forest forest;
    const auto wrapped = [&](ExpressionPointer seed) -> const Expression& {
      return forest.wrapped(std::move(seed), [&](ExpressionPointer below) { return each.wrap(forest, std::move(below)); });
    };
    const ExpressionPointer two = forest.node(Kind::number, "2"), x = forest.node(Kind::name, "x");
    NoNames scope;
    FieldTower tower;
    const Expression& root = wrapped(forest.node(Kind::call, "sqrt", {two}));
    const Number value = evaluate_number(root, scope, tower);  // the guard's balls walk here too
    CHECK(to_exact(value) == "sqrt(2)");
    CHECK_THROWS_AS(guard_enclosure(value + Number(1), root, {}, scope, tower), ToolFault);
    const Expression& with_x = wrapped(x);
    CHECK(linear(with_x) == "[1, 0, 0] 0");
    const std::string found = coefficients(with_x);
    CHECK(found == "0 1");
    CHECK(nodes_with_letters(with_x, "x").count(&with_x) == 1);
    CHECK(names_in(wrapped(forest.node(Kind::name, "a"))) == std::vector<std::string>{"a"});
    const Condition condition = {{{ExpressionPointer(ExpressionPointer(), &root), two}, {ComparisonChain::Kind::less}}};
    CHECK(evaluate_condition(condition, scope, tower));
  }
}

TEST_CASE("a high tree of calls, vectors and powers") {
  Forest forest;
  NoNames scope;
  FieldTower tower;
  const ExpressionPointer one = forest.node(Kind::number, "1"), zero = forest.node(Kind::number, "0");
  const Expression& tree = forest.wrapped(one, [&](ExpressionPointer below) {
    const ExpressionPointer vector = forest.node(Kind::vector, "", {zero, std::move(below), zero});
    const ExpressionPointer power = forest.node(Kind::power, "", {forest.node(Kind::component, "y", {vector}), one});
    return forest.node(Kind::call, "abs", {power});
  });
  CHECK(evaluate_number(tree, scope, tower) == Number(1));
}

TEST_CASE("a high name with signs, where a plane's name is wanted") {
  Forest forest;
  NoNames scope(2);
  FieldTower tower;
  const ExpressionPointer name = forest.node(Kind::name, "a");
  const Expression& minus = forest.wrapped(name, [&](ExpressionPointer below) {
    return forest.node(Kind::subtract, "", {std::move(below), name});
  });
  const ExpressionPointer shared(ExpressionPointer(), &minus);
  const ExpressionPointer meet = forest.node(Kind::call, "meet", {shared, shared});
  CHECK_THROWS_AS(evaluate(*meet, scope, tower), ExpressionError);
}

TEST_CASE("balls hold the exact value, and no other") {
  for (const char* text : {"2",
                           "0.125",
                           "-3",
                           "1 + 1/3",
                           "1 - 1/3",
                           "2*3",
                           "2/3",
                           "2^10",
                           "2^(1/2)",
                           "(-8)^(2/3)",
                           "sqrt(2)",
                           "cbrt(-2)",
                           "abs(1 - sqrt(2))",
                           "min(3, sqrt(2), 2)",
                           "max(1, sqrt(2), 0)",
                           "cos(40 deg)",
                           "sin(pi/5)",
                           "tan(30 deg)",
                           "root(x^3 - x - 1, 1.3)",
                           "root(x^2 - 2, -1)",
                           "dot([1, 2, 3], [sqrt(2), 5, 6])",
                           "norm([1, 2, 3])",
                           "[1, sqrt(3), 3].y",
                           "cross([1, 2, 3], [0, 1, sqrt(5)]).x",
                           "mod(sqrt(5), 1)",
                           "cos(acos(1/3))",
                           "sin(asin(1/3))",
                           "tan(atan(2))",
                           "cos(angle([1, 0, 0], [1, 2, 2]))",
                           "cos(3*acos(1/3) - pi)"}) {
    INFO(text);
    NoNames scope;
    FieldTower tower;
    const ExpressionPointer tree = parse_expression(text);
    const Number value = evaluate_number(*tree, scope, tower);
    CHECK_NOTHROW(guard_enclosure(value, *tree, {}, scope, tower));
    CHECK_THROWS_AS(guard_enclosure(value + Number::fraction(1, 1000), *tree, {}, scope, tower), ToolFault);
  }
}

TEST_CASE("linear forms") {
  const auto form = [](const std::string& text) { return told(text, linear); };
  CHECK(form("3") == "[0, 0, 0] 3");
  CHECK(form("x - 2*y + z/4 - 1") == "[1, -2, 1/4] -1");
  CHECK(form("-(x + 1)*sqrt(2)") == "[-sqrt(2), 0, 0] -sqrt(2)");
  CHECK(form("2*(3*(x + y))/6 + root(x^2 - 4, 1)*z") == "[1, 1, 2] 0");
  CHECK(form("x*y/0") == "at `0`");  // the divisor is looked at first
  CHECK(form("x*y") == "at `x*y`");
  CHECK(form("(x*y)*(1/0)") == "at `(x*y)`");
  CHECK(form("1/x") == "at `x`");
  CHECK(form("x^1") == "at `x^1`");
  CHECK(form("sqrt(x)") == "at `sqrt(x)`");
  CHECK(form("1 + nothing + x*x") == "at `nothing`");
}

TEST_CASE("polynomials") {
  const auto polynomial = [](const std::string& text) { return told(text, coefficients); };
  CHECK(polynomial("7") == "7");
  CHECK(polynomial("x^3 - x - 1") == "-1 -1 0 1");
  CHECK(polynomial("-(x + 1)*(x - 1)/2") == "1/2 0 -1/2");
  CHECK(polynomial("(x + 1)^0") == "1");
  CHECK(polynomial("(x - root(x^2 - 4, 1))^2") == "4 -4 1");
  CHECK(polynomial("sqrt(2)^2*x") == "0 2");
  CHECK(polynomial("(x + sqrt(2))/0") == "at `0`");
  CHECK(polynomial("(x + sqrt(2))^(1/2)") == "at `(1/2)`");
  CHECK(polynomial("(x + sqrt(2))^2") == "at `sqrt(2)`");
  CHECK(polynomial("1/x") == "at `x`");
  CHECK(polynomial("2^x") == "at `x`");
  CHECK(polynomial("sin(x)") == "at `sin(x)`");
}

TEST_CASE("names, and the letters of coordinates") {
  const auto names = [](const std::string& text) {
    std::string list;
    for (const std::string& each : names_in(*parse_expression(text))) list += each;
    return list;
  };
  CHECK(names("b + a*b - c.x + pi") == "bac");
  CHECK(names("foot(p, plane(q)) + meet(a, b, c(d))") == "p");
  CHECK(names("f(a, [b, c, x])^d") == "abcd");
  const auto letters = [](const std::string& text) {
    return std::to_string(nodes_with_letters(*parse_expression(text), "xz").size());
  };
  CHECK(letters("x + y") == "2");
  CHECK(letters("root(x^2 - x, z)*3") == "3");
  CHECK(letters("root(x^2, 1) + xz") == "0");
  CHECK(letters("root() + x") == "2");
}

TEST_CASE("a domain chooses what is walked, and in which order") {
  std::string seen;
  const auto walk = [&](const std::string& text) {
    seen.clear();
    // Numbers that the first 0 decides, read from the last operand on; what stands in `f` is not looked at.
    return fold<int>(*parse_expression(text), [&](const Expression& at, const Operands<int>& operands) -> FoldStep<int> {
      if (operands.empty()) seen += at.text;
      if (at.kind == Kind::number) return std::stoi(at.text);
      if (at.text == "f") return 5;
      if (!operands.empty() && operands.back() == 0) return 0;
      if (operands.size() < at.operands.size()) return Walk{at.operands[at.operands.size() - 1 - operands.size()].get()};
      return operands[0] * operands[1];
    });
  };
  CHECK(walk("2*3*f(7)") == 30);
  CHECK(seen == "f32");
  CHECK(walk("2*(3*0)*4") == 0);
  CHECK(seen == "40");
  look_through(
      *parse_expression("g(a, [b, c, 2], -d) + h"),
      [&](const Expression& at) { seen += at.kind == Kind::name || at.kind == Kind::call ? at.text : ""; },
      [](const Expression& at, std::size_t i) { return at.kind != Kind::vector || i == 1; });
  CHECK(seen == "40gacdh");
}
