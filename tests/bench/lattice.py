#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Writes a plan: the unit cube cut into k x k x k cubes, each of which is moved across to the opposite side of a second cube.

Usage: lattice.py K [FACTOR]    with FACTOR an exact expression that scales everything, such as "sqrt(2) + sqrt(3)"
"""
import itertools
import sys


def main():
    k = int(sys.argv[1])
    factor = sys.argv[2] if len(sys.argv) > 2 else "1"
    planes = [f'{{ equation: "{axis} = f*{i}/{k}" }}' for axis in "xyz" for i in range(1, k)]
    print(f"cutproof: 1\nlet: {{ f: \"{factor}\" }}\nsolids:")
    print("  cube: { box: { size: [f, f, f] } }\n  across: { box: { size: [f, f, f], at: [3*f, 0, 0] } }")
    print(f"start: {{ T: cube }}\nsteps:\n  - cut: T\n    by: [{', '.join(planes)}]\n  - move:")
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
        print(f'      {name}: {{ translation: [{shift}] }}')
    print("goal: across")


main()
