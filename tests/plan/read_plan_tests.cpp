// SPDX-License-Identifier: GPL-3.0-or-later
// Plans as exact data: every number in one field, names in any order, errors side by side. Single errors are in
// tests/hostile.
#include "plan/read_plan.hpp"

#include "number/print.hpp"

#include <catch2/catch.hpp>

#include <string>
#include <vector>

using namespace cutproof;

namespace {

std::string plan_with(const std::string& definitions, const std::string& steps = "") {
  return "cutproof: 1\n" + definitions + "start: { T: { box: { size: [1, 1, 1] } } }\n" +
         (steps.empty() ? "" : "steps:\n" + steps) + "goal: { box: { size: [1, 1, 1] } }\n";
}

std::vector<std::string> errors_of(const std::string& text) {
  try {
    read_plan(text);
  } catch (const InvalidPlan& error) {
    std::vector<std::string> all;
    for (const Diagnostic& each : error.diagnostics())
      all.push_back(std::to_string(each.line) + ":" + std::to_string(each.column) + " " + each.message);
    return all;
  }
  return {};
}

template <class Kind>
const Kind& step(const ExactPlan& plan, std::size_t index) {
  return std::get<Kind>(plan.steps.at(index).action);
}

}  // namespace

TEST_CASE("all numbers of a plan lie in its field, also those read before it was complete") {
  const ExactPlan plan = read_plan(
      plan_with("let: { a: sqrt(2) }\n",
                "  - cut: T\n    by: { equation: \"x = 1/2\" }\n"
                "  - move: { T.1: { rotation: { about: z, angle: 45 deg } }, T.2: { translation: [0, 3^(1/4), 0] } }\n"
                "  - expect: { volume: { T.1: 1/2, T.2: a/(2*a) } }\n"));
  CHECK(plan.field->degree() == 8);
  CHECK(plan.field == &plan.tower->top());
  const CutStep& cut = step<CutStep>(plan, 0);
  CHECK(&cut.planes[0].offset.field() == plan.field);
  const MoveStep& move = step<MoveStep>(plan, 1);
  CHECK(&move.entries[1].motion.shift().y.field() == plan.field);
  CHECK(move.entries[0].motion.rows()[0].x == divide(Number(1), plan.tower->square_root(Number(2))));
  for (const auto& volume : step<ExpectStep>(plan, 2).volumes) CHECK(std::get<1>(volume) == Number::fraction(1, 2));
}

TEST_CASE("unused names adjoin nothing, and are checked all the same") {
  CHECK(read_plan(
            plan_with(
                "let: { a: sqrt(2), b: sqrt(3), c: sqrt(5) }\nsolids: { s: { regular: { name: icosahedron, edge: b } } }\n"))
            .field->degree() == 1);
  // Together these have degree 64, over the limit; each alone has not.
  CHECK_NOTHROW(read_plan(plan_with("let: { a: sqrt(2), b: sqrt(3), c: sqrt(5), d: sqrt(7), e: sqrt(11), f: sqrt(13) }\n")));
  CHECK_THROWS_AS(read_plan(plan_with("let: { a: sqrt(2)+sqrt(3)+sqrt(5)+sqrt(7)+sqrt(11)+sqrt(13) }\n")), PlanLimit);
  CHECK(errors_of(plan_with("planes: { p: { through: [[0,0,0], [1,1,1], [2,2,2]] } }\nmotions: { m: { reflection: q } }\n"))
            .size() == 2);
}

TEST_CASE("names may be used before they are defined, in chains of any length") {
  for (const bool forwards : {true, false}) {
    std::string text = "let:\n";
    const int length = 3000;
    for (int i = 0; i < length; ++i) {
      const int at = forwards ? i : length - 1 - i;
      text +=
          "  n" + std::to_string(at) + ": " + (at + 1 == length ? "sqrt(2)" : "n" + std::to_string(at + 1) + " + 1") + "\n";
    }
    const ExactPlan plan = read_plan(plan_with(text, "  - expect: { volume: { T: n0 } }\n"));
    CHECK(std::get<1>(step<ExpectStep>(plan, 0).volumes[0]) == plan.tower->square_root(Number(2)) + Number(length - 1));
  }
}

