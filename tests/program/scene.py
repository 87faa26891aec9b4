#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Scenes: from the file alone every volume comes out again, each solid is closed and oriented, and blocks lie where the JSON report says."""
import collections
import json
import pathlib
import re
import subprocess
import sys
import unittest
import xml.etree.ElementTree

import support
from support import FAMILY, FAMILY_OPTIONS, FAMILY_OUTCOMES, GOOD, INVALID, REFUTED, TOO_HARD

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent / "certificates"))
from expressions import evaluate  # noqa: E402  (a second reader of exact numbers, which shares no code with the program)

try:
    import jsonschema
except ImportError:
    jsonschema = None

PROJECT = pathlib.Path(__file__).resolve().parents[2]
IDENTITY = [1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0]

JOINED = """cutproof: 1
start: { S: { box: { size: [2, 2, 1] } } }
steps:
  - { cut: S, by: { equation: "x = 1" }, into: [a, b] }
  - { move: { a: { translation: [3, 0, 0] } } }
  - { cut: [a, b], by: { equation: "y = 1" } }
  - { join: [a.1, a.2], as: c }
  - { join: [c, b.1], as: d }
  - { move: { d: [{ translation: [-3, 0, 0] }, { rotation: { about: z, angle: 90 deg } }], b.2: { rotation: { about: z, angle: 90 deg } } } }
  - { cut: d, by: { equation: "y = 3/2" }, into: [e, f] }
goal: { box: { size: [2, 2, 1] } }
"""


def times(m, p):
    return [sum(m[3 * i + k] * p[k] for k in range(3)) + m[9 + i] for i in range(3)]


def then(first, second):
    """First the one motion, then the other."""
    columns = [times(first, [int(i == k) for i in range(3)]) for k in range(3)]
    shift = times(second, first[9:])
    turned = [times(second[:9] + [0, 0, 0], [columns[k][i] - first[9 + i] for i in range(3)]) for k in range(3)]
    return [turned[k][i] for i in range(3) for k in range(3)] + shift


def volume(vertices, facets):
    total = 0.0
    for cycles in facets:
        area = [0.0, 0.0, 0.0]
        for cycle in cycles:
            for u, v in zip(cycle, cycle[1:] + cycle[:1]):
                p, q = vertices[u], vertices[v]
                for i in range(3):
                    area[i] += (p[(i + 1) % 3] * q[(i + 2) % 3] - p[(i + 2) % 3] * q[(i + 1) % 3]) / 2
        total += sum(a * x for a, x in zip(area, vertices[cycles[0][0]])) / 3
    return total


