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
import signal
import subprocess
import unittest
import xml.etree.ElementTree

import support
from support import FAMILY, FAMILY_OPTIONS, FAMILY_OUTCOMES, GOOD, REFUTED, TOO_HARD

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

    @staticmethod
    def case_of(plan):
        """What stands before the sentences of a case."""
        return f"case {plan['case']}: " if "case" in plan else ""

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
                self.assertEqual(message.split("\ntry: ")[0], self.case_of(plan) + finding["message"])
        run = json.loads(reports["sarif"])["runs"][0]
        rules = [rule["id"] for rule in run["tool"]["driver"]["rules"]]
        self.assertEqual(len(run["results"]), len(findings))
        for result, (plan, finding) in zip(run["results"], findings):
            place = result["locations"][0]["physicalLocation"]
            self.assertEqual((result["ruleId"], rules[result["ruleIndex"]]), (finding["code"], finding["code"]))
            if finding["message"].isprintable():
                told = self.case_of(plan) + finding["message"]
                self.assertEqual(result["message"]["text"][:len(told)], told)
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
            self.assertTrue(all(re.match(self.case_of(plan) or "(?!case )", name) for name in names), names)
            self.assertTrue(all(case.get("time") == "0" and suite.get("name").startswith(case.get("classname")) for case in suite))
        for count in ("tests", "failures", "errors", "skipped"):
            self.assertEqual(int(root.get(count)), sum(int(suite.get(count)) for suite in root))
        self.assertLess(len(reports["markdown"]), 60000)
        for plan in plans[:50]:
            self.assertIn(f"**{plan['outcome']}**: ", reports["markdown"])


class Formats(FormatTest):
    def test_all_plans(self):
        broken = sorted(str(path) for path in (PROJECT / "plans/broken").glob("*.yaml"))
        good = sorted(str(path) for path in (PROJECT / "plans").glob("*.yaml") if not support.has_cases(path))
        for plans in ([each] for each in broken):
            with self.subTest(plans):
                reports = self.reports(*plans)
                self.assert_agree(reports)
                again = self.reports(*plans)
                self.assertEqual(reports, again)
        reports = self.reports(*good, *support.plans_with_cases(self.folder), *broken, code=3)
        self.assert_agree(reports)

    @unittest.skipUnless(shutil.which("xmllint"), "xmllint is not installed")
    def test_junit_has_the_form_that_servers_read(self):
        schema = PROJECT / "tests/report/junit.xsd"
        plans = sorted(str(path) for path in PROJECT.glob("plans/**/*.yaml"))
        self.reports(*plans, code=3)
        subprocess.run(["xmllint", "--noout", "--schema", schema, self.path("report.junit")], stderr=subprocess.PIPE, check=True)
        text = pathlib.Path(self.path("report.junit")).read_text()
        for good, bad in (("<testsuite ", "<suite "), ('tests="', 'test="'), (' classname="', ' class="'), ("<skipped/>", "<skip/>")):
            done = subprocess.run(["xmllint", "--noout", "--schema", schema, "-"], input=text.replace(good, bad, 1).encode(), stderr=subprocess.PIPE)
            self.assertNotEqual(done.returncode, 0, bad)

    def test_cases_of_one_plan_have_names_of_their_own(self):
        text = "cutproof: 2\nparameters: { n: 1 }\ncases: [{ n: 1 }, { n: 2 }, { n: 3 }]\n" \
            "start: { T: { box: { size: [n, 1, 1] } } }\nsteps: []\ngoal: { box: { size: [2, 1, 1] } }\n"
        reports = self.reports(self.plan(text), code=1)
        root = xml.etree.ElementTree.fromstring(reports["junit"])
        names = [(case.get("classname"), case.get("name")) for case in root.iter("testcase")]
        self.assertEqual((len(root), len(set(names))), (3, len(names)))
        self.assertEqual(len({suite.get("name") for suite in root}), 3)
        self.assertEqual({name.split(": ")[0] for _, name in names}, {"case 1", "case 2", "case 3"})
        results = json.loads(reports["sarif"])["runs"][0]["results"]
        self.assertTrue(all(each["message"]["text"].startswith(("case 1: ", "case 3: ")) for each in results))
        self.assertEqual([plan["case"] for plan in json.loads(reports["sarif"])["runs"][0]["properties"]["plans"]], [1, 2, 3])

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
        done = self.run_program("check", self.plan(REFUTED, "a b.yaml"), "--report", "sarif=-")
        self.assertEqual(json.loads(done.stdout)["runs"][0]["artifacts"][0]["location"]["uri"], f"file://{self.folder}/a%20b.yaml")


