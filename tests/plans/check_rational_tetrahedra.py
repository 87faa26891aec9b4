#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Tetrahedra whose six dihedral angles are rational multiples of pi: `measure` finds the six angles again, and Dehn invariant 0.

Usage: check_rational_tetrahedra.py PROGRAM FOLDER

Outside: the sporadic ones in the classification by K. S. Kedlaya, A. Kolpakov, B. Poonen and M. Rubinstein, "Space vectors forming
rational angles" (arXiv:2011.14232); rational-tetrahedra.txt holds their data. All angles are rational multiples of pi, so every term of
the invariant is zero. The fast suite takes those in fields of degree up to 8 and two of degree 16; CUTPROOF_SLOW=1 takes all, and all
once more as seen from another corner, which gives other numbers.
"""
import fractions
import json
import os
import pathlib
import subprocess
import sys
import tempfile

PROGRAM, FOLDER = sys.argv[1], pathlib.Path(sys.argv[2])
SLOW = bool(os.environ.get("CUTPROOF_SLOW"))
# Rows, from 0, whose field has a degree up to 8, and two of degree 16.
UP_TO_8 = {0, 1, 5, 6, 9, 19, 20, 22, 23, 24, 29, 31, 32, 33, 35, 36, 39, 40, 41, 43}
OF_16 = {4, 27}

# Unit normals with the given products, the first along x and the second in the plane of x and y; the corner of the first three faces
# is the origin.
SOLID = """cutproof: 1
let:
  c12: cos({e12}*pi/{n})
  c34: cos({e34}*pi/{n})
  c13: cos({e13}*pi/{n})
  c24: cos({e24}*pi/{n})
  c14: cos({e14}*pi/{n})
  c23: cos({e23}*pi/{n})
  s: sin({e12}*pi/{n})
  p: -(c23 + c12*c13)/s
  q: sqrt(1 - c13^2 - p^2)
  r: -(c24 + c12*c14)/s
  t: -(c34 + c13*c14 + p*r)/q
  n1: [1, 0, 0]
  n2: [-c12, s, 0]
  n3: [-c13, p, q]
  n4: [-c14, r, t]
  v1: cross(n2, n3)
  v2: cross(n1, n3)
  v3: cross(n1, n2)
solids:
  tetrahedron: {{ convex-hull: [[0, 0, 0], "v1/dot(n4, v1)", "v2/dot(n4, v2)", "v3/dot(n4, v3)"] }}
"""
EDGES = ("12", "34", "13", "24", "14", "23")  # the order of a row
failures = 0


def expect(condition, what):
    global failures
    if not condition:
        failures += 1
        print("FAILED", what)


def read_rows():
    """N, and the numerators of the angles by edge."""
    rows = []
    for line in (FOLDER / "rational-tetrahedra.txt").read_text(encoding="utf-8").splitlines():
        if line and not line.startswith("#"):
            n, *numerators = map(int, line.split())
            rows.append((n, dict(zip(EDGES, numerators))))
    return rows


def renumbered(angles, order):
    """The same tetrahedron with its faces in another order."""
    return {edge: angles["".join(sorted(order[int(face) - 1] for face in edge))] for edge in EDGES}


def measure(n, angles, folder):
    file = os.path.join(folder, "solid.yaml")
    with open(file, "w", encoding="utf-8") as text:
        text.write(SOLID.format(n=n, **{"e" + edge: angles[edge] for edge in EDGES}))
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
