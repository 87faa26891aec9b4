#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The report `svg`: which pictures there are, that every XML reader takes them, and what is written where."""
import glob
import json
import os
import pathlib
import re
import subprocess
import unittest
import xml.etree.ElementTree as ET

import support
from support import GOOD, INVALID, REFUTED, TOO_HARD

SVG = "{http://www.w3.org/2000/svg}"
PLANS = os.path.join(os.path.dirname(os.path.abspath(__file__)), "../../plans")

HOSTILE = ["<script>alert(1)</script>", "a\"b'c&d", "]]>--><!--", "\u202eevil", "a\u200bb", "ab", "\u0643\u062a\u0627\u0628",
           "&amp;", "x" * 10000, "</style><script>", "url(javascript:1)"]


class Pictures(support.ProgramTest):
    def pictures(self, *plans, code=0):
        folder = self.path("pictures")
        done = self.run_program("check", *plans, "--report", f"svg={folder}")
        self.assertEqual(done.returncode, code, (done.stdout, done.stderr))
        with open(f"{folder}/cutproof-folder.json", encoding="utf-8") as file:
            listed = json.load(file)["files"]
        there = [os.path.relpath(os.path.join(where, name), folder) for where, _, names in os.walk(folder) for name in names]
        self.assertEqual(sorted(there), sorted(listed + ["cutproof-folder.json"]))
        with open(f"{folder}/index.json", encoding="utf-8") as file:
            index = json.load(file)
        shown = [picture["file"] for plan in index["plans"] for picture in plan["pictures"]]
        self.assertEqual(sorted(shown), sorted(name for name in listed if name != "index.json"))
        for name in shown:
            self.look_at(f"{folder}/{name}")
        return folder, index

    def look_at(self, path):
        subprocess.run(["xmllint", "--noout", "--nonet", path], check=True)
        with open(path, encoding="utf-8") as file:
            text = file.read()
        self.assertNotRegex(text, r"(?i)<script|<foreignObject|<!ENTITY|@import|url\((?!#)")
        self.assertNotRegex(re.sub(r' xmlns="[^"]*"', "", text), "https?://")
        root = ET.fromstring(text)
        self.assertEqual(root[0].tag, SVG + "title")
        self.assertEqual(root[1].tag, SVG + "desc")
        self.assertTrue(root[0].text and root[1].text)
        self.assertEqual(len(root.get("data-projection").split()), 6)
        for each in root.iter(SVG + "text"):
            self.assertGreaterEqual(float(each.get("font-size")), 11)
        return root

    def test_what_is_shown_of_a_plan(self):
        folder, index = self.pictures(self.plan(GOOD))
        self.assertEqual([p["file"] for p in index["plans"][0]["pictures"]],
                         ["start.svg", "step-001.svg", "step-002.svg", "end.svg"])
        self.assertNotIn("left_out", index["plans"][0])
        start = self.look_at(f"{folder}/start.svg")
        self.assertEqual({g.get("data-piece") for g in start.iter(SVG + "g") if g.get("data-piece")}, {"T"})
        self.assertTrue(any(p.get("class") == "d" for p in start.iter(SVG + "path")), "no cut to come")
        cut = self.look_at(f"{folder}/step-001.svg")
        shifts = {g.get("data-piece"): g.get("data-shift") for g in cut.iter(SVG + "g") if g.get("data-piece")}
        self.assertEqual(set(shifts), {"tip", "stump"})
        self.assertTrue(all(len(shift.split()) == 3 for shift in shifts.values()))
        moved = self.look_at(f"{folder}/step-002.svg")
        fills = {g.get("data-piece"): {p.get("class").split()[0][0] for p in g} for g in moved.iter(SVG + "g") if g.get("data-piece")}
        self.assertEqual(fills, {"tip": {"c"}, "stump": {"p"}})
        end = self.look_at(f"{folder}/end.svg")
        self.assertEqual({t.text for t in end.iter(SVG + "text")}, {"tip", "stump"})

    def test_one_colour_a_piece_from_start_to_end(self):
        folder, _ = self.pictures(os.path.join(PLANS, "odd-edge-to-box.yaml"))
        colours = []
        for name in ("start", "end"):
            root = self.look_at(f"{folder}/{name}.svg")
            colours.append({p.get("class").split()[0][:2] for p in root.iter(SVG + "path") if re.match(r"c\d", p.get("class", ""))})
        self.assertEqual(len(colours[1]), 7)
        self.assertLessEqual(colours[0], colours[1])

    def test_findings_have_pictures_with_their_regions(self):
        folder, index = self.pictures(os.path.join(PLANS, "broken/missing-and-excess.yaml"), code=1)
        regions = []
        for picture in index["plans"][0]["pictures"]:
            if "finding" in picture:
                root = self.look_at(f"{folder}/{picture['file']}")
                regions += {g.get("data-region") for g in root.iter(SVG + "g") if g.get("data-region")}
                self.assertTrue(any(p.get("class") == "trace" for p in root.iter(SVG + "path")))
        self.assertEqual(sorted(regions), ["excess", "missing"])
        folder, index = self.pictures(os.path.join(PLANS, "broken/overlap.yaml"), code=1)
        self.assertTrue(os.path.exists(f"{folder}/finding-001.svg"))

    def test_several_plans_have_a_folder_each(self):
        folder, index = self.pictures(self.plan(GOOD, "a.yaml"), self.plan(REFUTED, "b.yaml"), self.plan(INVALID, "c.yaml"), code=2)
        self.assertEqual([plan["outcome"] for plan in index["plans"]], ["verified", "refuted", "invalid"])
        self.assertTrue(os.path.exists(f"{folder}/001/start.svg") and os.path.exists(f"{folder}/002/finding-001.svg"))
        self.assertFalse(os.path.exists(f"{folder}/003"))
        self.assertIn("left_out", index["plans"][2])

    def test_a_run_without_geometry_says_so(self):
        for text, code in ((INVALID, 2), ("cutproof: 1\n", 2)):
            _, index = self.pictures(self.plan(text), code=code)
            self.assertEqual(index["plans"][0]["pictures"], [])
            self.assertTrue(index["plans"][0]["left_out"])
        folder = self.path("pictures")
        done = self.run_program("check", self.plan(TOO_HARD), "--max-degree", "4", "--report", f"svg={folder}")
        self.assertEqual(done.returncode, 3)
        self.assertTrue(os.path.exists(f"{folder}/index.json"))

    def test_the_same_bytes_every_time(self):
        def all_bytes():
            folder, _ = self.pictures(os.path.join(PLANS, "triangle-to-square.yaml"))
            return {path.name: path.read_bytes() for path in sorted(pathlib.Path(folder).iterdir())}
        self.assertEqual(all_bytes(), all_bytes())

    def test_hostile_names_and_titles(self):
        pieces = ", ".join(f"{json.dumps(name)}: {{ box: {{ size: [1, 1, 1], at: [{2 * i}, 0, 0] }} }}" for i, name in enumerate(HOSTILE))
        plan = f"cutproof: 1\ntitle: {json.dumps('</title><script>alert(1)</script>' + chr(0x202e))}\nstart: {{ {pieces} }}\n" \
            "steps: []\ngoal: { box: { size: [1, 1, 1] } }\n"
        path = self.path("plan.yaml")
        with open(path, "w", encoding="utf-8") as file:
            file.write(plan)
        folder = self.path("pictures")
        done = self.run_program("check", path, "--report", f"svg={folder}")
        self.assertIn(done.returncode, (1, 2))
        for picture in glob.glob(f"{folder}/*.svg"):
            root = self.look_at(picture)
            names = {g.get("data-piece") for g in root.iter(SVG + "g") if g.get("data-piece")}
            self.assertEqual(len(names), len(HOSTILE), "pieces that differ in invisible characters are told apart")

    def test_numbers_beyond_what_can_be_drawn(self):
        for size in ("10^400", "1/10^30", "10^9"):
            plan = f"cutproof: 1\nstart: {{ T: {{ box: {{ size: [1, 1, {size}] }} }} }}\nsteps: []\ngoal: {{ box: {{ size: [1, 1, {size}] }} }}\n"
            _, index = self.pictures(self.plan(plan))
            self.assertTrue(index["plans"][0]["pictures"] or index["plans"][0]["left_out"], size)

    def test_every_plan_and_every_broken_plan(self):
        for path in sorted(glob.glob(f"{PLANS}/broken/*.yaml")):
            folder = self.path("pictures")
            done = self.run_program("check", path, "--report", f"svg={folder}")
            self.assertIn(done.returncode, (0, 1, 2, 3), path)
            for picture in glob.glob(f"{folder}/*.svg"):
                self.look_at(picture)


if __name__ == "__main__":
    support.main()
