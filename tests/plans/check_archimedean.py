#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Every line of the tables of docs/archimedean.md, decided by `compare`.

Usage: check_archimedean.py PROGRAM PROJECT_FOLDER

A line is checked by adding solids of the opposite number until the sum should be that of a box, and by one more, which spoils it.
Outside: M. Dehn's example, that the regular tetrahedron alone is no box (Math. Ann. 55, 1901), and the fillings of space by tetrahedra
and octahedra, and by truncated octahedra (E. S. Fedorov, 1885).
"""
import json
import pathlib
import re
import subprocess
import sys

PROGRAM, PROJECT = sys.argv[1], pathlib.Path(sys.argv[2])
SOLIDS = str(PROJECT / "docs" / "solids" / "archimedean.yaml")
failures = 0


def expect(found, wanted, what):
    global failures
    if found != wanted:
        failures += 1
        print(f"FAILED {what}: found {found!r}, wanted {wanted!r}")


def compare(names):
    done = subprocess.run([PROGRAM, "compare", *[f"{SOLIDS}#{name}" for name in names], "--with", f"{SOLIDS}#cube", "--report", "json=-"],
                          capture_output=True, text=True, check=False)
    report = json.loads(done.stdout)
    expect(report["outcome"], "compared", names)
    return report


def is_box(names):
    """Whether the solids together have a box's Dehn invariant."""
    return compare(names)["same_dehn"]


def main():
    page = (PROJECT / "docs" / "archimedean.md").read_text(encoding="utf-8")
    one = {name: int(number) for name, number in re.findall(r"^\| ([a-z-]+) \| (-?\d+) \|$", page, re.M)}
    two = {name: (int(i), int(d)) for name, i, d in re.findall(r"^\| ([a-z-]+) \| (-?\d+) \| (-?\d+) \|$", page, re.M)}
    expect((len(one), len(two)), (9, 7), "lines of the tables")
    named = re.findall(r"^  ([a-z-]+):", pathlib.Path(SOLIDS).read_text(encoding="utf-8").split("solids:")[1], re.M)
    expect(sorted(named), sorted([*one, *two, "plank"]), "solids of the file")

    for name, number in one.items():
        expect(number % 6, 0, name)
        against = ["tetrahedron"] * (-number // 6) if number < 0 else ["truncated-tetrahedron"] * (number // 6)
        expect(is_box([name, *against]), True, name)
        expect(is_box([name, *against, "tetrahedron"]), False, f"{name} and a tetrahedron too many")
    for name, (icosahedra, dodecahedra) in two.items():
        against = ["truncated-dodecahedron"] * icosahedra + ["icosahedron"] * -icosahedra
        against += ["truncated-icosahedron"] * dodecahedra + ["dodecahedron"] * -dodecahedra
        expect(is_box([name, *against]), True, name)
        expect(is_box([name, *against, "icosahedron"]), False, f"{name} and an icosahedron too many")

    # Three terms that no relation shortens: the units are independent over the rational numbers, since all edges have length 1.
    units = compare(["tetrahedron", "icosahedron", "dodecahedron"])
    expect(len(units["dehn_difference"]["terms"]), 3, "independent units")
    expect(is_box(["icosahedron", "dodecahedron", "icosidodecahedron"]), True, "the three")
    three = [f"{SOLIDS}#{name}" for name in ("icosahedron", "dodecahedron", "icosidodecahedron")]
    expect(subprocess.run([PROGRAM, "compare", *three, "--with", f"{SOLIDS}#plank"], capture_output=True, check=False).returncode, 0, "plank")
    for pair in (["icosahedron", "dodecahedron"], ["icosahedron", "icosidodecahedron"], ["dodecahedron", "icosidodecahedron"]):
        expect(is_box(pair), False, pair)
    expect(is_box(["octahedron", "tetrahedron", "tetrahedron"]), True, "tetrahedra and octahedra fill space")
    print("failed" if failures else f"ok: {len(one) + len(two)} solids")
    sys.exit(1 if failures else 0)


main()
