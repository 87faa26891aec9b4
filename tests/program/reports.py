#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Reports that cannot lie: stale ones, disks and streams that fail, standard output, pipes."""
import json
import os
import resource
import signal
import subprocess
import threading

import support
from support import GOOD, INVALID, REFUTED


class ReportTest(support.ProgramTest):
    def assert_failed(self, path):
        report = self.read(path)
        self.assertEqual((report["outcome"], report["exit_code"]), ("failed", 4))
        self.assertIn("report-not-written", [finding["code"] for finding in report["findings"]])


class Streams(ReportTest):
    def test_a_report_on_standard_output_sends_the_text_to_standard_error(self):
        plan = self.plan(GOOD)
        done = self.run_program("check", plan, "--report", "json=-")
        self.assertEqual(done.returncode, 0)
        self.assertEqual(json.loads(done.stdout)["outcome"], "verified")
        self.assertTrue(done.stderr.decode().startswith(f"verified: {plan}\n"))

    def test_standard_output_that_fails_makes_every_report_say_failed(self):
        plan = self.plan(GOOD)
        report = self.path("report.json")
        broken_pipe, writer = os.pipe()
        os.close(broken_pipe)
        with open("/dev/full", "w") as full, os.fdopen(writer, "w") as closed_pipe:
            for stdout in (full, closed_pipe):
                done = self.run_program("check", plan, "--report", f"json={report}", stdout=stdout)
                self.assertEqual(done.returncode, 4)
                self.assertIn(b"standard output could not be written", done.stderr)
                self.assert_failed(report)
        done = subprocess.run(["sh", "-c", '"$@" >&-', "sh", support.PROGRAM, "check", plan, "--report", f"json={report}"],
                              stderr=subprocess.PIPE, timeout=60)
        self.assertEqual(done.returncode, 4)
        self.assert_failed(report)
        self.assert_nothing_but("plan.yaml", "report.json")

    def test_all_standard_streams_closed(self):
        plan = self.plan(GOOD)
        report = self.path("report.json")
        done = subprocess.run(["sh", "-c", '"$@" <&- >&- 2>&-', "sh", support.PROGRAM, "check", plan, "--report", f"json={report}"],
                              timeout=60)
        self.assertEqual(done.returncode, 4)
        self.assert_failed(report)
        with open(plan) as file:
            self.assertEqual(file.read(), GOOD)

    def test_a_json_report_on_a_broken_standard_output(self):
        report = self.path("report.json")
        with open("/dev/full", "w") as full:
            done = self.run_program("check", self.plan(GOOD), "--report", "json=-", "--report", f"json={report}", stdout=full)
        self.assertEqual(done.returncode, 4)
        self.assertTrue(done.stderr.startswith(b"failed: "))
        self.assert_failed(report)

    def test_pipes_and_devices_are_written_in_place(self):
        plan, pipe = self.plan(GOOD), self.path("pipe")
        os.mkfifo(pipe)
        received = []

        def receive():
            with open(pipe, encoding="utf-8") as file:
                received.append(file.read())
        reader = threading.Thread(target=receive)
        reader.start()
        done = self.run_program("check", plan, "--report", f"json={pipe}", "--report", "json=/dev/null")
        reader.join(60)
        self.assertEqual(done.returncode, 0)
        self.assertEqual(json.loads(received[0])["outcome"], "verified")
        self.assert_nothing_but("plan.yaml", "pipe")

    def test_a_device_that_is_full(self):
        done = self.run_program("check", self.plan(GOOD), "--report", "json=/dev/full")
        self.assertEqual(done.returncode, 4)
        self.assertNotIn(b"verified", done.stdout)
        self.assertIn(b"report-not-written", done.stdout)
        self.assertTrue(os.path.exists("/dev/full"))


