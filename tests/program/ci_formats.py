#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""JUnit, SARIF, workflow annotations and markdown: readers from outside get the findings of the JSON report back from each, and
strangers' text changes none of them."""
import html.parser
import json
import os
import pathlib
import re
import shutil
import subprocess
import unittest
import xml.etree.ElementTree

import support
from support import GOOD, REFUTED, TOO_HARD

try:
    import junitparser
except ImportError:
    junitparser = None

PROJECT = pathlib.Path(__file__).resolve().parents[2]
FORMATS = ("json", "junit", "sarif", "annotations", "markdown")
HOSTILE = ["<script>alert(1)</script>", "</script>", "]]>", "&#0;", "`", "```", "~~~", "a | b", "::error file=x::y", "::stop-commands::x",
           "##[error]x", "%0A", "@someone", "#1", "# x", "[x](javascript:x)", "![x](//host)", "http://host.example", "www.host.example",
           "=cmd", "\\e[2J", "\\u202e", "\\ufffe", "\\x07", "\\r\\n::error::x", "\\n# x", "  x  ", "<details>", "*x*", "- x", "> x", "x" * 10000]


class FormatTest(support.ProgramTest):
    def reports(self, *words, code=None):
        targets = {name: self.path("report." + name) for name in FORMATS}
        options = [word for name in FORMATS for word in ("--report", f"{name}={targets[name]}")]
        done = self.run_program("check", *words, *options)
        if code is not None:
            self.assertEqual(done.returncode, code, (done.stdout, done.stderr))
        self.text = done.stdout.decode()
        return {name: pathlib.Path(path).read_bytes().decode() for name, path in targets.items()}

    def plans_of(self, reports):
        report = json.loads(reports["json"])
        return report["plans"] if "plans" in report else [report]

    @staticmethod
    def annotations_of(text):
        """Of each workflow command its kind, values and message, decoded."""
        found = []
        for line in text.splitlines():
            kind, values, message = re.fullmatch(r"::(error|warning) ([^:]*)::(.*)", line).groups()
            decoded = {}
            for value in values.split(","):
                name, word = value.split("=", 1)
                decoded[name] = word
            for code, character in (("%0A", "\n"), ("%0D", "\r"), ("%3A", ":"), ("%2C", ","), ("%25", "%")):
                decoded = {name: word.replace(code, character) for name, word in decoded.items()}
                if character not in ":,":
                    message = message.replace(code, character)
            found.append((kind, decoded, message))
        return found

    @staticmethod
    def place_of(finding):
        """Line and column of the likeliest suspect, else of the finding."""
        first = (finding.get("suspects") or [finding])[0]
        return first["line"], first["column"]

    def assert_agree(self, reports):
        """Code, place and number of findings are the same everywhere, and so is the verdict."""
        plans = self.plans_of(reports)
        findings = [(plan, finding) for plan in plans for finding in plan["findings"]]
        annotations = [each for each in self.annotations_of(reports["annotations"]) if not each[2].startswith("and ")]
        self.assertEqual(len(annotations), len(findings))
        for (kind, values, message), (plan, finding) in zip(annotations, findings):
            self.assertEqual(kind, "warning" if plan["outcome"] == "stopped" else "error")
            self.assertEqual((values["title"], int(values.get("line", 0)), int(values.get("col", 0))),
                             (finding["code"], *self.place_of(finding)))
            if finding["message"].isprintable():
                self.assertEqual(message.split("\ntry: ")[0], finding["message"])
        run = json.loads(reports["sarif"])["runs"][0]
        rules = [rule["id"] for rule in run["tool"]["driver"]["rules"]]
        self.assertEqual(len(run["results"]), len(findings))
        for result, (plan, finding) in zip(run["results"], findings):
            place = result["locations"][0]["physicalLocation"]
            self.assertEqual(rules[result["ruleIndex"]], finding["code"])
            self.assertEqual(result["partialFingerprints"], {"cutproofFinding/v1": finding["id"]})
            region = place.get("region", {})
            self.assertEqual((region.get("startLine", 0), region.get("startColumn", 0)), self.place_of(finding))
            own = (finding["line"], finding["column"])
            related = [each["physicalLocation"]["region"] for each in result.get("relatedLocations", [])]
            self.assertEqual([(each["startLine"], each["startColumn"]) for each in related],
                             [] if own == self.place_of(finding) else [own])
        for artifact, plan in zip(run["artifacts"], plans):
            self.assertEqual(artifact.get("hashes", {}).get("sha-256"), plan.get("plan_sha256"))
        self.assertEqual(run["invocations"][0]["executionSuccessful"], all(plan["outcome"] != "failed" for plan in plans))

        root = xml.etree.ElementTree.fromstring(reports["junit"])
        self.assertEqual(len(root), len(plans))
        for suite, plan in zip(root, plans):
            properties = suite.find("properties")
            self.assertEqual(properties is None, "shapes" not in plan)
            if properties is not None:
                told = properties.find("property").get("value")
                self.assertIn(f"{len(plan['pieces'])} piece", told)
                if len(plans) == 1:
                    self.assertIn("\n" + told + "; shortest edge", reports["markdown"])
                suite.remove(properties)
            troubles = [each for case in suite for each in case if each.tag in ("failure", "error")]
            self.assertEqual(sorted(each.get("type") for each in troubles), sorted(finding["code"] for finding in plan["findings"]))
            self.assertEqual(plan["outcome"] == "verified", not troubles and suite.get("skipped") == "0")
            for name, tags in (("tests", None), ("failures", "failure"), ("errors", "error"), ("skipped", "skipped")):
                count = len(suite) if tags is None else len([each for case in suite for each in case if each.tag == tags])
                self.assertEqual(int(suite.get(name)), count)
            names = [case.get("name") for case in suite]
            self.assertEqual(len(names), len(set(names)))
            self.assertTrue(all(case.get("time") == "0" and case.get("classname") == suite.get("name") for case in suite))
        for count in ("tests", "failures", "errors", "skipped"):
            self.assertEqual(int(root.get(count)), sum(int(suite.get(count)) for suite in root))
        self.assertLess(len(reports["markdown"]), 60000)
        for plan in plans[:50]:
            self.assertIn(f"**{plan['outcome']}**: ", reports["markdown"])


