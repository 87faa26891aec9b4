#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""`expand` from outside: what it prints, what it does not write out, exit codes."""
import os
import re

import support
from support import GOOD, INVALID, REFUTED, TOO_HARD

BOX = "{ box: { size: [1, 1, 1] } }"
STACK = """cutproof: 2
title: A stack
note: |
  Cut and put together again: a b
  of two lines
parameters: { n: 4 }
cases: [{ n: 2 }]
start: { rod: { box: { size: [n, 1, 1] } } }
steps:
  - title: a group
    steps:
      - for: { k: 1 to n - 1 }
        cut: rod
        by: { equation: x = k }
        into: [rod, "c(k)"]
  - { join: { below: { equation: x = 2 } }, as: left }
  - { cut: { above: { equation: x = 2 } }, by: [{ equation: "y = 1/2" }, { equation: x = 7/2 }], into: bit.* }
  - { expect: { shapes: 3, pieces: 7, holds: n > 2 } }
goal: { box: { size: [n, 1, 1] } }
"""

TWICE = """cutproof: 2
lemmas:
  half:
    start: { T: { box: { size: [2, 1, 1] } } }
    steps:
      - { cut: T, by: { equation: x = 1 }, into: [a, b] }
      - { move: { a: { translation: [-1, 1, 0] } } }
    goal: { box: { size: [1, 2, 1] } }
start: { T: { box: { size: [2, 1, 1] } } }
steps:
  - { use: half, take: T, into: T }
  - { use: half, backwards: true, take: T, into: T }
goal: { box: { size: [2, 1, 1] } }
"""