class Disks(ReportTest):
    def test_an_old_report_never_outlives_the_run(self):
        report = self.path("report.json")
        for text, code in ((REFUTED, 1), (INVALID, 2), ("", 2)):
            self.check(self.plan(GOOD), code=0)
            self.assertEqual(self.check(self.plan(text), code=code)["exit_code"], code)
        self.check(self.plan(GOOD), code=0)
        self.plan(support.long_plan())
        running = self.start_program("check", self.path("plan.yaml"), "--report", f"json={report}")
        while os.path.exists(report):
            self.assertIsNone(running.poll())
        running.kill()
        running.communicate()
        self.assert_nothing_but("plan.yaml")

    def test_a_missing_folder(self):
        good = self.path("good.json")
        done = self.run_program("check", self.plan(GOOD), "--report", f"json={good}", "--report", "json=" + self.path("no/where.json"))
        self.assertEqual(done.returncode, 4)
        self.assertNotIn(b"verified", done.stdout)
        self.assert_failed(good)
        self.assert_nothing_but("plan.yaml", "good.json")

    def test_no_room_for_a_report(self):
        def little_room():
            signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
            resource.setrlimit(resource.RLIMIT_FSIZE, (100, 100))
        done = self.run_program("check", self.plan(GOOD), "--report", "json=" + self.path("report.json"), preexec_fn=little_room)
        self.assertEqual(done.returncode, 4)
        self.assertNotIn(b"verified", done.stdout)
        self.assert_nothing_but("plan.yaml")

    def test_a_full_disk(self):
        disk, good = self.path("disk"), self.path("good.json")
        os.mkdir(disk)
        mounted = os.geteuid() == 0 and subprocess.run(["mount", "-t", "tmpfs", "-o", "size=8k", "none", disk],
                                                       stderr=subprocess.DEVNULL).returncode == 0
        if not mounted:
            self.skipTest("mounting a small disk needs root")
        self.addCleanup(subprocess.run, ["umount", disk])
        with open(disk + "/filler", "wb") as filler:
            try:
                filler.write(b"x" * 100000)
                filler.flush()
            except OSError:
                pass
        try:
            filler.close()
        except OSError:
            pass
        done = self.run_program("check", self.plan(GOOD), "--report", f"json={good}", "--report", f"json={disk}/report.json")
        self.assertEqual(done.returncode, 4)
        self.assertNotIn(b"verified", done.stdout)
        self.assert_failed(good)
        self.assertEqual(os.listdir(disk), ["filler"])

    def test_a_folder_that_may_not_be_changed(self):
        plan, good = self.plan(GOOD), self.path("good.json")
        os.mkdir(self.path("fixed"))
        old = self.path("fixed/report.json")
        for writable in (True, False):
            with self.subTest(old_report_is_writable=writable):
                with open(old, "w") as file:
                    file.write('{"outcome": "verified"}')
                os.chmod(old, 0o666 if writable else 0o444)
                os.chmod(self.path("fixed"), 0o555)
                os.chmod(self.folder, 0o777)
                done = self.run_program("check", plan, "--report", f"json={good}", "--report", f"json={old}", **support.AS_NOBODY)
                os.chmod(self.path("fixed"), 0o777)
                self.assertEqual(done.returncode, 4)
                self.assertNotIn(b"verified", done.stdout)
                self.assert_failed(good)
                self.assertEqual(os.listdir(self.path("fixed")), ["report.json"])
                if writable:
                    self.assertEqual(os.path.getsize(old), 0)

    def test_an_old_report_that_is_held_open_keeps_its_reader_and_is_replaced(self):
        old = self.plan("old", "report.json")
        with open(old) as held:
            self.assertEqual(self.check(self.plan(GOOD), code=0)["outcome"], "verified")
            self.assertEqual(held.read(), "old")

    def test_links_are_replaced_not_followed(self):
        target = self.plan("precious", "target")
        os.symlink(target, self.path("report.json"))
        self.check(self.plan(GOOD), code=0)
        self.assertFalse(os.path.islink(self.path("report.json")))
        with open(target) as file:
            self.assertEqual(file.read(), "precious")


if __name__ == "__main__":
    support.main()
