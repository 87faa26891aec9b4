#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""`--against`: what every format tells of an older report, which plans are matched, and which files are no older report."""
import copy
import hashlib
import html.parser
import json
import os
import pathlib
import unittest
import xml.etree.ElementTree

import support
from support import FAMILY, GOOD, INVALID, REFUTED

try:
    import jsonschema
except ImportError:
    jsonschema = None

PROJECT = pathlib.Path(__file__).resolve().parents[2]
TUTORIAL = [*[PROJECT / f"plans/broken/tutorial-{i}.yaml" for i in (1, 2, 3)], PROJECT / "plans/tutorial.yaml"]


def case_of(result):
    """What a line of the log says of it before the sentence."""
    values = ", ".join(f"{name} = {value}" for name, value in result.get("parameters", {}).items())
    return f"case {result['case']} with {values}: " if "case" in result else f"with {values}: " if values else ""


class Text(html.parser.HTMLParser):
    """What stands in the first paragraph of the class `against`, and what came before it."""
    def __init__(self):
        super().__init__()
        self.inside, self.told, self.before = False, "", ""

    def handle_starttag(self, tag, attributes):
        self.inside = self.inside or (tag == "p" and ("class", "against") in attributes)

    def handle_endtag(self, tag):
        if tag == "p" and self.inside:
            self.inside = False
            self.told += "\n"

    def handle_data(self, data):
        if self.inside:
            self.told += data
        elif not self.told:
            self.before += data


class AgainstTest(support.ProgramTest):
    def setUp(self):
        super().setUp()
        self.validator = None
        if jsonschema:
            self.validator = jsonschema.Draft7Validator(json.loads((PROJECT / "docs/report.schema.json").read_text()))

    def report_of(self, *words, name="old.json"):
        self.run_program("check", *words, "--report", f"json={self.path(name)}")
        return self.path(name)

    def against(self, old, *plans, code):
        """What JSON tells of each plan; every other format and the exit code are held against it."""
        formats = ("json", "junit", "sarif", "annotations", "markdown", "html")
        words = [word for name in formats for word in ("--report", f"{name}={self.path('new.' + name)}")]
        done = self.run_program("check", *plans, "--against", old, *words, env={**os.environ, "COLUMNS": "1000"})
        self.assertEqual(done.returncode, code, (done.stdout, done.stderr))
        new = {name: pathlib.Path(self.path("new." + name)).read_text() for name in formats}
        report = json.loads(new["json"])
        if self.validator:
            self.assertEqual([error.message for error in self.validator.iter_errors(report)], [])
        several = "plans" in report
        results = report["plans"] if several else [report]
        for result in results:
            keys = list(result)
            self.assertEqual(keys[keys.index("exit_code") + 1], "against")
        told = [next(each.get("value") for each in suite.iter("property") if each.get("name") == "against")
                for suite in xml.etree.ElementTree.fromstring(new["junit"])]
        self.assertTrue(all(told))
        for suite in xml.etree.ElementTree.fromstring(new["junit"]):
            self.assertEqual(suite.find("properties")[0].get("name"), "against")
        plans_in_sarif = json.loads(new["sarif"])["runs"][0]["properties"]["plans"]
        self.assertEqual([each["against"] for each in plans_in_sarif], told)
        self.assertTrue(all([key for key in each if key != "case"][:3] == ["plan", "outcome", "against"] for each in plans_in_sarif))
        notices = [line for line in new["annotations"].splitlines() if line.startswith("::notice ")]
        self.assertEqual([line.split("title=against::", 1)[1] for line in notices], told)
        self.assertTrue(new["annotations"].startswith("::notice "))
        page = Text()
        page.feed(new["html"])
        self.assertEqual(page.told.replace("Against the older report: ", "").splitlines(), [each.replace("`", "") + "." for each in told])
        lines = done.stdout.decode().splitlines()
        quiet = self.run_program("check", *plans, "--against", old, "-q").stdout.decode().splitlines()
        changed = [(result, words) for result, words in zip(results, told) if set(result["against"]) - {"plan_sha256"} and
                   result["against"].get("plan", [None])[0] is None or len(set(result["against"]) - {"plan_sha256", "plan"}) > 0]
        self.assertIn(f"; {len(changed)} changed against the older report" if changed else "; nothing changed against the older report", quiet[-1])
        for result, words in changed:
            line = f"{result['plan']}: {result['outcome']}: {case_of(result)}against the older report: {words}"
            self.assertIn(line, quiet)
            first = next(line for line in quiet if line.startswith(result["plan"] + ":"))
            self.assertEqual(first, line)
        self.assertEqual(len([line for line in quiet if ": against the older report: " in line]), len(changed))
        if several:
            listed = new["markdown"].splitlines()[:len(results)]
            self.assertEqual(len([line for line in listed if ", against the older report: " in line]), len(changed))
        else:
            self.assertEqual(lines[1], "  against the older report: " + told[0])
            verdict, gap, line = new["markdown"].splitlines()[:3]
            self.assertTrue(verdict.startswith(f"**{results[0]['outcome']}**: ") and gap == "")
            self.assertEqual(line.replace("` ", "`").replace(" `", "`").replace(" ", ""),
                             ("against the older report: " + told[0]).replace(" ", ""))
            full = self.run_program("check", *plans, "--against", old, "--full", env={**os.environ, "COLUMNS": "1000"})
            self.assertEqual(full.stdout.decode().splitlines()[1], lines[1])
        self.told = told
        return [result["against"] for result in results]