class Agreement(FormatTest):
    """Step, line and piece of every broken plan are the same for people and in every format."""

    def test_step_line_and_piece(self):
        for path in sorted((PROJECT / "plans/broken").glob("*.yaml")):
            with self.subTest(path.name):
                page = self.path("page.html")
                reports = self.reports(str(path), "--report", "html=" + page)
                [plan] = self.plans_of(reports)
                # Of each finding the line, step and piece to look at first.
                wanted = []
                for finding in plan["findings"]:
                    first = (finding.get("suspects") or [None])[0]
                    step, piece = (first["step"], first["piece"]) if first else (finding["step"], None)
                    wanted.append((finding["code"], self.place_of(finding)[0], step, piece, finding["message"]))
                head = self.text.split("\n")[0]
                if plan["outcome"] == "refuted":
                    # The first line names the place of one of them, or of one at the goal.
                    line, rest = re.match(r"refuted: .*?\.yaml:(\d+)(.*)", head.replace("\n", " ")).groups()
                    told = [(line, step, piece) for _, number, step, piece, _ in wanted if str(number) == line]
                    self.assertTrue(told, head)
                    named = re.findall(r"`([^`]*)`", rest)
                    if "step " in rest:
                        number = int(re.search(r"step (\d+)", rest).group(1))
                        self.assertIn(number, [step for _, step, _ in told], head)
                    if named:
                        self.assertTrue({piece for _, _, piece in told} & set(named) or {name for finding in plan["findings"]
                                                                                        for name in finding["pieces"]} & set(named), head)
                self.assert_places(reports)
                shown = re.sub(r"<[^>]*>", "", pathlib.Path(page).read_text())
                for _, line, *_ in wanted:
                    if line:
                        self.assertIn(f"line {line}", shown)

    def test_step_line_and_piece_of_each_case(self):
        reports = self.reports(self.plan(FAMILY), *FAMILY_OPTIONS, code=3)
        plans = self.plans_of(reports)
        self.assertEqual([plan["outcome"] for plan in plans], FAMILY_OUTCOMES)
        self.assertEqual([len(plan["findings"]) > 0 for plan in plans], [False] + [True] * 4)
        self.assert_places(reports)

    def assert_places(self, reports):
        """Each finding has its own place, step and piece in every format: nothing is said where another finding's would do."""
        self.assert_agree(reports)  # annotations and SARIF list findings in the order of JSON
        plans = self.plans_of(reports)
        for plan in plans:
            self.assert_places_in_json(plan)
        # Markdown: the worst plans first.
        order = sorted(plans, key=lambda plan: -plan["exit_code"])
        sections = re.split(r"^(?=\*\*[a-z-]+\*\* at )", reports["markdown"], flags=re.M)[1:]
        findings = [(plan, finding) for plan in order for finding in plan["findings"]]
        self.assertEqual(len(sections), len(findings))
        for section, (plan, finding) in zip(sections, findings):
            head, body = re.match(r"([^\n]*)\n\n```+\n(.*?)\n```+\n", section, flags=re.S).groups()
            line, column = self.place_of(finding)
            told = f"**{finding['code']}** at ` {plan['plan']}" + (f":{line}:{column} `" if line else " `")
            self.assertEqual(head[:len(told)], told)
            suspect = (finding.get("suspects") or [None])[0]
            if suspect:
                step = f"step {suspect['step']}" if suspect["step"] else "the start"
                self.assertEqual(head[len(told):], f", {step}, piece ` {suspect['piece']} `")
            elif finding["code"] in ("missing", "excess", "straddles", "volume-differs", "dehn-differs"):
                self.assertEqual(head[len(told):], ", at the goal")
            else:
                self.assertEqual(head[len(told):], f", step {finding['step']}" if finding["step"] else "")
            self.assertTrue(self.is_told(body, plan, finding), (body, finding))
        if len(plans) > 1:  # each under the heading of its plan and case
            parts = re.split(r"^### ` (.*) `$", reports["markdown"], flags=re.M)[1:]
            told = [(name, part.count("\n**")) for name, part in zip(parts[::2], parts[1::2]) if "\n**" in part]
            cases = [(plan["plan"] + (f", case {plan['case']} with " if "case" in plan else ""), len(plan["findings"])) for plan in order]
            cases = [(name, count) for name, count in cases if count]
            self.assertEqual([(name[:len(case)], count) for (name, count), (case, _) in zip(told, cases)], cases)
            self.assertEqual(len(told), len(cases))
        # JUnit: under the question that it answers.
        for suite, plan in zip(xml.etree.ElementTree.fromstring(reports["junit"]), plans):
            troubles = [(case, each) for case in suite for each in case if each.tag in ("failure", "error")]
            for finding in plan["findings"]:
                found = [(case, each) for case, each in troubles
                         if each.get("type") == finding["code"] and self.is_told(each.text, plan, finding)
                         and (each.get("message") == finding["message"] or not finding["message"].isprintable())]
                self.assertTrue(found, ([each.text for _, each in troubles], finding))
                step = re.match(r"(?:case \d+: )?step (\d+)", found[0][0].get("name"))
                if step:
                    self.assertEqual(int(step.group(1)), finding["step"])
                troubles.remove(found[0])
            self.assertEqual(troubles, [])

    @staticmethod
    def is_told(body, plan, finding):
        """Whether the text is that of this finding: its own place first, then its sentence, and its suspects at the end."""
        flat = " ".join(body.split())
        own = f"{finding['code']} at {plan['plan']}" + (f":{finding['line']}:{finding['column']}" if finding["line"] else "")
        own += f", step {finding['step']}" if finding["step"] and not finding.get("excerpt") else ""
        sentence = " ".join(finding["message"].split()) if finding["message"].isprintable() else ""
        suspects = "; ".join(f"line {each['line']}, " + (f"step {each['step']}, " if each["step"] else "the start, ") + f"`{each['piece']}`"
                             for each in finding.get("suspects", [])[:3])
        return flat.startswith(f"{own} {sentence}") and (flat.endswith(" look at: " + suspects) if suspects else " look at: " not in flat)

    def assert_places_in_json(self, plan):
        """What JSON says of places is what stands there in the plan, and what it says of the steps themselves."""
        lines = pathlib.Path(plan["plan"]).read_bytes().decode(errors="replace").lstrip("\ufeff").splitlines()
        steps = {step["index"]: step for step in plan["steps"]}
        for finding in plan["findings"]:
            if finding.get("excerpt"):
                self.assertIn(finding["excerpt"].strip(" ."), lines[finding["line"] - 1])
            for suspect in finding.get("suspects", []):
                step = steps.get(suspect["step"], {})
                places = [(each["line"], each["column"]) for each in step.get("motions", []) + step.get("planes", [])]
                if places:
                    self.assertIn((suspect["line"], suspect["column"]), places)

    def assert_failed_everywhere(self, reports, code):
        """No format says anything else than that the run failed."""
        [plan] = self.plans_of(reports)
        self.assertEqual(plan["outcome"], "failed")
        self.assert_agree(reports)
        self.assertFalse(json.loads(reports["sarif"])["runs"][0]["invocations"][0]["executionSuccessful"])
        self.assertIn(code, [values["title"] for _, values, _ in self.annotations_of(reports["annotations"])])
        self.assertTrue(reports["markdown"].startswith("**failed**: "))
        self.assertIn('<error type="' + code, reports["junit"])
        for name, text in reports.items():
            self.assertNotIn("verified", re.sub(r'"text": "[^"]*"', "", text) if name == "sarif" else text, name)

    def test_a_full_disk(self):
        for name in FORMATS + ("html", "scene"):
            reports = self.reports(self.plan(GOOD), "--report", f"{name}=/dev/full" if name not in FORMATS else "scene=/dev/full", code=4)
            self.assert_failed_everywhere(reports, "report-not-written")

    def test_a_plan_that_dies_in_the_middle(self):
        targets = {name: self.path("report." + name) for name in FORMATS}
        process = self.start_program("check", self.plan(support.long_plan()), "--verbose",
                                     *[word for name in FORMATS for word in ("--report", f"{name}={targets[name]}")])
        while b"step 10" not in process.stderr.readline():
            pass
        for task in pathlib.Path(f"/proc/{process.pid}/task").iterdir():
            for child in (task / "children").read_text().split():
                os.kill(int(child), signal.SIGKILL)
        process.communicate(timeout=120)
        self.assertEqual(process.returncode, 4)
        reports = {name: pathlib.Path(path).read_bytes().decode() for name, path in targets.items()}
        self.assert_failed_everywhere(reports, "tool-fault")
        skipped = [case.get("name") for case in xml.etree.ElementTree.fromstring(reports["junit"]).iter("testcase") if case.find("skipped") is not None]
        self.assertIn("goal is filled", skipped)


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

    def test_paths(self):
        """A file's name may hold anything but a slash and a zero byte, bytes that are no UTF-8 among them."""
        for name in [text.encode().replace(b"/", b"!")[:200] for text in HOSTILE] + [b"\xff\xfe.yaml", b"a\nb", b"a\r::error::x", b"\xed\xa0\x80", b"\xef\xbf\xbe",
                                                                                   "\u202e\u2066".encode(), b"\x1b[2J", b":", b"#[error]"]:
            path = os.path.join(os.fsencode(self.folder), name)
            with open(path, "wb") as file:
                file.write(REFUTED.encode())
            targets = {each: self.path("report." + each) for each in FORMATS}
            words = [word for each in FORMATS for word in ("--report", f"{each}={targets[each]}")]
            done = self.run_program("check", b"./" + name if name.startswith((b"-", b"@")) else name, *words, cwd=self.folder)
            self.assertEqual(done.returncode, 1, (name, done.stderr))
            reports = {each: pathlib.Path(target).read_bytes().decode() for each, target in targets.items()}
            self.assertFalse([line for each, text in reports.items() if each != "annotations" for line in text.splitlines()
                              if line.startswith(("::", "##["))], name)
            self.assertFalse([line for line in done.stdout.decode().splitlines() if line.startswith(("::", "##["))], name)
            self.assertEqual(len(self.annotations_of(reports["annotations"])), len(json.loads(reports["json"])["findings"]))
            for each in ("junit", "sarif", "annotations", "markdown"):
                self.assertEqual([c for c in reports[each] if c != "\n" and (ord(c) < 32 or 127 <= ord(c) < 160 or c in "\u202e\u2066\ufffe")], [], (each, name))
            xml.etree.ElementTree.fromstring(reports["junit"])
            os.remove(path)

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
