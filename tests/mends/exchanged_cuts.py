#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Exchanges the two names of every cut of every plan, one cut at a time: which half is named first is the commonest slip.

Of those exchanges that refute their plan, at least nine in ten reports must name the cut (a finding, a suspect or a mend at it), and
be mended by naming the halves the other way round. Without CUTPROOF_SLOW=1 only every seventh cut is tried.

Usage: exchanged_cuts.py PROGRAM PLANS_FOLDER
"""
import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile

PROGRAM, PLANS = sys.argv[1], pathlib.Path(sys.argv[2])
INTO = re.compile(r"into: \[([^\[\],*]+), ([^\[\],*]+)\]")


def exchanges():
    """Plan, line of the cut's key, the changed text."""
    for plan in sorted(PLANS.glob("*.yaml")):
        text = plan.read_text(encoding="utf-8")
        for place in INTO.finditer(text):
            before = list(re.finditer(r"\b(cut|split): ", text[:place.start()]))
            if not before or before[-1].group(1) != "cut":
                continue
            changed = text[:place.start()] + f"into: [{place.group(2)}, {place.group(1)}]" + text[place.end():]
            yield plan.name, text.count("\n", 0, before[-1].start()) + 1, text.count("\n", 0, place.end()) + 1, changed


def names_the_cut(report, first, last):
    places = [(finding["line"],) for finding in report["findings"]]
    places += [(suspect["line"],) for finding in report["findings"] for suspect in finding.get("suspects", [])]
    places += [(edit["line"],) for mend in report.get("mends", []) for edit in mend["edits"]]
    return any(first <= line <= last for line, in places)


def main():
    every = 1 if os.environ.get("CUTPROOF_SLOW") == "1" else 7
    tried = refuted = named = mended = 0
    with tempfile.TemporaryDirectory() as folder:
        for number, (name, first, last, text) in enumerate(exchanges()):
            if number % every:
                continue
            plan = pathlib.Path(folder) / "plan.yaml"
            plan.write_text(text, encoding="utf-8")
            done = subprocess.run([PROGRAM, "check", str(plan), "--no-certificates", "--report", "json=-"], capture_output=True, check=False)
            report = json.loads(done.stdout)
            cases = report.get("plans", [report])
            report = next((case for case in cases if case["outcome"] == "refuted"), cases[0])
            tried += 1
            if report["outcome"] != "refuted":
                print(f"{name}:{first}: {report['outcome']}")
                continue
            refuted += 1
            good = names_the_cut(report, first, last), any(mend["kind"] == "halves" for mend in report.get("mends", []))
            named += good[0]
            mended += good[1]
            if not all(good):
                kinds = [mend["kind"] for mend in report.get("mends", [])]
                print(f"{name}:{first}: cut named: {good[0]}; mends {kinds}, {report.get('mends_tried', 0)} tried")
    print(f"{tried} exchanges, {refuted} refuted; the cut is named in {named}, halves mend {mended}")
    least = 60 // every
    sys.exit(0 if tried >= least and 10 * named >= 9 * refuted and 10 * mended >= 9 * refuted else 1)


main()