class Expand(support.ProgramTest):
    def expand(self, text, *options, code=0):
        done = self.run_program("expand", self.plan(text), *options)
        self.assertEqual(done.returncode, code, (done.stdout, done.stderr))
        self.assertEqual(bool(done.stdout), code == 0)
        return done.stdout.decode(), done.stderr.decode()

    def test_loops_groups_places_and_notes(self):
        text, _ = self.expand(STACK)
        self.assertTrue(text.startswith("# Written out with n = 4.\n# Cut and put together again: a b\n# of two lines\n"
                                        'cutproof: 1\ntitle: A stack\n'), text)
        for line in ("  - title: a group\n    cut: rod\n    by: { equation: x = 1 }\n    into: [rod, c1]",
                     "  - { join: [c2, c1], as: left }",
                     # A plane that misses some of them must go on missing them.
                     "  - { cut: [rod*, c3*], by: [{ equation: 2*y = 1 }, { equation: 2*x = 7 }], into: bit.* }",
                     "  # here version 2 also expects { shapes: 3, holds: [n > 2] }", "  - expect: { pieces: 7 }"):
            self.assertIn("\n" + line + "\n", text)
        report = self.check(self.plan(text, "written-out.yaml"), code=0)
        self.assertEqual(report["pieces"], self.check(self.path("plan.yaml"), "--set", "n=4", code=0)["pieces"])

    def test_parameters_from_outside(self):
        plan = STACK.replace("shapes: 3, pieces: 7, holds: n > 2", "pieces: n + 3").replace("7/2", "n - 1/2")
        text, _ = self.expand(plan, "--set", "n=3")
        self.assertTrue(text.startswith("# Written out with n = 3.\n"), text)
        self.expand(plan, "--set", "m=3", code=2)

    def test_what_version_1_cannot_find_is_not_written_out(self):
        base = f"cutproof: 2\nstart: {{ A: {BOX} }}\nsteps:\n  - %s\ngoal: {BOX}\n"
        for step, code in (("move: { A: { onto: { box: { size: [1, 1, 2] } } } }", "no-fit"),
                           ("join: { above: { equation: x = 5 } }\n    as: B", "nothing-selected"),
                           ("move: { A: { lay: { in: { equation: z = 0 } }, against: { of: A, in: { equation: z = 0 } } } }", ""),
                           ("expect: { congruent: { of: A, to: { box: { size: [1, 1, 2] } } } }", "expectation-failed"),
                           ("expect: { shapes: 2 }", "expectation-failed"), ("expect: { holds: 1 > 2 }", "expectation-failed")):
            with self.subTest(step):
                _, error = self.expand(base % step, code=1) if code else ("", "")
                self.assertIn(f"version 1 cannot find `{code}`" if code else "", error)
                self.assertTrue(error.startswith("refuted: ") or not code, error)

    def test_a_plan_that_is_refuted_is_written_out_and_refuted_again(self):
        text, error = self.expand(REFUTED)
        self.assertIn("is refuted, and so is what it is written out to", error)
        codes = [[finding["code"] for finding in self.check(plan, code=1)["findings"]]
                 for plan in (self.path("plan.yaml"), self.plan(text, "written-out.yaml"))]
        self.assertEqual(codes[0], codes[1])

    def test_mirror_images_surfaces_and_combinations(self):
        plan = """cutproof: 2
mirror: allow
solids:
  frame: { difference: [{ box: { size: [3, 3, 1] } }, { box: { size: [1, 1, 1], at: [1, 1, 0] } }] }
  tube:
    faces:
      points: [[0, 0, 0], [3, 0, 0], [3, 3, 0], [0, 3, 0], [1, 1, 0], [2, 1, 0], [2, 2, 0], [1, 2, 0],
               [0, 0, 1], [3, 0, 1], [3, 3, 1], [0, 3, 1], [1, 1, 1], [2, 1, 1], [2, 2, 1], [1, 2, 1]]
      faces: [{ outer: [3, 2, 1, 0], holes: [[4, 5, 6, 7]] }, { outer: [8, 9, 10, 11], holes: [[12, 13, 14, 15]] },
              [0, 1, 9, 8], [1, 2, 10, 9], [2, 3, 11, 10], [3, 0, 8, 11], [5, 4, 12, 13], [6, 5, 13, 14], [7, 6, 14, 15], [4, 7, 15, 12]]
start:
  F: frame
  L: { mirrored: { solid: { scaled: { solid: { prism: { base: [[0, 0], [4, 0], [0, 2], [1, 1]], height: 1 } }, factor: sqrt(2) } }, in: { equation: x = -1 } } }
  N: { pyramid: { base: [[20, 0], [22, 0], [20, 1]], apex: [20, 0, 3] } }
steps:
  - move: { L: { reflection: { equation: x + y = 1 } } }
goal:
  f: tube
  l: { moved: { solid: { prism: { base: [[0, 0], [4, 0], [0, 2], [1, 1]], height: 1 } }, by: { translation: [30, 0, 0] } } }
  n: { pyramid: { base: [[20, 0], [22, 0], [20, 1]], apex: [20, 0, 3] } }
"""
        own = self.check(self.plan(plan), code=1)
        text, _ = self.expand(plan)
        self.assertIn("difference:", text)
        self.assertIn("holes:", text)
        other = self.check(self.plan(text, "written-out.yaml"), "--engine", "both", code=1)
        for key in ("start", "goal", "pieces"):
            self.assertEqual(own[key], other[key])
        for place in ("start", "end"):
            done = self.run_program("measure", self.path(f"plan.yaml") + f"@{place}", "--report", "json=" + self.path("a.json"))
            self.assertEqual(done.returncode, 0)
            self.run_program("measure", self.path("written-out.yaml") + f"@{place}", "--report", "json=" + self.path("b.json"))
            self.assertEqual(self.read(self.path("a.json"))["pieces"], self.read(self.path("b.json"))["pieces"])

    def test_other_ends(self):
        self.expand(INVALID, code=2)
        self.expand("nonsense", code=2)
        self.expand(TOO_HARD, "--max-degree", "4", code=3)
        self.expand(support.long_plan(), "--time-limit", "0.2", code=3)
        done = self.run_program("expand", self.path("nowhere.yaml"))
        self.assertEqual((done.returncode, done.stdout), (2, b""))
        self.assertIn(b"there is no such file", done.stderr)
        for words in ([], [self.plan(GOOD), self.plan(GOOD)], [self.plan(GOOD), "--report", "json=-"], [self.plan(GOOD), "-j", "2"]):
            done = self.run_program("expand", *words)
            self.assertEqual((done.returncode, done.stdout), (2, b""), words)
            self.assertIn(b"wrong usage", done.stderr)
        with open("/dev/full", "wb") as full:
            self.assertEqual(self.run_program("expand", self.plan(GOOD), stdout=full).returncode, 4)

    def test_a_plan_that_becomes_too_long_is_stopped(self):
        """--max-passes counts the steps that are written; `check` passes over them, since it carries no lemma out on the bench."""
        self.plan(TWICE, "plan.yaml")
        text, _ = self.expand(TWICE)
        steps = len(re.findall(r"^  - ", text, flags=re.M))
        self.assertEqual(steps, 9)
        self.assertEqual(self.expand(TWICE, "--max-passes", str(steps)), (text, ""))
        for most in (steps - 1, 1):
            _, error = self.expand(TWICE, "--max-passes", str(most), code=3)
            self.assertTrue(error.startswith("stopped: "), error)
            self.assertIn(f"written out, the plan has more than {most} steps", " ".join(error.split()))
            self.assertIn("--max-passes raises the limit", " ".join(error.split()))
        self.check(self.path("plan.yaml"), "--max-passes", "1", code=0)
        # Passes of loops are counted as in `check`.
        _, error = self.expand(STACK, "--max-passes", "2", code=3)
        self.assertIn("more than 2 passes of loops", " ".join(error.split()))

    def test_standard_input_and_a_byte_order_mark(self):
        for text in (GOOD, "\ufeff" + GOOD.replace("\n", "\r\n")):
            done = self.run_program("expand", "-", input=text.encode())
            self.assertEqual(done.returncode, 0, done.stderr)
            self.assertTrue(done.stdout.startswith(b"cutproof: 1\ntitle: A prism becomes a box\n"), done.stdout)
        self.assertEqual(os.listdir(self.folder), [])


if __name__ == "__main__":
    support.main()
