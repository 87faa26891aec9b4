#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Single faults in what version 2 adds: ranges, indices, conditions, places, motions that are found, values of lemmas.

Usage: check_language_mutants.py PROGRAM PLANS_FOLDER [--write]
All such faults in plans/, at least five hundred; unless CUTPROOF_SLOW=1 a fixed tenth of them. None may be verified but those of
language-mutants.tsv, at which a person looked: there the fault changes nothing that matters, for the reason given. What `expand`
makes of these is verified by both engines. `--write` lists the verified ones anew, keeping the reasons of those that were known;
a reason that is missing is to be written by hand.
"""
import hashlib
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

SLOW = os.environ.get("CUTPROOF_SLOW") == "1"
WANTED = 500
KNOWN = pathlib.Path(__file__).resolve().parent / "language-mutants.tsv"
# Sections in which another text may well be another right plan: a member of the family, or a note.
OUTSIDE = {"cutproof", "title", "note", "source", "parameters", "where", "cases"}
OPPOSITE = {"above": "below", "below": "above", "inside": "touching", "holding": "inside"}


def code_lines(text):
    """Number and content of the lines that may be changed, without their comments."""
    section = ""
    for number, line in enumerate(text.split("\n"), 1):
        heading = re.match(r"([a-z]+):", line)
        section = heading.group(1) if heading else section
        if section in OUTSIDE or re.match(r"\s*(- )?(\{ )?(title|note|source):", line):
            continue
        yield number, re.split(r"(?:^|\s)#", line)[0]


def faults_of_line(line, indices):
    """(kind, begin, end, new text) of each fault that can be made in one line."""
    for loop in re.finditer(r"\bfor: \{([^}]*)\}", line):
        for bounds in re.finditer(r"(\w+): ([^,{}]+?) to ([^,{}]+?)(?=,| \}|$|\s*$)", loop.group(1)):
            for group, change in ((2, " + 1"), (3, " - 1"), (3, " + 1")):
                begin, end = (loop.start(1) + place for place in bounds.span(group))
                yield "range", begin, end, line[begin:end].strip() + change
    for condition in re.finditer(r"\bwhen: [^,}]*?( = | < | > |<=|>=)", line):
        for other in {"=": (" < ", " > "), "<": (" > ", " = "), ">": (" < ", " = ")}.get(condition.group(1).strip(), ()):
            yield "condition", *condition.span(1), other
    for word in re.finditer(r"\b(above|below|inside|holding):", line):
        yield "place", *word.span(1), OPPOSITE[word.group(1)]
    for index in re.finditer(r"(?<![\w.])[a-z](?![\w.(:])", line):
        if index.group() not in indices:
            continue
        for other in sorted(indices - {index.group()}):
            yield "index exchanged", *index.span(), other
        for shift in (" + 1", " - 1"):
            yield "index shifted", *index.span(), f"({index.group()}{shift})"
    for found in re.finditer(r"\b(lay|against|align|onto|corners|with|in|holding): ", line):
        for number in re.finditer(r"(?<![\w.^/])\d+(?![\w.])", line[found.end():]):
            begin, end = (found.end() + place for place in number.span())
            yield ("lemma's value" if found.group(1) == "with" else "corner"), begin, end, f"({number.group()} + 1)"
    for aligned in re.finditer(r"\balign: \{ from: \[(\w+(?:\([^()]*\))?), (\w+(?:\([^()]*\))?)", line):
        yield "corner", aligned.start(1), aligned.end(2), f"{aligned.group(2)}, {aligned.group(1)}"
    for names in re.finditer(r"\binto: \[([\w.() +-]+), ([\w.() +-]+)\]", line):
        yield "halves", names.start(1), names.end(2), f"{names.group(2)}, {names.group(1)}"


def mutants(plan):
    """(kind, line number, old, new, whole text) of every fault of a plan of version 2, each once."""
    text = plan.read_text(encoding="utf-8").replace(", { n: 22 }]", "]")  # one case that takes as long as all others together
    if not re.search(r"^cutproof: 2", text, re.M):
        return
    indices = set(re.findall(r"[{,] (\w): [^,{}]+ to ", text))
    lines, seen = text.split("\n"), set()
    for number, line in code_lines(text):
        for kind, begin, end, new in faults_of_line(line, indices):
            changed = lines[number - 1][:begin] + new + lines[number - 1][end:]
            if (number, changed) in seen:
                continue
            seen.add((number, changed))
            yield kind, number, lines[number - 1].strip(), changed.strip(), "\n".join(lines[:number - 1] + [changed] + lines[number:])


def check(program, text, plan, *options):
    """The outcome of this text in place of the plan's."""
    plan.write_text(text, encoding="utf-8")
    done = subprocess.run([program, "check", "--no-mends", "-q", *options, plan], capture_output=True, text=True, timeout=600)
    return {0: "verified", 1: "refuted", 2: "invalid", 3: "stopped"}.get(done.returncode, f"exit code {done.returncode}")


