#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Keeps the documentation true: runs what it shows.

Usage: check_docs.py PROGRAM PROJECT_FOLDER [--write]

In README.md and docs/*.md, a block marked `console` begins with `$ cutproof ...`; the rest must be what that command prints (standard
output, then standard error). A block marked `yaml` that is a whole plan must be verified, or be one of the plans in plans/broken.
Links to files of the project must lead somewhere. docs/pictures/PLAN/NAME.svg is what the program draws of plans/PLAN.yaml. `--write` puts the program's output into the documents instead of comparing.
"""
import os
import pathlib
import re
import shlex
import subprocess
import sys
import tempfile

BLOCK = re.compile(r"^```(console|yaml)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
# Whatever the width of the terminal that the tests run in.
PLAIN = {name: value for name, value in os.environ.items() if name != "COLUMNS"}
LINK = re.compile(r"\]\((?!https?:|#)([^)#\s]+)")


def output_of(program, project, command):
    words = shlex.split(command)
    if words[0] != "cutproof":
        raise ValueError(f"only cutproof is run, not: {command}")
    done = subprocess.run([program, *words[1:]], cwd=project, capture_output=True, text=True, env=PLAIN)
    return done.stdout + done.stderr


def checked_block(program, project, kind, text, problems):
    """The block as it should be."""
    if kind == "console":
        command = text.split("\n", 1)[0]
        return f"{command}\n{output_of(program, project, command.removeprefix('$ ')).rstrip()}\n"
    if text.startswith("cutproof:") and text not in [plan.read_text(encoding="utf-8") for plan in (project / "plans/broken").glob("*.yaml")]:
        with tempfile.TemporaryDirectory() as folder:
            plan = pathlib.Path(folder) / "plan.yaml"
            plan.write_text(text, encoding="utf-8")
            done = subprocess.run([program, "check", str(plan)], capture_output=True, text=True, env=PLAIN)
        if done.returncode != 0:
            problems.append(f"a plan that is not verified:\n{text}{done.stdout}{done.stderr}")
    return text


def picture_problems(program, project, write):
    """Pictures in docs/pictures that are not what the program draws."""
    for folder in sorted(path for path in (project / "docs/pictures").iterdir() if path.is_dir()):
        with tempfile.TemporaryDirectory() as scratch:
            drawn = pathlib.Path(scratch) / "drawn"
            subprocess.run([program, "check", "-q", f"plans/{folder.name}.yaml", "--report", f"svg={drawn}"], cwd=project,
                           capture_output=True, check=False)
            for picture in sorted(folder.glob("*.svg")):
                right = drawn / picture.name
                if not right.exists():
                    yield f"{picture.relative_to(project)}: the program draws no such picture"
                elif write:
                    picture.write_bytes(right.read_bytes())
                elif picture.read_bytes() != right.read_bytes():
                    yield f"{picture.relative_to(project)} is not what the program draws"


def main():
    program, project, write = sys.argv[1], pathlib.Path(sys.argv[2]), sys.argv[3:] == ["--write"]
    failed = False
    plans = commands = 0
    for document in [project / "README.md", project / "DEVELOPERS.md", *sorted((project / "docs").glob("*.md"))]:
        problems = []
        text = document.read_text(encoding="utf-8")

        def replacement(match):
            nonlocal plans, commands
            kind, shown = match.groups()
            plans += kind == "yaml" and shown.startswith("cutproof:")
            commands += kind == "console"
            right = checked_block(program, project, kind, shown, problems)
            if right != shown and not write:
                problems.append(f"shown is\n{shown}but the program prints\n{right}")
            return f"```{kind}\n{right}```"

        renewed = BLOCK.sub(replacement, text)
        if write:
            document.write_text(renewed, encoding="utf-8")
        problems += [f"a link that leads nowhere: {link}" for link in LINK.findall(text) if not (document.parent / link).exists()]
        failed |= bool(problems)
        print(("FAILED " if problems else "ok     ") + document.name, *problems, sep="\n", flush=True)
    for problem in picture_problems(program, project, write):
        print("FAILED", problem)
        failed = True
    listed = (project / "docs" / "plans.md").read_text(encoding="utf-8")
    for plan in sorted((project / "plans").glob("*.yaml")):
        if f"(../plans/{plan.name})" not in listed:
            print(f"FAILED docs/plans.md does not list {plan.name}")
            failed = True
    if plans < 3 or commands < 4:
        print(f"FAILED too few examples found: {plans} plans, {commands} commands")
        failed = True
    sys.exit(1 if failed else 0)


main()
