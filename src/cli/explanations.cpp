// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/explanations.hpp"

#include <algorithm>
#include <iterator>

namespace cutproof {

namespace {

struct Explanation {
  std::string_view code, short_form, meaning;
  std::string_view plan;           ///< that has this finding; empty where no plan is to blame
  std::string_view wrong, mended;  ///< a part of the plan, and what stands there when it is right
};

constexpr Explanation explanations[] = {
    {"plane-misses", "a cut does not pass through its piece",
     R"(A plane cuts a piece when the piece has interior points on both sides of it; touching is not
enough. The cut is dropped, and what depends on it is left out. Usually a sign is wrong, or an
earlier step moved the piece.)",
     R"(cutproof: 1
start: { T: { box: { size: [2, 1, 1] } } }
steps:
  - { cut: T, by: { equation: x = 3 }, into: [right, left] }
goal: { box: { size: [2, 1, 1] } }
)",
     "x = 3", "x = 1"},
    {"mirrored", "a motion turns a piece into its mirror image",
     R"(No real piece can be moved like this. The motion is carried out all the same, so that the rest can
be judged. Turn the piece instead of reflecting it; or write `mirror: allow` at the top.)",
     R"(cutproof: 1
start: { T: { box: { size: [1, 1, 1] } } }
steps:
  - { move: { T: { reflection: { equation: x = 1 } } } }
goal: { box: { size: [1, 1, 1], at: [1, 0, 0] } }
)",
     "reflection: { equation: x = 1 }", "half-turn: [[1, 1/2, 0], [1, 1/2, 1]]"},
    {"overlap", "two pieces share interior points",
     R"(After every step pieces may touch, but not overlap. It is told for each pair once, at the step where
it happens first (0: at the start), with the exact volume of what they share. Usually a motion is
wrong; with a tiny volume, a decimal stands where a root should.)",
     R"(cutproof: 1
start: { A: { box: { size: [1, 1, 1] } }, B: { box: { size: [1, 1, 1], at: [5, 0, 0] } } }
steps:
  - { move: { B: { translation: [-9/2, 0, 0] } } }
goal: { box: { size: [2, 1, 1] } }
)",
     "-9/2", "-4"},
    {"join-apart", "pieces that are joined do not hang together",
     R"(Joined pieces must be linked through shared areas of their faces, directly or through others. An
edge or a corner is not enough.)",
     R"(cutproof: 1
start: { A: { box: { size: [1, 1, 1] } }, B: { box: { size: [1, 1, 1], at: [1, 1, 0] } } }
steps:
  - { join: [A, B], as: C }
  - { split: C }
goal: [{ box: { size: [1, 1, 1] } }, { box: { size: [1, 1, 1], at: [1, 1, 0] } }]
)",
     R"(  - { join: [A, B], as: C }
  - { split: C }
)",
     "  - { expect: { pieces: 2 } }\n"},
    {"straddles", "a piece has interior points in two goals",
     R"(Every piece belongs to one goal. Cut it where the goals meet, or make one goal of the two.)",
     R"(cutproof: 1
start: { T: { box: { size: [2, 1, 1] } } }
steps: []
goal: [{ box: { size: [1, 1, 1] } }, { box: { size: [1, 1, 1], at: [1, 0, 0] } }]
)",
     "steps: []", "steps: [{ cut: T, by: { equation: x = 1 } }]"},
    {"expectation-failed", "an `expect` does not hold, or a `split` has a wrong number of names",
     R"(The message says what was found instead of what the plan expects. Either the expectation is wrong,
or a step before it.)",
     R"(cutproof: 1
start: { T: { box: { size: [2, 1, 1] } } }
steps:
  - { cut: T, by: { equation: x = 1 } }
  - { expect: { pieces: 3 } }
goal: { box: { size: [2, 1, 1] } }
)",
     "pieces: 3", "pieces: 2"},
    {"missing", "a region of the goal is not filled",
     R"(At the end the pieces must fill the goal exactly. There is a finding for each connected region
that they leave empty, with its exact volume. Often `excess` stands beside it: a piece lies where
it should not.)",
     R"(cutproof: 1
