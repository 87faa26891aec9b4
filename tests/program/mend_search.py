#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The search for mends can be stopped, crash and be killed, as when memory runs out, and the verdict stands. (What is found is in tests/mends.)"""
import json
import os
import pathlib
import resource
import signal
import unittest

import support
from support import GOOD, REFUTED

# Many pieces that would all have to be moved: the search goes on for a while.
LONG = support.long_plan(9).replace("goal: { box: { size: [2, 2, 2], at: [-1, -1, -1] } }", "goal: { box: { size: [1, 2, 4], at: [-1, -1, -1] } }")


def children_of(process):
    return [int(pid) for task in pathlib.Path(f"/proc/{process}/task").iterdir() for pid in (task / "children").read_text().split()]


class Search(support.ProgramTest):
    def during_the_search(self, act):
        """Runs a check, does something to its child once the search has begun, and returns exit code and report."""
        report = self.path("report.json")
        process = self.start_program("check", self.plan(LONG), "--verbose", "--report", f"json={report}")
        lines = b""
        while b"looking for mends" not in lines:
            line = process.stderr.readline()
            self.assertTrue(line, lines)
            lines += line
        act(process.pid)
        process.communicate(timeout=300)
        return process.returncode, json.loads(pathlib.Path(report).read_bytes())

    def assert_verdict_stands(self, code, report, why):
        self.assertEqual((code, report["exit_code"], report["outcome"]), (1, 1, "refuted"))
        self.assertEqual(set(report["counts"]) & {"limit-reached", "tool-fault"}, set())
        self.assertIn(why, report["mends_ended_early"])
        self.assertLessEqual(len(report["mends"]), 3)
        plain = self.check(self.plan(LONG), "--no-mends", code=1)
        for key in ("findings", "counts", "steps", "pieces", "shapes"):
            self.assertEqual(report[key], plain[key], key)
        self.assertNotIn("mends_tried", plain)

    def test_its_process_is_killed(self):
        code, report = self.during_the_search(lambda parent: [os.kill(child, signal.SIGKILL) for child in children_of(parent)])
        self.assert_verdict_stands(code, report, "died of signal KILL")

    def test_it_crashes(self):
        code, report = self.during_the_search(lambda parent: [os.kill(child, signal.SIGSEGV) for child in children_of(parent)])
        self.assert_verdict_stands(code, report, "died of signal SEGV")

    def test_it_is_interrupted(self):
        code, report = self.during_the_search(lambda parent: os.kill(parent, signal.SIGINT))
        self.assert_verdict_stands(code, report, "interrupted")

    @unittest.skipIf(support.SANITIZED, "sanitizers need the address space")
    def test_it_runs_out_of_memory(self):
        def take_memory(parent):
            for child in children_of(parent):
                resource.prlimit(child, resource.RLIMIT_AS, (1 << 20, 1 << 20))  # less than it has: nothing more can be had
        code, report = self.during_the_search(take_memory)
        self.assertEqual((code, report["outcome"]), (1, "refuted"))
        self.assert_verdict_stands(code, report, "")

    def test_what_fits(self):
        """Where only a mirror image fits, or nothing does, the first finding says so."""
        corners = "[[0, 0, 0], [1, 0, 0], [1, 2, 0], [1, 2, 3]]"
        tetrahedron = f"cutproof: 1\nstart: {{ T: {{ convex-hull: {corners} }} }}\nsteps: []\n" \
            "goal: { convex-hull: [[5, 0, 0], [6, 0, 0], [6, 2, 0], [6, 2, -3]] }\n"
        mirrored = self.check(self.plan(tetrahedron), code=1)
        self.assertEqual([finding["hint"] for finding in mirrored["findings"] if "hint" in finding],
                         ["only the mirror image of `T` fits the hole: no motion can put it there"])
        box = "cutproof: 1\nstart: { T: { box: { size: [1, 2, 3] } } }\nsteps: []\ngoal: { box: { size: [1, 3/2, 4] } }\n"
        nothing = self.check(self.plan(box), code=1)
        hints = [finding["hint"] for finding in nothing["findings"] if "hint" in finding]
        self.assertEqual(len(hints), 1)
        self.assertIn("no motion puts `T` into a hole", hints[0])
        plain = self.check(self.plan(box), "--no-mends", code=1)
        self.assertEqual([finding for finding in plain["findings"] if "hint" in finding], [])

    def test_only_when_wanted(self):
        plan = self.plan(REFUTED)
        self.assertGreater(self.check(plan, code=1)["mends_tried"], 0)
        self.assertNotIn("mends_tried", self.check(plan, "--no-mends", code=1))
        self.assertNotIn("mends_tried", self.check(self.plan(GOOD), code=0))
        done = self.run_program("check", "--no-mends", plan)
        self.assertNotIn(b"tried", done.stdout)
        self.assertEqual(self.run_program("measure", "--no-mends", plan + "#x").returncode, 2)


if __name__ == "__main__":
    support.main()
