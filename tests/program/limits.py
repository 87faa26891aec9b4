#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Each limit, reached at each stage of a run by a plan made for it: `stopped` within two seconds over the limit, with what was proved."""
import resource
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


class Limits(support.ProgramTest):
    def stopped(self, text, *options, part, seconds):
        plan = self.plan(text)
        begin = time.monotonic()
        report = self.check(plan, *options, code=3)
        self.assertLess(time.monotonic() - begin, seconds + (20 if support.SANITIZED else 2))
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
        self.stopped(GOOD, "--max-plan-size", "100", part="larger than the limit of 100 bytes", seconds=0)

    def test_degree(self):
        _, finding = self.stopped(DEEP_FIELD, part="16", seconds=5)
        self.assertIn("sqrt(2)", finding["message"])
        self.assertEqual(self.check(self.plan(support.TOO_HARD), "--max-degree", "8", code=1)["field"]["degree"], 8)

    def test_bits(self):
        report, finding = self.stopped(growing_numbers(), "--max-bits", "2000", part="bits", seconds=20)
        self.assertGreater(finding["step"], 10)
        self.assertEqual(len(report["steps"]), finding["step"])

    def test_time_in_the_field(self):
        _, finding = self.stopped(DEEP_FIELD, "--max-degree", "1000", "--time-limit", "0.5", part="time limit of 0.5 s", seconds=0.5)
        self.assertIn("reading", finding["message"])

    def test_time_in_the_steps(self):
        report, finding = self.stopped(growing_numbers(20000), "--time-limit", "2", part="time limit of 2 s", seconds=2)
        self.assertGreater(finding["step"], 0)
        self.assertEqual(finding["line"], 5 + finding["step"])
        self.assertEqual(len(report["steps"]), finding["step"] - 1)
        self.assertEqual(report["total_steps"], 20000)

    def test_time_in_the_checks(self):
        self.stopped(many_overlaps(2000), "--time-limit", "1", part="time limit of 1 s", seconds=1)

    def test_what_was_proved_before_stays(self):
        text = growing_numbers(20000).replace("steps:\n", "steps:\n  - { cut: A, by: { equation: \"x = 5\" } }\n")
        plan = self.plan(text)
        report = self.check(plan, "--time-limit", "2", code=1)
        self.assertEqual(report["outcome"], "refuted")
        self.assertEqual([finding["code"] for finding in report["findings"]], ["plane-misses", "limit-reached"])

    def test_one_plan_that_is_stopped_leaves_the_others_alone(self):
        plans = [self.plan(growing_numbers(20000), "a"), self.plan(GOOD, "b"), self.plan(REFUTED, "c")]
        for jobs in ("1", "3"):
            report = self.check(*plans, "--time-limit", "2", "--jobs", jobs, code=3)
            self.assertEqual([plan["outcome"] for plan in report["plans"]], ["stopped", "verified", "refuted"])

    @unittest.skipIf(support.SANITIZED, "sanitizers need the address space")
    def test_memory(self):
        limit = 100 << 20
        many_values = GOOD.replace("start:", "let: { " + ", ".join(f"a{i}: {i}" for i in range(450000)) + " }\nstart:")
        for text, stage in ((support.long_plan(200), "step "), (many_values, "reading the plan")):
            report = self.check(self.plan(text), "--memory-limit", str(limit), "--time-limit", "120", code=3)
            self.assertIn("memory limit of 100 MB", report["findings"][-1]["message"])
            self.assertIn(stage, report["findings"][-1]["message"])
        peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss * 1024
        self.assertLess(peak, limit * 1.2)


if __name__ == "__main__":
    support.main()
