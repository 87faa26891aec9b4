#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Re-checks every report that a program writes, then demands that 100 tampered ones are rejected, each for a reason of its own.

usage: recheck_tests.py PROGRAM [SEED]    the program: solid_reports_tests
"""
import copy
import glob
import json
import os
import random
import subprocess
import sys
import tempfile
from fractions import Fraction

import recheck
from number_field import Wrong, is_irreducible

TAMPERINGS = 100


def test_irreducibility():
    irreducible = [[-2, 0, 1], [1, 0, 0, 0, 1], [1, 0, -10, 0, 1], [-2, 0, 0, 1], [0, 1]]
    reducible = [[4, 0, -5, 0, 1], [1, 0, 1, 0, 1], [6, 0, -5, 0, 1], [1, 2, 1], [36, 0, -20, 0, 1]]
    for polynomial, expected in [(p, True) for p in irreducible] + [(p, False) for p in reducible]:
        assert is_irreducible(polynomial) is expected, polynomial
    # The product of x^4 - 10 x^2 + 1 and x^4 - 16 x^2 + 4: quartics that split modulo every prime
    assert not is_irreducible([4, 0, -56, 0, 165, 0, -26, 0, 1])


def places(node, path=()):
    """Paths to all leaves of a certificate."""
    if isinstance(node, dict):
        for key, value in node.items():
            yield from places(value, path + (key,))
    elif isinstance(node, list):
        for index, value in enumerate(node):
            yield from places(value, path + (index,))
    else:
        yield path


def changed(value, rng):
    """Another value of the same shape. Signs alone are left: a root of -r is as good as the other one."""
    if isinstance(value, bool):
        return not value
    if isinstance(value, int):
        return value + rng.choice((1, -1, 7))
    number = Fraction(value) + Fraction(rng.choice((1, -1)), rng.choice((1, 3, 10 ** 9)))
    return str(number)


def leaves(certificate):
    """What kinds of leaves there are, by the keys that lead there, and where."""
    by_name = {}
    for path in places(certificate):
        by_name.setdefault(tuple(step for step in path if isinstance(step, str)), []).append(path)
    return by_name


def tamper(certificate, rng, names=None):
    """A copy with one change of meaning (of a leaf of the kind `names`, where that is given), and what was changed."""
    bad = copy.deepcopy(certificate)
    kinds = ["leaf"] * 7 + ["drop", "double", "flip"]
    kind = rng.choice(kinds) if names is None else "leaf"
    if kind == "leaf":
        by_name = leaves(bad)
        if names is None:  # so that rare ones have their turn
            names = rng.choice(sorted(by_name))
        path = rng.choice(by_name[names])
        node = bad
        for step in path[:-1]:
            node = node[step]
        if names == ("format",):
            node[path[-1]] += "-2"
        elif names == ("field", "root_between"):  # a slightly other interval round the same root would be as good
            node[path[-1]] = str(Fraction(node[path[-1]]) + (1000 if path[-1] == 0 else -1000))
        elif names[-1] in ("first", "second") and sum(map(bool, bad["edges"][path[1]][path[2]])) == 1:
            node[:] = [str(-Fraction(c)) for c in node]  # a normal along an axis may have any positive length
        elif names[-1] == "minimal_polynomial" and len(node) == 2:
            node[path[-1]] = "0" if path[-1] == 1 else "1"  # 2*x is as good as x
        elif names[-1] == "exponents" and sum(map(bool, node)) == 1:
            node[path[-1]] = 0 if node[path[-1]] else 5  # a multiple of a rational multiple of pi is one, too
        elif names[-1] == "order":  # a multiple would be as good
            node[path[-1]] = 0
        else:
            node[path[-1]] = changed(node[path[-1]], rng)
        return bad, ".".join(map(str, path))
    lists = [("edges",), ("angles",), ("separations",), ("classes",), ("sums",)]
    for index in range(len(bad["classes"])):
        keys = ("angles", "scales", "characters", "pivots", "relations", "coefficients")
        lists += [("classes", index, key) for key in keys]
    if kind == "flip":
        edge = rng.choice(bad["edges"])
        edge["edge"] = [[str(-Fraction(c)) for c in component] for component in edge["edge"]]
        return bad, "an edge reversed"
    rng.shuffle(lists)
    for path in lists:
        node = bad
        for step in path:
            node = node[step]
        if not node:
            continue
        if path == ("separations",) and kind == "double":
            continue  # saying something true twice is harmless
        if kind == "drop":
            del node[rng.randrange(len(node))]
        else:
            node.append(copy.deepcopy(rng.choice(node)))
        return bad, kind + " in " + ".".join(map(str, path))
    return tamper(certificate, rng)


def certificates(node):
    if isinstance(node, dict):
        if "certificate" in node:
            yield node
        else:
            for value in node.values():
                yield from certificates(value)
    elif isinstance(node, list):
        for value in node:
            yield from certificates(value)


def main(folder, seed):
    test_irreducibility()
    paths = sorted(glob.glob(os.path.join(folder, "*.json")))
    assert len(paths) >= 10, "too few reports: nothing was tested"
    assert recheck.main(paths) == 0, "a certificate of the tool was rejected"

    rng = random.Random(seed)
    everything = []
    for path in paths:
        with open(path, encoding="utf-8") as file:
            everything += [dehn for dehn in certificates(json.load(file)) if dehn["certificate"]["classes"]]
    assert everything, "no certificate with anything to prove"
    reasons = {}
    # every kind of field that any certificate has, then whatever chance brings
    kinds = sorted({names for dehn in everything for names in leaves(dehn["certificate"])})
    assert len(kinds) >= 26, f"too few kinds of fields to tamper with: {kinds}"
    tampered = [tamper(rng.choice([dehn["certificate"] for dehn in everything if names in leaves(dehn["certificate"])]), rng, names)
                for names in kinds]
    tampered += [tamper(everything[number % len(everything)]["certificate"], rng) for number in range(TAMPERINGS)]
    for number, (bad, what) in enumerate(tampered):
        try:
            recheck.check_certificate(bad)
        except recheck.REJECTIONS as problem:
            reason = str(problem) if isinstance(problem, Wrong) else type(problem).__name__
            reasons[reason] = reasons.get(reason, 0) + 1
        else:
            print(f"seed {seed}, number {number}: not rejected after a change of {what}")
            return 1
    # what a report shows beside its certificate
    shown = 0
    for dehn in everything:
        changes = [("zero", lambda d: d.update(zero=not d["zero"])),
                   ("distinct_angles", lambda d: d.update(distinct_angles=d["distinct_angles"] + 1))]
        if dehn["terms"]:
            coefficient = dehn["terms"][0]["coefficient"]
            decimal, exact = str(float(coefficient["decimal"]) + 1), coefficient["exact"] + " + 1"
            changes += [("coefficient", lambda d, new=decimal: d["terms"][0]["coefficient"].update(decimal=new)),
                        ("exact", lambda d, new=exact: d["terms"][0]["coefficient"].update(exact=new)),
                        ("degrees", lambda d: d["terms"][0]["angle"].update(degrees="12.5")),
                        ("cosine", lambda d: d["terms"][0]["angle"].update(cosine="1/7")),
                        ("terms", lambda d: d["terms"].pop())]
        for what, change in changes:
            bad = copy.deepcopy(dehn)
            change(bad)
            try:
                recheck.check_dehn(bad)
            except recheck.REJECTIONS:
                shown += 1
            else:
                print(f"not rejected after a change of what is shown: {what}")
                return 1
    print(f"{len(tampered)} tampered certificates, of {len(kinds)} kinds of fields, rejected for {len(reasons)} reasons, "
          f"and {shown} reports that show something else")
    assert len(reasons) >= 12, f"too few different reasons: {sorted(reasons)}"
    return 0


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as reports:
        subprocess.run([sys.argv[1], "-w", "NoTests"], check=True, stdout=subprocess.DEVNULL, env={**os.environ, "TEST_REPORTS_FOLDER": reports})
        sys.exit(main(reports, int(sys.argv[2]) if len(sys.argv) > 2 else 1901))
