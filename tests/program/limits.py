#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Each limit, reached at each stage of a run by a plan made for it: `stopped` within two seconds over the limit, with what was proved."""
import os
import time
import unittest

import support
from support import GOOD, REFUTED

# Read in no time, but a field of degree 2^9.
DEEP_FIELD = GOOD.replace("size: [2, 1, 1]",
                          "size: [2, 1, " + "+".join(f"sqrt({p})" for p in (2, 3, 5, 7, 11, 13, 17, 19, 23)) + "]")


def growing_numbers(steps=2000):
    """Rotations of infinite order: every step makes every number longer."""
    lines = ["  - move: { A: turn }"] * steps
    return ("cutproof: 1\nmotions:\n  turn: [ { rotation: { about: z, angle: acos(3/5) } }, { rotation: { about: x, angle: acos(5/13) } } ]\n"
            "start: { A: { box: { size: [1, 1, 1] } } }\nsteps:\n" + "\n".join(lines) + "\ngoal: { box: { size: [1, 1, 1] } }\n")


def many_overlaps(pieces=400):
    """Cheap to read and to build; every pair overlaps in a volume of its own."""
    start = ", ".join(f"P{i}: {{ box: {{ size: [1, 1, 1], at: [{i}/1000, {i}/1001, {i}/1003] }} }}" for i in range(pieces))
    return f"cutproof: 1\nstart: {{ {start} }}\nsteps: []\ngoal: {{ box: {{ size: [{pieces}, 1, 1] }} }}\n"


def layered_prism(corners, layers=200):
    base = ", ".join(f"[{i}, {i * i}]" for i in range(corners))
    cuts = "".join(f'  - {{ cut: all, by: {{ equation: "z = 1/{i}" }} }}\n' for i in range(2, layers))
    return (f"cutproof: 1\nstart: {{ A: {{ prism: {{ base: [{base}], height: 1 }} }} }}\nsteps:\n{cuts}"
            "goal: { box: { size: [1, 1, 1] } }\n")


def crowded_union(boxes=1000):
    boxes = ", ".join(f"{{ box: {{ size: [1, 1, 1], at: [{i}/3, {i * i % 17}/5, {i ** 3 % 19}/7] }} }}" for i in range(boxes))
    return f"cutproof: 1\nstart: {{ A: {{ union: [{boxes}] }} }}\nsteps: []\ngoal: {{ box: {{ size: [1, 1, 1] }} }}\n"