class SceneTest(support.ProgramTest):
    def setUp(self):
        super().setUp()
        self.validator = None
        if jsonschema:
            schema = json.loads((PROJECT / "docs/scene.schema.json").read_text())
            jsonschema.Draft7Validator.check_schema(schema)
            self.validator = jsonschema.Draft7Validator(schema)

    def both(self, plan, *words, engines=("parts", "nef")):
        """The scene and the JSON report of one run; with the other engine the scene has the same bytes."""
        texts = []
        for engine in engines:
            self.run_program("check", plan, *words, "--engine", engine, "--report", "scene=" + self.path("scene.json"),
                             "--report", "json=" + self.path("report.json"))
            texts.append(pathlib.Path(self.path("scene.json")).read_bytes())
        self.assertEqual(len(set(texts)), 1)
        return json.loads(texts[0]), json.loads(pathlib.Path(self.path("report.json")).read_bytes())

    def near(self, got, wanted, what=""):
        self.assertLessEqual(abs(got - wanted), 1e-9 * max(1, abs(wanted)), what)

    def assert_closed(self, solid):
        edges = collections.Counter()
        for cycles in solid["facets"]:
            for cycle in cycles:
                edges.update(zip(cycle, cycle[1:] + cycle[:1]))
        for (u, v), count in edges.items():
            self.assertEqual(edges[v, u], count)
        if "kind" not in solid:  # a region may be thinner than doubles can tell
            self.assertGreater(volume(solid["vertices"], solid["facets"]), 0)

    def assert_scene(self, scene, report):
        for solid in (*scene["blocks"], *scene["goals"], *scene["regions"]):
            self.assert_closed(solid)
        for block in scene["blocks"]:
            self.assertEqual(block["vertices"], sorted(block["vertices"]))
            for point, exact in zip(block["vertices"], block["exact"]):
                self.assertEqual(point, [float(evaluate(each)) + 0.0 for each in exact])
        volumes = [volume(block["vertices"], block["facets"]) for block in scene["blocks"]]
        steps = {step["index"]: step for step in report["steps"]}
        self.assertEqual([state["step"] for state in scene["states"]], list(range(len(steps) + 1)))
        poses, pieces = {}, {}
        for state in scene["states"]:
            step = steps.get(state["step"])
            before, pieces_before = dict(poses), dict(pieces)
            poses.update(state["poses"])
            for name in state["gone"]:
                del pieces[name]
            for piece in state["pieces"]:
                pieces[piece["name"]] = piece["blocks"]
                self.assertEqual(bool(piece["edges"]), len(piece["blocks"]) > 1)
                ends = [point for edge in piece["edges"] for point in edge]
                corners = [times(poses[block], corner) for block in piece["blocks"] for corner in scene["blocks"][block]["vertices"]]
                for end in ends:  # a true corner of a piece is one of a block
                    self.assertTrue(any(max(abs(a - b) for a, b in zip(end, corner)) < 1e-9 for corner in corners), (state["step"], piece["name"]))
            # Every block that is there is in one piece. Those that a lemma makes, or takes, are not there before, or after.
            there = sorted(block for block, pose in poses.items() if pose is not None)
            self.assertEqual(sorted(block for blocks in pieces.values() for block in blocks), there)
            wanted = report["start"]["volume"] if step is None else step["volume"]
            self.near(sum(volumes[block] for block in there), float(wanted["decimal"]))
            if step is None:
                self.assertEqual([state["kind"], state["title"], state["line"]], ["", "", 0])
                self.assertEqual([pose for _, pose in state["poses"] if pose is not None], [IDENTITY] * len(there))
                self.assertEqual([block for block, _ in state["poses"]], there)
                continue
            self.assertEqual([state["kind"], state["title"], state["line"]], [step["kind"], step["title"], step["line"]])
            self.assertEqual(sorted(set(pieces_before) - set(pieces)), state["gone"])
            self.assertEqual(set(pieces), (set(pieces_before) - set(step["removed"])) | set(step["added"]))
            # Where a block lies is where it lay, moved as the step says.
            motion_of = {}
            for motion in step.get("motions", []):
                rows, shift = motion["rows"], motion["shift"]
                if report["dimension"] == 2:
                    rows, shift = [[*rows[0], "0"], [*rows[1], "0"], ["0", "0", "1"]], [*shift, "0"]
                numbers = [float(evaluate(each)) for row in (*rows, shift) for each in row]
                motion_of.update({name: numbers for name in motion["pieces"]})
            for name, blocks in pieces.items():
                for block in blocks:
                    if before.get(block) is None:
                        self.assertEqual(step["kind"], "use")
                        continue
                    moved = then(before[block], motion_of.get(name, IDENTITY))
                    for a, b in zip(poses[block], moved):
                        self.near(a, b, (state["step"], name))
        for piece in report["pieces"]:
            self.near(sum(volumes[block] for block in pieces[piece["name"]]), float(piece["volume"]["decimal"]))
            for block in pieces[piece["name"]]:
                self.assertEqual(scene["blocks"][block]["end_piece"], piece["name"])
        self.near(sum(volume(goal["vertices"], goal["facets"]) for goal in scene["goals"]), float(report["goal"]["volume"]["decimal"]))
        with_region = [finding for finding in report["findings"] if "region" in finding]
        self.assertEqual(sorted(finding["region"] for finding in with_region), list(range(len(scene["regions"]))))
        self.assertEqual(len(with_region), len([f for f in report["findings"] if f["code"] in ("overlap", "missing", "excess")]))
        for finding in with_region:
            region = scene["regions"][finding["region"]]
            self.assertEqual([region["kind"], region["step"], region["pieces"]], [finding["code"], finding["step"], finding["pieces"]])
            self.near(volume(region["vertices"], region["facets"]), float(finding["volume"]["decimal"]))
            self.assertEqual(len(region["vertices"]), len(finding["corners"]))


