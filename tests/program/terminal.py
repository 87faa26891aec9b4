#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""On a terminal: colours unless they are not wanted, the terminal's width, and progress for what takes long."""
import fcntl
import os
import pty
import re
import struct
import subprocess
import termios

import support
from support import GOOD, REFUTED


class Terminal(support.ProgramTest):
    def on_terminal(self, *words, columns=80, environment=None, stream="stdout"):
        """What the program writes to a terminal of that width."""
        try:
            ours, theirs = pty.openpty()
        except OSError as error:
            self.skipTest(f"no pseudo-terminals here ({error}): /dev/pts is not mounted")
        fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 24, columns, 0, 0))
        settings = {name: value for name, value in os.environ.items() if name not in ("NO_COLOR", "COLUMNS")}
        settings.update({"TERM": "xterm"}, **(environment or {}))
        streams = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL, stream: theirs}
        running = subprocess.Popen([support.PROGRAM, *words], env=settings, **streams)
        os.close(theirs)
        written = b""
        while True:
            try:
                part = os.read(ours, 65536)
            except OSError:  # the other end is closed
                part = b""
            if not part:
                break
            written += part
        os.close(ours)
        running.wait(60)
        return written.decode().replace("\r\n", "\n")

    def test_colours(self):
        plan = self.plan(REFUTED)
        self.assertIn("\033[31m", self.on_terminal("check", plan))
        self.assertIn("\033[32m", self.on_terminal("check", self.plan(GOOD)))
        self.assertIn("\033[", self.on_terminal("check", plan, environment={"NO_COLOR": ""}))
        self.assertNotIn("\033", self.on_terminal("check", plan, environment={"NO_COLOR": "1"}))
        self.assertNotIn("\033", self.on_terminal("check", plan, environment={"TERM": "dumb"}))
        self.assertNotIn(b"\033", self.run_program("check", plan).stdout)

    def test_width(self):
        pieces = ", ".join(f"piece-number-{i}: {{ box: {{ size: [1, 1, 1], at: [{i}, 0, 0] }} }}" for i in range(30))
        plan = self.plan(f"cutproof: 1\nstart: {{ {pieces} }}\nsteps:\n  - join: all\n    as: everything\n"
                         "goal: { box: { size: [30, 1, 1] } }\n", "p.yaml")
        widths = {}
        for columns in (60, 90, 200):
            text = self.on_terminal("check", os.path.relpath(plan), columns=columns, environment={"NO_COLOR": "1"})
            lines = [line for line in text.splitlines() if plan not in line and os.path.relpath(plan) not in line]
            widths[columns] = max(len(line) for line in lines)
            self.assertLessEqual(widths[columns], columns)
        self.assertLess(widths[60], widths[90])
        self.assertLess(widths[90], widths[200])

    def test_progress_only_on_a_terminal_and_only_when_it_takes_long(self):
        short, long = self.plan(GOOD, "short"), self.plan(support.long_plan(400), "long")
        options = ["--time-limit", "3"]
        text = self.on_terminal("check", long, *options, stream="stderr")
        self.assertRegex(text, r"\r\033\[K.*: step \d+ of 400: cut \(\d s\)")
        self.assertTrue(text.endswith("\r\033[K"))
        self.assertEqual(self.on_terminal("check", short, stream="stderr"), "")
        self.assertEqual(self.on_terminal("check", long, *options, "--quiet", stream="stderr"), "")
        self.assertEqual(self.run_program("check", long, *options).stderr, b"")

    def test_text_is_the_same_with_and_without_colours(self):
        plan = self.plan(REFUTED)
        plain = self.run_program("check", plan, env={**os.environ, "COLUMNS": "80"}).stdout.decode()
        coloured = self.on_terminal("check", plan, columns=80)
        self.assertEqual(re.sub(r"\033\[\d*m", "", coloured), plain)


if __name__ == "__main__":
    support.main()
