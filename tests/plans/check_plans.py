#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Runs the program over every plan in plans/ and plans/broken/ and compares outcomes, exit codes, findings and amounts.

Usage: check_plans.py PROGRAM PLANS_FOLDER [OPTION OF `check`]...

Good plans must be verified; a broken one must end as plans/broken/expected.tsv says, with exactly these findings. Every plan runs
twice, and both JSON reports must be the same byte for byte. The amounts in expected.tsv were worked out by hand or with a program that
shares no code with this project; they are compared by value, not as text.
"""
import decimal
import fractions
import json
import pathlib
import re
import subprocess
import sys
import tempfile

# Every finding that a plan can cause; each must be caused by some broken plan.
FINDINGS = {"plane-misses", "mirrored", "overlap", "join-apart", "straddles", "expectation-failed", "missing", "excess",
            "volume-differs", "dehn-differs", "nothing-selected", "no-fit", "ambiguous", "lemma-fails", "invalid-input", "limit-reached"}

decimal.getcontext().prec = 120


def value(expression):
    """An exact number's value: a Fraction where it is rational as written, else 120 digits of it."""
    code = re.sub(r"(?<![\w.])(\d+\.?\d*(?:[eE][-+]?\d+)?|\.\d+)", r"number('\1')", expression).replace("^", "**")
    if not re.fullmatch(r"[\w\s.+\-*/()']*", code):
        raise ValueError(f"not an exact number: {expression!r}")
    if re.search(r"sqrt|cbrt|\*\*", code) is None:
        return eval(code, {"__builtins__": {}, "number": fractions.Fraction})
    names = {"__builtins__": {}, "number": decimal.Decimal, "sqrt": decimal.Decimal.sqrt,
             "cbrt": lambda x: x ** (decimal.Decimal(1) / 3)}
    return eval(code, names)


def same_value(left, right):
    a, b = value(left), value(right)
    if isinstance(a, fractions.Fraction) and isinstance(b, fractions.Fraction):
        return a == b
    a, b = (decimal.Decimal(v.numerator) / v.denominator if isinstance(v, fractions.Fraction) else v for v in (a, b))
    return abs(a - b) <= abs(a) * decimal.Decimal("1e-100")


class Finding:
    """`code@step=volume`; step and volume may be absent, and are compared only where they are not."""

    def __init__(self, text):
        self.text = text
        head, _, self.volume = text.partition("=")
        self.code, _, self.step = head.partition("@")

    def describes(self, finding):
        return (finding["code"] == self.code and (not self.step or finding["step"] == int(self.step))
                and (not self.volume or "volume" in finding and same_value(finding["volume"]["exact"], self.volume)))


def shown(finding):
    volume = finding.get("volume")
    return f"{finding['code']}@{finding['step']}" + (f"={volume['exact']}" if volume else "")


def run(program, plan, options, report):
    done = subprocess.run([program, "check", "--no-mends", str(plan), "--report", f"json={report}", *options], capture_output=True, text=True)
    if not report.exists():
        return done, None, b""
    raw = report.read_bytes()
    return done, json.loads(raw), raw


def problems_of(program, plan, options, folder, outcome, exit_code, expected):
    done, report, raw = run(program, plan, options, folder / "first.json")
    if report is None:
        return [f"no report; exit code {done.returncode}: {done.stderr.strip()}"]
    problems = []
    if run(program, plan, options, folder / "second.json")[2] != raw:
        problems.append("a second run gave another report")
    if (report["outcome"], report["exit_code"], done.returncode) != (outcome, exit_code, exit_code):
        problems.append(f"outcome {report['outcome']}, exit code {report['exit_code']} in the report, {done.returncode} of the program")
    left = list(report.get("findings", []))
    for finding in expected:
        match = next((found for found in left if finding.describes(found)), None)
        if match is None:
            problems.append(f"lacks {finding.text}")
        else:
            left.remove(match)
    problems += [f"not expected: {shown(found)}: {found['message']}" for found in left]
    if outcome == "verified":
        if report.get("dissection") != "exists":
            problems.append(f"verified, but dissection: {report.get('dissection')}")
        if len({step["volume"]["exact"] for step in report["steps"]} | {report["start"]["volume"]["exact"]}) != 1:
            problems.append("the volume is not the same after every step")
    elif "verified" in done.stdout + done.stderr:
        problems.append("prints the word verified")
    return problems


def read_expected(path):
    rows = [line.split("\t") for line in path.read_text(encoding="utf-8").splitlines() if line and not line.startswith("#")]
    return {name: (outcome, int(code), [Finding(text) for text in findings.split()]) for name, outcome, code, findings in rows}


def main():
    program, plans, options = sys.argv[1], pathlib.Path(sys.argv[2]), sys.argv[3:]
    good = sorted(plan for plan in plans.glob("*.yaml") if b"\ncases:" not in plan.read_bytes())  # these: check_families.py
    broken = sorted((plans / "broken").glob("*.yaml"))
    expected = read_expected(plans / "broken" / "expected.tsv")
    failures = 0

    def judge(name, problems):
        nonlocal failures
        failures += bool(problems)
        print(("FAILED " if problems else "ok     ") + name, *problems, sep="\n         " if problems else " ", flush=True)

    judge("at least 14 good plans and 15 broken ones", [] if len(good) >= 14 and len(broken) >= 15 else [f"{len(good)}, {len(broken)}"])
    judge("expected.tsv names the broken plans", sorted({plan.name for plan in broken} ^ set(expected)))
    judge("every finding is caused by some broken plan", sorted(FINDINGS ^ {f.code for row in expected.values() for f in row[2]}))
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        for plan in good:
            problems = problems_of(program, plan, options, folder, "verified", 0, [])
            if not re.search(r"^source: \S", plan.read_text(encoding="utf-8"), re.MULTILINE):
                problems.append("names no source")
            judge(plan.name, problems)
        for plan in broken:
            if plan.name in expected:
                judge(f"broken/{plan.name}", problems_of(program, plan, options, folder, *expected[plan.name]))
    sys.exit(1 if failures else 0)


main()