class Formats(FormatTest):
    def test_all_plans(self):
        broken = sorted(str(path) for path in (PROJECT / "plans/broken").glob("*.yaml"))
        good = sorted(str(path) for path in (PROJECT / "plans").glob("*.yaml") if b"\ncases:" not in path.read_bytes())
        for plans in ([each] for each in broken):
            with self.subTest(plans):
                reports = self.reports(*plans)
                self.assert_agree(reports)
                again = self.reports(*plans)
                self.assertEqual(reports, again)
        reports = self.reports(*good, *broken, code=3)
        self.assert_agree(reports)

    def test_identities(self):
        """They outlive edits elsewhere, a new line before and a new step, and are no two alike."""
        texts = [REFUTED, "# a remark\n" + REFUTED, REFUTED.replace("steps:\n", "steps:\n  - expect: { pieces: 1 }\n"),
                 REFUTED.replace("title: A prism", "title: The prism")]
        ids = [[finding["id"] for finding in json.loads(self.reports(self.plan(text), code=1)["json"])["findings"]] for text in texts]
        self.assertEqual([ids[0]] * 4, ids)
        self.assertEqual(len(ids[0]), len(set(ids[0])))
        other = json.loads(self.reports(self.plan(REFUTED.replace("- move:", "- title: x\n    move:").replace("translation: [1, 0, 0]",
                           "reflection: { equation: \"z = 2\" }")), code=1)["json"])["findings"]
        self.assertEqual([finding["code"] for finding in other if finding["step"] == 2][:1], ["mirrored"])
        many = "\n".join(f"  - expect: {{ pieces: {i} }}" for i in range(2, 122))
        report = json.loads(self.reports(self.plan(GOOD.replace("steps:\n", "steps:\n" + many + "\n")), code=1)["json"])
        self.assertEqual(len({finding["id"] for finding in report["findings"]}), 100)

    def test_more_than_are_listed_are_counted(self):
        many = "\n".join("  - expect: { pieces: 7 }" for _ in range(123))
        reports = self.reports(self.plan(GOOD.replace("steps:\n", "steps:\n" + many + "\n")), code=1)
        self.assertEqual(self.annotations_of(reports["annotations"])[-1][2], "and 23 more of this kind, 123 in all")
        self.assertEqual(json.loads(reports["sarif"])["runs"][0]["properties"]["plans"][0]["counts"], {"expectation-failed": 123})
        left_out = int(re.search(r"\n(\d+) findings? left out here\n$", reports["markdown"]).group(1))
        self.assertEqual(reports["markdown"].count("**expectation-failed** at") + left_out, 123)

    def test_long_lists_of_names(self):
        boxes = "\n".join(f"  P{i}: {{ box: {{ size: [1, 1, 1], at: [{2 * i}, 0, 0] }} }}" for i in range(150))
        plan = self.plan(f"cutproof: 1\nstart:\n{boxes}\nsteps:\n  - {{ cut: all, by: {{ equation: \"z = 1/2\" }} }}\ngoal:\n{boxes}\n")
        report = json.loads(self.reports(plan, code=0)["json"])
        step = report["steps"][0]
        self.assertEqual((len(step["added"]), step["added_count"], len(step["removed"]), step["removed_count"]), (100, 300, 100, 150))
        self.assertEqual((len(step["moved"]), "moved_count" in step, len(report["pieces"])), (0, False, 300))

    def test_what_was_not_reached_is_skipped(self):
        reports = self.reports(self.plan(TOO_HARD), "--max-degree", "4", code=3)
        [suite] = xml.etree.ElementTree.fromstring(reports["junit"])
        self.assertEqual([case.get("name") for case in suite], ["reads", "pieces are disjoint", "volume", "Dehn invariant", "goal is filled"])
        self.assertEqual([[each.tag for each in case] for case in suite], [["error"]] + [["skipped"]] * 4)
        self.assertIn("::warning ", reports["annotations"])

    def test_a_verified_plan(self):
        reports = self.reports(self.plan(GOOD), code=0)
        self.assert_agree(reports)
        self.assertEqual(reports["annotations"], "")
        self.assertEqual(json.loads(reports["sarif"])["runs"][0]["results"], [])
        [suite] = xml.etree.ElementTree.fromstring(reports["junit"])
        self.assertEqual([case.get("name") for case in suite.iter("testcase")], ["reads", "step 1: cut", "step 2: move", "pieces are disjoint", "volume",
                                                               "Dehn invariant", "goal is filled"])

    def test_only_check_writes_them(self):
        plan = self.plan(GOOD)
        for name in FORMATS[1:]:
            for words in (["measure", plan], ["compare", plan]):
                done = self.run_program(*words, "--report", f"{name}=" + self.path("x"))
                self.assertEqual(done.returncode, 2)
                self.assertIn(f"writes no report in the format `{name}`; known: json".encode(), done.stderr)

    def test_every_code_is_a_rule(self):
        codes = re.findall(r"^### ([a-z, -]+)$", (PROJECT / "docs/findings.md").read_text(), re.M)
        rules = json.loads(self.reports(self.plan(GOOD))["sarif"])["runs"][0]["tool"]["driver"]["rules"]
        self.assertLessEqual({code for line in codes for code in line.split(", ")}, {rule["id"] for rule in rules})
        self.assertTrue(all(rule["help"]["text"] for rule in rules))

    def test_paths_become_relative_references(self):
        for name, uri in (("a b.yaml", "a%20b.yaml"), ("a:b.yaml", "a%3Ab.yaml"), ("#1.yaml", "%231.yaml"), ("\u00e9?.yaml", "%C3%A9%3F.yaml")):
            self.plan(REFUTED, name)
            done = self.run_program("check", name, "--report", "sarif=-", cwd=self.folder)
            run = json.loads(done.stdout)["runs"][0]
            self.assertEqual(run["artifacts"][0]["location"]["uri"], uri)
            self.assertEqual(run["results"][0]["locations"][0]["physicalLocation"]["artifactLocation"]["uri"], uri)


