#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Interrupts at random moments (seed 20240, printed with a failure), and children that are killed from outside."""
import os
import random
import signal
import time

import support
from support import GOOD

SEED = 20240


def children_of(process):
    with open(f"/proc/{process}/task/{process}/children") as file:
        return [int(word) for word in file.read().split()]


class Signals(support.ProgramTest):
    def interrupt(self, send, after, *plans):
        report = self.plan("old", "report.json")
        running = self.start_program("check", *plans, "--report", f"json={report}", start_new_session=True)
        while running.poll() is None:  # the handler stands before old reports go
            try:
                with open(report) as file:
                    if file.read() != "old":
                        break
            except FileNotFoundError:
                break
        time.sleep(after)
        begin = time.monotonic()
        send(running.pid)
        text, errors = running.communicate(timeout=60)
        self.assertLess(time.monotonic() - begin, 20 if support.SANITIZED else 2)
        self.assertEqual(running.returncode, 3, (text, errors))
        return self.read(report), text.decode()

    def test_interrupts_at_random_moments_end_as_stopped(self):
        plan = self.plan(support.long_plan(400))
        moments = random.Random(SEED)
        for i in range(10):
            moment = moments.uniform(0, 1.5)
            send = [lambda process: os.kill(process, signal.SIGINT), lambda process: os.killpg(process, signal.SIGINT),
                    lambda process: os.kill(process, signal.SIGTERM)][i % 3]
            with self.subTest(seed=SEED, case=i, moment=moment):
                report, text = self.interrupt(send, moment, plan)
                self.assertEqual((report["outcome"], report["exit_code"]), ("stopped", 3))
                self.assertEqual([finding["code"] for finding in report["findings"]], ["limit-reached"])
                self.assertIn("interrupted", report["findings"][0]["message"])
                self.assertTrue(text.startswith(f"stopped: {plan}\n"))
                self.assert_nothing_but("plan.yaml", "report.json")

    def test_plans_that_were_not_begun_are_reported_too(self):
        plans = [self.plan(support.long_plan(400), "a"), self.plan(GOOD, "b")]
        report, _ = self.interrupt(lambda process: os.kill(process, signal.SIGINT), 0.3, *plans)
        self.assertEqual([plan["outcome"] for plan in report["plans"]], ["stopped", "stopped"])
        self.assertIn("before", report["plans"][1]["findings"][0]["message"])

    def test_a_child_that_is_killed_is_a_fault_and_no_verdict(self):
        plan, report = self.plan(support.long_plan(400)), self.path("report.json")
        for number, name in ((signal.SIGKILL, "KILL"), (signal.SIGSEGV, "SEGV")):
            running = self.start_program("check", plan, "--report", f"json={report}")
            while not children_of(running.pid):
                self.assertIsNone(running.poll())
            time.sleep(0.2)
            os.kill(children_of(running.pid)[0], number)
            running.communicate(timeout=60)
            self.assertEqual(running.returncode, 4)
            result = self.read(report)
            self.assertEqual(result["outcome"], "failed")
            self.assertEqual(result["findings"][-1]["code"], "tool-fault")
            # Sanitizers answer to this signal themselves, and exit.
            how = "exit code 1" if support.SANITIZED and name == "SEGV" else f"signal {name}"
            self.assertIn(how, result["findings"][-1]["message"])
            self.assertIn("report it", result["findings"][-1]["hint"])
            self.assertEqual(len(result["plan_sha256"]), 64)

    def test_children_do_not_outlive_the_program(self):
        running = self.start_program("check", self.plan(support.long_plan(400)))
        while not children_of(running.pid):
            self.assertIsNone(running.poll())
        child = children_of(running.pid)[0]
        time.sleep(0.2)
        running.kill()
        running.communicate(timeout=60)
        for _ in range(100):
            if not os.path.exists(f"/proc/{child}") or "State:\tZ" in open(f"/proc/{child}/status").read():
                return
            time.sleep(0.1)
        self.fail("the child still runs")


if __name__ == "__main__":
    support.main()
