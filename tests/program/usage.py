#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Outcomes, their words and exit codes; wrong usage; which files are read as plans."""
import hashlib
import os
import pathlib
import shlex
import subprocess

import support
from support import GOOD, INVALID, REFUTED, TOO_HARD


class Outcomes(support.ProgramTest):
    def test_every_outcome_has_one_word_and_one_code(self):
        for text, options, word, code in ((GOOD, [], "verified", 0), (REFUTED, [], "refuted", 1), (INVALID, [], "invalid", 2),
                                          (TOO_HARD, ["--max-degree", "4"], "stopped", 3),
                                          (GOOD, ["--report", "json=" + self.path("no/folder")], "failed", 4)):
            with self.subTest(word):
                plan = self.plan(text)
                report = self.check(plan, *options, code=code)
                self.assertEqual(report["outcome"], word)
                self.assertTrue(self.text.startswith(f"{word}: {plan}"), self.text)
                self.assertEqual("verified" in self.text, word == "verified")
                if code:
                    self.assertTrue(report["findings"])

    def test_several_plans_end_with_the_highest_code(self):
        good, refuted, invalid = self.plan(GOOD, "a"), self.plan(REFUTED, "b"), self.plan(INVALID, "c")
        for plans, code in (((good, good), 0), ((good, refuted), 1), ((refuted, good), 1), ((invalid, refuted, good), 2)):
            report = self.check(*plans, code=code)
            self.assertEqual([plan["plan"] for plan in report["plans"]], list(plans))
            self.assertEqual(max(plan["exit_code"] for plan in report["plans"]), code)
            self.assertEqual(report["format"], "cutproof-report")

    def test_digest_and_path(self):
        plan = self.plan(GOOD)
        for text in (GOOD, INVALID, "nonsense"):
            self.plan(text)
            code = {GOOD: 0}.get(text, 2)
            report = self.check(plan, code=code)
            self.assertEqual(report["plan"], plan)
            self.assertEqual(report["plan_sha256"], hashlib.sha256(text.encode()).hexdigest())

    def test_reports_are_the_same_byte_for_byte(self):
        plans = [self.plan(text, name) for name, text in (("a", GOOD), ("b", REFUTED), ("c", INVALID))]
        runs = []
        for options in ([], [], ["--jobs", "3"]):
            self.check(*plans, *options, code=2)
            with open(self.path("report.json"), "rb") as file:
                runs.append((file.read(), self.text))
        self.assertEqual(runs[0], runs[1])
        self.assertEqual(runs[0], runs[2])

    def test_shards_share_out_every_plan_once(self):
        plans = [self.plan(GOOD, f"plan-{i}") for i in range(7)]
        seen = []
        for k in range(1, 4):
            report = self.check(*plans, "--shard", f"{k}/3", code=0)
            seen += [plan["plan"] for plan in report["plans"]]
        self.assertEqual(sorted(seen), sorted(plans))
        self.assertEqual(self.check(plans[0], "--shard", "2/2", code=0)["plans"], [])
        self.assertEqual(len(self.check(plans[0], "--shard", "1/1", code=0)["plans"]), 1)

    def test_a_folder_is_a_list_of_plans(self):
        below = pathlib.Path(self.path("below"))
        (below / "deep" / "deeper").mkdir(parents=True)
        for name in ("b.yaml", "a.yaml", "deep/deeper/c.yaml", "deep/no-plan.txt", "deep/yaml"):
            (below / name).write_text(GOOD)
        (below / "d.yaml").mkdir()
        (below / "d.yaml" / "inside.yaml").write_text(REFUTED)
        (below / "loop").symlink_to(below)
        os.symlink("a.yaml", below / "link.yaml")
        expected = [str(below / name) for name in ("a.yaml", "b.yaml", "d.yaml/inside.yaml", "deep/deeper/c.yaml", "link.yaml")]
        report = self.check(str(below), code=1)
        self.assertEqual([plan["plan"] for plan in report["plans"]], expected)
        plan = self.plan(GOOD)
        self.assertEqual([each["plan"] for each in self.check(plan, str(below), code=1)["plans"]], [plan, *expected])

    def test_a_list_stays_a_list_when_one_plan_is_left(self):
        plan, folder = self.plan(GOOD), pathlib.Path(self.path("one"))
        folder.mkdir()
        (folder / "a.yaml").write_text(GOOD)
        self.assertEqual(len(self.check(str(folder), code=0)["plans"]), 1)
        self.assertEqual(len(self.check(plan, plan, "--shard", "1/2", code=0)["plans"]), 1)
        self.assertEqual(len(self.check(plan, "--shard", "1/2", code=0)["plans"]), 1)
        self.assertNotIn("plans", self.check(plan, code=0))

    def test_folders_without_plans(self):
        empty = pathlib.Path(self.path("empty"))
        empty.mkdir()
        done = self.run_program("check", str(empty))
        self.assertEqual(done.returncode, 2)
        self.assertIn(b"there is no plan below the folder", done.stderr)
        done = self.run_program("check", str(empty / "nothing"), "--report", "json=" + self.path("r.json"))
        self.assertEqual(done.returncode, 2)
        self.assertEqual(self.read(self.path("r.json"))["outcome"], "invalid")

    def test_standard_input(self):
        done = self.run_program("check", "-", "--report", "json=" + self.path("r.json"), input=GOOD.encode())
        self.assertEqual(done.returncode, 0, done.stdout)
        report = self.read(self.path("r.json"))
        self.assertEqual((report["plan"], report["outcome"]), ("-", "verified"))
        self.assertEqual(report["plan_sha256"], hashlib.sha256(GOOD.encode()).hexdigest())
        self.assertEqual(self.run_program("check", "-", input=b"").returncode, 2)
        self.assertEqual(self.run_program("check", "-", "--max-plan-size", "10", input=GOOD.encode()).returncode, 3)
        self.assertEqual(self.run_program("check", "-", "-", input=GOOD.encode()).returncode, 2)
        self.assertEqual(self.run_program("compare", "-", input=GOOD.encode()).returncode, 0)
        self.assertEqual(self.run_program("compare", "-@start", "--with", "-@goal", input=GOOD.encode()).returncode, 2)

    def test_certificates_can_be_left_out(self):
        plan = self.plan(GOOD)
        for words in (["check", plan], ["compare", plan]):
            for options, there in (([], True), (["--no-certificates"], False)):
                with self.subTest(words=words, options=options):
                    report = self.path("r.json")
                    self.run_program(*words, "--report", "json=" + report, *options)
                    with open(report, encoding="utf-8") as file:
                        self.assertEqual('"certificate"' in file.read(), there)

    def test_quiet_and_verbose(self):
        plan = self.plan(GOOD)
        quiet = self.run_program("check", plan, plan, "--quiet")
        self.assertEqual(quiet.stdout.decode(), "2 plans: 2 verified\n")
        self.assertEqual(quiet.stderr, b"")
        plain, verbose = self.run_program("check", plan), self.run_program("check", plan, "--verbose")
        self.assertEqual(plain.stdout, verbose.stdout)
        self.assertEqual(plain.stderr, b"")
        self.assertIn(b"step 2 of 2: move", verbose.stderr)


