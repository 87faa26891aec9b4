#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Single faults are put into verified plans. The mends that come out are applied here, by their edits alone, and the plan that results is
checked again: no mend is believed. The table says which kind must be found for which fault."""
import json
import pathlib
import subprocess
import sys
import tempfile

PROGRAM, PLANS = str(pathlib.Path(sys.argv[1]).resolve()), pathlib.Path(sys.argv[2])

TRIANGLES = """cutproof: 1
title: Half an equilateral prism turns over and makes a box
let: { h: sqrt(3) }
start: { T: { prism: { base: [[0, 0], [2, 0], [1, h]], height: 1 } } }
steps:
  - { cut: T, by: { equation: "x = 1" }, into: [right, left] }
  - move: { left: { half-turn: [[0, h/2, 1/2], [1, h/2, 1/2]] } }
  - move: { left: { translation: [1, 0, 0] } }
goal: { box: { size: [1, h, 1], at: [1, 0, 0] } }
"""
AT_ONCE = TRIANGLES.replace(" } }\n  - move: { left: { translation: [1, 0, 0] } }", " }, { translation: [1, 0, 0] }] }").replace(
    "{ left: { half-turn", "{ left: [{ half-turn")
SWAP = """cutproof: 1
title: Two boards change places
start:
  A: { box: { size: [1, 1, 1] } }
  B: { box: { size: [1, 1, 1], at: [1, 0, 0] } }
  C: { box: { size: [1, 1, 2], at: [2, 0, 0] } }
steps:
  - move:
      A: { translation: [1, 0, 0] }
      B: { translation: [-1, 0, 0] }
goal: { union: [{ box: { size: [2, 1, 1] } }, { box: { size: [1, 1, 2], at: [2, 0, 0] } }] }
"""
BOARD = SWAP.replace("size: [1, 1, 2], at: [2, 0, 0]", "size: [2, 1, 2], at: [2, 0, 0]")
APART = """cutproof: 1
title: A cube and a bar come to their places
start:
  A: { box: { size: [1, 1, 1] } }
  B: { box: { size: [1, 1, 2], at: [0, 2, 0] } }
  C: { box: { size: [1, 1, 1], at: [6, 0, 0] } }
steps:
  - move:
      A: { translation: [5, 0, 0] }
      B: { translation: [7, -2, 0] }