class Elements(html.parser.HTMLParser):
    def __init__(self):
        super().__init__()
        self.found, self.shown = set(), ""

    def handle_starttag(self, tag, attributes):
        self.found.add(tag)

    def handle_data(self, data):
        self.shown += data


class Strangers(FormatTest):
    def hostile_plan(self, text):
        quoted = '"' + text.replace('"', '\\"') + '"'
        return self.plan(f"cutproof: 1\ntitle: {quoted}\nsource: {quoted}\n" + REFUTED.split("\n", 2)[2]
                         .replace("- move:", f"- title: {quoted}\n    note: {quoted}\n    move:")
                         .replace("cut: T", f"title: {quoted}, cut: T"))

    def hostile_reports(self):
        for text in HOSTILE:
            yield text, self.reports(self.hostile_plan(text), code=1)
            name = '"' + text.replace('"', '\\"') + '"'
            yield text, self.reports(self.plan(REFUTED.replace("cut: T", f"cut: {name}")), code=2)

    def test_every_format_keeps_its_form(self):
        for text, reports in self.hostile_reports():
            self.assert_agree(reports)
            for name, written in reports.items():
                if name != "annotations":
                    self.assertFalse([line for line in written.splitlines() if line.startswith(("::", "##["))], name)
                if name != "json":
                    self.assertEqual([c for c in written if c != "\n" and (ord(c) < 32 or 127 <= ord(c) < 160 or c in "\u202e\ufffe")], [])

    @unittest.skipUnless(shutil.which("xmllint"), "xmllint is not installed")
    def test_xml_is_well_formed(self):
        for _, reports in self.hostile_reports():
            subprocess.run(["xmllint", "--noout", "-"], input=reports["junit"].encode(), check=True)

    @unittest.skipUnless(junitparser, "junitparser is not installed")
    def test_another_reader_of_junit(self):
        for _, reports in self.hostile_reports():
            suites = junitparser.JUnitXml.fromstring(reports["junit"].encode())
            plans = self.plans_of(reports)
            results = [result for suite in suites for case in suite for result in case.result]
            self.assertEqual(len([each for each in results if isinstance(each, (junitparser.Failure, junitparser.Error))]),
                             sum(len(plan["findings"]) for plan in plans))
            suites.update_statistics()
            root = xml.etree.ElementTree.fromstring(reports["junit"])
            self.assertEqual([suites.tests, suites.failures, suites.errors], [int(root.get(name)) for name in ("tests", "failures", "errors")])

    @unittest.skipUnless(shutil.which("cmark-gfm"), "cmark-gfm is not installed")
    def test_markdown_is_text_as_typed(self):
        for text, reports in self.hostile_reports():
            done = subprocess.run(["cmark-gfm", "-e", "table", "-e", "tagfilter", "-e", "autolink", "--unsafe"],
                                  input=reports["markdown"].encode(), stdout=subprocess.PIPE, check=True)
            elements = Elements()
            elements.feed(done.stdout.decode())
            self.assertLessEqual(elements.found, {"p", "strong", "code", "pre", "ul", "li", "h3"})
            # What is left outside of code is ours.
            ours = re.sub(r"<(pre|code)>.*?</\1>", "", done.stdout.decode(), flags=re.S)
            self.assertNotRegex(ours, r"[@#|\[\]!=]|script|host|someone")
            title = self.plans_of(reports)[0]["title"]
            if len(title) < 1000 and title.isprintable():
                self.assertIn(" ".join(title.split()), " ".join(elements.shown.split()))

    def test_many_long_findings_are_held(self):
        boxes = "\n".join(f"  {'n' * 200}{i}: {{ box: {{ size: [1, 1, 1], at: [{i}/9, 0, 0] }} }}" for i in range(30))
        reports = self.reports(self.plan("cutproof: 1\nstart:\n" + boxes + "\nsteps: []\ngoal: { box: { size: [9, 9, 9] } }\n"), code=1)
        self.assert_agree(reports)
        self.assertRegex(reports["markdown"], r"\d+ findings left out here")
        plans = [self.plan(REFUTED, f"{'n' * 200}{i}.yaml") for i in range(300)]
        reports = self.reports(*plans, code=1)
        self.assertLess(len(reports["markdown"]), 60000)
        self.assertRegex(reports["markdown"], r"and \d+ plans more, 300 in all")


if __name__ == "__main__":
    os.environ["COLUMNS"] = "100"
    support.main()