class Solids(support.ProgramTest):
    SOLIDS = """cutproof: 1
solids:
  cube: { box: { size: [1, 1, 1] } }
  slab: { box: { size: [2, 1, 1/2] } }
  tetrahedron: { regular: { name: tetrahedron, edge: 1 } }
"""

    def report_of(self, *words, code):
        done = self.run_program(*words, "--report", "json=" + self.path("report.json"))
        self.assertIn(done.returncode, code if isinstance(code, tuple) else (code,), (done.stdout, done.stderr))
        self.assertNotIn(b"verified", done.stdout)
        report = self.read(self.path("report.json"))
        self.assertEqual((report["exit_code"], report["format"]), (done.returncode, "cutproof-report"))
        return report

    def test_measure(self):
        file = self.plan(self.SOLIDS)
        self.assertEqual(self.report_of("measure", f"{file}#cube", code=0)["volume"]["exact"], "1")
        self.assertEqual([solid["solid"] for solid in self.report_of("measure", file, code=0)["solids"]], ["cube", "slab", "tetrahedron"])
        self.assertEqual(self.report_of("measure", f"{file}#cube", "--angles", "90 deg", code=0)["outcome"], "measured")
        self.assertEqual(self.report_of("measure", f"{file}#cube", "--angles", "60 deg", code=1)["outcome"], "audit-failed")
        self.assertEqual(self.report_of("measure", f"{file}#nothing", code=2)["outcome"], "invalid")
        self.assertEqual(self.report_of("measure", f"{file}#cube", "--angles", "90", code=2)["outcome"], "invalid")
        self.assertEqual(self.report_of("measure", f"{file}#tetrahedron", "--max-degree", "1", code=3)["outcome"], "stopped")
        self.assertEqual(self.report_of("measure", f"{file}#cube", "--report", "json=" + self.path("no/where"), code=4)["outcome"], "failed")

    def test_measure_on_the_bench(self):
        # By hand: `tip` is cut off as the triangle (0, 1), (1, 1), (0, 2), and turned about the line through (1, 1).
        plan = self.plan(GOOD)
        for place, low, centroid in (("1", ["0", "1", "0"], ["1/3", "4/3", "1/2"]), ("2", ["1", "0", "0"], ["5/3", "2/3", "1/2"]),
                                     ("end", ["1", "0", "0"], ["5/3", "2/3", "1/2"])):
            report = self.report_of("measure", f"{plan}@{place}#tip", code=0)
            self.assertEqual((report["at"], report["solid"], report["total_steps"]), (place, "tip", 2))
            self.assertEqual((report["volume"]["exact"], report["box"]["min"], report["centroid"]), ("1/2", low, centroid))
            self.assertEqual(len(report["centroid_decimal"]), 3)
            self.assertEqual(sum(kind["count"] for kind in report["edge_kinds"]), 9)
        for place, names in (("start", ["T"]), ("0", ["T"]), ("1", ["tip", "stump"]), ("end", ["tip", "stump"]), ("goal", ["goal"])):
            report = self.report_of("measure", f"{plan}@{place}", code=0)
            self.assertEqual([piece["name"] for piece in report["pieces"]], names)
            self.assertNotIn("edge_kinds", report)
            self.assertEqual(report["pieces"][0]["box"]["max"], ["2", "1" if place == "goal" or place == "end" else "2", "1"]
                             if names[0] != "tip" or place == "end" else ["1", "2", "1"])
        shown = self.run_program("measure", f"{plan}@1")
        self.assertIn(b"@1, 2 pieces after step 1 of 2\n", shown.stdout)
        self.assertRegex(shown.stdout, rb"tip +volume 0\.5 +box \(0, 1, 0\) to \(1, 2, 1\), centroid \(0\.3333\.\.\., 1\.3333\.\.\., 0\.5\)\n")

        # Right or wrong is not asked, and what comes later does not matter.
        refuted = self.plan(REFUTED, "refuted.yaml")
        self.assertEqual(self.report_of("measure", f"{refuted}@end#tip", code=0)["centroid"], ["4/3", "4/3", "1/2"])
        ends = self.plan(GOOD.replace("  - move", "  - { cut: \"*\", by: { equation: \"x = 1/2\" }, into: [a, b] }\n  - move", 1), "ends.yaml")
        self.assertEqual(self.report_of("measure", f"{ends}@1#tip", code=0)["volume"]["exact"], "1/2")
        self.assertEqual(self.report_of("measure", f"{ends}@2#tip", code=2)["findings"][0]["line"], 6)
        misspelt = self.plan(GOOD.replace("tip: {", "tipp: {", 1), "misspelt.yaml")
        self.assertEqual(self.report_of("measure", f"{misspelt}@1#tip", code=0)["volume"]["exact"], "1/2")
        self.assertIn(b"@1, 2 pieces after step 1 of 2\n", self.run_program("measure", f"{misspelt}@1").stdout)
        for place in ("start", "goal"):
            self.assertEqual(self.run_program("measure", f"{misspelt}@{place}").returncode, 0)
        for place in ("2", "end"):
            self.assertIn(b"there is no piece `tipp`", self.run_program("measure", f"{misspelt}@{place}#tip").stdout)
        # An audit's angles may lie outside the plan's field.
        self.assertEqual(self.report_of("measure", f"{plan}@1#tip", "--angles", "90 deg, 45 deg", code=0)["audit"]["passed"], True)
        self.assertEqual(self.report_of("measure", f"{plan}@1#tip", "--angles", "90 deg, 60 deg", code=1)["audit"]["passed"], False)
        # Joined though they overlap: what they cover is measured, once.
        overlapping = self.plan("""cutproof: 1
start: { A: { box: { size: [2, 1, 1] } }, B: { box: { size: [2, 1, 1], at: [1, 0, 0] } } }
steps: [ { join: [A, B], as: C } ]
goal: { box: { size: [3, 1, 1] } }
""", "overlapping.yaml")
        report = self.report_of("measure", f"{overlapping}@end#C", code=0)
        self.assertEqual((report["volume"]["exact"], report["centroid"]), ("3", ["3/2", "1/2", "1/2"]))

        for words, part in (([f"{plan}@3"], b"the plan has 2 steps: nothing is after step 3"),
                            ([f"{plan}@end#tipp"], b"there is no piece `tipp` at the end"),
                            ([f"{plan}@1#right"], b"on the bench here: `tip`, `stump`"),
                            ([f"{plan}@middle"], b"plan.yaml@middle"), ([f"{plan}@-1"], b"plan.yaml@-1"),
                            ([f"{plan}@1", "--angles", "90 deg"], b"#PIECE"),
                            ([self.plan(INVALID, "invalid.yaml") + "@1#tip"], b"`S`")):
            done = self.run_program("measure", *words)
            self.assertEqual(done.returncode, 2, words)
            self.assertIn(part, done.stdout + done.stderr)
        self.report_of("measure", self.plan(TOO_HARD, "hard.yaml") + "@1#tip", "--max-degree", "4", code=3)
        # A path that leads to a file is that file.
        odd = self.plan(self.SOLIDS, "plan.yaml@1")
        self.assertEqual(self.report_of("measure", f"{odd}#cube", code=0)["solid"], "cube")
        self.assertEqual(len(self.report_of("measure", odd, code=0)["solids"]), 3)
        # The bench can't be compared.
        for side in (f"{plan}@end", f"{plan}@1", f"{refuted}@goal#goal"):
            self.report_of("compare", side, "--with", f"{refuted}@goal", code=2)

    def test_extents_in_check(self):
        done = self.run_program("check", self.plan(GOOD), "--report", "json=" + self.path("report.json"))
        self.assertEqual(done.returncode, 0)
        report = self.read(self.path("report.json"))
        self.assertEqual({piece["name"]: piece["centroid"] for piece in report["pieces"]}["tip"], ["5/3", "2/3", "1/2"])
        self.assertEqual({piece["name"]: piece["box"]["max"] for piece in report["pieces"]}["stump"], ["2", "1", "1"])
        # Of more than 2,000 pieces none: 2,002 slices.
        slices = "cutproof: 1\nstart: { T: { box: { size: [2002, 1, 1] } } }\nsteps:\n  - cut: T\n    by:\n" + "".join(
            f"      - {{ equation: \"x = {i}\" }}\n" for i in range(1, 2002)) + "goal: { box: { size: [2002, 1, 1] } }\n"
        self.run_program("check", self.plan(slices, "slices.yaml"), "--report", "json=" + self.path("report.json"))
        report = self.read(self.path("report.json"))
        self.assertEqual(len(report["pieces"]), 2002)
        self.assertFalse(any("box" in piece for piece in report["pieces"]))

    def test_compare(self):
        file = self.plan(self.SOLIDS)
        for words, code, dissection in (([f"{file}#cube", "--with", f"{file}#slab"], 0, "exists"),
                                        ([f"{file}#cube", "--with", f"{file}#tetrahedron"], 1, "does not exist"),
                                        ([self.plan(GOOD, "good.yaml")], 0, "exists")):
            self.assertEqual(self.report_of("compare", *words, code=code)["dissection"], dissection)
        self.report_of("compare", file, "--with", f"{file}#cube", code=2)
        self.report_of("compare", f"{file}#tetrahedron", "--with", f"{file}#cube", "--max-degree", "1", code=3)

    RELATED = """cutproof: 1
solids:
  flat: { box: { size: [2, 2, 1] } }
  long: { box: { size: [4, 1, 1] } }
  upright: { box: { size: [2, 1, 2], at: [5, 0, 0] } }
  half: { box: { size: [1, 2, 1] } }
  other-half: { box: { size: [1, 2, 1], at: [1, 0, 0] } }
  path: { convex-hull: [[0, 0, 0], [1, 0, 0], [1, 2, 0], [1, 2, 3]] }
  path-in-a-mirror: { mirrored: { solid: path, in: { equation: "x = 7" } } }
  turned: { moved: { solid: path, by: [{ rotation: { about: z, angle: 60 deg } }, { translation: [1, sqrt(2), 3] }] } }
"""

    def test_how_two_sides_are_related(self):
        file = self.plan(self.RELATED)
        for left, right, relation in (("flat", "long", "different"), ("flat", "upright", "congruent"), ("flat", "flat", "same"),
                                      ("half other-half", "flat", "same"), ("half other-half", "upright", "congruent"),
                                      ("flat flat", "flat", "same"), ("half half", "flat", "different"),
                                      ("path", "path-in-a-mirror", "mirror-image"), ("path", "turned", "congruent"),
                                      ("turned", "path-in-a-mirror", "mirror-image"), ("path", "flat", "different")):
            sides = [f"{file}#{name}" for name in left.split()] + ["--with"] + [f"{file}#{name}" for name in right.split()]
            for engine in ("parts", "nef"):
                words = ["compare", *sides, "--engine", engine]
                report = self.report_of(*words, code=(0, 1))
                self.assertEqual(report["relation"], relation, (left, right, engine))
                self.assertEqual(report["exit_code"], 0 if report["dissection"] == "exists" else 1)
                self.report_of(*words, "--demand", "same", code=0 if relation == "same" else 1)
                report = self.report_of(*words, "--demand", "congruent", code=0 if relation in ("same", "congruent") else 1)
                self.assertEqual(report["demand"], "congruent")

    def test_a_goal_is_held_to_a_reference(self):
        reference = self.plan(GOOD, "reference.yaml")
        moved = self.plan(GOOD.replace("size: [2, 1, 1]", "size: [2, 1, 1], at: [5, 0, 0]"), "moved.yaml")
        swapped = self.plan(GOOD.replace("size: [2, 1, 1]", "size: [4, 1, 1/2]"), "swapped.yaml")
        for plan, same, congruent in ((reference, 0, 0), (moved, 1, 0), (swapped, 1, 1)):
            words = ["compare", f"{plan}@goal", "--with", f"{reference}@goal"]
            self.assertEqual(self.report_of(*words, code=0)["dissection"], "exists")  # what is no guard
            self.report_of(*words, "--demand", "same", code=same)
            self.report_of(*words, "--demand", "congruent", code=congruent)
            self.report_of("compare", f"{plan}@start", "--with", f"{reference}@start", "--demand", "same", code=0)
        report = self.report_of("compare", f"{moved}@goal", "--with", f"{reference}@start", code=0)
        self.assertEqual([(each["file"], each["side"]) for each in report["left"]["solids"]], [(moved, "goal")])
        text = self.run_program("compare", f"{swapped}@goal", "--with", f"{reference}@goal", "--demand", "same").stdout.decode()
        self.assertTrue(text.startswith("demand not met: the two sides are different"), text)

    CASES = """cutproof: 2
parameters: { n: 1 }
cases: [%s]
solids: { fixed: { box: { size: [2, 1, 1] } }, slab: { box: { size: [n, 1, 1] } } }
start: { A: { box: { size: [n, 1, 1] } } }
steps: []
goal: { box: { size: [n, 1, 1] } }
"""

    def cases(self, name, *values):
        return self.plan(self.CASES % ", ".join(f"{{ n: {value} }}" for value in values), name)

    def test_a_demand_must_be_met_in_every_case(self):
        """What no case has, the value that stands under `parameters`, meets no demand."""
        unit = self.plan(self.CASES.replace("cases: [%s]\n", ""), "unit.yaml")
        one, two, other = self.cases("one.yaml", 2), self.cases("two.yaml", 2, 3), self.cases("other.yaml", 2, "5/2")
        self.check(one, code=0)
        for place in ("start", "goal"):
            for left, right, relations in ((one, unit + "@start", ["different"]), (one, one + "#fixed", ["same"]),
                                           (one, one + "#slab", ["different"]), (two, two + "@goal", ["same", "same"]),
                                           (two, two + "#fixed", ["same", "different"]), (two, other + "@goal", ["same", "different"]),
                                           (two, unit + "@start", ["different", "different"])):
                sides = [f"{left}@{place}", "--with", right]
                for words in (sides, [right, "--with", sides[0]]):
                    with self.subTest(words):
                        met = all(relation == "same" for relation in relations)
                        report = self.report_of("compare", *words, "--demand", "same", code=0 if met else 1)
                        self.assertEqual([case["relation"] for case in report["cases"]], relations)
                        self.assertEqual([case["case"] for case in report["cases"]], list(range(1, len(relations) + 1)))
                        self.assertEqual([case["exit_code"] for case in report["cases"]], [int(each != "same") for each in relations])
                        self.assertEqual((report["outcome"], report["demand"], "relation" in report), ("compared", "same", False))
                        self.assertEqual(report["cases"][0]["values"][0]["parameters"], {"n": "2"})
                        # Here equal volumes are all that a dissection needs.
                        report = self.report_of("compare", *words, code=0 if met else 1)
                        self.assertEqual({case["dissection"] for case in report["cases"]} == {"exists"}, met)
        report = self.report_of("compare", two, code=0)
        self.assertEqual([case["left"]["volume"]["exact"] for case in report["cases"]], ["2", "3"])
        # With --set there is one comparison, as without cases.
        report = self.report_of("compare", f"{two}@start", "--with", f"{unit}@goal", "--set", "n=7", "--demand", "same", code=0)
        self.assertEqual((report["relation"], "cases" in report, "case" in report), ("same", False, False))

    def test_cases_in_words(self):
        two = self.cases("two.yaml", 2, 3)
        words = [f"{two}@start", "--with", f"{two}#fixed", "--demand", "same"]
        text = self.run_program("compare", *words).stdout.decode()
        self.assertTrue(text.startswith("demand not met: in case 2 of 2 with n = 3: the two sides are different"), text)
        self.assertIn("\ncase 1 with n = 2\ndemand met: ", text)
        self.assertIn("\ncase 2 with n = 3\ndemand not met: ", text)
        text = self.run_program("compare", "-q", words[0], "--with", f"{two}@goal", "--demand", "same").stdout.decode()
        self.assertEqual(text, "demand met: in each of 2 cases\n")
        text = self.run_program("compare", "-q", *words[:-2]).stdout.decode()
        self.assertEqual(text, "dissection does not exist: in case 2 of 2 with n = 3\n")

    def test_cases_that_do_not_go_together(self):
        two, three = self.cases("two.yaml", 2, 3), self.cases("three.yaml", 2, 3, 4)
        report = self.report_of("compare", f"{two}@start", "--with", f"{three}@start", "--demand", "same", code=2)
        self.assertRegex(report["findings"][0]["message"], "has 2, .* has 3")
        self.assertIn("--set", report["findings"][0]["hint"])
        # What is wrong in one case alone ends that case.
        bad = self.cases("bad.yaml", 2, 0, 3)
        report = self.report_of("compare", f"{bad}@start", "--with", f"{bad}@goal", "--demand", "same", code=2)
        self.assertEqual([case["outcome"] for case in report["cases"]], ["compared", "invalid", "compared"])
        self.assertEqual(report["cases"][1]["findings"][0]["file"], bad)
        broken = self.plan(self.CASES % "{ m: 2 }", "broken.yaml")
        report = self.report_of("compare", f"{broken}@start", "--with", f"{two}#fixed", "--demand", "same", code=2)
        self.assertEqual((report["findings"][0]["line"], "cases" in report), (3, False))

    def test_the_first_case_is_measured(self):
        two = self.cases("two.yaml", 2, 3)
        report = self.report_of("measure", f"{two}@0", code=0)
        self.assertEqual((report["pieces"][0]["volume"]["exact"], report["case"], report["parameters"]), ("2", 1, {"n": "2"}))
        text = self.run_program("measure", f"{two}@goal").stdout.decode()
        self.assertIn("@goal, case 1 of 2 with n = 2, 1 goal", text)
        report = self.report_of("measure", f"{two}@end#A", "--set", "n=7", code=0)
        self.assertEqual((report["volume"]["exact"], "case" in report, "parameters" in report), ("7", False, False))
        self.assertNotIn("case", self.report_of("measure", f"{two}#slab", code=0))

    def test_sides_of_plans_that_cannot_be_read(self):
        plan = self.plan(GOOD)
        broken = self.plan(GOOD.replace("size: [2, 1, 1]", "size: [2, 1, 0]"), "broken.yaml")
        without = self.plan(self.RELATED, "solids.yaml")
        report = self.report_of("compare", f"{broken}@goal", "--with", f"{plan}@goal", code=2)
        self.assertEqual(report["findings"][0]["file"], broken)
        self.report_of("compare", f"{broken}@start", "--with", f"{plan}@start", "--demand", "same", code=0)
        self.assertIn("the plan has no goal", self.report_of("compare", f"{without}@goal", "--with", f"{plan}@goal", code=2)
                      ["findings"][0]["message"])
        at = self.plan(GOOD, "named.yaml@goal")  # a path that leads to a file is that file
        self.report_of("compare", at, code=0)
        done = self.run_program("compare", f"{plan}@goal")
        self.assertEqual(done.returncode, 2)
        self.assertIn(b"wrong usage", done.stderr)

    def test_an_error_in_one_of_several_files_names_it(self):
        good, bad = self.plan(self.SOLIDS), self.plan(self.SOLIDS.replace("[2, 1, 1/2]", "[2, 1, 0]"), "bad.yaml")
        missing = self.path("missing.yaml")
        for left, right, file, place in ((f"{good}#cube", f"{bad}#slab", bad, f"{bad}:4:"), (f"{bad}#slab", f"{good}#cube", bad, f"{bad}:4:"),
                                         (f"{good}#cube", missing, missing, f"invalid-input at {missing}\n"),
                                         (good, f"{bad}#cube", good, f"invalid-input at {good}\n")):
            report = self.report_of("compare", left, "--with", right, code=2)
            self.assertEqual([finding["file"] for finding in report["findings"]], [file])
            self.assertIn(place, self.run_program("compare", left, "--with", right, env={"COLUMNS": "1000"}).stdout.decode())
        report = self.report_of("compare", self.plan(GOOD.replace("size: [2, 1, 1]", "size: [2, 1, 0]"), "p.yaml"), code=2)
        self.assertEqual(report["findings"][0]["file"], self.path("p.yaml"))

    def test_an_empty_solid_has_a_place(self):
        file = self.plan("cutproof: 1\nsolids:\n  cube: { box: { size: [1, 1, 1] } }\n"
                         "  apart: { intersection: [cube, { box: { size: [1, 1, 1], at: [1, 0, 0] } }] }\n")
        for words in (["measure", f"{file}#apart"], ["compare", f"{file}#cube", "--with", f"{file}#apart"]):
            done = self.run_program(*words)
            self.assertEqual(done.returncode, 2)
            self.assertIn(f"{file}:4:3\n    the solid `apart` is empty".encode(), done.stdout)

    def test_what_makes_a_solid_empty_is_named(self):
        file = self.plan("cutproof: 1\nsolids:\n  cube: { box: { size: [1, 1, 1] } }\n  aside: { moved: { solid: apart, by: "
                         "{ translation: [1, 2, 3] } } }\n  apart: { difference: [cube, cube] }\n"
                         "start: { A: aside }\nsteps: []\ngoal: cube\n")
        for words in (["measure", f"{file}#aside"], ["compare", f"{file}#cube", "--with", f"{file}#aside"],
                      ["compare", f"{file}@start", "--with", f"{file}@goal"], ["compare", file]):
            done = self.run_program(*words, env={"COLUMNS": "200"})
            self.assertEqual(done.returncode, 2, words)
            self.assertIn(b"`apart` (line 5): the difference has no interior points", done.stdout, words)

    def test_a_side_that_is_missing_is_wrong_usage(self):
        file = self.plan(self.SOLIDS)
        for words in ([f"{file}#cube"], [file, file], ["--with", file]):
            done = self.run_program("compare", *words)
            self.assertEqual(done.returncode, 2)
            self.assertIn(b"wrong usage", done.stderr)


