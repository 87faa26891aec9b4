#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Writes the plans that are measured. Every one of them is right: what is measured is a whole proof.

Usage: cases.py CASE [ARGUMENT...] > plan.yaml

  lattice K [FACTOR]          a cube cut into K x K x K cubes, each moved to the opposite place of a second cube; FACTOR, such as
                              "sqrt(2) + sqrt(3)", scales everything
  together PLANES FIELD       a cube cut by random planes, all pieces carried off by one general motion
  apart PLANES FIELD PROGRAM  the same, every piece carried off by a rotation of its own and then back, so that in the end no
                              two pieces share a number; needs the built `cutproof` to learn the names of the pieces
  tunnel PLANES               an L-shaped solid with a square tunnel, cut by random planes and put together elsewhere
  chain LENGTH                LENGTH alternating cuts and rotations of infinite order over a field of degree 2, then all back
  sawn N                      what plans/cube-to-board.yaml does with its loops for N, written out
  uses N same|different       N boxes that one lemma makes longer and lower, all of one size or no two of the same
  results N same|different    the boxes that these are made, moved to their places
  places N                    a cube cut into N x N x N cubes, each of which is then selected by its place
  laid N found|given          N congruent solids with 20 corners, each carried by a motion that is found, and all said to be one
                              shape; or each by a motion that is given, and nothing said
  four                        a slab cut into four pieces that make a longer one

