#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""A plan of dimension 2 gets the verdict of the same plan thickened by 1, unless a figure is turned over.

Usage: run.py PROGRAM FOLDER ROOT   FOLDER holds pairs NAME.flat.yaml and NAME.thick.yaml, the second written by hand. Of each pair
outcome, findings (code, step, pieces, volume), steps and pieces must be the same; of those in TURNED only the flat plan's findings
are looked at, since space has a motion that turns a figure over. No report of a flat plan, in any format but `scene`, has a z or a
word of space; this is asked of the plans of dimension 2 in ROOT/plans, too.
"""
import glob
import json
import os
import re
import subprocess
import sys
import tempfile

# NAME: findings of the flat plan; the thickened one is verified.
TURNED = {"turned-over": ["no-fit", "expectation-failed", "expectation-failed"]}
WORDS = re.compile(r"\b(z|volumes?|Dehn|dehn|planes?|solids?|faces?|dihedral)\b")
# Keys of JSON and codes stay in the plane; so do words of the plans' own texts.
ALLOWED = re.compile(r"plane-misses|volume-differs|volume-changed")
EXCERPT = re.compile(r"^\s*\d* \| ")


def check(program, path, *options):
    with tempfile.TemporaryDirectory() as folder:
        report = os.path.join(folder, "r.json")
        process = subprocess.run([program, "check", path, "--no-mends", "--report", f"json={report}", *options],
                                 capture_output=True, text=True, check=False)
        with open(report, encoding="utf-8") as file:
            return json.load(file), process.stdout


def essence(report):
    def findings(key):
        return sorted((f["code"], f["step"], f["pieces"], f.get("volume", {}).get("exact")) for f in report[key])
    return {"outcome": report["outcome"],
            "findings": findings("findings"), "consequences": findings("consequences"),
            "start": report.get("start", {}).get("volume"), "goal": report.get("goal", {}).get("volume"),
            "steps": [(s["kind"], s["removed"], s["added"], s["moved"], s["volume"]) for s in report["steps"]],
            "pieces": [(p["name"], p["parts"], p["volume"]) for p in report["pieces"]]}


def points(value, path=""):
    """Lists of exact numbers in a report that are points."""
    if isinstance(value, dict):
        for key, each in value.items():
            yield from points(each, key)
    elif isinstance(value, list):
        if path in ("min", "max", "centroid", "centroid_decimal", "shift", "point", "direction", "normal", "from", "to"):
            yield path, value
        elif path in ("corners", "corners_decimal", "rows"):
            for each in value:
                if isinstance(each, list):
                    yield path, each
        for each in value:
            yield from points(each, "")


def values(report):
    """Texts of the values of parameters, the plan's and its lemmas'."""
    for case in report.get("plans", [report]):
        for each in [case.get("parameters", {})] + [lemma["with"] for lemma in case.get("lemmas", [])]:
            yield from each.values()


def spoken_of_space(program, path):
    faults = []
    report, terminal = check(program, path)
    faults += [f"the dimension is {case['dimension']}" for case in report.get("plans", [report]) if case["dimension"] != 2]
    faults += [f"{key} {value} has a third coordinate" for key, value in points(report) if len(value) != 2]
    faults += [f"the value {value} has a third coordinate" for value in values(report) if re.match(r"\[[^,]*,[^,]*,", value)]
    if "dehn" in json.dumps(report):
        faults.append("JSON speaks of Dehn invariants")
    texts = {"terminal": terminal}
    with tempfile.TemporaryDirectory() as folder:
        targets = {name: os.path.join(folder, name) for name in ("markdown", "junit", "sarif", "annotations")}
        options = [option for name, target in targets.items() for option in ("--report", f"{name}={target}")]
        full = subprocess.run([program, "check", path, "--full", "--no-mends", *options], capture_output=True, text=True, check=False)
        texts["full"] = full.stdout
        for name in ("markdown", "junit", "annotations"):
            with open(targets[name], encoding="utf-8") as file:
                texts[name] = file.read()
        with open(targets["sarif"], encoding="utf-8") as file:
            texts["sarif"] = json.dumps(json.load(file)["runs"][0]["results"])
    for name, text in texts.items():
        for line in text.replace(path, "PLAN").replace(path.lstrip("./"), "PLAN").splitlines():
            if EXCERPT.match(line):
                continue  # the plan's text
            found = WORDS.search(ALLOWED.sub("", line))
            if found:
                faults.append(f"{name} says `{found.group()}`: {line.strip()}")
    return faults


def main():
    program, folder, root = sys.argv[1:]
    faults, pairs = [], 0
    for flat in sorted(glob.glob(os.path.join(folder, "*.flat.yaml"))):
        name = os.path.basename(flat)[: -len(".flat.yaml")]
        pairs += 1
        in_plane, in_space = check(program, flat)[0], check(program, flat.replace(".flat.", ".thick."))[0]
        if name in TURNED:
            codes = [finding["code"] for finding in in_plane["findings"]]
            if codes != TURNED[name] or in_plane["outcome"] != "refuted":
                faults.append(f"{name}: {in_plane['outcome']}, {codes}")
            if in_space["outcome"] != "verified":
                faults.append(f"{name}: thickened it is {in_space['outcome']}")
        else:
            flat_essence, thick_essence = essence(in_plane), essence(in_space)
            faults += [f"{name}: {key} is {flat_essence[key]} in the plane and {thick_essence[key]} in space"
                       for key in flat_essence if flat_essence[key] != thick_essence[key]]
        faults += [f"{name}: {fault}" for fault in spoken_of_space(program, flat)]
    plans = []
    for path in sorted(glob.glob(os.path.join(root, "plans", "**", "*.yaml"), recursive=True)):
        with open(path, encoding="utf-8") as file:
            if re.search(r"^dimension: 2$", file.read(), re.MULTILINE):
                plans.append(path)
    for path in plans:
        faults += [f"{os.path.basename(path)}: {fault}" for fault in spoken_of_space(program, path)]
    if pairs < 8 or len(plans) < 2:
        faults.append(f"there are only {pairs} pairs and {len(plans)} plans of dimension 2")
    print("\n".join(faults + [f"{pairs} pairs, {len(plans)} plans, {len(faults)} faults"]))
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