TEST_CASE("a cycle is told once, from its first name on, however long it is and wherever it is met") {
  for (const int length : {1, 2, 16, 17, 18, 50, 400}) {
    std::string text = "let:\n  before: n3 + n0\n";
    for (int i = 0; i < std::max(length, 4); ++i)
      text += "  n" + std::to_string(i) + ": n" + std::to_string(i < length ? (i + 1) % length : 0) + "\n";
    const std::vector<std::string> errors = errors_of(plan_with(text, "  - expect: { volume: { T: n2 } }\n"));
    CAPTURE(length);
    REQUIRE(errors.size() == 1);
    CHECK(errors[0].substr(0, 29) == "4:3 `n0` is defined by itself");
  }
}

TEST_CASE("the spaces of names are apart, but let and points share one") {
  CHECK_NOTHROW(read_plan(
      "cutproof: 1\nlet: { a: 1 }\nplanes: { a: { equation: \"x = a/2\" } }\nmotions: { a: { translation: [a, 0, 0] } }\n"
      "solids: { a: { box: { size: [a, 1, 1] } } }\nstart: { a: a }\nsteps:\n  - { cut: a, by: a, into: [b, c] }\n"
      "  - move: { b: a }\ngoal: { a: a }\n"));
  CHECK(errors_of(plan_with("let: { a: 1 }\npoints: { a: [0, 0, 0] }\n")) ==
        std::vector<std::string>{"3:11 `a` is defined twice: it stands in line 2, too"});
  CHECK_NOTHROW(
      read_plan(plan_with("planes: { x-1.b: { equation: \"x = 1\" }, 'y': { parallel: x-1.b, through: [0, 0, 0] } }\n")));
}

TEST_CASE("independent errors are told in one run") {
  const std::vector<std::string> errors = errors_of(
      "cutproof: 1\nlet: { a: 1/0, b: a + 1, sqrt: 2 }\npoints: { P: [sqrt(-1), 2, qq] }\nstart: { T: { box: { sise: [1, 1, "
      "1] } } }\n"
      "steps:\n  - cut: \"T U\"\n    by: { equation: \"x*x = 1\" }\n    into: [A]\n  - flip: T\n  - { join: T, as: W, by: 3 "
      "}\ngoal: nothing\n");
  CAPTURE(errors);
  CHECK(errors.size() == 11);
}

TEST_CASE("goals are solids, lists or mappings") {
  const std::string head = "cutproof: 1\nsolids: { S: { box: { size: [1, 1, 1] } } }\nstart: { T: S }\n";
  const auto names = [&](const std::string& goal) {
    std::string all;
    for (const NamedSolid& each : read_plan(head + "goal: " + goal + "\n").goals) all += each.name + ";";
    return all;
  };
  CHECK(names("S") == "S;");
  CHECK(names("{ box: { size: [1, 1, 1] } }") == "goal;");
  CHECK(names("[S, { union: [S, S] }]") == "S;goal 2;");
  CHECK(names("{ one: S, two: S }") == "one;two;");
  CHECK(names("{ one: S }") == "one;");
  CHECK(errors_of(head + "goal: { box: S, two: S }\n").size() == 1);
}

TEST_CASE("solids are read one by one, each with a field of its own, or together in one") {
  const std::string text =
      "cutproof: 1\nlet: { a: sqrt(2) }\nsolids:\n  one: { box: { size: [a, 1, 1] } }\n  two: { box: { size: [sqrt(3), 1, "
      "1] } }\n"
      "  bad: { box: { size: [0, 1, 1] } }\n";
  CHECK(solid_names(text) == std::vector<std::string>{"one", "two", "bad"});
  CHECK(read_solid(text, "one").tower->top().degree() == 2);
  CHECK(read_solid(text, "one").place.line == 4);
  FieldTower tower;
  read_solid_into(text, "one", tower);
  read_solid_into(text, "two", tower);
  CHECK(tower.top().degree() == 4);
  CHECK_THROWS_AS(read_solid(text, "bad"), InvalidPlan);
  CHECK_THROWS_AS(read_solid(text, "tow"), InvalidPlan);
}

TEST_CASE("what is wrong comes before what is too large") {
  CHECK_THROWS_AS(read_plan(plan_with("let: { a: 2^(10^9) }\n")), PlanLimit);
  CHECK(errors_of(plan_with("let: { a: 2^(10^9), b: c }\nplanes: { p: { level: 1 } }\n")).size() == 2);
}
