#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Fields of degree up to 48, their numbers adjoined in every order: the generator's minimal polynomial is nearly as short as the one
that a number theory system finds for the same field (`polredbest` of GP/PARI), and belongs to the same field.

Usage: check_generators.py PROGRAM

Skipped without gp. Random choices have fixed seeds; the fast suite takes some, CUTPROOF_SLOW=1 all.
"""
import itertools
import json
import os
import random
import re
import shutil
import subprocess
import sys
import tempfile

PROGRAM = sys.argv[1]
SLOW = os.environ.get("CUTPROOF_SLOW") == "1"
SEED, CASES, ORDERS = 2801, 40 if SLOW else 6, 6 if SLOW else 2
LONGER_AT_MOST = 1000

NUMBERS = [
    ("sqrt(2)", 2), ("sqrt(3)", 2), ("sqrt(5)", 2), ("sqrt(7)", 2), ("sqrt(11)", 2), ("cbrt(2)", 3), ("cbrt(3)", 3), ("cbrt(5)", 3),
    ("2^(1/4)", 4), ("3^(1/4)", 4), ("5^(1/5)", 5), ("2^(1/6)", 6), ("cos(pi/5)", 2), ("cos(pi/7)", 3), ("cos(pi/9)", 3),
    ("cos(pi/11)", 5), ("cos(pi/13)", 6), ("cos(pi/15)", 4), ("cos(pi/16)", 8), ("cos(pi/24)", 8), ("cos(pi/30)", 8),
    ("cos(pi/45)", 12), ("cos(pi/21)", 6), ("root(x^3 - x - 1, 1)", 3), ("root(x^4 - x - 1, 1)", 4), ("root(x^5 - x - 1, 1)", 5),
    ("sqrt(1 + sqrt(2))", 4), ("sqrt(3 + sqrt(2))", 4), ("sqrt(2 + cbrt(2))", 6)]


def polynomial_of(numbers, folder):
    """The degree of the field and its generator's polynomial, the numbers being adjoined in this order."""
    file = os.path.join(folder, "solid.yaml")
    a, b, c, d = (list(numbers) + ["1", "1"])[:4]
    with open(file, "w", encoding="utf-8") as text:
        text.write(f'cutproof: 1\nsolids:\n  box: {{ box: {{ size: ["{a}", "{b}", "{c} + 2*({d})"] }} }}\n')
    done = subprocess.run([PROGRAM, "measure", f"{file}#box", "--report", "json=-", "--quiet"], capture_output=True, text=True, check=True)
    field = json.loads(done.stdout)["field"]
    return field["degree"], field["minimal_polynomial"]


def in_gp(lines):
    done = subprocess.run(["gp", "-q", "-f", "--default", "parisizemax=2G"], input="\n".join(lines) + "\n", capture_output=True,
                          text=True, check=True, timeout=600)
    return done.stdout.split()


def height(polynomial):
    terms = re.findall(r"(\d+)?\*?(x)?(?:\^\d+)?(?: |$)", polynomial.replace("- ", "").replace("+ ", "").replace("-", ""))
    return max(int(coefficient or 1) for coefficient, x in terms if coefficient or x)


def main():
    if shutil.which("gp") is None:
        print("skipped: gp is not there")
        return
    source = random.Random(SEED)
    print("seed", SEED)
    failures, worst, degrees = 0, 0, set()
    with tempfile.TemporaryDirectory() as folder:
        for _ in range(CASES):
            while True:
                chosen = source.sample(NUMBERS, source.choice([2, 2, 3, 3, 4]))
                product = 1
                for _, degree in chosen:
                    product *= degree
                if 4 <= product <= 48:
                    break
            orders = list(itertools.permutations([text for text, _ in chosen]))
            source.shuffle(orders)
            found = [polynomial_of(order, folder) for order in orders[:ORDERS]]
            shortest = min((polynomial for _, polynomial in found), key=height)
            theirs, *same = in_gp([f"p = {shortest};", "print(vecmax(abs(Vec(polredbest(p)))))"] +
                                  ([f"print(#nfisisom(p, {polynomial}) > 0)" for _, polynomial in found if product <= 12]))
            for degree, polynomial in found:
                degrees.add(degree)
                ratio = height(polynomial) / int(theirs)
                worst = max(worst, ratio)
                if ratio > LONGER_AT_MOST:
                    failures += 1
                    print(f"FAILED {orders[0]}: {polynomial} has {height(polynomial)}, polredbest {theirs}")
            if len({degree for degree, _ in found}) > 1 or "0" in same:
                failures += 1
                print(f"FAILED {orders[0]}: different fields in different orders")
    print("failed" if failures else f"ok: degrees {sorted(degrees)}, at most {worst:.1f} times as long")
    sys.exit(1 if failures else 0)


main()