FIELD is Q or K; K stands for Q(sqrt(2), sqrt(3)), of degree 4. Random means a fixed seed.
"""
import itertools
import json
import random
import subprocess
import sys
import tempfile

RATIONAL_ANGLES = ["acos(3/5)", "acos(5/13)", "acos(8/17)", "acos(20/29)", "acos(-4/5)", "acos(-12/13)"]
FIELD_ANGLES = ["45 deg", "60 deg", "30 deg", "acos(1/3)", "acos(3/5)"]


def lattice(k, factor="1"):
    k = int(k)
    planes = [f'{{ equation: "{axis} = f*{i}/{k}" }}' for axis in "xyz" for i in range(1, k)]
    lines = [f'let: {{ f: "{factor}" }}', "solids:", "  cube: { box: { size: [f, f, f] } }",
             "  across: { box: { size: [f, f, f], at: [3*f, 0, 0] } }",
             "start: { T: cube }", "steps:", "  - cut: T", f"    by: [{', '.join(planes)}]", "  - move:"]
    for at in itertools.product(range(k), repeat=3):
        # the pieces are named by the sides of the planes, in their order, for as long as planes pass through them
        name = "T"
        for place in at:
            for i in range(1, k):
                if place >= i:
                    name += ".1"
                else:
                    name += ".2"
                    break
        shift = ", ".join(f"f*{k - 1 - 2 * place}/{k}" if axis else f"f*(3 + {k - 1 - 2 * place}/{k})" for axis, place in enumerate(at))
        lines.append(f"      {name}: {{ translation: [{shift}] }}")
    return lines + ["goal: across"]


def random_number(source, field, largest):
    if field == "Q":
        return str(source.randint(-largest, largest))
    a, b, c = (source.randint(-largest, largest) for _ in range(3))
    return f"{a} + {b}*sqrt(2) + {c}*sqrt(3)"


def random_planes(count, field, source, offset):
    """Planes that pass near the origin, so that nearly every three of them meet inside the solid."""
    planes = []
    for _ in range(count):
        normal = ", ".join(f'"{random_number(source, field, 9)}"' for _ in range(3))
        point = ", ".join(f"{source.randint(-99, 99)}/{offset}" for _ in range(3))
        planes.append(f"{{ point: [{point}], normal: [{normal}] }}")
    return planes


def random_motion(source, field, shift):
    angles = RATIONAL_ANGLES if field == "Q" else FIELD_ANGLES
    turns = [f"{{ rotation: {{ about: {axis}, angle: {source.choice(angles)} }} }}" for axis in "xzy"]
    return f"[{', '.join(turns)}, {{ translation: [{', '.join(str(each) for each in shift)}] }}]"


def cut_cube(planes, field, source):
    return ["solids: { cube: { box: { size: [20, 20, 20], at: [-10, -10, -10] } } }", "start: { T: cube }", "steps:", "  - cut: T",
            "    by:"] + [f"      - {plane}" for plane in random_planes(planes, field, source, 70)]


def together(planes, field):
    source = random.Random(7)
    lines = ["motions: { away: " + random_motion(source, field, [60, 7, 5]) + " }"]
    return lines + cut_cube(int(planes), field, source) + ["  - move: { all: away }", "goal: { moved: { solid: cube, by: away } }"]


def apart(planes, field, program):
    source = random.Random(7)
    random_motion(source, field, [0, 0, 0])
    cut = cut_cube(int(planes), field, source)
    names = names_of_pieces(cut, program)
    lines = ["motions:"]
    for i in range(len(names)):
        place = [60 + 50 * (i % 22), 50 * (i // 22 % 22), 50 * (i // 484)]
        lines.append(f"  m{i}: {random_motion(source, field, place)}")
    lines += cut + ["  - move:"] + [f"      {name}: m{i}" for i, name in enumerate(names)]
    return lines + ["  - move:"] + [f"      {name}: {{ inverse: m{i} }}" for i, name in enumerate(names)] + ["goal: cube"]


def names_of_pieces(lines, program):
    with tempfile.NamedTemporaryFile("w", suffix=".yaml") as plan:
        plan.write("\n".join(["cutproof: 1"] + lines + ["goal: cube", ""]))
        plan.flush()
        report = subprocess.run([program, "check", "--report", "json=-", plan.name], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL)
    return [piece["name"] for piece in json.loads(report.stdout)["pieces"]]


def tunnel(planes):
    source = random.Random(11)
    return ["solids:", "  body:", "    difference:", "      - { box: { size: [8, 8, 8], at: [-4, -4, -4] } }",
            "      - { box: { size: [5, 5, 9], at: [1, 1, -4] } }", "      - { box: { size: [2, 9, 2], at: [-3, -4, -1] } }",
            "motions: { elsewhere: " + random_motion(source, "Q", [30, 5, 3]) + " }",
            "start: { L: body }", "steps:", "  - cut: L", "    by:"] + [
                f"      - {plane}" for plane in random_planes(int(planes), "Q", source, 40)] + [
                    "  - move: { all: elsewhere }", "goal: { moved: { solid: body, by: elsewhere } }"]


def chain(length):
    """A bar that turns about its axis while it rises; slanted planes slice it from below, and the slices stay behind."""
    cuts = int(length) // 2
    lines = ["let: { t: acos((15 - 16*sqrt(2))/41) }", "motions:",
             "  screw: [ { rotation: { about: z, angle: t } }, { translation: [0, 0, 2] } ]", "  m1: screw"]
    lines += [f"  m{i}: [m{i - 1}, screw]" for i in range(2, cuts + 1)]
    lines += [f"solids: {{ bar: {{ box: {{ size: [2, 2, {cuts + 2}], at: [-1, -1, 0] }} }} }}", "start: { rest: bar }", "steps:"]
    for i in range(1, cuts + 1):
        lines += ["  - cut: rest", f'    by: {{ equation: "z - x/10 - y/7 = {3 * i - 2}" }}', f"    into: [rest, slice{i}]",
                  "  - move: { rest: screw }"]
    lines += ["  - move:", f"      rest: {{ inverse: m{cuts} }}"]
    return lines + [f"      slice{i}: {{ inverse: m{i - 1} }}" for i in range(2, cuts + 1)] + ["goal: bar"]


def four():
    return ["start: { T: { box: { size: [4, 2, 1] } } }", "steps:", "  - cut: T", '    by: [ { equation: "x = 2" }, { equation: "y = 1" } ]',
            "  - move:", "      T.1.1: { translation: [4, -1, 0] }", "      T.1.2: { translation: [2, 0, 0] }",
            "      T.2.1: { translation: [2, -1, 0] }", "goal: { box: { size: [8, 1, 1] } }"]


def sawn(size):
    """What plans/cube-to-board.yaml does with its loops, written out."""
    n = int(size)
    lines = [f"start: {{ cube: {{ box: {{ size: [{n}, {n}, {n}] }} }} }}", "steps:"]

    def part(whole, name, axis, at):
        if at == n:
            return f"  - {{ join: {whole}, as: {name} }}"
        return f"  - {{ cut: {whole}, by: {{ equation: {axis} = {at} }}, into: [{whole}, {name}] }}"

    for i in range(n):
        lines.append(part("cube", "slab", "x", i + 1))
        for j in range(n):
            lines.append(part("slab", "rod", "y", j + 1))
            for k in range(n):
                lines.append(part("rod", "dice", "z", k + 1))
                lines.append(f"  - {{ move: {{ dice: {{ translation: [{i * n + k - i}, 0, {-k - 1}] }} }} }}")
                lines.append(f"  - {{ join: [{'row, ' if k > 0 else ''}dice], as: row }}")
            lines.append(f"  - {{ join: [{'layer, ' if j > 0 else ''}row], as: layer }}")
        lines.append(f"  - {{ join: [{'board, ' if i > 0 else ''}layer], as: board }}")
    return lines + [f"  - {{ expect: {{ pieces: 1, volume: {{ board: {n ** 3} }} }} }}", f"goal: {{ box: {{ size: [{n * n}, {n}, 1], at: [0, 0, -1] }} }}"]


def each_box(count, sizes, at):
    """A list of boxes: what the lemma of `uses` makes, at a place each."""
    width = "4" if sizes == "same" else "4 + k"
    return f"{{ for: {{ k: 1 to {count} }}, each: {{ box: {{ size: [{width}, 3/2, 2], at: [0, 10*k, {at}] }} }} }}"


def uses(count, sizes):
    width, values = ("4", "") if sizes == "same" else ("4 + k", "    with: { a: 4 + k }\n")
    return f"""lemmas:
  flat:
    parameters: {{ a: 4 }}
    start: {{ T: {{ box: {{ size: [a/2, 3, 2] }} }} }}
    steps:
      - {{ cut: T, by: {{ equation: y = 3/2 }}, into: [upper, lower] }}
      - move: {{ upper: {{ translation: [a/2, -3/2, 0] }} }}
    goal: {{ box: {{ size: [a, 3/2, 2] }} }}
