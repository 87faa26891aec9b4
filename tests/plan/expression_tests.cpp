// SPDX-License-Identifier: GPL-3.0-or-later
// The grammar of expressions, the place of every error, and the helpers for names.
#include "plan/expression.hpp"
#include "plan/spelling.hpp"

#include <catch2/catch.hpp>

using namespace cutproof;

namespace {

/// The tree with all its parentheses.
std::string shape(const Expression& e) {
  using Kind = Expression::Kind;
  std::string list;
  for (const ExpressionPointer& operand : e.operands) list += (list.empty() ? "" : ", ") + shape(*operand);
  const auto binary = [&](const char* sign) { return "(" + shape(*e.operands[0]) + sign + shape(*e.operands[1]) + ")"; };
  switch (e.kind) {
    case Kind::number:
    case Kind::name:
      return e.text;
    case Kind::call:
      return e.text + "(" + list + ")";
    case Kind::vector:
      return "[" + list + "]";
    case Kind::component:
      return shape(*e.operands[0]) + "." + e.text;
    case Kind::negate:
      return "(-" + list + ")";
    case Kind::add:
      return binary(" + ");
    case Kind::subtract:
      return binary(" - ");
    case Kind::multiply:
      return binary("*");
    case Kind::divide:
      return binary("/");
    case Kind::power:
      return binary("^");
    case Kind::degrees:
      return "{" + list + " deg}";
  }
  return "?";
}

std::string shape(const std::string& text) {
  return shape(*parse_expression(text));
}

struct Fault {
  std::string text, message;
  std::size_t offset, length;
};

}  // namespace

TEST_CASE("the grammar") {
  CHECK(shape("1+2*3") == "(1 + (2*3))");
  CHECK(shape("1-2-3") == "((1 - 2) - 3)");
  CHECK(shape("8/4/2") == "((8/4)/2)");
  CHECK(shape("-2^2") == "(-(2^2))");
  CHECK(shape("2^-1") == "(2^(-1))");
  CHECK(shape("2^3^2") == "(2^(3^2))");
  CHECK(shape("a + -b") == "(a + (-b))");
  CHECK(shape("- - +a") == "(-(-a))");
  CHECK(shape("-a*b") == "((-a)*b)");
  CHECK(shape("a*-b^2") == "(a*(-(b^2)))");
  CHECK(shape("360/7 deg") == "{(360/7) deg}");
  CHECK(shape("90 deg + acos(1/3)") == "({90 deg} + acos((1/3)))");
  CHECK(shape("(1 + 2) deg") == "{(1 + 2) deg}");
  CHECK(shape("-30deg") == "{(-30) deg}");
  CHECK(shape("[1, a, 2*b].x") == "[1, a, (2*b)].x");
  CHECK(shape("M.x^2 + (A - B).y") == "((M.x^2) + (A - B).y)");
  CHECK(shape("max(1, 2,3)") == "max(1, 2, 3)");
  CHECK(shape(" sqrt ( 2 ) ") == "sqrt(2)");
  CHECK(shape("f()") == "f()");
  CHECK(shape("3 + .5 + 0.125 + 1e-3 + 2.5E+7 + 7.") == "(((((3 + .5) + 0.125) + 1e-3) + 2.5E+7) + 7.)");
  CHECK(shape("a_1*_b2") == "(a_1*_b2)");
  CHECK(shape("pi/2") == "(pi/2)");
  CHECK(shape("degree + deg1") == "(degree + deg1)");
}

TEST_CASE("nodes know their place") {
  const ExpressionPointer tree = parse_expression("1 + foo( 2*b ) ");
  CHECK(tree->offset == 0);
  CHECK(tree->length == 14);
  const Expression& call = *tree->operands[1];
  CHECK(call.offset == 4);
  CHECK(call.length == 10);
  CHECK(call.operands[0]->offset == 9);
  CHECK(call.operands[0]->length == 3);
  CHECK(parse_expression("2*(a+b)")->operands[1]->offset == 2);
  CHECK(parse_expression("2*(a+b)")->operands[1]->length == 5);
}