class Limits(support.ProgramTest):
    def stopped(self, text, *options, part, seconds=None):
        """Stopped with that part of a message; with a time limit of `seconds`, at most two seconds after it."""
        plan = self.plan(text)
        if seconds is not None:
            options = (*options, "--time-limit", str(seconds))
            part = f"the time limit of {seconds} s was reached ({part}"
        begin = time.monotonic()
        report = self.check(plan, *options, code=3)
        if seconds is not None and not support.SANITIZED:
            self.assertLess(time.monotonic() - begin, seconds + 2)
        self.assertEqual(report["outcome"], "stopped")
        [finding] = [finding for finding in report["findings"] if finding["code"] == "limit-reached"]
        self.assertIn(part, finding["message"])
        self.assertEqual(self.text.splitlines()[0], f"stopped: {plan}")
        return report, finding

    def test_size_of_the_plan(self):
        plan = self.path("plan.yaml")
        with open(plan, "w") as file:
            file.truncate(200 << 20)
        begin = time.monotonic()
        report = self.check(plan, code=3)
        self.assertLess(time.monotonic() - begin, 2)
        self.assertIn("larger than the limit of 16 MB", report["findings"][0]["message"])
        self.stopped(GOOD, "--max-plan-size", "100", part="larger than the limit of 100 bytes")

    def test_degree(self):
        _, finding = self.stopped(DEEP_FIELD, part="48")
        self.assertIn("sqrt(2)", finding["message"])
        self.assertEqual(self.check(self.plan(support.TOO_HARD), "--max-degree", "8", code=1)["field"]["degree"], 8)

    def test_bits(self):
        report, finding = self.stopped(growing_numbers(), "--max-bits", "2000", part="bits")
        self.assertGreater(finding["step"], 10)
        self.assertEqual(len(report["steps"]), finding["step"] - 1)

    def stopped_in(self, stage, text, *options):
        """The time limit is doubled until it reaches the stage: how fast this machine is at this moment is not what is tested."""
        for seconds in (1, 2, 4, 8, 16, 32):
            report, finding = self.stopped(text, *options, part="", seconds=seconds)
            if "(" + stage in finding["message"]:
                return report, finding
        self.fail(f"never stopped while {stage}: {finding}")

    def test_time_with_every_engine_at_every_stage(self):
        plans = {"reading the plan": DEEP_FIELD, "building the solids": crowded_union(), "step ": support.long_plan(200)}
        for engine in ("parts", "nef", "both"):
            for stage, text in plans.items():
                with self.subTest(engine=engine, stage=stage):
                    report, finding = self.stopped_in(stage, text, "--engine", engine, "--max-degree", "1000")
                    self.assertEqual(report["engine"], engine)
                    self.assertEqual(finding["line"] > 0, stage != "reading the plan")

    def test_time_in_the_steps(self):
        report, finding = self.stopped_in("step ", growing_numbers(20000))
        self.assertGreater(finding["step"], 0)
        self.assertEqual(finding["line"], 5 + finding["step"])
        self.assertEqual(len(report["steps"]), finding["step"] - 1)
        self.assertEqual(report["total_steps"], 20000)

    def test_time_in_the_checks(self):
        plan = self.plan(many_overlaps())
        for seconds in ("1", "4", "16", "64"):
            report = self.read_after_stop(plan, "--time-limit", seconds)
            if "comparing with the goal" in report["findings"][-1]["message"]:
                break
        finding = report["findings"][-1]
        self.assertEqual((finding["code"], finding["step"], finding["line"]), ("limit-reached", 0, 4))
        self.assertEqual(report["outcome"], "refuted")  # what was proved of the start stays true
        self.assertEqual(report["counts"], {"limit-reached": 1, "overlap": 400 * 399 // 2})

    def test_what_was_proved_before_stays(self):
        text = growing_numbers(20000).replace("steps:\n", "steps:\n  - { cut: A, by: { equation: \"x = 5\" } }\n")
        for seconds in ("2", "8", "32"):
            report = self.read_after_stop(self.plan(text), "--time-limit", seconds)
            if report["outcome"] == "refuted":
                break
        self.assertEqual(report["outcome"], "refuted")
        self.assertEqual([finding["code"] for finding in report["findings"]], ["plane-misses", "limit-reached"])

    def read_after_stop(self, *words):
        path = self.path("report.json")
        done = self.run_program("check", *words, "--report", f"json={path}")
        report = self.read(path)
        self.assertEqual(done.returncode, report["exit_code"])
        return report

    def test_one_plan_that_is_stopped_leaves_the_others_alone(self):
        plans = [self.plan(growing_numbers(20000), "a"), self.plan(GOOD, "b"), self.plan(REFUTED, "c")]
        for jobs in ("1", "3"):
            report = self.check(*plans, "--time-limit", "3", "--jobs", jobs, code=3)
            self.assertEqual([plan["outcome"] for plan in report["plans"]], ["stopped", "verified", "refuted"])

    def test_bits_with_every_engine(self):
        steps = set()
        for engine in ("parts", "nef", "both"):
            report, finding = self.stopped(growing_numbers(), "--max-bits", "300", "--engine", engine, part="bits")
            self.assertEqual(len(report["steps"]), finding["step"] - 1)
            steps.add(finding["step"])
        self.assertLessEqual(max(steps) - min(steps), 3)  # each engine has numbers of its own between the corners'

    def test_bits_while_reading(self):
        for value, line in (("2^(10^9)", 3), ("3^(10^9)", 3), ("1e999999999", 3), ("1e-999999999", 3), ("10^(10^10^10)", 3),
                            ("2^-(10^9)", 3), ("sqrt(2)^(10^9)", 3), ("0." + "1" * 400000, 3), ("7^400000 + 1/3", 3)):
            with self.subTest(value=value[:30]):
                _, finding = self.stopped(GOOD.replace("start:", f"let: {{ a: {value} }}\nstart:"), part="bits")
                self.assertEqual(finding["line"], line)

    def test_nesting_and_number_of_nodes(self):
        deep = "cutproof: 1\nsolids:\n  a: " + "{ union: [" * 60 + "b" + "] }" * 60 + "\n"
        _, finding = self.stopped(deep, part="nested deeper than 100 levels")
        self.assertEqual(finding["line"], 3)
        many = GOOD.replace("start:", "let:\n" + "".join(f"  a{i}: 1\n" for i in range(700000)) + "start:")
        self.stopped(many, part="the plan holds more than 1000000 values")

    @unittest.skipIf(support.SANITIZED, "sanitizers need the address space")
    def test_results_that_are_too_long_to_be_reported(self):
        size = "2^900000 + 1"
        text = (f"cutproof: 1\nlet: {{ a: {size} }}\nstart: {{ A: {{ box: {{ size: [a, 1, 1] }} }} }}\nsteps:\n" +
                "  - move: { A: { translation: [1, 0, 0] } }\n" * 1000 + "goal: { box: { size: [a, 1, 1] } }\n")
        report = self.check(self.plan(text), "--memory-limit", "64MB", "--time-limit", "100", code=3)
        self.assertIn("the results take more than 6 MB, a tenth of the memory limit (step ", report["findings"][-1]["message"])
        self.assertGreater(len(report["steps"]), 5)
        self.assertEqual(report["start"]["volume"]["decimal"][:3], "9.9")

    @unittest.skipIf(support.SANITIZED, "sanitizers need the address space")
    def test_memory(self):
        """Never more than 1.2 times the limit, in the child and in the parent, whatever the stage and the engine."""
        many_values = GOOD.replace("start:", "let: { " + ", ".join(f"a{i}: {i}" for i in range(450000)) + " }\nstart:")
        power = GOOD.replace("size: [2, 1, 1]", "size: [3^(10^8), 1, 1]")
        unlimited = ["--max-bits", str(1 << 40)]
        cases = [(many_values, "reading the plan", []), (power, "reading the plan", unlimited),
                 (layered_prism(500), "building the solids", ["--engine", "nef"]),
                 (growing_numbers(10000), "step ", unlimited), (many_overlaps(620), "comparing with the goal", [])]
        if os.environ.get("CUTPROOF_SLOW") == "1":
            cases += [(layered_prism(500), "building the solids", ["--engine", "both"]),
                      (layered_prism(100), "step ", ["--engine", "nef"]), (layered_prism(100), "step ", ["--engine", "both"])]
        for text, stage, options in cases:
            with self.subTest(stage=stage, options=options):
                plan, report = self.plan(text), self.path("report.json")
                peak, code = self.peak_of("check", plan, "--memory-limit", "64MB", *options,
                                          "--report", f"json={report}")
                result = self.read(report)
                self.assertEqual((result["exit_code"], result["outcome"] in ("stopped", "refuted")), (code, True))
                self.assertIn("memory limit of 64 MB was reached (" + stage, result["findings"][-1]["message"])
                self.assertLess(peak, 1.2 * (64 << 20))


if __name__ == "__main__":
    support.main()
