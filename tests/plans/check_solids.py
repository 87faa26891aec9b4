#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""`measure` and `compare` against values from outside the project.

Usage: check_solids.py PROGRAM FOLDER

Volumes and dihedral angles of the regular solids: H. S. M. Coxeter, Regular Polytopes, Table I (from memory). Dehn invariants: M. Dehn,
Math. Ann. 55 (1901) 465-478 (zero for the cube, not zero for the other regular solids); M. J. M. Hill, Proc. London Math. Soc. 27
(1895) 39-52 (zero). Counts: Euler's formula.
"""
import json
import pathlib
import subprocess
import sys

PROGRAM, FOLDER = sys.argv[1], pathlib.Path(sys.argv[2])
FILE = str(FOLDER / "solids.yaml")
failures = 0


def report(*words, code):
    done = subprocess.run([PROGRAM, *words, "--report", "json=-"], capture_output=True, text=True)
    expect(done.returncode, code, " ".join(words))
    return json.loads(done.stdout)


def expect(found, wanted, what):
    global failures
    if found != wanted:
        failures += 1
        print(f"FAILED {what}: found {found!r}, wanted {wanted!r}")


def measure(name, code=0, *options):
    return report("measure", f"{FILE}#{name}", *options, code=code)


# name: volume, cosine of the dihedral angle, faces, edges, vertices, whether the Dehn invariant is zero
REGULAR = {
    "tetrahedron": ("1/12*sqrt(2)", "1/3", 4, 6, 4, False),
    "cube": ("1", "0", 6, 12, 8, True),
    "octahedron": ("1/3*sqrt(2)", "-1/3", 8, 12, 6, False),
    "dodecahedron": ("15/4 + 7/4*sqrt(5)", "-1/5*sqrt(5)", 12, 30, 20, False),
    "icosahedron": ("5/4 + 5/12*sqrt(5)", "-1/3*sqrt(5)", 20, 30, 12, False),
}
for name, (volume, cosine, faces, edges, vertices, zero) in REGULAR.items():
    found = measure(name)
    expect(found["volume"]["exact"], volume, f"volume of the {name}")
    expect([found[key] for key in ("faces", "edges", "vertices", "shells", "genus")], [faces, edges, vertices, 1, 0], name)
    expect([(kind["count"], kind["length"]["exact"], kind["angle"]["cosine"]) for kind in found["edge_kinds"]], [(edges, "1", cosine)], name)
    expect(found["dehn"]["zero"], zero, f"Dehn invariant of the {name}")
expect(measure("hill")["dehn"]["zero"], True, "Hill's tetrahedron")

# a ring: genus 1; a cavity: two shells; two cubes that touch along an edge: two shells, one common edge
for name, counts in {"frame": [10, 24, 16, 1, 1], "hollow": [12, 24, 16, 2, 0], "touching": [12, 23, 14, 2, 0]}.items():
    found = measure(name)
    expect([found[key] for key in ("faces", "edges", "vertices", "shells", "genus")], counts, name)
expect(measure("touching")["edge_kinds"][0]["count"], 24, "edges of two touching cubes, sector by sector")

measure("wedge", 0, "--angles", "90 deg", "--except", "45 deg: 2")
measure("wedge", 1, "--angles", "90 deg", "--except", "45 deg: 1")
measure("wedge", 1, "--angles", "90 deg, 270 deg")
measure("frame", 0, "--angles", "90 deg, 270 deg")
measure("tetrahedron", 0, "--angles", "acos(1/3)")


def compare(left, right, exists):
    words = ["compare", *(f"{FILE}#{name}" for name in left), "--with", *(f"{FILE}#{name}" for name in right)]
    found = report(*words, code=0 if exists else 1)
    expect(found["dissection"], "exists" if exists else "does not exist", " ".join(words))


compare(["cube"], ["unit-volume-tetrahedron"], False)
compare(["cube"], ["rod"], True)
compare(["octahedron", "tetrahedron", "tetrahedron"], ["both-volumes"], True)
compare(["octahedron"], ["octahedron-volume"], False)
compare(["tetrahedron", "tetrahedron"], ["two-tetrahedra-volume"], False)
compare(["cube"], ["octahedron"], False)
report("measure", f"{FILE}#cubes", code=2)
report("compare", FILE, "--with", f"{FILE}#cube", code=2)

print(f"{failures} failed" if failures else "all as published")
sys.exit(1 if failures else 0)
