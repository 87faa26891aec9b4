#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Every plan in plans/ with `cases`: each case is verified, and so is the plan with the same values set from outside.

Usage: check_families.py PROGRAM PLANS_FOLDER
Where a case has at most 500 steps, both engines must agree on it; of each plan the first two cases, or all with CUTPROOF_SLOW=1.
"""
import json
import os
import pathlib
import subprocess
import sys

SLOW = os.environ.get("CUTPROOF_SLOW") == "1"


def run(program, plan, *options):
    done = subprocess.run([program, "check", plan, "--report", "json=-", *options], capture_output=True, text=True, timeout=600)
    return done.returncode, json.loads(done.stdout)


def main():
    program, plans = sys.argv[1], pathlib.Path(sys.argv[2])
    families = sorted(plan for plan in plans.glob("*.yaml") if "\ncases:" in plan.read_text(encoding="utf-8"))
    failures = [] if len(families) >= 8 else [f"{len(families)} families"]
    for plan in families:
        code, report = run(program, plan)
        outcomes = [each["outcome"] for each in report["plans"]]
        print(plan.name, outcomes, flush=True)
        if code != 0 or set(outcomes) != {"verified"}:
            failures.append(f"{plan.name}: exit code {code}, {outcomes}")
        if [each["case"] for each in report["plans"]] != list(range(1, len(outcomes) + 1)):
            failures.append(f"{plan.name}: cases {[each['case'] for each in report['plans']]}")
        for each in report["plans"] if SLOW else report["plans"][:2]:
            if each["total_steps"] > 500:
                continue
            values = [word for name, value in each["parameters"].items() for word in ("--set", f"{name}={value}")]
            code, alone = run(program, plan, "--engine", "both", *values)
            kept = [key for key in ("outcome", "parameters", "steps", "pieces", "start", "goal", "field") if alone[key] != each[key]]
            if code != 0 or kept or "case" in alone:
                failures.append(f"{plan.name} with {values}: exit code {code}, {kept} differ")
    print("\n".join(failures))
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