TEST_CASE("every malformed expression has its message and its place") {
  const Fault faults[] = {
      {"", "an expression is expected here, and there is none", 0, 0},
      {"   ", "an expression is expected here, and there is none", 0, 3},
      {"(1+2", "the `(` opened here is never closed", 0, 1},
      {"max(1", "the `(` opened here is never closed", 3, 1},
      {"[1, 2", "the `[` opened here is never closed", 0, 1},
      {"[1]", "a vector has three components, not 1", 0, 3},
      {"2)", "this `)` closes nothing", 1, 1},
      {"(1]", "this `]` does not match the `(` that is open", 2, 1},
      {"1,5", "a comma cannot stand here", 1, 1},
      {"2 sqrt(3)", "an operator is missing before `sqrt`", 2, 4},
      {"2a", "an operator is missing before `a`", 1, 1},
      {"(a)(b)", "an operator is missing before `(`", 3, 1},
      {"1.2.3", "a number has at most one decimal point", 3, 1},
      {"3*", "the expression ends where a number, a name or a parenthesis is expected", 2, 1},
      {"3*)", "a number, a name or a parenthesis is expected before `)`", 2, 1},
      {"*2", "`*` cannot stand here", 0, 1},
      {"2**3", "`**` cannot stand here", 1, 2},
      {"90 deg/2", "`deg` ends a product, so nothing can follow it but + or -", 6, 1},
      {"deg", "`deg` needs a number in front of it", 0, 3},
      {"90 deg deg", "`deg` is written once, after a product", 7, 3},
      {"a.b", "after the point a component is expected: `.x`, `.y` or `.z`", 1, 2},
      {"a.xy", "after the point a component is expected: `.x`, `.y` or `.z`", 1, 3},
      {"2 \xC3\x97 3", "`\xC3\x97` cannot stand here", 2, 2},
      {"\xCF\x80/2", "`\xCF\x80` cannot stand here", 0, 2},
      {"90\xC2\xB0", "`\xC2\xB0` cannot stand here", 2, 2},
      {"a = b", "`=` cannot stand here", 2, 1},
      {"a\x01", "a control character cannot stand here", 1, 1},
  };
  for (const Fault& fault : faults) {
    INFO(fault.text);
    try {
      parse_expression(fault.text);
      FAIL("no error");
    } catch (const ExpressionError& error) {
      CHECK(error.what() == fault.message);
      CHECK(error.offset() == fault.offset);
      CHECK(error.length() == fault.length);
    }
  }
  try {
    parse_expression("max(1");
  } catch (const ExpressionError& error) {
    CHECK(error.hint().find("put quotes round the expression") != std::string::npos);
  }
}

TEST_CASE("deep and long expressions end in time") {
  const std::string open(100000, '('), minus(100000, '-');
  CHECK_THROWS_AS(parse_expression(open), LimitReached);
  CHECK_THROWS_AS(parse_expression(minus + "1"), LimitReached);
  CHECK_THROWS_AS(parse_expression(std::string(100000, '[')), LimitReached);
  std::string power = "2", sum = "1", names = "sqrt(2)";
  for (int i = 0; i < 100000; ++i) {
    power += "^2";
    sum += "+1";
  }
  CHECK_THROWS_AS(parse_expression(power), LimitReached);
  CHECK_THROWS_AS(parse_expression(sum), LimitReached);
  std::string nested = "1";
  for (int i = 0; i < 150; ++i) nested = "(" + nested + ")";
  CHECK(shape(nested) == "1");
  for (int i = 0; i < 100; ++i) nested = "(" + nested + ")";
  CHECK_THROWS_AS(parse_expression(nested), LimitReached);
}

TEST_CASE("names") {
  CHECK(names_in(*parse_expression("a + sqrt(b)*a + root(x^2 - c, d) + pi + M.x + 3 deg")) ==
        std::vector<std::string>{"a", "b", "c", "d", "M"});
  CHECK(names_in(*parse_expression("meet(A, B, C) + foot(P, Q)")) == std::vector<std::string>{"P"});
  CHECK(is_reserved_name("deg"));
  CHECK(is_reserved_name("x"));
  CHECK(is_reserved_name("sqrt"));
  CHECK_FALSE(is_reserved_name("w"));
  CHECK(is_identifier("_a1"));
  CHECK_FALSE(is_identifier("1a"));
  CHECK_FALSE(is_identifier("a-b"));
  CHECK_FALSE(is_identifier(""));
  CHECK_FALSE(is_identifier("\xC3\xA4"));
  CHECK(nearest_word("sqr", {"sqrt", "cbrt"}) == "sqrt");
  CHECK(nearest_word("hieght", {"height", "width"}) == "height");
  CHECK(nearest_word("a", {"b", "c"}).empty());
  CHECK(nearest_word("apple", {"zebra"}).empty());
  CHECK(nearest_word("hull", {"box", "convex-hull"}) == "convex-hull");
  CHECK(nearest_word("ull", {"box", "convex-hull"}).empty());
}
