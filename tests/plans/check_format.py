#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""`format`: every plan in plans/ keeps its comments and its report, a second time changes nothing, and plans whose layout was shuffled
come back; all that the project ships, broken plans too, has the canonical layout.

Usage: check_format.py PROGRAM PLANS_FOLDER [SEED]
"""
import json
import pathlib
import random
import re
import subprocess
import sys
import tempfile

import yaml

PLACES = {"line", "column", "end_line", "end_column", "plan_sha256", "plan", "excerpt", "used_at", "caret_length"}


class Layout:
    """The tree of a plan in the canonical layout, with its comments, written in a layout of chance."""

    def __init__(self, text, chance):
        self.chance = chance
        self.before, self.behind, self.tail = {}, {}, []
        root = yaml.compose(text)
        spans = []

        def scalars(node):
            if isinstance(node, yaml.ScalarNode):
                spans.append((node.start_mark.index, node.end_mark.index))
            for child in node.value if not isinstance(node, yaml.ScalarNode) else []:
                for each in child if isinstance(child, tuple) else (child,):
                    scalars(each)

        scalars(root)
        inside = set()
        for begin, end in spans:
            inside.update(range(begin, end))
        lines, at, pending = {}, 0, []
        for number, line in enumerate(text.split("\n")):
            mark = next((i for i, sign in enumerate(line) if sign == "#" and at + i not in inside), None)
            if not line.strip() and at not in inside:
                pending.append("")
            elif mark is not None and not line[:mark].strip():
                pending.append(line[mark:])
            else:
                if at not in inside or pending:
                    self.before[number], pending = pending, []
                if mark is not None:
                    self.behind[number] = line[mark:]
            at += len(line) + 1
        self.tail = pending
        while self.tail and not self.tail[-1]:
            self.tail.pop()
        self.first_lines = set()
        self.root = root
        self.comment_lines = sorted([n for n, each in self.before.items() if any(each)] + list(self.behind))

    def must_have_lines(self, node):
        """Comments, blank lines or texts of several lines stand inside it."""
        first, last = node.start_mark.line, node.end_mark.line
        if not isinstance(node, yaml.ScalarNode) and not node.flow_style:
            first, last = -3, -2  # it begins with its first entry, and ends where the next one begins
        if isinstance(node, yaml.ScalarNode):
            return "\n" in node.value
        begins = set()

        def collect(each):
            begins.add(each.start_mark.line)
            if not isinstance(each, yaml.ScalarNode):
                for child in each.value:
                    for one in child if isinstance(child, tuple) else (child,):
                        collect(one)
            elif "\n" in each.value:
                begins.add(-1)

        collect(node)
        return -1 in begins or any(self.before.get(line) for line in begins if line != first) or \
            any(line in self.behind for line in begins if line != last or first != last)

    def scalar(self, text, flow):
        plain = re.fullmatch(r"[A-Za-z0-9(][A-Za-z0-9 .+\-/^()=]*", text) and text == text.strip() and text != "null"
        kind = self.chance.choice(["plain", "double", "single"])
        if kind == "plain" and plain and text.count("(") == text.count(")"):
            return text
        if kind == "single" and "\n" not in text:
            return "'" + text.replace("'", "''") + "'"
        return json.dumps(text, ensure_ascii=False)

    def flow(self, node):
        gap = self.chance.choice(["", " ", "  "])
        if isinstance(node, yaml.ScalarNode):
            return self.scalar(node.value, True)
        if isinstance(node, yaml.SequenceNode):
            return "[" + gap + ("," + self.chance.choice([" ", "  "])).join(self.flow(each) for each in node.value) + gap + "]"
        return "{" + gap + ", ".join(f"{self.scalar(key.value, True)}: {self.flow(value)}" for key, value in node.value) + gap + "}"

    def lines_before(self, node, indent):
        return "".join((" " * indent + each if each else "") + "\n" for each in self.before.pop(node.start_mark.line, []))

    def value(self, node, indent):
        """What follows `key:` or `-`, with its line end."""
        is_block = not isinstance(node, yaml.ScalarNode) and not node.flow_style
        behind = self.behind.pop(node.end_mark.line, None) if not is_block and not self.must_have_lines(node) else None
        end = ("   " + behind if behind else self.chance.choice(["", "", "  "])) + "\n"
        if isinstance(node, yaml.ScalarNode) and "\n" in node.value:
            return " |" + ("" if node.value.endswith("\n") else "-") + "\n" + "".join(
                (" " * indent + line if line else "") + "\n" for line in node.value.rstrip("\n").split("\n"))
        if behind or isinstance(node, yaml.ScalarNode) or not node.value or not self.must_have_lines(node) and self.chance.random() < 0.5:
            return " " + self.flow(node) + end
        return "\n" + self.block(node, indent)

    def block(self, node, indent):
        deeper = indent + self.chance.choice([1, 2, 3, 4])
        text = ""
        for child in node.value:
            if isinstance(child, tuple):
                text += self.lines_before(child[0], indent) + " " * indent + self.scalar(child[0].value, False) + ":" + self.value(child[1], deeper)
            else:
                text += self.lines_before(child, indent) + " " * indent + "-" + self.value(child, deeper)
        return text

    def shuffled(self):
        text = self.block(self.root, 0) + "".join(line + "\n" for line in self.tail)
        return self.chance.choice(["", "\ufeff"]) + text.replace("\n", self.chance.choice(["\n", "\r\n"]))


def comments(text):
    return sorted(line.split("#", 1)[1].strip() for line in text.replace("\r", "").split("\n") if "#" in line)


def without_places(value):
    if isinstance(value, dict):
        return {key: without_places(each) for key, each in value.items() if key not in PLACES}
    return [without_places(each) for each in value] if isinstance(value, list) else value


def report(program, plan):
    done = subprocess.run([program, "check", "--no-mends", plan, "--report", "json=-"], capture_output=True, text=True, timeout=600)
    return without_places(json.loads(done.stdout))


def main():
    program, plans = sys.argv[1], pathlib.Path(sys.argv[2])
    seed = int(sys.argv[3]) if len(sys.argv) > 3 else random.randrange(10**6)
    print("seed", seed)
    chance = random.Random(seed)
    failures = []

    def formatted(files, *options):
        return subprocess.run([program, "format", *options, *map(str, files)], capture_output=True, text=True, timeout=600)

    with tempfile.TemporaryDirectory() as name:
        done = formatted(sorted(plans.rglob("*.yaml")), "--check")
        if done.returncode != 0:
            failures.append(f"plans whose layout is not the canonical one: {done.stdout}{done.stderr}")
        good, copies = [], {}
        (pathlib.Path(name) / "plans").mkdir()
        for plan in sorted(plans.glob("*.yaml")):
            good.append(pathlib.Path(name) / "plans" / plan.name)
            good[-1].write_bytes(plan.read_bytes())
        done = formatted(good)
        if done.returncode != 0:
            failures.append(f"format: exit code {done.returncode}: {done.stderr}")
        for plan in good:
            if comments(plan.read_text(encoding="utf-8")) != comments((plans / plan.name).read_text(encoding="utf-8")):
                failures.append(f"{plan.name}: other comments")
        for number in range(200):
            plan = good[number % len(good)]
            copy = pathlib.Path(name) / f"{number}-{plan.name}"
            copy.write_bytes(Layout(plan.read_text(encoding="utf-8"), chance).shuffled().encode())
            copies[copy] = plan
        some = [copy for copy in list(copies)[:len(good)] if "prism" in copy.name or "laid" in copy.name or "leaning" in copy.name]
        before = {copy: report(program, copy) for copy in some}
        done = formatted(copies)
        if done.returncode != 0:
            failures.append(f"format: exit code {done.returncode}: {done.stderr}")
        for copy, plan in copies.items():
            if copy.read_text(encoding="utf-8") != plan.read_text(encoding="utf-8"):
                failures.append(f"{plan.name} did not come back")
                print(copy.read_text(encoding="utf-8"))
        for copy in some:
            if report(program, copy) != before[copy]:
                failures.append(f"{copy.name}: another report")
        done = formatted(copies, "--check")
        if done.returncode != 0 or done.stdout:
            failures.append(f"a second time: {done.stdout}{done.stderr}")
    print("\n".join(failures))
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
