#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""`expand`: the plan that it writes has the outcome, start, goal and final pieces of the one that it was made from.

Usage: check_expand.py PROGRAM PLANS_FOLDER
Every plan of version 2, with the first of its cases, and some of version 1; with CUTPROOF_SLOW=1 every plan and case. And the
plans of expand.yaml. Of a plan with `added`, what it is written out to has the added solids in its start and its goal, and
proves that these become each other; the volumes of both sides are larger by the same amount then.
"""
import fractions
import json
import os
import pathlib
import subprocess
import sys
import tempfile

import yaml

SLOW = os.environ.get("CUTPROOF_SLOW") == "1"


def run(program, *words):
    return subprocess.run([program, *map(str, words)], capture_output=True, text=True, timeout=600)


def report(program, *words):
    done = run(program, *words, "--report", "json=-")
    return done.returncode, json.loads(done.stdout)


def in_plane(piece):
    """What a figure thickened by 1 is in the plane."""
    flat = dict(piece)
    for suffix in ("", "_decimal"):
        box = flat["box" + suffix]
        flat["box" + suffix] = {end: box[end][:2] for end in ("min", "max")}
        flat["centroid" + suffix] = flat["centroid" + suffix][:2]
    for key in ("box", "centroid"):  # in another field the same number may have another text
        del flat[key]
    return flat


def placed(piece):
    """A piece with irrational places in decimals of 20 digits: how a number is written depends on what else is adjoined."""
    if any("^" in text or "sqrt" in text or "(" in text for text in [*piece["box"]["min"], *piece["box"]["max"], *piece["centroid"]]):
        return {key: value for key, value in piece.items() if key not in ("box", "centroid")}
    return piece


def added_differently(own, other):
    """Where start and goal of a plan with `added` did not become larger by the same volume; rational volumes only."""
    grown = [fractions.Fraction(other[side]["volume"]["exact"]) - fractions.Fraction(own[side]["volume"]["exact"])
             for side in ("start", "goal")]
    problems = [] if grown[0] == grown[1] and grown[0] > 0 else [f"start and goal grew by {grown}"]
    return problems + ([] if other["proof"] == "dissection" else ["it is written out with `added`"])


def differences(program, plan, written_out, values):
    """How the plan with these values and the one it is written out to differ."""
    own = report(program, "check", "--no-mends", "--no-certificates", plan, *values)[1]
    done = run(program, "expand", plan, *values)
    if done.returncode != 0:
        return [f"expand: exit code {done.returncode}: {done.stderr}"]
    written_out.write_text(done.stdout, encoding="utf-8")
    if "\ncutproof: 1\n" not in "\n" + done.stdout:
        return ["it is not written in version 1"]
    problems = []
    # The other engine need not agree with itself, so it is asked where it is quick.
    engine = ["--engine", "both"] if done.stdout.count("\n  - ") <= 40 else []
    other = report(program, "check", "--no-mends", "--no-certificates", written_out, *engine)[1]
    flat = own.get("dimension") == 2  # version 1 has it thickened
    for key in ("start", "goal") if flat else ():
        del other[key]["dehn"]
    sides = () if own["proof"] == "equicomplement" else ("start", "goal")
    problems += [f"{key}: {own[key]} became {other[key]}" for key in ("outcome", *sides) if own[key] != other[key]]
    if not sides:
        problems += added_differently(own, other)
    pieces = [sorted((piece["name"], piece["volume"]["exact"]) for piece in each["pieces"]) for each in (own, other)]
    if pieces[0] != pieces[1]:
        problems.append(f"final pieces: {pieces[0]} became {pieces[1]}")
    for place in ("start", "goal", "end"):
        lists = [report(program, "measure", f"{each}@{place}", *options)[1]["pieces"] for each, options in
                 ((plan, values), (written_out, []))]
        for each in lists:
            for piece in each:
                if place == "goal":  # a goal that was given by the name of a solid has lost it
                    del piece["name"]
            each[:] = sorted(map(in_plane if flat else placed, each), key=json.dumps)
        if lists[0] != lists[1]:
            problems.append(f"{place}: {lists[0]} became {lists[1]}")
        if place in sides and not values and not flat:
            done = run(program, "compare", f"{plan}@{place}", "--with", f"{written_out}@{place}", "--demand", "same")
            if done.returncode != 0:
                problems.append(f"{place}: {done.stdout.splitlines()[0]}")
    again = run(program, "expand", written_out)
    if again.returncode != 0:
        problems.append(f"what was written out cannot be written out: {again.stderr}")
    return problems


def check_case(program, case, folder):
    """What is wrong with how a plan of expand.yaml is written out, or refused."""
    plan, written_out = folder / "plan.yaml", folder / "written-out.yaml"
    plan.write_text(case["plan"], encoding="utf-8")
    if "refused" not in case:
        problems = differences(program, plan, written_out, [])
        text = written_out.read_text(encoding="utf-8") if written_out.exists() else ""
        return problems + [f"it has no {part}" for part in case.get("version 1 has", []) if part not in text]
    done = run(program, "expand", plan)
    problems = [] if case["refused"] in " ".join(done.stderr.split()) else [f"it is refused with {done.stderr}"]
    return problems + ([] if (done.returncode, done.stdout) == (case["exit code"], "") else [f"exit code {done.returncode}: {done.stdout}"])


def main():
    program, plans = sys.argv[1], pathlib.Path(sys.argv[2])
    failures, count = [], 0
    for case in yaml.safe_load((pathlib.Path(__file__).parent / "expand.yaml").read_text(encoding="utf-8")):
        with tempfile.TemporaryDirectory() as folder:
            problems = check_case(program, case, pathlib.Path(folder))
        print("FAILED" if problems else "ok    ", case["name"], *problems, flush=True)
        failures += problems
    for name, code in (("lemma-fails", "lemma-fails"), ("lemma-no-fit", "no-fit")):
        done = run(program, "expand", plans / "broken" / f"{name}.yaml")
        if done.returncode != 1 or done.stdout or f"version 1 cannot find `{code}`" not in done.stderr:
            failures.append(f"{name}: exit code {done.returncode}: {done.stdout}{done.stderr}")
            print("FAILED", failures[-1])
    with tempfile.TemporaryDirectory() as name:
        written_out = pathlib.Path(name) / "written-out.yaml"
        for number, plan in enumerate(sorted(plans.glob("*.yaml"))):
            text = plan.read_text(encoding="utf-8")
            is_new = "\ncutproof: 2" in "\n" + text
            if not SLOW and not is_new and number % 10 != 0:
                continue
            results = report(program, "check", "--no-mends", "--no-certificates", plan)[1]
            for case in results.get("plans", [results])[:None if SLOW else 1]:
                values = [word for key, value in case.get("parameters", {}).items() for word in ("--set", f"{key}={value}")]
                problems = differences(program, plan, written_out, values)
                count += 1
                print("FAILED" if problems else "ok    ", plan.name, *values, *problems, flush=True)
                failures += problems
    print(count, "plans were written out")
    return 1 if failures or count < 8 else 0


if __name__ == "__main__":
    sys.exit(main())