class Differences(AgainstTest):
    def test_the_tutorial(self):
        """Each version of the tutorial's plan against the one before, and each against itself."""
        expected = [
            None,
            {"plan", "plan_sha256", "outcome", "volume", "goal_volume", "dehn", "goal_dehn", "pieces", "steps", "findings"},
            {"plan", "plan_sha256", "volume", "pieces", "steps", "findings", "shapes"},
            {"plan", "plan_sha256", "outcome", "steps", "findings"}]
        for i, plan in enumerate(TUTORIAL):
            code = (2, 1, 1, 0)[i]
            old = self.report_of(str(plan), name=f"{i}.json")
            self.assertEqual(self.against(old, str(plan), code=code), [{}])
            self.assertEqual(self.told, ["nothing changed"])
            if i > 0:
                [found] = self.against(self.path(f"{i - 1}.json"), str(plan), code=code)
                with self.subTest(plan.name):
                    self.assertEqual(found["plan"], [str(TUTORIAL[i - 1]), str(plan)])
                    self.assertLessEqual(set(found), expected[i] | {"shapes"})
                    self.assertLessEqual(expected[i] - {"shapes"}, set(found))
        # The last one has a new step, and the motion of `left` is another.
        self.assertEqual(found["outcome"], ["refuted", "verified"])
        self.assertEqual(found["steps"], {"new": [{"index": 3, "kind": "expect", "title": ""}],
                                          "changed": [{"index": 4, "kind": "move", "title": "the halves go to the sides"}]})
        self.assertEqual(list(found["findings"]), ["gone"])
        self.assertEqual(len(found["findings"]["gone"]), 2)

    def test_all_plans_against_themselves(self):
        plans = [str(path) for path in (*sorted(PROJECT.glob("plans/broken/*.yaml")), *sorted(PROJECT.glob("plans/*.yaml"))[:10])
                 if not support.has_cases(path)]
        old = self.report_of(*plans)
        done = self.run_program("check", *plans, "--against", old, "--report", f"json={self.path('new.json')}", "-q")
        self.assertEqual([plan["against"] for plan in self.read(self.path("new.json"))["plans"]], [{}] * len(plans))
        self.assertTrue(done.stdout.decode().endswith("; nothing changed against the older report\n"))

    def test_cases_against_themselves_and_others(self):
        """Each case is matched with the same one of the older report, whatever other plans are given."""
        families = [*support.plans_with_cases(self.folder), self.plan(FAMILY, "family.yaml")]
        old = self.report_of(*families, "--no-mends")
        self.run_program("check", *reversed(families), "--no-mends", "--against", old, "--report", f"json={self.path('new.json')}", "-q")
        new = self.read(self.path("new.json"))
        self.assertEqual([plan["against"] for plan in new["plans"]], [{}] * len(new["plans"]))
        self.assertEqual(len(new["plans"]), len(self.read(old)["plans"]))
        if self.validator:
            self.assertEqual([error.message for error in self.validator.iter_errors(new)], [])
        # Only the second case becomes another one.
        family = FAMILY.replace(", { e: 2^(1/3) }", "").replace(", { n: 0 }", "")
        old = self.report_of(self.plan(family, "family.yaml"))
        self.assertEqual(self.against(old, self.path("family.yaml"), code=1), [{}] * 3)
        found = self.against(old, self.plan(family.replace("{ n: 3 }", "{ n: 2 }"), "family.yaml"), code=1)
        self.assertEqual([set(each) for each in found],
                         [{"plan_sha256"}, {"plan_sha256", "outcome", "volume", "pieces", "steps", "findings", "shapes"}, {"plan_sha256"}])

    def test_what_is_changed(self):
        old = self.report_of(self.plan(GOOD))
        new = self.against(old, self.plan("# a comment\n" + GOOD), code=0)
        self.assertEqual([set(each) for each in new], [{"plan_sha256"}])
        self.assertEqual(new[0]["plan_sha256"], [hashlib.sha256(text.encode()).hexdigest() for text in (GOOD, "# a comment\n" + GOOD)])
        self.assertEqual(self.told, ["nothing changed but the text"])
        # A plane that is shifted changes its step and the volumes of the halves.
        [found] = self.against(old, self.plan(GOOD.replace("y = 1", "y = 1/2")), code=1)
        self.assertEqual([each["index"] for each in found["steps"]["changed"]], [1])
        self.assertEqual(found["pieces"], {"changed": ["stump", "tip"]} if found["pieces"]["changed"][0] == "stump" else {"changed": ["tip", "stump"]})
        # Another name: the step is another, too.
        [found] = self.against(old, self.plan(GOOD.replace("tip", "top")), code=0)
        self.assertEqual((found["pieces"], set(found)), ({"gone": ["tip"], "new": ["top"]}, {"plan_sha256", "pieces", "steps"}))
        self.assertEqual([[each["index"] for each in found["steps"][key]] for key in ("gone", "new")], [[1, 2], [1, 2]])
        # Another start: both volumes, before and now.
        [found] = self.against(old, self.plan(GOOD.replace("height: 1", "height: 2").replace("2, 1, 1", "2, 1, 2")), code=0)
        self.assertEqual([each["exact"] for each in found["volume"]], ["2", "4"])
        self.assertEqual([each["exact"] for each in found["goal_volume"]], ["2", "4"])
        # A plan that cannot be read has no volumes.
        [found] = self.against(old, self.plan(INVALID.replace("cutproof: 1", "cutproof: one")), code=2)
        self.assertEqual((found["volume"][1], found["dehn"], found["pieces"]), (None, ["0", None], {"gone": ["tip", "stump"]} if
                         found["pieces"]["gone"][0] == "tip" else {"gone": ["stump", "tip"]}))
        self.assertIn("volume of the start `2` before, now `unknown`", self.told[0])
        # One finding that stays, one that is new.
        old = self.report_of(self.plan(REFUTED))
        ids = [each["id"] for each in self.read(old)["findings"]]
        extra = REFUTED.replace("  - move:", "  - expect: { pieces: 3 }\n  - move:")
        [found] = self.against(old, self.plan(extra), code=1)
        self.assertEqual((found["findings"]["same"], len(found["findings"]["new"]), set(found["findings"])), (ids, 1, {"new", "same"}))
        self.assertEqual(found["steps"], {"new": [{"index": 2, "kind": "expect", "title": ""}]})

    def test_pieces_of_equal_volume_and_other_shapes(self):
        cuts = "cutproof: 1\nstart: {{ C: {{ box: {{ size: [2, 2, 2], at: [-1, -1, -1] }} }} }}\nsteps:\n" \
               "  - {{ cut: C, by: {{ equation: \"x = 0\" }}, into: [right, left] }}\n" \
               "  - {{ cut: left, by: {{ equation: \"{} = 0\" }}, into: [up, down] }}\n" \
               "  - {{ cut: right, by: {{ equation: \"y = 0\" }}, into: [back, front] }}\n" \
               "goal: {{ box: {{ size: [2, 2, 2], at: [-1, -1, -1] }} }}\n"
        old = self.report_of(self.plan(cuts.format("y")))
        [found] = self.against(old, self.plan(cuts.format("y + z")), code=0)
        self.assertEqual((found["shapes"], sorted(found["pieces"]["changed"])), (["4 pieces of one shape", "4 pieces of 2 shapes"], ["back", "front"] if
                         "back" in found["pieces"]["changed"] else ["down", "up"]))

    def test_long_lists_are_counted(self):
        boxes = "".join(f"  {{}}{i}: {{{{ box: {{{{ size: [1, 1, 1], at: [{2 * i}, 0, 0] }}}} }}}}\n" for i in range(150))
        text = "cutproof: 1\nstart:\n" + boxes + "steps: []\ngoal:\n" + boxes
        old = self.report_of(self.plan(text.format(*["P"] * 300)))
        [found] = self.against(old, self.plan(text.format(*["Q"] * 300)), code=0)
        pieces = found["pieces"]
        self.assertEqual([len(pieces["gone"]), pieces["gone_count"], len(pieces["new"]), pieces["new_count"]], [100, 150, 100, 150])
        self.assertIn("new pieces `Q0`, `Q1`, `Q2`, `Q3` and 146 more", self.told[0])
        narrow = self.run_program("check", self.path("plan.yaml"), "--against", old, env={**os.environ, "COLUMNS": "80"})
        self.assertLessEqual(len(narrow.stdout.splitlines()), 24)


