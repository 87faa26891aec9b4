#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The text for people of four plans, to the letter, and what holds for the text of any plan at any width."""
import pathlib
import re
import subprocess
import sys

import support

PLANS = pathlib.Path(__file__).resolve().parents[2] / "plans"
EXPECTED = pathlib.Path(__file__).resolve().parent / "texts"
TRAY = (EXPECTED / "tray.yaml").read_text()  # a plan of plans/ in a layout of its own, whose lines the texts name


def changed(before, after):
    """The plan of the tray with one number changed."""
    assert TRAY.count(before) == 1, before
    return TRAY.replace(before, after)


class Texts(support.ProgramTest):
    def text_of(self, plan, name, width=100, options=()):
        folder = pathlib.Path(self.path("plans"))
        folder.mkdir(exist_ok=True)
        (folder / name).write_text(plan)
        done = subprocess.run([support.PROGRAM, "check", *options, f"plans/{name}"], cwd=folder.parent, env={"COLUMNS": str(width)},
                              stdout=subprocess.PIPE, check=False, timeout=600)
        return done.stdout.decode()

    def test_to_the_letter(self):
        cases = {
            "verified": (TRAY, "odd-edge-to-box.yaml"),
            "wrong-motion": (changed("sliver: { translation: [-1, 1/4, 0] }", "sliver: { translation: [-1, 1/3, 0] }"), "tray.yaml"),
            "wrong-goal": (changed("size: [2, 7/4, 2]", "size: [2, 7/4, 9/4]"), "tray.yaml"),
            "mirrored": ((PLANS / "broken" / "mirrored.yaml").read_text(), "mirrored.yaml"),
        }
        for name, (plan, file) in cases.items():
            with self.subTest(name):
                self.assertEqual(self.text_of(plan, file), (EXPECTED / f"{name}.txt").read_text())

    def assert_within(self, lines, width):
        for line in lines:
            # An excerpt with a caret and a word that cannot be parted may be wider than so few columns.
            # So may the lines of a mend, which are the plan's own.
            if " | " not in line and not re.match(r" +\d+ [-+] ", line) and max(map(len, line.split()), default=0) < max(width // 2, 20):
                self.assertLessEqual(len(line), width, line)

    def test_every_width(self):
        for path in [*sorted(PLANS.glob("*.yaml")), *sorted(PLANS.glob("broken/*.yaml"))]:
            plan = path.read_text()
            for width in (40, 80, 200):
                with self.subTest(path.name, width=width):
                    lines = self.text_of(plan, "p.yaml", width).splitlines()
                    self.assert_within(lines, width)
                    verified = lines[0].startswith("verified: ")
                    if verified and width >= 80:
                        self.assertLessEqual(len(lines), 24)

    def log_of(self, plan):
        return self.text_of(plan, "p.yaml", options=["-q", "--no-mends"])

    def test_places_are_boxes_and_said_once(self):
        hinge = (PLANS / "broken" / "wrong-hinge.yaml").read_text()
        for options in (["-q"], ["--full"], ["--report", "markdown=-"]):
            text = " ".join(self.text_of(hinge, "p.yaml", width=1000, options=["--no-mends", *options]).split())
            self.assertRegex(text, r"a region of volume 0\.1989\.\.\. in the box \(.*, 0, 0\) to \(.*, 0\.9811\.\.\., 1/2\)")
            self.assertNotRegex(text, "about [-0-9]")
            self.assertNotIn("inside: ", text)

    def test_what_is_just_below_12_does_not_look_like_12(self):
        nudged = (PLANS / "broken" / "nudged-1e-30.yaml").read_text()
        for options in ([], ["-q"], ["--full"]):
            text = self.text_of(nudged, "p.yaml", width=1000, options=["--no-mends", *options])
            self.assertIn("11.9999...", text)
            self.assertNotIn("12.0000...", text)

    def test_the_log_says_where_a_finding_is(self):
        boxes = "start: { A: { box: { size: [2, 1, 1] } }, B: { box: { size: [1, 1, 1] } } }\n"
        self.assertRegex(self.log_of(f"cutproof: 1\n{boxes}goal: {{ box: {{ size: [3, 1, 1] }} }}\n"),
                         r": refuted: start: `A` and `B` share interior points: .*\n.*: refuted: goal: ")

    def test_large_plans_stay_short(self):
        """A thousand pieces, five hundred steps: 24 lines when verified, 40 up to the end of the first finding."""
        sys.path.insert(0, str(PLANS.parent / "tests/bench"))
        import cases
        lattice, chain = cases.plan("lattice", 10), cases.plan("chain", 500)
        at = lattice.rindex("{ translation: [") + len("{ translation: [")
        faulty = [lattice[:at] + "1/7 + " + lattice[at:], chain.replace("slice7: { inverse: m6 }", "slice7: { inverse: m5 }")]
        for plan in (lattice, chain):
            for width in (80, 100, 200):
                text = self.text_of(plan, "p.yaml", width)
                self.assertTrue(text.startswith("verified: "))
                self.assertLessEqual(len(text.splitlines()), 24)
        for plan in faulty:
            # The search for mends would take half a minute in the chain.
            lines = self.text_of(plan, "p.yaml", options=["--no-mends"]).splitlines()
            self.assertTrue(lines[0].startswith("refuted: "), lines[0])
            self.assert_within(lines, 100)
            first = next(i for i, line in enumerate(lines) if line.startswith(("       overlap", "> goal", "> start")))
            self.assertLessEqual(first, 40)
        self.assertEqual(self.text_of(faulty[0], "p.yaml"), self.text_of(faulty[0], "p.yaml"))

    def test_no_line_begins_with_text_of_the_plan(self):
        hostile = "::error file=x,line=1::no"
        plan = TRAY.replace("the top comes off", hostile).replace("A solid with a single odd edge", hostile)
        for text in (plan, plan.replace("[-1, 1/4, 0]", "[-1, 1/3, 0]")):
            shown = self.text_of(text, "p.yaml")
            self.assertIn(hostile, shown)
            for line in shown.splitlines():
                self.assertFalse(line.startswith(("::", "##[", '"')), line)

    def test_no_line_begins_with_a_command_however_it_is_wrapped(self):
        """Servers that read a job's log may pass over blanks before `::` and `##[`. Words of a title, a source, a name or a path
        come to the beginning of a line when it is wrapped."""
        commands = ["::error file=x,line=1::no", "##[error]no"]
        texts = [commands[1], commands[0] + "x" * 300, commands[1] + "x" * 300, " ".join(commands * 9), "  ".join(commands * 9),
                 " ".join("a" * i + " " + commands[i % 2] for i in range(1, 20)), "\\e[2J" + commands[0] + " \\e[0m" + commands[1],
                 "a\\n" + "\\r\\n ".join(commands * 3)]
        for text in texts:
            titles = f'cutproof: 1\ntitle: "{text}"\nsource: "{text}"\n' + support.GOOD.split("\n", 2)[2].replace(
                "- { cut: T,", f'- {{ title: "{text}", cut: T,').replace("- move:", f'- title: "{text}"\n    move:')
            plans = {"verified": titles, "refuted": titles.replace("half-turn: [[1, 1, 0], [1, 1, 1]]", "translation: [1, 0, 0]"),
                     "invalid": titles.replace("cut: T", f'cut: "{text}"')}
            path = "a " + re.sub(r"\\.|/", "", text)[:200] + ".yaml"
            for outcome, plan in plans.items():
                for width in (40, 80, 200):
                    for options in [["--full"]] + ([[]] if outcome != "verified" else []) + ([["-q"]] if width == 80 else []):
                        shown = self.text_of(plan, path if outcome == "refuted" else "p.yaml", width, ["--no-mends", *options])
                        with self.subTest(text[:60], outcome=outcome, width=width, options=options):
                            self.assertEqual([line[:100] for line in shown.splitlines() if re.match(r"\s*(::|##\[)", line)], [])
                            self.assertNotIn("\x1b", shown)
                            self.assertTrue(shown.startswith(outcome) or options == ["-q"], shown)
                            if "--full" in options and outcome != "invalid":
                                self.assertTrue("::error" in shown or "##[error]" in shown, shown)


if __name__ == "__main__":
    support.main()
