#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Fourteen kinds of faults, each put into three verified plans. The text for people must name the faulty step and piece before it lists the
steps; most faults must be mended, by edits that are applied and checked here.

Usage: fourteen.py PROGRAM PLANS [NAME ...]"""
import pathlib
import re
import subprocess
import sys
import tempfile

import mends
from mends import PLANS, PROGRAM, applied, check


def read(plan):
    """Its text, with a line for each entry of start and move, which the faults change."""
    text = (PLANS / plan).read_text()
    text = re.sub(r"^start: \{ (\w+): (.*) \}$", r"start:\n  \1: \2", text, flags=re.M)
    return re.sub(r"^    move: \{ (\w+): (.*) \}$", r"    move:\n      \1: \2", text, flags=re.M)


# Each base is a plan of plans/, made fit for every kind of fault: without expectations that would fail as well, with an angle in it, and
# with a last step that moves everything and can be parted.
CROSS = read("greek-cross-to-square.yaml")
CROSS = re.sub(r"  - expect:.*?  - title", "  - title", CROSS, flags=re.S)
TRIANGLE = read("tutorial.yaml")
TRIANGLE = re.sub(r"  - expect:.*?  - title", "  - title", TRIANGLE, flags=re.S)
TRIANGLE = TRIANGLE.replace("\ngoal: { box: { size: [a, sqrt(3)/2, 1] } }", """
  - title: a little to the right
    move:
      all: { translation: [1/4, 0, 0] }