class Matching(AgainstTest):
    def test_by_path_then_by_digest(self):
        a, b, c = self.plan(GOOD, "a.yaml"), self.plan(GOOD.replace("prism becomes", "prism became"), "b.yaml"), self.plan(REFUTED, "c.yaml")
        old = self.report_of(a, b, c)
        self.assertEqual(self.against(old, c, a, b, code=1), [{}, {}, {}])
        os.rename(b, self.path("d.yaml"))
        found = self.against(old, a, self.path("d.yaml"), self.plan(REFUTED + "# new\n", "e.yaml"), code=1)
        self.assertEqual(found, [{}, {"plan": [b, self.path("d.yaml")]}, {"plan": [None, self.path("e.yaml")]}])
        self.assertIn("this plan is not in it", self.told[2])
        self.assertEqual(self.against(old, self.path("d.yaml"), code=0), [{"plan": [b, self.path("d.yaml")]}])

    def test_one_plan_each(self):
        """A report of another plan: they are held against each other, and the path there is told."""
        old = self.report_of(self.plan(GOOD, "a.yaml"))
        [found] = self.against(old, str(PROJECT / "plans/odd-edge-to-box.yaml"), code=0)
        self.assertEqual(found["plan"][0], self.path("a.yaml"))
        self.assertIn("`" + self.path("a.yaml")[:20], self.told[0])

    def test_a_report_may_take_the_place_of_the_older_one(self):
        old = self.report_of(self.plan(GOOD))
        done = self.run_program("check", self.plan(REFUTED), "--against", old, "--report", "json=" + old)
        self.assertEqual(done.returncode, 1)
        self.assertEqual(self.read(old)["against"]["outcome"], ["verified", "refuted"])
        # A report that was held against another one is an older report, too.
        self.run_program("check", self.plan(REFUTED), "--against", old, "--report", "json=" + old)
        self.assertEqual(self.read(old)["against"], {})

    def test_a_failure_afterwards_is_told(self):
        old = self.report_of(self.plan(GOOD))
        os.mkdir(self.path("folder"), 0o755)
        done = self.run_program("check", self.path("plan.yaml"), "--against", old, "--report", "json=" + self.path("new.json"),
                                "--report", "junit=/dev/full")
        self.assertEqual(done.returncode, 4)
        report = self.read(self.path("new.json"))
        self.assertEqual(report["against"]["outcome"], ["verified", "failed"])
        self.assertEqual(len(report["against"]["findings"]["new"]), 1)

    def test_shards_and_lists(self):
        a, b = self.plan(GOOD, "a.yaml"), self.plan(REFUTED, "b.yaml")
        old = self.report_of(a, b)
        done = self.run_program("check", a, b, "--shard", "3/3", "--against", old)
        self.assertEqual((done.returncode, done.stdout), (0, b"No plan falls to this shard.\n"))
        self.assertEqual(self.against(old, b, code=1), [{}])


