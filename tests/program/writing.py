#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""`format`, `new` and `explain` from outside: files, exit codes, faults of the surroundings, and whether what is explained is so."""
import os
import re
import stat

import support
from support import AS_NOBODY, GOOD

UGLY = """# first
cutproof:   1

title:   'A  prism: becomes a box'   # the title
start: {T: {prism: {base: [[0,0],[2,0],   # a corner
  [0,2]], height: 1}}}


let: {a: 1,  # one
 bc: "mod(7; 2)" # one, too
 }
steps:   # the steps
    # halfway
    -   cut: "T"
        by:
            equation: "y = 1"
        into: [tip
          ,stump]

    - {move: {tip: {half-turn: [[1, 1, 0], [1, 1, 1]]}}} # round
    - {expect: {pieces: 2}} # two
    - {title: at last, expect: {connected: all}}
    # behind the last step
goal:
  box: {size: [2, 1, 1]}
# last
"""
NEAT = """# first
cutproof: 1

title: "A  prism: becomes a box"  # the title
start:
  T:
    prism:
      base:
        - [0, 0]
        - [2, 0]  # a corner
        - [0, 2]
      height: 1

let:
  a: 1           # one
  bc: mod(7; 2)  # one, too

# the steps
steps:
  # halfway
  - { cut: T, by: { equation: y = 1 }, into: [tip, stump] }

  - move: { tip: { half-turn: [[1, 1, 0], [1, 1, 1]] } }  # round
  - expect: { pieces: 2 }  # two
  - title: at last
    expect: { connected: all }
# behind the last step
goal: { box: { size: [2, 1, 1] } }
# last
"""


class Format(support.ProgramTest):
    def format(self, *words, code=0, **options):
        done = self.run_program("format", *words, **options)
        self.assertEqual(done.returncode, code, (done.stdout, done.stderr))
        return done.stdout.decode(), done.stderr.decode()

    def content(self, name="plan.yaml"):
        with open(self.path(name), encoding="utf-8", newline="") as file:
            return file.read()

    def test_the_layout(self):
        plan = self.plan(UGLY)
        self.assertEqual(self.format(plan, "--check", code=1)[0], f"would change: {plan}\n")
        self.assertEqual(self.content(), UGLY)
        self.assertEqual(self.format(plan)[0], f"changed: {plan}\n")
        self.assertEqual(self.content(), NEAT)
        self.assertEqual(self.format(plan), ("", ""))
        self.assertEqual(self.format(plan, "--check"), ("", ""))
        self.assert_nothing_but("plan.yaml")

    def test_texts_of_several_lines_and_odd_texts(self):
        for text, neat in (("cutproof: 2\nnote: >\n  one\n  two\n\n  three\n", "cutproof: 2\nnote: |\n  one two\n  three\n"),
                           ("cutproof: 2\nnote: |-\n  a\n   b\n", 'cutproof: 2\nnote: "a\\n b"\n'),
                           ("cutproof: 2\nnote: \"\\u2028x\"\n", 'cutproof: 2\nnote: "\\u2028x"\n'),
                           ("title: it's, well: so #1\n" .replace(": so", " so"), "title: \"it's, well so #1\"\n".replace(" #1", "")),
                           ("cutproof: 1\nsteps: []\n", "cutproof: 1\nsteps: []\n"),
                           ("cutproof: 1 # a\n# b", "cutproof: 1  # a\n# b\n")):
            with self.subTest(text):
                plan = self.plan(text)
                self.format(plan)
                if "it's" in text:
                    neat = "title: it's, well so  #1\n"
                self.assertEqual(self.content(), neat)
                self.assertEqual(self.format(plan), ("", ""))

    def test_standard_input(self):
        for text in (UGLY, "\ufeff" + UGLY.replace("\n", "\r\n")):
            self.assertEqual(self.format("-", input=text.encode())[0], NEAT)
        self.format("-", "--check", input=UGLY.encode(), code=1)
        self.format("-", "--check", input=NEAT.encode())

    def test_what_is_no_plan_is_left_alone(self):
        for text in (b"a: [1", b"a: &b c\n", b"a: 1\na: 2\n", b"\xff\xfe", b"a: {b: c\n", b"? a\n: b\n", b"", b"[" * 300 + b"]" * 300):
            with self.subTest(text):
                with open(self.path("plan.yaml"), "wb") as file:
                    file.write(text)
                for options in ([], ["--check"]):
                    _, error = self.format(self.path("plan.yaml"), *options, code=3 if b"[[" in text else 2)
                    self.assertIn("plan.yaml", error)
                with open(self.path("plan.yaml"), "rb") as file:
                    self.assertEqual(file.read(), text)

    def test_a_plan_that_makes_no_sense_is_formatted_all_the_same(self):
        plan = self.plan("cutproof: 7\nstart:   {T: 3}\n")
        self.format(plan)
        self.assertEqual(self.content(), "cutproof: 7\nstart: { T: 3 }\n")

    def test_several_files_and_folders(self):
        os.mkdir(self.path("deep"))
        plans = [self.plan(UGLY, "a.yaml"), self.plan("x: [", "b.yaml"), self.plan(UGLY, "deep/c.yaml")]
        out, _ = self.format(str(self.folder), code=2)
        self.assertEqual(out, f"changed: {plans[0]}\nchanged: {plans[2]}\n")
        self.assertEqual((self.content("a.yaml"), self.content("deep/c.yaml")), (NEAT, NEAT))
        self.assertIn(b"wrong usage", self.run_program("format").stderr)
        self.format(self.path("nowhere.yaml"), code=2)

    def test_links_and_permissions_stay(self):
        plan = self.plan(UGLY)
        os.chmod(plan, 0o640)
        os.symlink("plan.yaml", self.path("link.yaml"))
        self.format(self.path("link.yaml"))
        self.assertTrue(os.path.islink(self.path("link.yaml")))
        self.assertEqual(self.content(), NEAT)
        self.assertEqual(stat.S_IMODE(os.stat(plan).st_mode), 0o640)
        self.assert_nothing_but("plan.yaml", "link.yaml")

    def test_what_may_not_be_written_is_left_alone(self):
        plan = self.plan(UGLY)
        os.chmod(self.folder, 0o755)
        for mode in (0o444, 0o644):  # the file may not be written; the folder may not
            os.chmod(plan, mode)
            _, error = self.format(plan, code=4, **AS_NOBODY)
            self.assertIn("could not be written", error)
            self.assertEqual(self.content(), UGLY)
            if not AS_NOBODY:
                break
        self.assert_nothing_but("plan.yaml")

    def test_a_large_plan(self):
        plan = self.plan("cutproof: 1\nsteps:\n" + "  - {cut: all, by: {equation: 'x = 1'}} # c\n" * 20000)
        self.format(plan)
        self.assertEqual(self.content().count("  - { cut: all, by: { equation: x = 1 } }  # c\n"), 20000)
        self.format(plan, "--max-plan-size", "1MB", code=0)
        self.format(plan, "--max-plan-size", "1KB", code=3)