goal: { box: { size: [a, sqrt(3)/2, 1], at: [1/4, 0, 0] } }""")
SQUARE = read("triangle-to-square.yaml")
SQUARE = SQUARE.replace("  - expect: { pieces: 4, connected: all }\n", "")
SQUARE = SQUARE.replace("east: { half-turn: [E, E + up] }", "east: { rotation: { about: [E, E + up], angle: 180 deg } }")


def in_two_steps(text, first, second):
    """What the last step does to all pieces it does to the first of these, and the step behind it to the others."""
    line = re.search(r"\n    move:\n      all: (.*)\n\ngoal", text)
    steps = ["\n    move:" if part is first else "\n  - move:" for part in (first, second)]
    entries = ["".join(f"\n      {piece}: {line.group(1)}" for piece in part) for part in (first, second)]
    return text[:line.start()] + steps[0] + entries[0] + steps[1] + entries[1] + text[line.end() - 6:]


# kind, plan, fault as (what, by what) or a function, step (0: none), pieces of which one must be named, kinds of mends
# of which one must be told (none: it need not be mended)
FAULTS = [
    ("offset", CROSS, ("west: { translation: u }", "west: { translation: [2, 1 + 1/10, 0] }"), 4, ["west"], ["motion"]),
    ("offset", TRIANGLE, ("right: { rotation: { about: [R, R + up]", "right: { rotation: { about: [\"R + [0, 1/50, 0]\", \"R + up + [0, 1/50, 0]\"]"), 3,
     ["right"], ["motion"]),
    ("offset", SQUARE, ("2*(D - J) }", "\"2*(D - J) + [0, 1/50, 0]\" }"), 4, ["small"], ["motion"]),
    ("wrong angle", CROSS, ("angle: -atan(1/2)", "angle: -atan(1/3)"), 5, ["north", "west", "east", "south"],
     ["motion"]),
    ("wrong angle", TRIANGLE, ("[R, R + up], angle: 180 deg", "[R, R + up], angle: 170 deg"), 3, ["right"], ["motion"]),
    ("wrong angle", SQUARE, ("angle: 180 deg", "angle: 150 deg"), 4, ["east"], ["motion"]),
    ("lost piece", CROSS, ("      west: { translation: u }\n", ""), 0, ["west"], ["motion"]),
    ("lost piece", TRIANGLE, ("      left: { rotation: { about: [L, L + up], angle: 180 deg } }\n", ""), 0, ["left"], ["motion"]),
    ("lost piece", SQUARE, ("      small: { translation: 2*(D - J) }\n", ""), 0, ["small"], ["motion"]),
    ("wrong map", CROSS, ("east: { translation: v }", "east: { map: { from: [O, u, v], to: [v, 2*v, v - u] } }"), 4, ["east"], ["motion"]),
    ("wrong map", TRIANGLE, ("left: { rotation: { about: [L, L + up], angle: 180 deg } }",
                             "left: { map: { from: [L, \"L + [1, 0, 0]\", L + up], to: [L, \"L + [0, 1, 0]\", L + up] } }"), 3, ["left"], ["motion"]),
    ("wrong map", SQUARE, ("to: [[0, 0, 0], [side, 0, 0], [0, side, 0]]", "to: [[0, 0, 0], [0, side, 0], [-side, 0, 0]]"), 5,
     ["top", "west", "east", "small"], ["motion"]),
    ("exchanged", CROSS, ("      east: { translation: v }\n      west: { translation: u }\n",
                          "      east: { translation: u }\n      west: { translation: v }\n"), 4, ["east", "west"], ["exchange", "motion"]),
    ("exchanged", TRIANGLE, lambda t: t.replace("[R, R + up], angle", "[?, ? + up], angle").replace("[L, L + up], angle", "[R, R + up], angle")
     .replace("?", "L"), 3, ["left", "right"], ["exchange", "halves"]),
    ("exchanged", SQUARE, ("      west: { half-turn: [D, D + up] }\n      east: { rotation: { about: [E, E + up], angle: 180 deg } }\n",
                           "      west: { half-turn: [E, E + up] }\n      east: { rotation: { about: [D, D + up], angle: 180 deg } }\n"), 4,
     ["east", "west"], ["exchange", "motion"]),
    ("halves", CROSS, ("into: [north, west]", "into: [west, north]"), 2, ["west", "north"], ["halves"]),
    ("halves", TRIANGLE, ("into: [right, left]", "into: [left, right]"), 2, ["left", "right"], ["halves"]),
    ("halves", SQUARE, ("into: [top, west]", "into: [west, top]"), 2, ["top", "west"], ["halves"]),
    ("mirrored", CROSS, ("west: { translation: u }", "west: [{ reflection: { equation: \"z = 1/2\" } }, { translation: u }]"), 4, ["west"], ["mirror"]),
    ("mirrored", TRIANGLE, ("right: { rotation: { about: [R, R + up], angle: 180 deg } }",
                            "right: [{ rotation: { about: [R, R + up], angle: 180 deg } }, { reflection: { equation: \"z = 1/2\" } }]"), 3, ["right"],
     ["mirror"]),
    ("mirrored", SQUARE, ("small: { translation: 2*(D - J) }", "small: [{ translation: 2*(D - J) }, { reflection: { equation: \"z = 1/4\" } }]"), 4,
     ["small"], ["mirror"]),
    ("target elsewhere", CROSS, ("size: [side, side, 1]", "size: [side, side, 1], at: [0, 0, 5]"), 0, [], ["goal-place"]),
    ("target elsewhere", TRIANGLE, ("at: [1/4, 0, 0]", "at: [1/4, 2, 0]"), 0, [], ["goal-place"]),
    ("target elsewhere", SQUARE, ("size: [side, side, thick]", "size: [side, side, thick], at: [1, 1, 1]"), 0, [], ["goal-place"]),
    ("plane", CROSS, ("by: { point: O, normal: v }", "by: { point: [0, 1/10, 0], normal: v }"), 1, ["east", "south"], ["plane"]),
    ("plane", TRIANGLE, ("by: { point: L, normal: [0, 1, 0] }", "by: { point: [0, h/3, 0], normal: [0, 1, 0] }"), 1, ["tip", "stump", "T"], ["plane"]),
    ("plane", SQUARE, ("from-K: { point: K, normal", "from-K: { point: \"K + [1/20, 0, 0]\", normal"), 3, ["east", "small", "right"], ["plane"]),
    ("decimal", CROSS, ("side: sqrt(5)", "side: 2.236"), 0, [], ["number"]),
    ("decimal", TRIANGLE, ("h: a*sqrt(3)/2", "h: 1.732"), 0, [], ["number"]),
    ("decimal", SQUARE, ("side: 3^(1/4)", "side: 1.316"), 0, [], ["number"]),
    ("extra piece", CROSS, ("start:\n", "start:\n  spare: { box: { size: [1, 1, 1], at: [5, 5, 0] } }\n"), 0, ["spare"], ["remove-piece"]),
    ("extra piece", TRIANGLE, ("start:\n", "start:\n  spare: { box: { size: [1, 1, 1], at: [5, 5, 0] } }\n"), 0, ["spare"], ["remove-piece"]),
    ("extra piece", SQUARE, ("start:\n  T: cloth\n", "start:\n  T: cloth\n  spare: { box: { size: [1, 1, 1], at: [5, 5, 0] } }\n"), 0, ["spare"],
     ["remove-piece"]),
    ("target size", CROSS, ("size: [side, side, 1]", "size: [side, side, 3/2]"), 0, [], ["goal-size"]),
    ("target size", TRIANGLE, ("size: [a, sqrt(3)/2, 1]", "size: [a, sqrt(3), 1]"), 0, [], ["goal-size"]),
    ("target size", SQUARE, ("size: [side, side, thick]", "size: [side, side, 1]"), 0, [], ["goal-size"]),
    ("missing cut", CROSS, lambda t: re.sub(r"  - \{ cut: lower.*\n", "", t).replace("      south: { translation: u + v }\n", "")
     .replace("      east:", "      lower:"), 0, ["lower"], ["cut"]),
    ("missing cut", TRIANGLE, lambda t: re.sub(r"  - title: and is halved\n.*?  - title", "  - title", t, flags=re.S)
     .replace("      left: { rotation: { about: [L, L + up], angle: 180 deg } }\n", "")
     .replace("      right:", "      tip:"), 0, ["tip"], ["cut"]),
    ("missing cut", SQUARE, lambda t: re.sub(r"  - title: a perpendicular from K\n.*?  - title", "  - title", t, flags=re.S)
     .replace("      small: { translation: 2*(D - J) }\n", "")
     .replace("      east:", "      right:"), 0, ["right"], ["cut"]),
    ("two steps", CROSS, lambda t: in_two_steps(t, ["north", "east"], ["south", "west"]), 5, ["north", "east", "south", "west"], ["one-step"]),
    ("two steps", TRIANGLE, lambda t: in_two_steps(t, ["right", "left"], ["stump"]), 4, ["stump", "left", "right"], ["one-step"]),
    ("two steps", SQUARE, lambda t: in_two_steps(t, ["west", "east", "small"], ["top"]), 5, ["top", "west", "east", "small"], ["one-step"]),
]
NAMES = {CROSS: "cross", TRIANGLE: "triangle", SQUARE: "square"}


def text_of(plan):
    with tempfile.TemporaryDirectory() as folder:
        pathlib.Path(folder, "plan.yaml").write_text(plan)
        done = subprocess.run([PROGRAM, "check", "plan.yaml"], cwd=folder, env={"COLUMNS": "100"}, stdout=subprocess.PIPE, timeout=600, check=False)
        return done.stdout.decode()


def changed_lines(before, after):
    """Numbers of lines of `after` that are not those of `before`, and of those beside which lines are gone."""
    old, new = before.split("\n"), after.split("\n")
    first = next(i for i in range(len(old)) if old[i] != new[i])
    last = next(i for i in range(1, len(old)) if old[-i] != new[-i])
    return set(range(first, max(first + 2, len(new) - last + 3)))


def main():
    wanted = sys.argv[3:]
    problems = right = mended = tried = 0
    for base, name in NAMES.items():
        if check(base)["outcome"] != "verified":
            print(f"{name}: the plan without a fault is not verified")
            problems += 1
    for kind, base, fault, step, pieces, kinds in FAULTS:
        name = f"{kind}, {NAMES[base]}"
        if wanted and not any(each in name for each in wanted):
            continue
        tried += 1
        if isinstance(fault, tuple) and base.count(fault[0]) != 1:
            print(f"{name}: {base.count(fault[0])} times {fault[0]!r}")
            problems += 1
            continue
        faulty = base.replace(*fault) if isinstance(fault, tuple) else fault(base)
        report, text = check(faulty), text_of(faulty)
        if report["outcome"] not in ("refuted", "stopped", "invalid"):
            print(f"{name}: {report['outcome']}\n{text}")
            problems += 1
            continue
        # What stands before the list of steps.
        head = text if report["outcome"] == "invalid" else text.split("\n\n", 1)[0]
        told = {int(each) for each in re.findall(r"^ +(\d+) [-+|] ", head, re.M)}
        # Nothing in the text is at fault where something is missing in it.
        place = kind in ("lost piece", "missing cut", "extra piece") or bool(told & changed_lines(base, faulty)) or (
            f"step {step}," in head.split("\n")[0] if pieces else "the goal" in head)
        named = not pieces or any(f"`{each}`" in head or f"{each}:" in head for each in pieces)
        right += place and named
        if not (place and named):
            print(f"{name}: not told where (step {step}, {pieces}):\n{head}")
        found = [mend["kind"] for mend in report.get("mends", [])]
        for mend in report.get("mends", []):
            if check(applied(faulty, mend["edits"]), "--no-mends")["outcome"] != "verified":
                print(f"{name}: a mend does not hold: {mend}")
                problems += 1
        mended += bool(set(found) & set(kinds))
        if not set(found) & set(kinds):
            print(f"{name}: not mended by {kinds}, but by {found}, {report.get('mends_tried')} tried, {report.get('mends_ended_early')}\n{head}")
    print(f"of {tried} faults {right} are told with step and piece, {mended} mended; {problems} problems")
    if not wanted and (tried, right) != (42, 42) or mended < 32:
        problems += 1
    return problems != 0


if __name__ == "__main__":
    sys.exit(main())