class BadInput(AgainstTest):
    def refused(self, path, *words):
        report = self.path("new.json")
        pathlib.Path(report).write_text("an old one")
        done = self.run_program("check", self.plan(GOOD), "--against", str(path), "--report", "json=" + report, timeout=60)
        self.assertEqual((done.returncode, done.stdout), (2, b""), done.stderr)
        text = done.stderr.decode()
        self.assertTrue(text.startswith("cutproof: wrong usage: "), text)
        self.assertLess(len(text), 2000)
        for word in words:
            self.assertIn(word, text)
        self.assertEqual(pathlib.Path(report).read_text(), "an old one")

    def refused_text(self, text, *words):
        path = pathlib.Path(self.path("bad.json"))
        path.write_bytes(text if isinstance(text, bytes) else text.encode())
        self.refused(path, "bad.json", *words)

    def test_no_file_of_that_kind(self):
        self.refused(self.path("nothing.json"), "there is no such file")
        self.refused(self.folder, "this is a folder")
        os.mkfifo(self.path("fifo"))
        self.refused(self.path("fifo"), "this is a pipe")
        self.refused("/dev/zero", "this is a device")
        self.refused("-", "standard input")
        self.refused("", "there is no such file")

    def test_no_report(self):
        old = pathlib.Path(self.report_of(self.plan(REFUTED))).read_text()
        report = json.loads(old)
        for length in range(0, len(old) - 3, max(1, len(old) // 60)):
            self.refused_text(old[:length], "it is no whole JSON text")
        self.refused_text("[" * 10_000_000, "100 levels")
        self.refused_text('{"a":' * 2_000_000, "100 levels")
        self.refused_text(b"\0" * 1000, "no whole JSON text: reading ends at line 1, column 1")
        self.refused_text(b'{"format": "\xff"}', "no whole JSON text")
        self.refused_text('{"format": "\\ud800"}', "no whole JSON text")
        self.refused_text('{"a": 1e999}', "no JSON text")
        self.refused_text(old + "x", "no whole JSON text")
        for other in ("null", "3", "[]", "{}", '"cutproof-report"', '{"format": 1}', '{"format": "cutproof-scene", "version": 1}'):
            self.refused_text(other, '"format": "cutproof-report"')
        self.refused_text('{"format": "cutproof-report"}', "`version`")
        self.refused_text('{"format": "cutproof-report", "version": 2}', "a newer one wrote it")
        self.refused_text('{"format": "cutproof-report", "version": 99999999999999999999}', "`version`")
        self.refused_text('{"format": "cutproof-report", "version": -1}', "`version`")
        self.refused_text(old.replace('"outcome"', '"outcome": "verified", "outcome"', 1), "the key `outcome` stands twice")
        self.refused_text(old.replace('"certificate"', '"zero": 1, "certificate"', 1) if '"certificate"' in old else
                          old.replace('"text"', '"text": "", "text"', 1), "stands twice")
        for words in (["measure", self.path("plan.yaml") + "#T"], ["compare", self.path("plan.yaml")]):
            self.plan("cutproof: 1\nsolids:\n  T: { box: { size: [1, 1, 1] } }\n" if words[0] == "measure" else GOOD)
            self.run_program(*words, "--report", "json=" + self.path("other.json"))
            self.refused(self.path("other.json"), "another command than `check`")
        changes = [lambda r: r.pop("outcome"), lambda r: r.update(outcome="good"), lambda r: r.update(steps={}), lambda r: r.update(steps=[1]),
                   lambda r: r["steps"][0].pop("kind"), lambda r: r["steps"][0].update(index=-1), lambda r: r["steps"][0].update(index=10**18),
                   lambda r: r["steps"][0].update(added=[1]), lambda r: r["steps"][0].update(added="x"), lambda r: r["steps"][0].update(added_count="x"),
                   lambda r: r["pieces"][0].pop("volume"), lambda r: r["pieces"][0].update(volume=1), lambda r: r["pieces"][0].update(parts=1.5),
                   lambda r: r.update(start=[]), lambda r: r["start"].update(dehn=[]), lambda r: r["start"]["dehn"].update(text=1),
                   lambda r: r["findings"][0].update(id=[]), lambda r: r.update(findings=[[]]), lambda r: r.update(shapes=[1]),
                   lambda r: r.update(plan=3), lambda r: r.update(plans=[1]), lambda r: r.update(plans={})]
        for change in changes:
            other = copy.deepcopy(report)
            change(other)
            self.refused_text(json.dumps(other), "cannot be used")

    def test_too_large(self):
        with open(self.path("large.json"), "wb") as file:
            file.truncate((64 << 20) + 1)
        self.refused(self.path("large.json"), "larger than 64 MB")

    def test_unknown_keys_are_passed_over(self):
        old = self.report_of(self.plan(GOOD))
        report = self.read(old)
        report["new"] = {"plans": [{"outcome": 1}], "steps": "x"}
        report["steps"][0]["new"] = [[[]]]
        pathlib.Path(old).write_text(json.dumps(report))
        self.assertEqual(self.against(old, self.path("plan.yaml"), code=0), [{}])

    def test_of_a_version_that_told_less(self):
        """Without identities, motions and shapes a report is one all the same."""
        old = self.report_of(self.plan(REFUTED))
        report = self.read(old)
        for finding in report["findings"]:
            del finding["id"]
        for step in report["steps"]:
            step.pop("motions", None)
            step.pop("planes", None)
        report.pop("shapes")
        pathlib.Path(old).write_text(json.dumps(report))
        [found] = self.against(old, self.path("plan.yaml"), code=1)
        self.assertNotIn("shapes", found)

    def test_text_of_strangers(self):
        """What a report holds is text for every format."""
        for text in ("<script>alert(1)</script>", "]]>", "`", "::error::x", "\u202e", "@someone", "[x](javascript:x)", "a|b", "x" * 10000, "\n::error::x"):
            old = self.report_of(self.plan(GOOD))
            report = self.read(old)
            report["plan"] = text
            report["pieces"][0]["name"] = text
            report["start"]["volume"] = {"exact": text, "decimal": text}
            report["goal"]["dehn"]["text"] = text
            pathlib.Path(old).write_text(json.dumps(report))
            words = [word for name in ("junit", "sarif", "annotations", "markdown", "html")
                     for word in ("--report", f"{name}={self.path('new.' + name)}")]
            done = self.run_program("check", self.path("plan.yaml"), "--against", old, *words)
            self.assertEqual(done.returncode, 0)
            self.assertFalse([line for line in done.stdout.decode().splitlines() if line.startswith(("::", "##["))])
            xml.etree.ElementTree.parse(self.path("new.junit"))
            json.loads(pathlib.Path(self.path("new.sarif")).read_text())
            annotations = pathlib.Path(self.path("new.annotations")).read_text()
            self.assertEqual(len(annotations.splitlines()), 1)
            page = pathlib.Path(self.path("new.html")).read_text()
            self.assertNotIn("<script>alert", page)
            for written in (annotations, page, pathlib.Path(self.path("new.markdown")).read_text()):
                self.assertNotIn("\u202e", written)


if __name__ == "__main__":
    support.main()
