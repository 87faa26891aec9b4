#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The benchmarks still build, measure what they say, and agree with the tool on right plans and on a wrong one.

Usage: smoke.py PROGRAM FOLDER-OF-BENCHMARKS
"""
import json
import os
import subprocess
import sys
import tempfile

import cases

PROGRAM, TOOLS = sys.argv[1:]


def run(name, *arguments):
    return subprocess.run([name if os.path.isabs(name) else os.path.join(TOOLS, name), *arguments], stdout=subprocess.PIPE,
                          stderr=subprocess.PIPE, check=False, text=True)


def expect(answer, code, output):
    if answer.returncode != code or output not in answer.stdout:
        sys.exit(f"{answer.args}: exit code {answer.returncode} and {answer.stdout!r}, not {code} and {output!r}\n{answer.stderr}")


def main():
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "plan.yaml")

        def write(text):
            with open(path, "w", encoding="utf-8") as file:
                file.write(text)

        for case in (("lattice", 2), ("together", 2, "Q"), ("apart", 2, "Q", PROGRAM), ("tunnel", 1), ("chain", 4), ("four",)):
            write(cases.plan(*case))
            expect(run(PROGRAM, "check", path), 0, "verified")
            expect(run("plain_double", path), 0, "ok")
            if case[0] != "chain":  # whose numbers are not rational
                expect(run("plain_nef", path), 0, "ok")
        for case in (("sawn", 2), ("uses", 3, "same"), ("uses", 3, "different"), ("results", 3, "same"), ("places", 2),
                     ("laid", 2, "found"), ("laid", 2, "given")):
            write(cases.plan(*case))
            expect(run(PROGRAM, "check", path), 0, "verified")
        for case in (("together", 3, "K"), ("chain", 6)):
            write(cases.plan(*case))
            expect(run(PROGRAM, "check", path), 0, "verified")
            expect(run("plain_double", path), 0, "ok")
            parts = run("anatomy", path)
            expect(parts, 0, "verified")
            measured = json.loads(parts.stdout)
            if not (0 < measured["dehn"] < measured["checking"] and measured["operations"]["multiplication"]["count"] > 100):
                sys.exit(f"{case}: nothing was measured\n{parts.stdout}")
        parts = run("degrees")
        expect(parts, 0, "decision")
        if "FAULT" in parts.stdout or [line.split()[0] for line in parts.stdout.splitlines()[1::2]] != ["8", "12", "16", "24", "48"]:
            sys.exit(f"degrees: not the degrees that were meant\n{parts.stdout}")
        # The pieces lie across, not where the cube was; and two pieces on one place.
        for right, wrong in (("goal: across", "goal: cube"), ("f*1/2, f*-1/2]", "f*1/2, 0]")):
            write(cases.plan("lattice", 2).replace(right, wrong, 1))
            expect(run(PROGRAM, "check", path), 1, "refuted")
            expect(run("plain_double", path), 1, "wrong")
            expect(run("plain_nef", path), 1, "wrong")


main()