goal: { union: [{ box: { size: [3, 1, 1], at: [5, 0, 0] } }, { box: { size: [1, 1, 2], at: [7, 0, 0] } }] }
"""

# name, plan (a file in plans/ or a text), what is exchanged for what, kind that mends it
FAULTS = [
    ("offset", "odd-edge-to-box", "[-1, 1/4, 0]", "[-1, 1/3, 0]", "motion"),
    ("offset by little", "odd-edge-to-box", "[-1, 1/4, 0]", "[-1, 1/4 + 1e-30, 0]", "motion"),
    ("wrong map", "odd-edge-to-box", "bottom: from-bottom", "bottom: from-top", "motion"),
    ("lost piece", "odd-edge-to-box", "      left: roll\n", "", "motion"),
    ("exchanged", "odd-edge-to-box", "      top: from-top\n      bottom: from-bottom", "      top: from-bottom\n      bottom: from-top", "exchange"),
    ("halves", "odd-edge-to-box", "into: [wedge, middle]", "into: [middle, wedge]", "halves"),
    ("halves further on", "odd-edge-to-box", "into: [stays, sliver]", "into: [sliver, stays]", "halves"),
    ("plane", "odd-edge-to-box", "equation: x = 2", "equation: x = 3/2", "plane"),
    ("target elsewhere", "odd-edge-to-box", "at: [0, -3/4, -1]", "at: [5, -3/4, -1]", "goal-place"),
    ("target size", "odd-edge-to-box", "size: [2, 7/4, 2]", "size: [2, 7/4, 9/4]", "goal-size"),
    ("wrong axis", TRIANGLES, "[[0, h/2, 1/2], [1, h/2, 1/2]]", "[[0, h/2, 0], [1, h/2, 0]]", "motion"),
    ("offset at the end", TRIANGLES, "translation: [1, 0, 0]", "translation: [7/8, 0, 0]", "motion"),
    ("wrong angle", AT_ONCE, "half-turn: [[0, h/2, 1/2], [1, h/2, 1/2]]",
     "rotation: { about: [[0, h/2, 1/2], [1, h/2, 1/2]], angle: 90 deg }", "motion"),
    ("offset, last of a list", AT_ONCE, "translation: [1, 0, 0] }]", "translation: [7/8, 0, 0] }]", "motion"),
    ("lost piece of two", TRIANGLES, "  - move: { left: { translation: [1, 0, 0] } }\n", "", "motion"),
    ("decimal in the goal", TRIANGLES, "size: [1, h, 1]", "size: [1, 1.732, 1]", "number"),
    ("decimal in the goal, short", TRIANGLES, "size: [1, h, 1]", "size: [1, 1.73, 1]", "number"),
    ("target elsewhere, in the plan's goal", TRIANGLES, "at: [1, 0, 0]", "at: [1, 0, 7]", "goal-place"),
    ("target size by a root", TRIANGLES, "size: [1, h, 1]", "size: [1, 2*h, 1]", "goal-size"),
    ("halves of a triangle", TRIANGLES, "into: [right, left]", "into: [left, right]", "halves"),
    ("plane of a triangle", TRIANGLES, '"x = 1"', '"x = 6/5"', "plane"),
    ("plane beside a triangle", TRIANGLES, '"x = 1"', '"x = 5"', "plane"),
    ("extra piece", TRIANGLES, "start: {", "start: { U: { box: { size: [1, 1, 1], at: [9, 9, 9] } },", "remove-piece"),
    ("mirrored", AT_ONCE, "half-turn: [[0, h/2, 1/2], [1, h/2, 1/2]]", 'reflection: { equation: "y = h/2" }', "mirror"),
    ("an earlier motion", "triangle-to-square", "east: { half-turn: [E, E + up] }", "east: { half-turn: [D, D + up] }", "motion"),
    ("two steps that must be one", SWAP, "      B: { translation", "  - move:\n      B: { translation", "one-step"),
    ("angle without a unit", AT_ONCE, "half-turn: [[0, h/2, 1/2], [1, h/2, 1/2]]",
     "rotation: { about: [[0, h/2, 1/2], [1, h/2, 1/2]], angle: 180 }", "number"),
    ("angle of too high a degree", AT_ONCE, "half-turn: [[0, h/2, 1/2], [1, h/2, 1/2]]",
     "rotation: { about: [[0, h/2, 1/2], [1, h/2, 1/2]], angle: 359/2 deg }", "motion"),
    ("exchanged, from other places", APART, "[5, 0, 0] }\n      B: { translation: [7, -2, 0] }", "[7, 0, 0] }\n      B: { translation: [5, -2, 0] }",
     "exchange"),
    ("map that is no motion", "odd-edge-to-box", "to: [beside, beside - a, beside - b]", "to: [beside, beside - a, beside - 2*b]", "motion"),
    ("map that is no motion, in its place", TRIANGLES, "{ left: { half-turn: [[0, h/2, 1/2], [1, h/2, 1/2]] } }",
     "{ left: { map: { from: [[0, 0, 0], [1, 0, 0], [0, 1, 0]], to: [[0, h, 1], [1, h, 1], [0, h - 2, 1]] } } }", "motion"),
    ("mirrored, but not last", "tutorial", "right: { rotation: { about: [R, R + up], angle: 180 deg } }",
     'right: [{ rotation: { about: [R, R + up], angle: 180 deg } }, { reflection: { equation: "z = 1/2" } }]', "mirror"),
    ("a cut is missing", BOARD, "C: { box: { size: [2, 1, 2], at: [2, 0, 0] } }", "C: { box: { size: [4, 1, 1], at: [2, 0, 0] } }", "cut"),
]


def check(text, *options):
    with tempfile.TemporaryDirectory() as folder:
        plan, report = pathlib.Path(folder, "plan.yaml"), pathlib.Path(folder, "report.json")
        plan.write_text(text)
        done = subprocess.run([PROGRAM, "check", "-q", str(plan), "--report", f"json={report}", *options], stdout=subprocess.PIPE,
                              stderr=subprocess.PIPE, timeout=600)
        result = json.loads(report.read_text())
        assert done.returncode == result["exit_code"], done
        return result


def position(text, line, column):
    lines = text.split("\n")
    return sum(len(each) + 1 for each in lines[:line - 1]) + column - 1


def applied(text, edits):
    for edit in sorted(edits, key=lambda each: (each["line"], each["column"]), reverse=True):
        begin, end = position(text, edit["line"], edit["column"]), position(text, edit["end_line"], edit["end_column"])
        text = text[:begin] + edit["text"] + text[end:]
    return text


def without(report):
    """What no search for mends may change."""
    if "plans" in report:  # of a plan with cases
        return [without(each) for each in report["plans"]]
    kept = {key: value for key, value in report.items() if key not in ("plan", "mends", "mends_tried", "mends_ended_early")}
    kept["findings"] = [{key: value for key, value in finding.items() if key != "hint"} for finding in report["findings"]]
    return kept


def main():
    wrong = found = wanted_in_all = 0
    for name, plan, good, bad, wanted in FAULTS:
        text = plan if "\n" in plan else (PLANS / f"{plan}.yaml").read_text()
        if text.count(good) != 1:
            print(f"{name}: the plan holds {text.count(good)} times {good!r}")
            wrong += 1
            continue
        if check(text)["outcome"] != "verified":
            print(f"{name}: the plan without the fault is not verified")
            wrong += 1
        faulty = text.replace(good, bad)
        report = check(faulty)
        plain = check(faulty, "--no-mends")
        if without(report) != without(plain) or "mends" in plain or "mends_tried" in plain:
            print(f"{name}: the search for mends changed the result, or was not switched off")
            wrong += 1
        if report != {**check(faulty), "plan": report["plan"]}:
            print(f"{name}: not the same twice")
            wrong += 1
        mends = report.get("mends", [])
        if len(mends) > 3 or report.get("mends_tried", 0) > 200:
            print(f"{name}: {len(mends)} mends, {report.get('mends_tried')} tried")
            wrong += 1
        for mend in mends:
            again = check(applied(faulty, mend["edits"]), "--no-mends")
            if again["outcome"] != "verified" or mend["findings"] != [finding["id"] for finding in report["findings"]]:
                print(f"{name}: the mend does not hold: {mend}")
                wrong += 1
        if name == "offset, last of a list" and applied(faulty, mends[0]["edits"]) != text:
            print(f"{name}: the number itself should be mended: {mends[0]}")
            wrong += 1
        wanted_in_all += wanted is not None
        kinds = [mend["kind"] for mend in mends]
        if wanted in kinds:
            found += 1
        elif wanted is not None:
            print(f"{name}: {report['outcome']}, wanted {wanted}, found {kinds} of {report.get('mends_tried')}")
            wrong += 1
    for path in [*sorted(PLANS.glob("*.yaml")), *sorted(PLANS.glob("broken/*.yaml"))]:
        report, plain = check(path.read_text()), check(path.read_text(), "--no-mends")
        for each in report.get("plans", [report]):
            if each["outcome"] in ("verified", "failed") and "mends" in each:
                print(f"{path.name}: mends for a plan that is {each['outcome']}")
                wrong += 1
        if without(report) != without(plain) or any("mends" in each for each in plain.get("plans", [plain])):
            print(f"{path.name}: the search for mends changed the result, or was not switched off")
            wrong += 1
    print(f"{found} of {wanted_in_all} faults mended, {wrong} wrong")
    return wrong != 0


if __name__ == "__main__":
    sys.exit(main())
