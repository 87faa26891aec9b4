#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Every JSON report of every plan, good and broken, is one of docs/report.schema.json, and what is changed in it is none."""
import copy
import json
import pathlib
import unittest

import support
from support import FAMILY, FAMILY_OPTIONS, FAMILY_OUTCOMES, GOOD, INVALID, REFUTED, TOO_HARD

try:
    import jsonschema
except ImportError:
    jsonschema = None

PROJECT = pathlib.Path(__file__).resolve().parents[2]


@unittest.skipUnless(jsonschema, "jsonschema is not installed")
class Schema(support.ProgramTest):
    def setUp(self):
        super().setUp()
        schema = json.loads((PROJECT / "docs/report.schema.json").read_text())
        jsonschema.Draft7Validator.check_schema(schema)
        self.validator = jsonschema.Draft7Validator(schema)

    def report(self, *words):
        self.run_program(*words, "--report", "json=" + self.path("report.json"))
        report = json.loads(pathlib.Path(self.path("report.json")).read_bytes())
        self.assertTrue(self.validator.is_valid(report), (words, [error.message[:300] for error in self.validator.iter_errors(report)]))
        return report

    def test_check(self):
        plans = [str(path) for path in (*sorted(PROJECT.glob("plans/*.yaml")), *sorted(PROJECT.glob("plans/broken/*.yaml")))
                 if not support.has_cases(path)]
        for plan in plans:
            self.report("check", plan)
        self.assertEqual(len(self.report("check", *plans)["plans"]), len(plans))
        self.report("check", "--shard", "2/2", plans[0])
        self.report("check", self.plan(TOO_HARD), "--max-degree", "4")
        self.report("check", self.path("nothing.yaml"))
        self.report("check", self.plan(REFUTED), "--report", "scene=" + self.path("scene.json"))

    def test_cases(self):
        """Each case is an entry, the same as the report of a run with its values alone, but for its number."""
        family = self.plan(FAMILY, "family.yaml")
        for plan in (*support.plans_with_cases(self.folder), family):
            with self.subTest(plan):
                report = self.report("check", plan, *FAMILY_OPTIONS if plan == family else ())
                self.assertEqual(set(report), {"format", "version", "cutproof", "exit_code", "plans"})
                cases = report["plans"]
                self.assertEqual([(each["plan"], each["case"]) for each in cases], [(plan, i + 1) for i in range(len(cases))])
                self.assertEqual(report["exit_code"], max(each["exit_code"] for each in cases))
                self.assertEqual([each["outcome"] for each in cases], FAMILY_OUTCOMES if plan == family else ["verified"] * len(cases))
        for number, (value, case) in enumerate(zip((2, 3, 1, 0), cases), 1):
            alone = self.report("check", family, "--set", f"n={value}")
            self.assertEqual({"format": "cutproof-report", "version": 1, "cutproof": report["cutproof"], **case},
                             {**alone, "case": number})
        self.assertEqual([case["parameters"] for case in cases[:4]], [{"n": str(value), "e": "1"} for value in (2, 3, 1, 0)])
        # A list of plans holds one entry for each case of each; a case, and its number, must be of the schema's kind.
        together = self.report("check", family, self.plan(GOOD), *FAMILY_OPTIONS)["plans"]
        self.assertEqual([each.get("case") for each in together], [1, 2, 3, 4, 5, None])
        for change in ({"case": 0}, {"case": "1"}, {"cases": []}, {"parameters": {}}, {"parameters": {"n": 2}}):
            self.assertFalse(self.validator.is_valid({**report, "plans": [{**cases[0], **change}]}), change)

    def test_measure_and_compare(self):
        solids = self.plan("cutproof: 1\nsolids:\n  a: { box: { size: [1, 2, 3] } }\n  b: { regular: { name: tetrahedron, edge: 1 } }\n")
        for words in ([solids + "#a"], [solids + "#b"], [solids + "#a", solids + "#b"], [solids + "#c"],
                      [solids + "#b", "--angles", "90 deg"]):
            self.report("measure", *words)
        plan = self.plan(GOOD, "bench.yaml")
        for place in ("@start", "@1", "@end", "@goal", "@1#tip", "@9", "@end#nothing"):
            self.report("measure", plan + place)
        for other in ("a", "b", "c"):
            self.report("compare", solids + "#a", "--with", f"{solids}#{other}")
        self.report("compare", self.plan(GOOD, "good.yaml"))
        self.report("compare", solids + "#a", "--with", solids + "#a", "--demand", "same")
        family = str(PROJECT / "plans/leaning-board.yaml")
        self.assertIn("case", self.report("measure", family + "@start"))
        for words in ([family], [family + "@goal", "--with", solids + "#a", "--demand", "same"]):
            self.assertIn("cases", self.report("compare", *words))

    def test_what_is_no_report(self):
        report = self.report("check", self.plan(REFUTED))
        self.report("check", self.plan(INVALID))

        def broken(change):
            other = copy.deepcopy(report)
            change(other)
            return other
        for change in (lambda r: r.pop("outcome"), lambda r: r.update(outcome="good"), lambda r: r.update(version=2),
                       lambda r: r.update(exit_code=5), lambda r: r.update(extra=1), lambda r: r["findings"][0].pop("id"),
                       lambda r: r["findings"][0].update(line="3"), lambda r: r["steps"][0].pop("volume"),
                       lambda r: r["start"]["volume"].pop("exact"), lambda r: r["mends"][0].update(kind="magic")):
            self.assertFalse(self.validator.is_valid(broken(change)))


if __name__ == "__main__":
    support.main()
