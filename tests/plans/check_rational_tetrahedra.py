#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Tetrahedra whose six dihedral angles are rational multiples of pi: `measure` finds the six angles again, and Dehn invariant 0.

Usage: check_rational_tetrahedra.py PROGRAM

Outside: the sporadic ones in the classification by K. S. Kedlaya, A. Kolpakov, B. Poonen and M. Rubinstein, "Space vectors forming
rational angles" (arXiv:2011.14232); rational-tetrahedra.txt holds their data. All angles are rational multiples of pi, so every term of
the invariant is zero. The fast suite takes those in fields of degree up to 8 and two of degree 16; CUTPROOF_SLOW=1 takes all, and all
once more as seen from another corner, which gives other numbers.
"""
import fractions
import json
import os
import subprocess
import sys
import tempfile

sys.dont_write_bytecode = True
from rational_tetrahedra import EDGES, SOLID, read_rows, renumbered, text_of  # noqa: E402

PROGRAM = sys.argv[1]
SLOW = os.environ.get("CUTPROOF_SLOW") == "1"
# Rows, from 0, whose field has a degree up to 8, and two of degree 16.
UP_TO_8 = {0, 1, 5, 6, 9, 19, 20, 22, 23, 24, 29, 31, 32, 33, 35, 36, 39, 40, 41, 43}
OF_16 = {4, 27}
failures = 0


def expect(condition, what):
    global failures
    if not condition:
        failures += 1
        print("FAILED", what)


def measure(n, angles, folder):
    file = os.path.join(folder, "solid.yaml")
    with open(file, "w", encoding="utf-8") as text:
        text.write(text_of(SOLID, n, angles))
    done = subprocess.run([PROGRAM, "measure", f"{file}#tetrahedron", "--report", "json=-", "--quiet"], capture_output=True, text=True,
                          check=False)
    expect(done.returncode == 0, f"{n} {angles}: exit code {done.returncode}: {done.stderr[-300:]}")
    return json.loads(done.stdout) if done.returncode == 0 else None


def check(row, n, angles, folder):
    """Measures the tetrahedron; returns the degree of its field."""
    found = measure(n, angles, folder)
    if found is None:
        return 0
    wanted = sorted(fractions.Fraction(angles[edge], n) for edge in EDGES)
    measured = []
    for kind in found["edge_kinds"]:
        measured += [fractions.Fraction(kind["angle"]["of_pi"] or -1)] * kind["count"]
    expect(sorted(measured) == wanted, f"row {row}: angles {measured}, wanted {wanted}")
    expect(found["dehn"]["zero"] is True, f"row {row}: Dehn invariant")
    expect([found[key] for key in ("faces", "edges", "vertices")] == [4, 6, 4], f"row {row}: counts")
    return found["field"]["degree"]


def main():
    rows = read_rows()
    expect(len(rows) == 44, f"{len(rows)} rows")
    degrees = {}
    with tempfile.TemporaryDirectory() as folder:
        for row, (n, angles) in enumerate(rows):
            if SLOW or row in UP_TO_8 | OF_16:
                degrees[row] = check(row, n, angles, folder)
            if SLOW:
                check(row, n, renumbered(angles, (3, 1, 4, 2)), folder)
    expect({row for row, degree in degrees.items() if degree <= 8} == UP_TO_8, "rows of degree up to 8")
    expect(all(degrees[row] == 16 for row in OF_16), "rows of degree 16")
    print("failed" if failures else f"ok: {len(degrees)} of {len(rows)} tetrahedra, degrees {sorted(set(degrees.values()))}")
    sys.exit(1 if failures else 0)


main()