class New(support.ProgramTest):
    def test_the_plan_to_begin_with_is_verified_and_well_laid_out(self):
        done = self.run_program("new", cwd=self.folder)
        self.assertEqual((done.returncode, done.stdout), (0, b"written: plan.yaml\nNow try: cutproof check plan.yaml\n"))
        report = self.check(self.path("plan.yaml"), "--engine", "both", code=0)
        self.assertEqual(report["outcome"], "verified")
        self.assertNotIn("notes", report)
        self.assertEqual(self.run_program("format", "--check", self.path("plan.yaml")).returncode, 0)
        with open(self.path("plan.yaml"), "rb") as file:
            self.assertEqual(self.run_program("new", "-").stdout, file.read())

    def test_nothing_is_written_over(self):
        plan = self.plan(GOOD)
        os.symlink("nowhere", self.path("link.yaml"))
        for path in (plan, self.path("link.yaml"), str(self.folder)):
            done = self.run_program("new", path)
            self.assertEqual((done.returncode, done.stdout), (2, b""))
            self.assertIn(b"is there already", done.stderr)
        with open(plan, encoding="utf-8") as file:
            self.assertEqual(file.read(), GOOD)
        self.assertEqual(self.run_program("new", self.path("no/plan.yaml")).returncode, 4)
        self.assert_nothing_but("plan.yaml", "link.yaml")


class Explain(support.ProgramTest):
    def test_all_codes(self):
        done = self.run_program("explain")
        self.assertEqual(done.returncode, 0)
        codes = re.findall(r"^  ([a-z-]+) ", done.stdout.decode(), re.MULTILINE)
        self.assertGreater(len(codes), 18)
        for code in codes:
            with self.subTest(code):
                done = self.run_program("explain", code)
                text = done.stdout.decode()
                self.assertEqual(done.returncode, 0)
                self.assertTrue(text.startswith(code + ": "), text)
                self.assertTrue(all(len(line) <= 110 for line in text.splitlines()), text)
                blocks = ["".join(line[4:] + "\n" for line in block.splitlines()) for block in re.findall(r"(?:^    .*\n)+", text, re.MULTILINE)]
                if not blocks:
                    continue
                exit_code = {"invalid-input": 2, "limit-reached": 3}.get(code, 1)
                report = self.check(self.plan(blocks[0]), "--no-mends", code=exit_code)
                self.assertIn(code, report["counts"])
                if len(blocks) == 3:
                    wrong, mended = blocks[1], blocks[2]
                    if wrong not in blocks[0]:
                        wrong, mended = wrong[:-1], mended[:-1]
                    self.assertEqual(blocks[0].count(wrong), 1, wrong)
                    self.check(self.plan(blocks[0].replace(wrong, mended)), "--engine", "both", code=0)

    def test_an_unknown_code_lists_all(self):
        done = self.run_program("explain", "overlaps\x1b[1m")
        self.assertEqual((done.returncode, done.stdout), (2, b""))
        self.assertIn(b"  plane-misses ", done.stderr)
        self.assertNotIn(b"\x1b", done.stderr)


if __name__ == "__main__":
    support.main()
