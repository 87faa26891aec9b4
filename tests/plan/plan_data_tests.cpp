// SPDX-License-Identifier: GPL-3.0-or-later
// Plans as data: what is written reads back as the same values, whatever stands in them, and places are paths.
#include "cutproof/plan.hpp"
#include "plan/document.hpp"
#include "plan/plan_paths.hpp"
#include "plan/plan_value.hpp"

#include <catch2/catch.hpp>

#include <filesystem>
#include <fstream>
#include <iostream>
#include <random>
#include <sstream>

using namespace cutproof::plan;
using cutproof::Diagnostic;
using cutproof::Document;
using cutproof::PlanPaths;
using cutproof::PlanValue;
using cutproof::read_document;
using cutproof::value_of;
using cutproof::write_plan;

namespace {

std::string shown(const PlanValue& value) {
  if (value.kind() == PlanValue::Kind::text) return "<" + value.text() + ">";
  std::string text = value.kind() == PlanValue::Kind::list ? "[" : "{";
  for (const PlanValue::Entry& entry : value.entries()) text += "<" + entry.key + ">" + shown(entry.value);
  return text + (value.kind() == PlanValue::Kind::list ? "]" : "}");
}

PlanValue read_back(const std::string& text) {
  const Document document = read_document(text);
  INFO(text);
  for (const Diagnostic& each : document.diagnostics()) UNSCOPED_INFO(each.line << ": " << each.message);
  CHECK(document.diagnostics().empty());
  return value_of(document.root());
}

void check_round_trip(const PlanValue& value) {
  const std::string text = write_plan(cutproof::Plan::of(value));
  INFO(text);
  CHECK(shown(read_back(text)) == shown(value));
  CHECK(write_plan(cutproof::Plan::of(read_back(text))) == text);
}

}  // namespace

TEST_CASE("every plan and broken plan is written so that it reads back as the same values") {
  int count = 0;
  for (const char* folder : {PLANS_FOLDER, PLANS_FOLDER "/broken"})
    for (const auto& file : std::filesystem::directory_iterator(folder)) {
      if (file.path().extension() != ".yaml") continue;
      std::ifstream stream(file.path());
      std::stringstream text;
      text << stream.rdbuf();
      INFO(file.path());
      const Document document = read_document(text.str());
      if (!document.diagnostics().empty()) continue;
      check_round_trip(value_of(document.root()));
      ++count;
    }
  CHECK(count > 60);
}

TEST_CASE("texts of any kind read back as themselves, as keys too") {
  const unsigned seed = 20240607;
  std::cout << "plan values, seed " << seed << '\n';
  std::mt19937 dice(seed);
  const std::vector<std::string> bits = {"a",
                                         "Z",
                                         "9",
                                         "_",
                                         " ",
                                         "  ",
                                         "-",
                                         "- ",
                                         "?",
                                         ":",
                                         ": ",
                                         "#",
                                         " #",
                                         ",",
                                         "[",
                                         "]",
                                         "{",
                                         "}",
                                         "(",
                                         ")",
                                         "*",
                                         "&",
                                         "!",
                                         "|",
                                         ">",
                                         "'",
                                         "\"",
                                         "%",
                                         "@",
                                         "`",
                                         "~",
                                         "\\",
                                         "\n",
                                         "\t",
                                         "\r",
                                         "=",
                                         "<",
                                         "<<",
                                         "+",
                                         ".",
                                         "...",
                                         "---",
                                         "null",
                                         "\x01",
                                         "\x7f",
                                         "\xC2\x85",
                                         "\xE2\x80\xA8",
                                         "\xE2\x80\xAE",
                                         "\xC3\xA9",
                                         "\xCF\x80",
                                         "\xEF\xBB\xBF",
                                         "\xEF\xBF\xBF",
                                         "\xF0\x9F\x90\x8C"};
  const auto text = [&] {
    std::string result;
    for (int left = static_cast<int>(dice() % 5); left >= 0; --left) result += bits[dice() % bits.size()];
    return result;
  };
  for (int round = 0; round < 400; ++round) {
    PlanValue root = PlanValue::mapping(), inner = PlanValue::mapping(), list = PlanValue::list();
    for (int i = 0; i < 3; ++i) {
      std::string key = text();
      if (key == "<<") key = "x";  // a plan has no merge keys, in quotes or not
      if (inner.find(key) == nullptr) inner.add(key, text());
      list.add(text());
    }
    root.add("texts", list).add("mapping", inner);
    root.add("steps", PlanValue::list({inner, PlanValue::mapping().add("long", std::string(100, 'x')).add("inner", inner)}));
    check_round_trip(root);
  }
}