start: { T: { box: { size: [2, 1, 1] } } }
steps:
  - { cut: T, by: { equation: x = 1 }, into: [right, left] }
  - { move: { right: { translation: [-1, 0, 2] } } }
goal: { box: { size: [1, 1, 2] } }
)",
     "[-1, 0, 2]", "[-1, 0, 1]"},
    {"excess", "a region outside the goal is filled",
     R"(At the end no piece may reach out of the goal. There is a finding for each connected region, with
its exact volume and the pieces that reach into it. Often `missing` stands beside it.)",
     R"(cutproof: 1
start: { T: { box: { size: [2, 1, 1] } } }
steps: []
goal: { box: { size: [2, 1, 1], at: [1, 0, 0] } }
)",
     "steps: []", "steps: [{ move: { T: { translation: [1, 0, 0] } } }]"},
    {"volume-differs", "start and goal differ in volume",
     R"(No step can mend this, since cutting and moving keep the volume: the start or the goal is wrong.)",
     R"(cutproof: 1
start: { T: { box: { size: [2, 1, 1] } } }
steps: []
goal: { box: { size: [2, 1, 2] } }
)",
     "[2, 1, 2]", "[2, 1, 1]"},
    {"dehn-differs", "start and goal differ in their Dehn invariant",
     R"(No step can mend this. Max Dehn proved in 1901 that cutting and moving keep this sum over all edges
of length and dihedral angle. A regular tetrahedron can't become a box, whatever is done to it.)",
     R"(cutproof: 1
start: { T: { regular: { name: tetrahedron, edge: sqrt(2) } } }
steps: []
goal: { box: { size: [1, 1, 1/3] } }
)",
     "goal: { box: { size: [1, 1, 1/3] } }", "goal: { regular: { name: tetrahedron, edge: sqrt(2) } }"},
    {"nothing-selected", "a selection by place takes no piece",
     R"(The step, or this entry of a `move`, is left out, and so is what depends on it. Usually it is the
wrong side of a plane, or the pieces were moved before.)",
     R"(cutproof: 2
start: { T: { box: { size: [2, 1, 1] } } }
steps:
  - { cut: T, by: { equation: x = 1 } }
  - { join: { above: { equation: x = 2 } }, as: right }
goal: { box: { size: [2, 1, 1] } }
)",
     "x = 2", "x = 1"},
    {"no-fit", "no motion does what `lay` or `onto` asks for, or a lemma needs",
     R"(The faces, or the solids, are not congruent; or there is no face in the plane; or no motion that fits
takes points where `corners` says; or a piece is not congruent to the solid that it stands for in a
lemma. If only a mirror image fits, the message says so. The entry, or the `use`, is left out, and
its pieces stay.)",
     R"(cutproof: 2
start: { T: { box: { size: [2, 1, 1] } } }
steps:
  - { move: { T: { onto: { box: { size: [1, 1, 3] } } } } }
goal: { box: { size: [1, 1, 2] } }
)",
     "[1, 1, 3]", "[1, 1, 2]"},
    {"lemma-fails", "a lemma does not hold for the values that it is used with",
     R"(A lemma is checked by itself, once for each set of values. It is told at the first `use` with these
values, and the run goes on as if the lemma held. The report lists what was found in the lemma. Check
it by itself: `cutproof check lemma.yaml --set c=3/2`.)",
     R"(cutproof: 2
lemmas:
  halve:
    parameters: { c: 1 }
    start: { S: { box: { size: [2, 1, 1] } } }
    steps:
      - { cut: S, by: { equation: x = c }, into: [right, left] }
      - { move: { right: { translation: [-1, 1, 0] } } }
    goal: { box: { size: [1, 2, 1] } }
start: { T: { box: { size: [2, 1, 1] } } }
steps:
  - { use: halve, with: { c: 3/2 }, take: T, into: R }
