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
    "tetrahedron": ("sqrt(2)/12", "1/3", 4, 6, 4, False),
    "cube": ("1", "0", 6, 12, 8, True),
    "octahedron": ("sqrt(2)/3", "-1/3", 8, 12, 6, False),
    "dodecahedron": ("(15 + 7*sqrt(5))/4", "-sqrt(5)/5", 12, 30, 20, False),
    "icosahedron": ("5*(3 + sqrt(5))/12", "-sqrt(5)/3", 20, 30, 12, False),
}
for name, (volume, cosine, faces, edges, vertices, zero) in REGULAR.items():
    found = measure(name)
    expect(found["volume"]["exact"], volume, f"volume of the {name}")
    expect([found[key] for key in ("faces", "edges", "vertices", "shells", "genus")], [faces, edges, vertices, 1, 0], name)
    expect([(kind["count"], kind["length"]["exact"], kind["angle"]["cosine"]) for kind in found["edge_kinds"]], [(edges, "1", cosine)], name)
    expect(found["dehn"]["zero"], zero, f"Dehn invariant of the {name}")
expect(measure("hill")["dehn"]["zero"], True, "Hill's tetrahedron")

# R. Williams, The Geometrical Foundation of Natural Structure (from memory): angles to two places. The tribonacci constant makes the
# snub cube's field cubic. H. Debrunner, Geom. Dedicata 9 (1980): what tiles space has invariant zero.
ARCHIMEDEAN = {
    "snub-cube": ([38, 60, 24], {"142.98": 24, "153.23": 36}, False, 2),
    "rhombic-dodecahedron": ([12, 24, 14], {"120.00": 24}, True, 1),
}
for name, (counts, angles, zero, distinct) in ARCHIMEDEAN.items():
    found = measure(name)
    expect([found[key] for key in ("faces", "edges", "vertices")], counts, name)
    expect({f"{float(kind['angle']['degrees']):.2f}": kind["count"] for kind in found["edge_kinds"]}, angles, f"angles of the {name}")
    expect((found["dehn"]["zero"], found["dehn"]["distinct_angles"]), (zero, distinct), f"Dehn invariant of the {name}")

# the same tetrahedron at sizes beyond what doubles hold
for name in ("tiny", "huge"):
    found = measure(name)
    expect((found["dehn"]["zero"], found["dehn"]["distinct_angles"]), (False, 4), f"Dehn invariant of the {name} tetrahedron")

# both engines, and the two compared, write the same report but for the engine's name
for name in list(REGULAR) + list(ARCHIMEDEAN) + ["hill", "wedge", "tiny", "huge", "frame", "hollow", "touching"]:
    words = [PROGRAM, "measure", f"{FILE}#{name}", "--angles", "90 deg", "--report", "json=-", "--engine"]
    outputs = {engine: subprocess.run([*words, engine], capture_output=True).stdout for engine in ("parts", "nef", "both")}
    expect(len(set(outputs.values())), 1, f"different reports of the engines on {name}")
words = [PROGRAM, "compare", f"{FILE}#octahedron", f"{FILE}#frame", "--with", f"{FILE}#touching", "--report", "json=-", "--engine"]
outputs = {subprocess.run([*words, engine], capture_output=True).stdout for engine in ("parts", "nef", "both")}
expect(len(outputs), 1, "different reports of the engines on a comparison")

# R. Williams, The Geometrical Foundation of Natural Structure (from memory): the rhombic dodecahedron with edge 1 has volume
# 16 sqrt(3)/9 and angles of 120 degrees; here the edge is sqrt(3). The snub cube with edge 1 has volume (8t + 6)/(3 sqrt(2(t^2 - 3))),
# t the tribonacci constant, and angles of 142.98 and 153.23 degrees; here the square of the edge is 2 + 4t - 2t^2, which makes the volume
# (4 + 28 t^2)/3 (PARI/GP to 80 digits, from the formula and from cones over the faces). The larger angle has the cosine (1 - 2t)/3.
found = measure("rhombic-dodecahedron")
expect(found["volume"]["exact"], "16", "volume of the rhombic dodecahedron")
expect([found[key] for key in ("faces", "edges", "vertices", "shells", "genus")], [12, 24, 14, 1, 0], "rhombic dodecahedron")
expect([(kind["count"], kind["length"]["exact"], kind["angle"]["cosine"]) for kind in found["edge_kinds"]], [(24, "sqrt(3)", "-1/2")],
       "rhombic dodecahedron")
expect(found["dehn"]["zero"], True, "Dehn invariant of the rhombic dodecahedron")
found = measure("snub-cube")
t = "root(x^3 - x^2 - x - 1, 183/100)"
expect(found["volume"]["exact"], f"(4 + 28*{t}^2)/3", "volume of the snub cube")
expect([found[key] for key in ("faces", "edges", "vertices", "shells", "genus")], [38, 60, 24, 1, 0], "snub cube")
expect([(kind["count"], kind["angle"]["degrees"][:6]) for kind in found["edge_kinds"]], [(24, "142.98"), (36, "153.23")], "snub cube")
expect(found["edge_kinds"][1]["angle"]["cosine"], f"(1 - 2*{t})/3", "snub cube, triangle to triangle")

# a ring: genus 1; a cavity: two shells; two cubes that touch along an edge: two shells, one common edge
for name, counts in {"frame": [10, 24, 16, 1, 1], "hollow": [12, 24, 16, 2, 0], "touching": [12, 23, 14, 2, 0]}.items():
    found = measure(name)
    expect([found[key] for key in ("faces", "edges", "vertices", "shells", "genus")], counts, name)
expect(measure("touching")["edge_kinds"][0]["count"], 24, "edges of two touching cubes, sector by sector")

measure("wedge", 0, "--angles", "90 deg", "--except", "45 deg: 2")
measure("wedge", 1, "--angles", "90 deg", "--except", "45 deg: 1")
audit = measure("wedge", 1, "--angles", "90 deg, 270 deg")["audit"]
expect([(edge["from"], edge["to"], edge["angle"], float(edge["degrees"])) for edge in audit["edges"]],
       [(["0", "1", "0"], ["0", "1", "1"], "45 deg", 45), (["1", "0", "0"], ["1", "0", "1"], "45 deg", 45)], "edges of 45 degrees")
expect(measure("tetrahedron", 1, "--angles", "90 deg")["audit"]["edges"][0]["angle"], "arccos(1/3)", "an angle that breaks an audit")
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