TEST_CASE("deep, long and empty values read back") {
  PlanValue deep = PlanValue::list({"x"});
  for (int level = 0; level < 60; ++level)
    deep = level % 2 == 0 ? PlanValue::mapping().add("key", deep).add("other", std::string(30, 'y'))
                          : PlanValue::list({deep, deep.kind() == PlanValue::Kind::list ? 1 : 2});
  check_round_trip(PlanValue::mapping().add("a", deep).add("b", PlanValue::list()).add("c", PlanValue::mapping()));
  PlanValue points = PlanValue::list();
  for (int i = 0; i < 100; ++i) points.add(PlanValue::list({i, -i, "sqrt(2)"}));
  check_round_trip(PlanValue::mapping().add(
      "solids", PlanValue::mapping().add("S", PlanValue::mapping().add("convex-hull", points)).add("T", "S")));
}

TEST_CASE("every part of a plan is written as the language has it") {
  cutproof::Plan all("Nine ways to move a box");
  all.source("Oriel & Finch").allow_mirror();
  all.let("a", "sqrt(2)").let("n", 3);
  all.point("P", {1, "a", 0}).point("Q", "2*P");
  all.plane("p", Plane::through("P", "Q", {0, 0, 1}))
      .plane("q", Plane::at("P", "Q - P"))
      .plane("r", Plane::equation("x + 2*y = 1"))
      .plane("s", Plane::between("P", "Q"))
      .plane("t", Plane::parallel("s", {0, 0, 0}));
  all.motion("m", Motion::translation({0, 0, "-a"}))
      .motion("turn", Motion::rotation("z", "90 deg"))
      .motion("flip", Motion::half_turn({"P", "Q"}))
      .motion("back", Motion::inverse("turn"))
      .motion("mirror", Motion::reflection("r"))
      .motion("onto", Motion::map({"P", "Q", "P + Q"}, {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}}))
      .motion("both", Motion::sequence({"m", Motion::translation("P")}));
  all.solid("B", Solid::box({1, 2, 3}))
      .solid("C", Solid::box({1, 2, 3}, "P"))
      .solid("D", Solid::prism({{0, 0}, {2, 0}, {1, 1}}, "a"))
      .solid("E", Solid::prism_along({"P", "Q", "P + Q"}, {0, 0, 1}))
      .solid("F", Solid::pyramid({{0, 0}, {2, 0}, {1, 1}}, {0, 0, 1}))
      .solid("G", Solid::convex_hull({{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}}))
      .solid("H", Solid::faces({{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}}, {{0, 2, 1}, {0, 1, 3}, {0, 3, 2}, {1, 2, 3}}))
      .solid("I", Solid::regular("cube", "a"))
      .solid("J", Solid::regular("cube", "a", "P"))
      .solid("K", Solid::union_of({"B", Solid::moved("C", "m")}))
      .solid("L", Solid::intersection_of({"B", "C"}))
      .solid("M", Solid::difference_of({"B", "C"}))
      .solid("N", Solid::scaled("B", 2))
      .solid("O", Solid::scaled("B", 2, "P"))
      .solid("R", Solid::mirrored("B", "r"));
  all.start("T", "B").start("T.2", "C");
  all.step(Step::cut("T", "p").into({"left", "right"}).title("in two"))
      .step(Step::cut({"left", "right"}, std::vector<Plane>{"q", Plane::equation("z = 1")}).into("slab.*"))
      .step(Step::move({{"left", "m"}, {"T.*", Motion::half_turn("x")}}).note("a: note"))
      .step(Step::move({"left", "right"}, "m"))
      .step(Step::join("all", "W"))
      .step(Step::split("W"))
      .step(Step::expect({{"pieces", 2}, {"connected", "all"}}));
  all.goal("first", "B").goal("second", "C");
  CHECK(write_plan(all) == R"(cutproof: 1
title: Nine ways to move a box
source: "Oriel & Finch"
mirror: allow

let:
  a: sqrt(2)
  n: 3

points:
  P: [1, a, 0]
  Q: 2*P

planes:
  p: { through: [P, Q, [0, 0, 1]] }
  q: { point: P, normal: Q - P }
  r: { equation: x + 2*y = 1 }
  s: { between: [P, Q] }
  t: { parallel: s, through: [0, 0, 0] }

motions:
  m: { translation: [0, 0, -a] }
  turn: { rotation: { about: z, angle: 90 deg } }
  flip: { half-turn: [P, Q] }
  back: { inverse: turn }
  mirror: { reflection: r }
  onto: { map: { from: [P, Q, P + Q], to: [[0, 0, 0], [1, 0, 0], [0, 1, 0]] } }
  both: [m, { translation: P }]

solids:
  B: { box: { size: [1, 2, 3] } }
  C: { box: { size: [1, 2, 3], at: P } }
  D: { prism: { base: [[0, 0], [2, 0], [1, 1]], height: a } }
  E: { prism: { base: [P, Q, P + Q], along: [0, 0, 1] } }
  F: { pyramid: { base: [[0, 0], [2, 0], [1, 1]], apex: [0, 0, 1] } }
  G: { convex-hull: [[0, 0, 0], [1, 0, 0], [0, 1, 0], [0, 0, 1]] }
  H:
    faces:
      points: [[0, 0, 0], [1, 0, 0], [0, 1, 0], [0, 0, 1]]
      faces: [[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]]
  I: { regular: { name: cube, edge: a } }
  J: { regular: { name: cube, edge: a, at: P } }
  K: { union: [B, { moved: { solid: C, by: m } }] }
  L: { intersection: [B, C] }
  M: { difference: [B, C] }
  N: { scaled: { solid: B, factor: 2 } }
  O: { scaled: { solid: B, factor: 2, about: P } }
  R: { mirrored: { solid: B, in: r } }

start:
  T: B
  T.2: C

steps:
  - { cut: T, by: p, into: [left, right], title: in two }
  - { cut: [left, right], by: [q, { equation: z = 1 }], into: slab.* }
  - { move: { left: m, T.*: { half-turn: x } }, note: "a: note" }
  - { move: [{ pieces: [left, right], by: m }] }
  - { join: all, as: W }
  - { split: W }
  - { expect: { pieces: 2, connected: all } }

goal:
  first: B
  second: C
)");
  CHECK(read_document(write_plan(all)).diagnostics().empty());
}