def is_in_tenth(what):
    """Does not change for a fault when plans are added."""
    return hashlib.sha256(what.encode()).digest()[0] % 10 == 0


def main(folder):
    """`folder` takes a copy of all plans, so that those that name lemmas find them."""
    program, plans = sys.argv[1], folder / "plans"
    shutil.copytree(sys.argv[2], plans)
    write = "--write" in sys.argv[3:]
    known = {}
    if KNOWN.exists():
        for row in KNOWN.read_text(encoding="utf-8").splitlines()[1:]:
            name, old, new, reason = row.split("\t")
            known[name, old, new] = reason
    of_all = [(plan, *mutant) for plan in sorted(set(plans.rglob("*.yaml")) - set(plans.glob("broken/*"))) for mutant in mutants(plan)]
    chosen = of_all if SLOW or write else [each for each in of_all if is_in_tenth(each[0].name + each[3] + each[4])]
    outcomes, verified, problems = {}, {}, []
    for plan, kind, number, old, new, text in chosen:
        right = plan.read_text(encoding="utf-8")
        outcome = check(program, text, plan)
        outcomes.setdefault(kind, {}).setdefault(outcome, []).append(plan.name)
        where = f"{plan.name}:{number}: {kind}: {old}  ->  {new}"
        if outcome not in ("verified", "refuted", "invalid", "stopped"):
            problems.append(f"{where}: {outcome}")
        if outcome != "verified":
            plan.write_text(right, encoding="utf-8")
            continue
        verified[plan.name, old, new] = known.get((plan.name, old, new), "")
        if not verified[plan.name, old, new] and not write:
            problems.append(f"{where}: verified; is it right, and why?")
        done = subprocess.run([program, "expand", plan], capture_output=True, text=True, timeout=600)
        if done.returncode == 0 and check(program, done.stdout, plan, "--engine", "both") != "verified":
            problems.append(f"{where}: verified, but not what it is expanded to")
        plan.write_text(right, encoding="utf-8")
    for kind, counts in sorted(outcomes.items()):
        print(f"{kind:>16}: " + ", ".join(f"{len(plans_of)} {outcome}" for outcome, plans_of in sorted(counts.items())))
        if SLOW and "refuted" not in counts:
            problems.append(f"no fault of the kind '{kind}' is refuted")
    print(f"{len(chosen)} of {len(of_all)} faults; {len(verified)} verified")
    if write:
        rows = ["plan\tline\tbecame\twhy it is right"] + ["\t".join((*key, reason)) for key, reason in sorted(verified.items())]
        KNOWN.write_text("\n".join(rows) + "\n", encoding="utf-8")
    if SLOW and len(chosen) < WANTED:
        problems.append(f"only {len(chosen)} faults can be made")
    print("\n".join(problems))
    return 1 if problems else 0


with tempfile.TemporaryDirectory() as place:
    code = main(pathlib.Path(place))
sys.exit(code)
