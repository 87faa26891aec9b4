#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Every wrong input of this folder through the program: exit code, line, column and message as expected.tsv says.

Usage: run.py PROGRAM FOLDER

Where a line of expected.tsv has a mend, the text that it names is replaced, and the plan must get past that error.
"""
import json
import pathlib
import subprocess
import sys
import tempfile

PROGRAM, FOLDER = sys.argv[1], pathlib.Path(sys.argv[2])


def check(path):
    with tempfile.TemporaryDirectory() as folder:
        report = pathlib.Path(folder) / "report.json"
        done = subprocess.run([PROGRAM, "check", "--quiet", "--report", f"json={report}", str(path)], capture_output=True, timeout=60)
        return done.returncode, json.loads(report.read_text())["findings"]


failures = mended = plans = 0
for line in (FOLDER / "expected.tsv").read_text(encoding="utf-8").splitlines():
    if line.startswith("#") or not line:
        continue
    name, code, row, column, message, *mend = line.split("\t")
    plans += 1
    got, findings = check(FOLDER / name)
    first = findings[0] if findings else {}
    found = (str(got), str(first.get("line")), str(first.get("column")), first.get("message", ""))
    wanted = (code, row, column, message)
    if found[0] != code or (row and found[1:3] != (row, column)) or not found[3].startswith(message):
        failures += 1
        print(f"FAILED {name}: found {found}, wanted {wanted}")
    if len(mend) == 2:
        mended += 1
        text = (FOLDER / name).read_text(encoding="utf-8")
        unescaped = [part.encode().decode("unicode_escape").encode("latin-1").decode() if "\\" in part else part for part in mend]
        if unescaped[0] not in text:
            failures += 1
            print(f"FAILED {name}: the mend's text does not stand in it")
            continue
        with tempfile.TemporaryDirectory() as folder:
            plan = pathlib.Path(folder) / "plan.yaml"
            plan.write_text(text.replace(unescaped[0], unescaped[1], 1), encoding="utf-8")
            if any(finding["message"].startswith(message) for finding in check(plan)[1]):
                failures += 1
                print(f"FAILED {name}: the mend does not get past the error")
print(f"{plans} wrong inputs, {mended} mended; {failures} failed")
sys.exit(1 if failures or plans < 100 else 0)