TEST_CASE("places are paths") {
  const std::string text = R"(cutproof: 1
start: { T.1: { box: { size: [1, 2, 3] } } }
steps:
  - title: a step
    cut: T.1
    by: { through: [A, B, C] }
  - { cut: T.1, by: p }
)";
  const PlanPaths paths(text);
  CHECK(paths.at({1, 1}, 8) == "cutproof");
  CHECK(paths.at({1, 11}, 1) == "cutproof");
  CHECK(paths.at({2, 10}, 3) == "start[\"T.1\"]");
  CHECK(paths.at({2, 35}, 1) == "start[\"T.1\"].box.size[1]");
  CHECK(paths.at({4, 5}, 5) == "steps[0].title");
  CHECK(paths.at({4, 5}, 13) == "steps[0]");
  CHECK(paths.at({5, 5}, 8) == "steps[0].cut");
  CHECK(paths.at({6, 9}, 4) == "steps[0].by");
  CHECK(paths.at({6, 24}, 1) == "steps[0].by.through[1]");
  CHECK(paths.at({7, 5}, 3) == "steps[1]");
  CHECK(paths.at({7, 7}, 3) == "steps[1].cut");
  CHECK(paths.at({0, 0}, 0).empty());
  CHECK(PlanPaths("a: [").at({1, 1}, 1).empty());
  CHECK(PlanPaths("\xFF").at({1, 1}, 1).empty());
}
