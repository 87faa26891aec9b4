#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Re-checks the certificates of every plan and solid of the project, from JSON reports alone, and compares the answers with a second
opinion where gp is installed.

usage: plans_and_solids.py PROGRAM PROJECT_FOLDER REPORTER    the last: solid_reports_tests, which writes reports of its own
"""
import json
import os
import pathlib
import subprocess
import sys
import tempfile

import recheck
import second_opinion


def certificates(node):
    if isinstance(node, dict):
        if "certificate" in node:
            yield node["certificate"]
        else:
            for value in node.values():
                yield from certificates(value)
    elif isinstance(node, list):
        for value in node:
            yield from certificates(value)


def main(program, project, reporter):
    failed, plans, solids = 0, 0, 0
    everything = {}  # by its text: most plans' sides occur again among their solids
    with tempfile.TemporaryDirectory() as name:
        subprocess.run([reporter, "-w", "NoTests"], check=True, stdout=subprocess.DEVNULL, env={**os.environ, "TEST_REPORTS_FOLDER": name})
        reports = sorted(pathlib.Path(name).glob("*.json"))

        def run(command, path, number):
            report = pathlib.Path(name) / f"{command}-{number}-{path.stem}.json"
            subprocess.run([program, command, str(path), "--quiet", "--report", f"json={report}"], capture_output=True)
            if next(certificates(json.loads(report.read_text(encoding="utf-8"))), None) is None:
                return 0
            reports.append(report)
            return 1

        paths = sorted([*(project / "plans").glob("*.yaml"), *(project / "plans" / "broken").glob("*.yaml")])
        paths = [path for path in paths if b"\ncases:" not in path.read_bytes()]  # several results: tests/plans/check_families.py
        for number, path in enumerate(paths):
            plans += run("check", path, number)
            solids += run("measure", path, number)
        solids += run("measure", project / "tests" / "plans" / "solids.yaml", len(paths))
        for report in reports:
            failed += recheck.main([str(report)])
            for each in certificates(json.loads(report.read_text(encoding="utf-8"))):
                everything[json.dumps(each, sort_keys=True)] = each
    print(f"{len(everything)} different certificates re-checked, of {plans} plans and the solids of {solids} files; {failed} rejected")
    if plans < 30 or solids < 10 or len(everything) < 100:
        print("FAILED: too few, something was left out")
        failed += 1
    if not second_opinion.available():
        print("gp is not installed: no second opinion")
        return failed
    answers = second_opinion.zeros(list(everything.values()))
    for certificate, answer in zip(everything.values(), answers):
        if answer is not None and answer is not certificate["zero"]:
            print(f"FAILED: the second opinion on an invariant of {len(certificate['edges'])} edges is {answer}")
            failed += 1
    print(f"second opinion: {answers.count(True)} zero, {answers.count(False)} not zero, {answers.count(None)} undecided")
    if answers.count(True) < 30 or answers.count(False) < 15 or answers.count(None) > 10:
        print("FAILED: too few second opinions")
        failed += 1
    return failed


if __name__ == "__main__":
    sys.exit(1 if main(sys.argv[1], pathlib.Path(sys.argv[2]), sys.argv[3]) else 0)