goal: { box: { size: [1, 2, 1] } }
)",
     "{ c: 3/2 }", "{ c: 1 }"},
    {"ambiguous", "several motions do what `lay` or `onto` asks for",
     R"(They put some of the moved pieces to different places. The message tells them in words, and says
which `corners` would choose each. The entry is left out, and its pieces stay.)",
     R"(cutproof: 2
start:
  A: { pyramid: { base: [[0, 0], [2, 0], [2, 1], [0, 1]], apex: [0, 0, 1] } }
  B: { box: { size: [2, 1, 1], at: [0, 0, -1] } }
steps:
  - { move: { A: { lay: { in: { equation: z = 0 } }, against: { of: B, in: { equation: z = 0 } } } } }
goal:
  A: { pyramid: { base: [[0, 0], [2, 0], [2, 1], [0, 1]], apex: [2, 1, 1] } }
  B: { box: { size: [2, 1, 1], at: [0, 0, -1] } }
)",
     "in: { equation: z = 0 } } } }", "in: { equation: z = 0 } }, corners: { \"[0, 0, 0]\": [2, 1, 0] } } }"},
    {"invalid-input", "the plan cannot be read, or asks for something without meaning",
     R"(The message has the place, what is wrong there, and what to write instead. Several errors are told at
once. Such a plan is `invalid`, exit code 2: it is neither right nor wrong.)",
     R"(cutproof: 1
start: { T: { box: { size: [2, 1, 1] } } }
steps:
  - { move: { T: { rotation: { about: z, angle: 180 } } } }
goal: { box: { size: [2, 1, 1], at: [-2, -1, 0] } }
)",
     "180", "180 deg"},
    {"limit-reached", "a limit was reached before the plan was decided",
     R"(The message says which limit, where, and what is likely meant: such as `acos(1/sqrt(3))` where an angle
has so many decimals. Such a plan is `stopped`, exit code 3, and nothing is said about what was not
reached. An interrupt counts as a limit, too.)",
     R"(cutproof: 1
start: { T: { box: { size: [2, 1, 1] } } }
steps:
  - { move: { T: { rotation: { about: z, angle: 59.999 deg } } } }
  - { move: { T: { rotation: { about: z, angle: -59.999 deg } } } }
goal: { box: { size: [2, 1, 1] } }
)",
     "", ""},
    {"tool-fault", "the program itself broke", "Nothing is said about the plan. Please report it, with the plan.", "", "",
     ""},
    {"volume-changed", "a step changed the total volume",
     "Exact cutting and moving cannot do that: a fault of the program. Please report it, with the plan.", "", "", ""},
    {"dehn-changed", "a step changed the Dehn invariant",
     "Exact cutting and moving cannot do that: a fault of the program. Please report it, with the plan.", "", "", ""},
    {"engines-differ", "the two engines disagree about a piece",
     "A fault of the program, which `--engine both` looks for. Please report it, with the plan.", "", "", ""},
    {"report-not-written", "a report could not be written",
     "The message says why: a folder that is not there, a full disk, a file that may not be written.", "", "", ""},
};

std::string indented(std::string_view text) {
  std::string result;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    result += "    " + std::string(text.substr(0, end)) + '\n';
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return result;
}

}  // namespace

std::string explanation(std::string_view code) {
  const auto* const found = std::find_if(std::begin(explanations), std::end(explanations),
                                         [&](const Explanation& each) { return each.code == code; });
  if (found == std::end(explanations)) return "";
  std::string text = std::string(code) + ": " + std::string(found->short_form) + "\n\n" + std::string(found->meaning) + "\n";
  if (found->plan.empty()) return text;
  text += "\nA plan that has it:\n\n" + indented(found->plan);
  if (found->wrong.empty()) return text;
  return text + "\nIts mend: instead of\n\n" + indented(found->wrong) + "\nwrite\n\n" + indented(found->mended);
}

std::string list_of_codes() {
  constexpr std::size_t width = 20;
  std::string text;
  for (const Explanation& each : explanations)
    text += "  " + std::string(each.code) + std::string(width - each.code.size(), ' ') + std::string(each.short_form) + '\n';
  return text;
}

}  // namespace cutproof
