#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Checks every hostile file through the program: exit code, outcome, place and message of its first finding, in the JSON report
and on the terminal. Where a mend is given, it is the message followed literally, and the mended plan must be verified. Where a
text is given for the hint, the hint must contain it.

expected.tsv: file, stage (read: decided by reading; file: by reading it with others; run: by executing), exit code, line, column,
message, then optionally a text and what the mend replaces it by (both empty: no mend), and what the hint contains. In messages,
mends and hints stand \\n, \\t, \\e (escape), \\d (delete) and \\\\.
"""
import json
import os
import subprocess
import sys
import tempfile

OUTCOMES = {2: "invalid", 3: "stopped"}
CODES = {2: "invalid-input", 3: "limit-reached"}
# One error that takes names away with it: nothing else is told.
ALONE = {"let-empty.yaml", "let-is-a-list.yaml", "let-misspelt.yaml", "name-far-from-all-in-a-broken-let.yaml"}
FEWEST_FILES, FEWEST_MENDS, FEWEST_HINTS = 100, 30, 30  # a guard against a table that was emptied


def unescaped(text):
    plain = {"n": "\n", "t": "\t", "e": "\x1b", "d": "\x7f", "\\": "\\"}
    result, letters = "", iter(text)
    for letter in letters:
        result += plain[next(letters)] if letter == "\\" else letter
    return result


def rows(folder):
    with open(os.path.join(folder, "expected.tsv"), encoding="utf-8", newline="\n") as table:
        for line in table:
            if not line.startswith("#"):
                yield line.rstrip("\n").split("\t")


def has_mend(row):
    return len(row) >= 8 and row[6] != ""


def has_hint(row):
    return len(row) >= 9 and row[8] != ""


def check(program, path):
    run = subprocess.run([program, "check", path, "--report", "json=-"], capture_output=True, timeout=60)
    report = json.loads(run.stdout)
    return run.returncode, report.get("plans", [report])[0], run.stderr.decode("utf-8")  # of a plan with cases the first


def faults(program, folder, row):
    name, _, code, line, column, message = row[:6]
    code, line, column, message = int(code), int(line), int(column), unescaped(message)
    path = os.path.join(folder, name)
    got_code, report, text = check(program, path)
    if got_code != code:
        yield f"exit code {got_code}, not {code}"
    if report["outcome"] != OUTCOMES[code] or report["exit_code"] != code:
        yield f"the report says {report['outcome']}"
    if not report["findings"]:
        yield "no finding"
        return
    first = report["findings"][0]
    got = (first["code"], first["line"], first["column"], first["message"])
    if got != (CODES[code], line, column, message):
        yield f"got {got}"
    if name in ALONE and len(report["findings"]) != 1:
        yield f"{len(report['findings'])} findings, not one"
    if f"{name}:{line}:{column}" not in text:
        yield f"the terminal does not say {name}:{line}:{column}"
    if "verified" in text.replace(name, ""):
        yield "the terminal says verified"
    if has_hint(row) and unescaped(row[8]) not in first.get("hint", ""):
        yield f"the hint is {first.get('hint')!r}"
    if not has_mend(row):
        return
    with open(path, "rb") as plan:
        content = plan.read()
    old, new = (unescaped(part).encode() for part in row[6:8])
    if content.count(old) != 1:
        yield f"the mend fits {content.count(old)} places"
    with tempfile.TemporaryDirectory() as scratch:
        mended = os.path.join(scratch, "mended.yaml")
        with open(mended, "wb") as plan:
            plan.write(content.replace(old, new))
        got_code, report, _ = check(program, mended)
        if got_code != 0:
            yield f"mended, the plan is {report['outcome']}: {[finding['message'] for finding in report['findings']]}"


def main():
    program, folder = os.path.abspath(sys.argv[1]), sys.argv[2]
    table = list(rows(folder))
    failures = 0
    listed = {row[0] for row in table}
    present = {name for name in os.listdir(folder) if name.endswith(".yaml")}
    for name in sorted(listed ^ present):
        failures += 1
        print(f"{name}: in the folder or in the table, but not in both")
    mends, hints = sum(map(has_mend, table)), sum(map(has_hint, table))
    if len(table) < FEWEST_FILES or mends < FEWEST_MENDS or hints < FEWEST_HINTS:
        failures += 1
        print(f"only {len(table)} files, {mends} mends and {hints} hints")
    for row in table:
        for fault in faults(program, folder, row):
            failures += 1
            print(f"{row[0]}: {fault}")
    print(f"{len(table)} hostile files, {mends} mends, {hints} hints, {failures} faults")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