class Plans(SceneTest):
    def test_every_plan(self):
        seen = 0
        for path in [*sorted(PROJECT.glob("plans/*.yaml")), *sorted(PROJECT.glob("plans/broken/*.yaml"))]:
            if support.has_cases(path):
                continue
            with self.subTest(path.name):
                scene, report = self.both(str(path))
                self.assertEqual([scene[key] for key in ("format", "version", "plan", "title", "outcome", "plan_sha256")],
                                 ["cutproof-scene", 1, str(path), report["title"], report["outcome"], report["plan_sha256"]])
                if scene["states"]:
                    self.assert_scene(scene, report)
                    seen += 1
        self.assertGreater(seen, 30)

    def test_every_case(self):
        """The scene of a plan with `cases` holds an entry for each, as its JSON report does."""
        family = self.plan(FAMILY, "family.yaml")
        for plan in (*support.plans_with_cases(self.folder), family):
            with self.subTest(plan):
                engines = ("parts", "nef") if plan == family else ("parts",)  # tests/plans/check_families.py compares the engines
                scenes, reports = self.both(plan, *FAMILY_OPTIONS if plan == family else (), "--no-mends", engines=engines)
                if self.validator:
                    self.validator.validate(scenes)
                self.assertEqual(list(scenes), ["format", "version", "plans"])
                self.assertEqual([scenes["format"], scenes["version"]], ["cutproof-scene", 1])
                self.assertEqual(len(scenes["plans"]), len(reports["plans"]))
                for scene, report in zip(scenes["plans"], reports["plans"]):
                    self.assertEqual([scene[key] for key in ("plan", "title", "outcome", "plan_sha256")],
                                     [report[key] for key in ("plan", "title", "outcome", "plan_sha256")])
                    self.assertEqual(scene.get("dimension", 3), report.get("dimension", 3))
                    self.assertEqual(bool(scene["states"]), report["outcome"] in ("verified", "refuted"))
                    if scene["states"]:
                        self.assert_scene(scene, report)
        self.assertEqual([scene["outcome"] for scene in scenes["plans"]], FAMILY_OUTCOMES)
        for value, scene in zip((2, 3, 1, 0), scenes["plans"]):
            alone, _ = self.both(family, "--set", f"n={value}", engines=("parts",))
            self.assertEqual({"format": "cutproof-scene", "version": 1, **scene}, alone)

    def test_pieces_of_several_blocks(self):
        scene, report = self.both(self.plan(JOINED))
        self.assert_scene(scene, report)
        self.assertEqual(report["outcome"], "refuted")
        d = [(state["step"], piece) for state in scene["states"] for piece in state["pieces"] if piece["name"] == "d"]
        self.assertEqual([step for step, _ in d], [5, 6])  # where it comes, and where it moves
        self.assertEqual([len(piece["edges"]) for _, piece in d], [len(d[0][1]["edges"])] * 2)
        first = [sorted(times([0, -1, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0], [end[0] - 3, *end[1:]]) for end in edge) for edge in d[0][1]["edges"]]
        self.assertEqual(sorted(first), sorted(sorted(edge) for edge in d[1][1]["edges"]))

    def test_pieces_that_overlap_are_joined(self):
        scene, report = self.both(self.plan(JOINED.replace("translation: [3, 0, 0]", "translation: [-1/2, 0, 0]")))
        self.assertIn("overlap", report["counts"])
        for solid in (*scene["blocks"], *scene["regions"]):
            self.assert_closed(solid)

    def test_as_far_as_the_run_came(self):
        text = JOINED.replace("cut: d", "cut: nobody")
        scene, report = self.both(self.plan(text))
        self.assertEqual((report["outcome"], scene["states"]), ("invalid", []))
        text = JOINED.replace("- { cut: d", "- split: d\n  - { move: { d.2: { translation: [1, 0, 0] } } }\n  - { cut: d")
        scene, report = self.both(self.plan(text))
        self.assertEqual((report["outcome"], len(scene["states"])), ("invalid", 9))
        self.assertEqual({block["end_piece"] for block in scene["blocks"]}, {"d.1", "d.2", "b.2"})
        for text, words in ((INVALID, ()), (TOO_HARD, ("--max-degree", "4"))):
            scene, report = self.both(self.plan(text), *words)
            self.assertEqual([scene[key] for key in ("blocks", "states", "goals", "regions")], [[], [], [], []])
            self.assertEqual(scene["outcome"], report["outcome"])

    def test_several_plans(self):
        plans = [self.plan(GOOD, "a.yaml"), self.plan(REFUTED, "b.yaml"), self.plan(INVALID, "c.yaml")]
        self.run_program("check", *plans, "--report", "scene=" + self.path("all.json"))
        together = json.loads(pathlib.Path(self.path("all.json")).read_bytes())
        self.assertEqual([together["format"], together["version"], len(together["plans"])], ["cutproof-scene", 1, 3])
        for plan, part in zip(plans, together["plans"]):
            alone, _ = self.both(plan)
            self.assertEqual({"format": "cutproof-scene", "version": 1, **part}, alone)

    @unittest.skipUnless(jsonschema, "jsonschema is not installed")
    def test_schema(self):
        validator = self.validator
        for path in [*sorted(PROJECT.glob("plans/*.yaml")), *sorted(PROJECT.glob("plans/broken/*.yaml"))]:
            if support.has_cases(path):
                continue
            self.run_program("check", str(path), "--report", "scene=" + self.path("scene.json"))
            validator.validate(json.loads(pathlib.Path(self.path("scene.json")).read_bytes()))
        self.run_program("check", self.plan(GOOD), self.plan(INVALID, "b.yaml"), "--report", "scene=" + self.path("scene.json"))
        scene = json.loads(pathlib.Path(self.path("scene.json")).read_bytes())
        validator.validate(scene)
        for broken in ({**scene, "version": 2}, {**scene, "plans": [{}]}, {"format": "cutproof-scene", "version": 1}):
            self.assertFalse(validator.is_valid(broken))

    def test_the_program_in_the_document_draws(self):
        [program] = re.findall(r"```python\n(.*?)```", (PROJECT / "docs/scene.md").read_text(), re.S)
        for name in ("odd-edge-to-box", "mitred-tube", "broken/overlap"):
            self.run_program("check", str(PROJECT / f"plans/{name}.yaml"), "--report", "scene=" + self.path("scene.json"))
            done = subprocess.run([sys.executable, "-c", program, self.path("scene.json")], stdout=subprocess.PIPE, check=True)
            scene = json.loads(pathlib.Path(self.path("scene.json")).read_bytes())
            self.assertEqual(len(xml.etree.ElementTree.fromstring(done.stdout)), sum(len(block["facets"]) for block in scene["blocks"]))


if __name__ == "__main__":
    support.main()