start:
  t(k):
    for: {{ k: 1 to {count} }}
    each: {{ box: {{ size: [({width})/2, 3, 2], at: [0, 10*k, 0] }} }}
steps:
  - for: {{ k: 1 to {count} }}
    use: flat
{values}    take: t(k)
    into: b(k)
    by: {{ translation: [0, 10*k, 5] }}
goal: {{ g(k): {each_box(count, sizes, 5)} }}""".split("\n")


def results(count, sizes):
    return f"""start: {{ b(k): {each_box(count, sizes, 0)} }}
steps:
  - for: {{ k: 1 to {count} }}
    move: {{ b(k): {{ translation: [0, 0, 5] }} }}
goal: {{ g(k): {each_box(count, sizes, 5)} }}""".split("\n")


def places(size):
    n = int(size)
    planes = ", ".join(f"{{ for: {{ k: 1 to {n - 1} }}, each: {{ equation: {axis} = k }} }}" for axis in "xyz")
    return f"""solids: {{ "cell(i; j; k)": {{ box: {{ size: [1, 1, 1], at: [i, j, k] }} }} }}
start: {{ T: {{ box: {{ size: [{n}, {n}, {n}] }} }} }}
steps:
  - {{ cut: T, by: [{planes}] }}
  - for: {{ i: 0 to {n - 1}, j: 0 to {n - 1}, k: 0 to {n - 1} }}
    join: {{ inside: "cell(i; j; k)" }}
    as: "c(i; j; k)"
  - expect: {{ pieces: {n ** 3} }}
goal: {{ box: {{ size: [{n}, {n}, {n}] }} }}""".split("\n")


def laid(count, motions):
    corners = [(0, 0), (3, -1), (6, -1), (9, 1), (11, 4), (11, 7), (10, 9), (7, 11), (3, 11), (0, 8)]
    base = ", ".join(f"[{x}, {y}]" for x, y in corners)
    said = "  - expect: { shapes: 1 }\n" if motions == "found" else ""
    motion = "onto: at(k)" if motions == "found" else "rotation: { about: y, angle: -90 deg }"
    return f"""solids:
  model: {{ prism: {{ base: [{base}], height: 1 }} }}
  at(k): {{ moved: {{ solid: model, by: {{ translation: [0, 0, 2*k] }} }} }}
start: {{ m(k): {{ for: {{ k: 1 to {count} }}, each: {{ moved: {{ solid: at(k), by: {{ rotation: {{ about: y, angle: 90 deg }} }} }} }} }} }}
steps:
{said}  - for: {{ k: 1 to {count} }}
    move: {{ m(k): {{ {motion} }} }}
goal: {{ g(k): {{ for: {{ k: 1 to {count} }}, each: at(k) }} }}""".split("\n")


LANGUAGE_2 = (uses, results, places, laid)
CASES = {each.__name__: each for each in (lattice, together, apart, tunnel, chain, four, sawn) + LANGUAGE_2}


def plan(case, *arguments):
    version = 2 if CASES[case] in LANGUAGE_2 else 1
    return "\n".join([f"cutproof: {version}"] + CASES[case](*arguments)) + "\n"


if __name__ == "__main__":
    if len(sys.argv) < 2 or sys.argv[1] not in CASES:
        sys.exit(__doc__)
    sys.stdout.write(plan(*sys.argv[1:]))