class Usage(support.ProgramTest):
    def test_wrong_usage_writes_nothing_and_removes_nothing(self):
        plan = self.plan(GOOD)
        old = self.plan("old", "old.json")
        os.symlink(plan, self.path("link"))
        for words in ([], ["check"], ["check", plan, "--nonsense"], ["check", plan, "--report", f"nonsense={old}"],
                      ["check", plan, "--report", f"json={old}", "--report", f"json={old}"],
                      ["check", plan, "--report", f"json={old}", "--report", "json=" + self.path("./old.json")],
                      ["check", plan, "--report", "json=" + self.path("new"), "--report", "json=" + os.path.relpath(self.path("new"))],
                      ["check", plan, "--report", f"json={old}", "--report", f"json={plan}"],
                      ["check", plan, "--report", f"json={old}", "--report", "json=" + self.path("link")],
                      ["check", plan, "--report", f"json={old}", "--report", f"json={self.folder}"],
                      ["check", plan, "--report", f"json={old}", "--report", "json=-", "--report", "json=-"],
                      ["check", plan, "--report", f"json={old}", "--time-limit", "never"]):
            with self.subTest(words):
                done = self.run_program(*words)
                self.assertEqual(done.returncode, 2)
                self.assertEqual(done.stdout, b"")
                self.assertIn(b"wrong usage", done.stderr)
                self.assert_nothing_but("plan.yaml", "old.json", "link")
                with open(old) as file:
                    self.assertEqual(file.read(), "old")
                with open(plan) as file:
                    self.assertEqual(file.read(), GOOD)

    def test_odd_command_lines(self):
        """Each is wrong usage, told in a line without control characters, and nothing is written."""
        plan = self.plan(GOOD)
        for words in (["frobnicate"], ["", plan], ["\x1b[2J"], ["check", plan, "--\x1b[2J"], ["check", plan, b"--\xff"],
                      ["check", plan, "--\u202ejson"], ["check", plan, "--report"], ["check", plan, "--report", "json"],
                      ["check", plan, "--report", "=x"], ["check", plan, "--report", "json="], ["check", plan, "--report", "\x1b[2J=x"],
                      ["check", plan, "--report", "json=/"], ["check", plan, "--time-limit", "0"], ["check", plan, "--time-limit", "-1"],
                      ["check", plan, "--time-limit", "nan"], ["check", plan, "--time-limit", "inf"], ["check", plan, "--time-limit", "1e400"],
                      ["check", plan, "--time-limit", "1 fortnight"], ["check", plan, "--memory-limit", "1MB"],
                      ["check", plan, "--memory-limit", "-5"], ["check", plan, "--memory-limit", "99999999999999999999GB"],
                      ["check", plan, "--max-plan-size", "-1"], ["check", plan, "--max-degree", "0"], ["check", plan, "--max-degree", "1001"],
                      ["check", plan, "--max-bits", "1"], ["check", plan, "--jobs", "0"], ["check", plan, "--jobs", "100000"],
                      ["check", plan, "--shard", "0/2"], ["check", plan, "--shard", "3/2"], ["check", plan, "--shard", "1/2/3"],
                      ["check", plan, "--shard", "18446744073709551617/2"], ["check", plan, "--engine", "NEF"], ["check", plan, "--engine", ""],
                      ["check", plan, "--engine", "nef", "--engine", "parts"], ["measure", plan, "--except", "45 deg: 1"],
                      ["compare", plan + "#T", "--with"]):
            with self.subTest(words=words):
                done = self.run_program(*words)
                self.assertEqual((done.returncode, done.stdout), (2, b""))
                self.assertTrue(done.stderr.startswith(b"cutproof: wrong usage: "), done.stderr)
                self.assertEqual(done.stderr.decode().count("\n"), 2)
                self.assertTrue(all(byte == 10 or byte >= 32 for byte in done.stderr))
                self.assertNotIn("\u202e", done.stderr.decode())
                self.assert_nothing_but("plan.yaml")
        for words, part in ((["frobnicate"], b"the commands are check, measure, compare, expand, format, new and explain"), ([], b"a command is missing")):
            self.assertIn(part, self.run_program(*words).stderr)

    def test_help_is_our_own(self):
        """Each command has a text of its own, with every option, and examples that are right usage."""
        for command in (None, "check", "measure", "compare", "expand", "format", "new", "explain"):
            text = self.run_program(*([command] if command else []), "--help").stdout.decode()
            for stock in ("Positionals", "REQUIRED", "OPTIONS", "Subcommands", "Options:", " in [", ":INT", "TEXT"):
                self.assertNotIn(stock, text)
            self.assertTrue(all(len(line) <= 100 for line in text.splitlines()), text)
            examples = [line.strip() for line in text.split("Examples\n")[1].split("\n\n")[0].splitlines()]
            self.assertGreaterEqual(len(examples), 3)
            for example in examples:
                words = shlex.split(example.split("   ")[0])
                self.assertEqual(words[0], "cutproof")
                done = self.run_program(*words[1:], cwd=self.folder, stdin=subprocess.DEVNULL)
                if command not in ("new", "explain"):
                    self.assertEqual(done.returncode, 2)  # there is no such plan here
                self.assertNotIn(b"wrong usage", done.stderr, example)
            if command:
                options = ["-h, --help"]
                if command in ("check", "measure", "compare"):
                    options += ["--report FORMAT=FILE", "-j, --jobs N", "-q, --quiet", "--no-certificates"]
                if command in ("check", "measure", "compare", "expand"):
                    options += ["--engine ENGINE", "--set NAME=EXPRESSION", "--time-limit SECONDS"]
                for option in options:
                    self.assertIn("  " + option, text)
                self.assertIn(f"cutproof {command} ", text.splitlines()[0])
        for words, part in ((["check"], b"check needs a plan"), (["measure"], b"measure needs a solid"), (["compare"], b"compare needs solids"),
                            (["check", "plan.yaml", "--frobnicate"], b"there is no option `--frobnicate`")):
            self.assertIn(part, self.run_program(*words).stderr)

    def test_help_and_version(self):
        for words, part in ((["--version"], b"cutproof "), (["--help"], b"Examples"), (["check", "--help"], b"--time-limit")):
            done = self.run_program(*words)
            self.assertEqual((done.returncode, done.stderr), (0, b""))
            self.assertIn(part, done.stdout)
            with open("/dev/full", "w") as full:
                self.assertEqual(self.run_program(*words, stdout=full).returncode, 4)


