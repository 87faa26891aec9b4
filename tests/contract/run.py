#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Every rule of the plan language and of the verdict, with plans that would come out otherwise if it did not hold.

Usage: run.py PROGRAM FILE...   Each file is a YAML list of cases. A case has a `rule` (the sentence that it pins) and one of

  plan: TEXT            a whole plan (without its version line; `version` says which, 1 when absent). Or `parts: TEXT`: a plan without start and goal, which get a cube.
  equal: [[A, B], ...]  expressions (numbers, vectors or angles up to whole turns) that are equal: rational or not, decided exactly
  invalid: [E, ...]     expressions that make a plan invalid where a number is wanted, or {WHAT IS SAID: [E, ...], ...}
  solids: [[S, T], ...] solids that fill the same space; volume: E says how much
  planes: [[P, E], ...] planes, and the volume of the cube from -1 to 1 on the side that the normal points to
  motions: [[M, IMAGES], ...]  motions, and where the corners (0,0,0), (1,0,0), (0,2,0), (0,0,3) of a lopsided tetrahedron go
  broken: [TEXT, ...]   texts of planes, motions or solids (the word before the colon says which) that are invalid, or {WHAT IS SAID: ...}

and what is expected: `outcome` (verified when absent, invalid for the last kinds), `codes` (all findings, in order), `says` (in the message
or hint of some finding, or a list of such texts), `report` (path in the JSON report -> value; `path~`: contains; `path=`: the same number;
null: not there; `*` in a path: of each), `let` (definitions), `options` (of the program), `outcomes` of a plan with `cases`, of which `case` is
the one that all else speaks of (the first when absent), and `findings`: all of them, in any order, each
as `code@step:line:column(pieces)=volume`, of which everything after the code may be absent. Without `codes` or `findings` a verified
plan has none, and of others only the outcome is looked at.
"""
import decimal
import json
import os
import re
import subprocess
import sys
import tempfile

import yaml

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "certificates"))
from expressions import evaluate  # noqa: E402

decimal.getcontext().prec = 100

CUBE = "{ box: { size: [2, 2, 2], at: [-1, -1, -1] } }"
LOPSIDED = ["[0, 0, 0]", "[1, 0, 0]", "[0, 2, 0]", "[0, 0, 3]"]


def quoted(expression):
    return json.dumps(str(expression))


def plan_of_parts(parts, steps=""):
    return f"{parts.rstrip()}\nstart: {{ T: {CUBE} }}\n{steps}goal: {CUBE}\n"


def equality(left, right):
    """A plan that verifies when both are equal: numbers and vectors by their difference, angles by cosine and sine of half of it."""
    definitions = f"let:\n  left_side: {quoted(left)}\n  right_side: {quoted(right)}\n"
    return [f"{definitions}{{more}}start: {{ T: {{ box: {{ size: [1, 1, 1] }} }} }}\nsteps:\n"
            f"  - expect: {{ volume: {{ T: {quoted(test)} }} }}\ngoal: {{ box: {{ size: [1, 1, 1] }} }}\n"
            for test in ("1 + left_side - right_side", "1 + norm(left_side - right_side)", "cos((left_side - right_side)/2)")]


def plans_of(case):
    """Alternatives for each plan of a case: one of the texts must come out as expected, and none as verified when it should not."""
    more = "".join(f"  {name}: {quoted(value)}\n" for name, value in case.get("let", {}).items())
    points = "".join(f"  {name}: {quoted(value)}\n" for name, value in case.get("points", {}).items())
    head = (f"let:\n{more}" if more else "") + (f"points:\n{points}" if points else "") + case.get("head", "")
    if "plan" in case:
        yield [head + case["plan"]]
    if "parts" in case:
        yield [plan_of_parts(head + case["parts"])]
    for left, right in case.get("equal", []):
        extra = (f"points:\n{points}" if points else "") + case.get("head", "")
        yield [text.replace("{more}", more + extra) for text in equality(left, right)]
    for expression in case.get("invalid", []):
        yield [f"{head}start: {{ T: {{ box: {{ size: [1, 1, {quoted(expression)}] }} }} }}\ngoal: {{ box: {{ size: [1, 1, 1] }} }}\n"]
    for left, right in case.get("solids", []):
        steps = f"steps:\n  - expect: {{ filled: {right} }}\n"
        if "volume" in case:
            steps += f"  - expect: {{ volume: {{ T: {quoted(case['volume'])} }} }}\n"
        yield [f"{head}start:\n  T: {left}\n{steps}goal: [{right}]\n"]
    for plane, volume in case.get("planes", []):
        yield [f"{head}start: {{ T: {CUBE} }}\nsteps:\n  - {{ cut: T, by: {plane}, into: [front, back] }}\n"
               f"  - expect: {{ volume: {{ front: {quoted(volume)} }} }}\ngoal: {CUBE}\n"]
    for motion, images in case.get("motions", []):
        image = f"{{ convex-hull: [{', '.join(quoted(point) for point in images)}] }}"
        yield [f"{head}start: {{ T: {{ convex-hull: [{', '.join(LOPSIDED)}] }} }}\nsteps:\n  - move: {{ T: {motion} }}\ngoal: [{image}]\n"]
    for text in case.get("broken", []):
        kind, value = text.split(":", 1)
        step = {"plane": f"{{ cut: T, by: {value} }}", "motion": f"{{ move: {{ T: {value} }} }}", "solid": f"{{ expect: {{ filled: {value} }} }}",
                "step": value}[kind]
        yield [f"{head}start: {{ T: {CUBE} }}\nsteps:\n  - {step}\ngoal: {CUBE}\n"]


def at(report, words):
    if not words:
        return report
    if words[0] == "*":
        return [at(entry, words[1:]) for entry in report]
    return at(report[int(words[0])] if isinstance(report, list) else report[words[0]], words[1:])


def same_number(left, right):
    left, right = evaluate(left), evaluate(right)
    return abs(left - right) <= abs(right) * decimal.Decimal("1e-60")


def agrees(path, got, wanted):
    if path.endswith("~"):
        return wanted in (got or "")
    if path.endswith("="):
        return got is not None and same_number(got, wanted)
    return got == wanted


FINDING = re.compile(r"(?P<code>[a-z-]+)(@(?P<step>\d+))?(:(?P<line>\d+))?(:(?P<column>\d+))?(\((?P<pieces>.*?)\))?(=(?P<volume>.*))?")


def is_described(finding, text):
    wanted = FINDING.fullmatch(text).groupdict()
    if finding["code"] != wanted["code"] or wanted["pieces"] not in (None, ", ".join(finding["pieces"])):
        return False
    if any(wanted[key] not in (None, str(finding[key])) for key in ("step", "line", "column")):
        return False
    return wanted["volume"] is None or "volume" in finding and same_number(finding["volume"]["exact"], wanted["volume"])


def findings_faults(findings, wanted):
    left = list(findings)
    for text in wanted:
        match = next((finding for finding in left if is_described(finding, text)), None)
        if match is None:
            yield f"lacks the finding {text}"
        else:
            left.remove(match)
    for finding in left:
        volume = "=" + finding["volume"]["exact"] if "volume" in finding else ""
        yield "not expected: {code}@{step}:{line}:{column}".format(**finding) + f"({', '.join(finding['pieces'])}){volume}"


def one_message_each(case):
    """A case for each message of `invalid` and `broken`: an invalid plan shows something only when it is invalid for that reason."""
    for kind in ("invalid", "broken"):
        if isinstance(case.get(kind), dict):
            return [{**case, kind: texts, "says": says} for says, texts in case[kind].items()]
    return [case]


def faults(case, report):
    default = "invalid" if "invalid" in case or "broken" in case else "verified"
    if report["outcome"] != case.get("outcome", default):
        yield f"outcome {report['outcome']}, not {case.get('outcome', default)}"
    codes = [finding["code"] for finding in report["findings"]]
    if "codes" in case and codes != case["codes"]:
        yield f"findings {codes}, not {case['codes']}"
    yield from findings_faults(report["findings"], case["findings"]) if "findings" in case else []
    texts = " ".join(finding["message"] + " " + finding.get("hint", "") for finding in report["findings"])
    says = case.get("says", [])
    for text in [says] if isinstance(says, str) else says:
        if text not in texts:
            yield f"no finding says {text!r}"
    for path, wanted in case.get("report", {}).items():
        try:
            got = at(report, path.rstrip("~=").split("."))
        except (KeyError, IndexError):
            got = None
        if not agrees(path, got, wanted):
            yield f"{path} is {got!r}, not {wanted!r}"


def cases_faults(case, entries):
    """Plans with `cases` have an outcome for each."""
    outcomes = [entry["outcome"] for entry in entries]
    wanted = case.get("outcomes", outcomes[:1])
    return [] if outcomes == wanted else [f"outcomes {outcomes}, not {wanted}"]


def main():
    program, files = os.path.abspath(sys.argv[1]), sys.argv[2:]
    cases = []
    for name in files:
        with open(name, encoding="utf-8") as file:
            cases += [(name, case) for whole in yaml.safe_load(file) for case in one_message_each(whole)]
    with tempfile.TemporaryDirectory(prefix="cutproof-") as folder:
        plans = []  # (file, case, alternatives)
        for name, case in cases:
            made = list(plans_of(case))
            if not made or "rule" not in case:
                sys.exit(f"{name}: a case without rule or without plans: {case}")
            for alternatives in made:
                paths = []
                for text in alternatives:
                    paths.append(os.path.join(folder, f"{len(plans)}-{len(paths)}.yaml"))
                    with open(paths[-1], "w", encoding="utf-8") as file:
                        file.write(text if case.get("bare") else f"cutproof: {case.get('version', 1)}\n{text}")
                plans.append((name, case, alternatives, paths))
        runs = {}  # plans that are run together
        for _, case, _, paths in plans:
            runs.setdefault(tuple(case.get("options", [])), []).extend(paths)
        report = os.path.join(folder, "report.json")
        reports = {}
        for options, paths in runs.items():
            subprocess.run([program, "check", "--no-mends", *paths, "--quiet", "--jobs", "2", "--report", f"json={report}", *options],
                           stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, timeout=900, check=False)
            with open(report, encoding="utf-8") as file:
                whole = json.load(file)
            for entry in whole.get("plans", [whole]):
                reports.setdefault(entry["plan"], []).append(entry)
    wrong = 0
    for name, case, alternatives, paths in plans:
        found = [list(faults(case, reports[path][case.get("case", 1) - 1])) + cases_faults(case, reports[path]) for path in paths]
        if [] in found:
            continue
        wrong += 1
        best = found[0] if len(found) == 1 else found[-1]
        print(f"{os.path.basename(name)}: {case['rule']}\n{alternatives[0]}" + "".join(f"  {fault}\n" for fault in best))
        for finding in reports[paths[0]][0]["findings"][:4]:
            print(f"  {finding['code']} {finding.get('line')}:{finding.get('column')} {finding['message']}")
    print(f"{len(cases)} rules, {len(plans)} plans, {wrong} wrong")
    return 1 if wrong or not plans else 0


if __name__ == "__main__":
    sys.exit(main())