class Files(support.ProgramTest):
    def assert_invalid(self, path, part, **options):
        report = self.check(path, code=2, timeout=20, **options)
        self.assertEqual([finding["code"] for finding in report["findings"]], ["invalid-input"])
        self.assertIn(part, report["findings"][0]["message"])
        return report

    def test_what_is_no_plan_file(self):
        os.mkfifo(self.path("pipe"))
        self.assert_invalid(self.path("missing.yaml"), "no such file")
        self.assert_invalid(self.path("pipe"), "pipe")
        self.assert_invalid("/dev/null", "device")
        self.assert_invalid("/dev/zero", "device")
        self.assert_invalid(self.plan(""), "")

    def test_a_file_without_permission(self):
        plan = self.plan(GOOD)
        os.chmod(plan, 0)
        os.chmod(self.folder, 0o777)
        self.assert_invalid(plan, "may not be read", **support.AS_NOBODY)

    def test_a_path_that_is_no_utf8(self):
        name = os.fsencode(self.folder) + b"/\xff\x1b[31m.yaml"
        with open(name, "w") as file:
            file.write(GOOD)
        done = subprocess.run([support.PROGRAM, "check", name, "--report", "json=" + self.path("r.json")], capture_output=True, timeout=60)
        self.assertEqual(done.returncode, 0)
        self.assertIn(b"\\xff\\u001b[31m.yaml", done.stdout)
        self.assertNotIn(b"\x1b", done.stdout)
        self.assertTrue(self.read(self.path("r.json"))["plan"].endswith("\\xff\\u001b[31m.yaml"))

    def test_strangers_text_is_harmless(self):
        title = '"\\e[2J\\nverified: x \\u202e"'
        plan = self.plan(GOOD.replace("A prism becomes a box", title).replace("cut: T,", f"cut: T, title: {title}, note: {title},"))
        report = self.check(plan, code=0)
        self.assertNotIn("\x1b", self.text)
        self.assertNotIn("\u202e", self.text)
        self.assertEqual([line for line in self.text.splitlines() if line.startswith("verified")], [f"verified: {plan}"])
        self.assertEqual(report["title"], "\x1b[2J\nverified: x \u202e")
        with open(self.path("report.json"), "rb") as file:
            self.assertTrue(all(byte == 10 or 32 <= byte < 127 for byte in file.read()))

    # What would clear the screen, turn the line round or begin a line of its own, and must not come out as it is.
    NASTY = "\x1b[2J\u202e\u2066\nverified: x\r\x07\x9b"

    def assert_harmless(self, written):
        text = written.decode("utf-8")
        self.assertEqual([c for c in text if c != "\n" and (ord(c) < 32 or 127 <= ord(c) < 160 or c in "\u202e\u2066\u2028")], [])
        self.assertEqual([line for line in text.splitlines() if line.startswith("verified")], [])

    def test_strangers_paths_are_harmless_everywhere(self):
        folder = self.folder / "a\x1b[2J\u202e\r\x07"
        folder.mkdir()
        bad, report = str(folder / "p\nverified: x.yaml"), str(folder / "report\n.json")
        with open(bad, "w") as file:
            file.write(REFUTED)
        for words in (["check", bad], ["check", bad, "--verbose"], ["check", bad, "--quiet"], ["check", bad, "--report", "json=" + report],
                      ["check", bad, "--report", "json=" + bad], ["check", bad, "--report", f"json={folder}"],
                      ["check", bad, "--report", f"json={folder}/no/where"], ["check", str(folder)], ["check", str(folder / "missing\n")],
                      ["check", bad, "--report", "json=-"], ["measure", bad], ["measure", bad + "#" + self.NASTY],
                      ["compare", bad], ["compare", bad + "#" + self.NASTY, "--with", bad], [self.NASTY], ["check", bad, "--" + self.NASTY],
                      ["check", bad, "--report", self.NASTY + "=x"], ["check", bad, "--engine", self.NASTY],
                      ["check", bad, "--time-limit", self.NASTY], ["measure", bad, "--angles", self.NASTY],
                      ["measure", bad, "--angles", "90 deg", "--except", self.NASTY], ["check", bad, "--shard", self.NASTY]):
            with self.subTest(words=words):
                done = self.run_program(*words)
                self.assertIn(done.returncode, (0, 1, 2, 4))
                self.assert_harmless(done.stdout)
                self.assert_harmless(done.stderr)

    def test_strangers_text_in_errors_is_harmless(self):
        """In messages that quote it, and in the line that is shown under them."""
        nasty = "\u202e\u2066\u200b"
        for text in (GOOD.replace("cut: T", f"cut: \"T{nasty}\""), GOOD.replace("goal:", f"{nasty}:"), GOOD.replace("[tip,", f"[\"{nasty}\","),
                     GOOD.replace("y = 1", f"y = {nasty}"), GOOD.replace("goal:", f"title: {nasty}\ngoal:"),
                     GOOD.replace("title: ", f"title: {nasty} \x1b[2J"), GOOD.replace("start: { T:", f"start: {{ \"\\e[2J\\n{nasty}\":"),
                     GOOD.replace("{ tip:", f"{{ \"\\e{nasty}\\r*\":"), REFUTED.replace("title: A", f"title: \"\\e\\r{nasty}\" #")):
            for options in ([], ["--verbose"], ["--quiet"]):
                with self.subTest(text=text, options=options):
                    done = self.run_program("check", self.plan(text), *options)
                    self.assertIn(done.returncode, (1, 2))
                    self.assert_harmless(done.stdout)
                    self.assert_harmless(done.stderr)
                    self.assertNotIn("\u200b", done.stdout.decode())


if __name__ == "__main__":
    support.main()
