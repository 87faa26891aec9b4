#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The page as text: whole, well nested, asking for nothing from anywhere, telling what the JSON report tells; and strangers' text
is text in it. What it does in a browser is tested in tests/page."""
import base64
import hashlib
import html.parser
import json
import pathlib
import re
import unittest

import support
from support import GOOD, REFUTED, TOO_HARD

PROJECT = pathlib.Path(__file__).resolve().parents[2]
VOID = {"meta", "br", "input", "hr", "path"}
HOSTILE = ["<script>alert(1)</script>", "</script><img src=x onerror=alert(1)>", "<!--", "-->", "]]>", "<![CDATA[", "</style>", "</title>",
           "&#0;", "&lt;b&gt;", "'", "\\\" onload=\\\"alert(1)", "javascript:alert(1)", "url(http://host.example)", "@import 'x'", "{}", "`", "a`b`c",
           "\\e[2J", "\\u202e", "\\u200b", "\\ufffe", "\\u2028", "\\x07", "\\r\\n", "\u05d0\u05d1\u05d2", "%s%n{}", "x" * 10000]


class Page(html.parser.HTMLParser):
    """Keeps what the tests ask for, and fails where elements do not nest."""

    def __init__(self, text):
        super().__init__(convert_charrefs=True)
        self.open, self.elements, self.text, self.scripts = [], [], "", []
        self.feed(text)
        self.close()
        assert not self.open, self.open

    def handle_startendtag(self, tag, attributes):
        self.elements.append((tag, dict(attributes)))

    def handle_starttag(self, tag, attributes):
        names = [name for name, _ in attributes]
        assert len(names) == len(set(names)), names
        self.elements.append((tag, dict(attributes)))
        if tag not in VOID:
            self.open.append(tag)
        if tag == "script":
            self.scripts.append((dict(attributes), ""))

    def handle_endtag(self, tag):
        assert self.open and self.open[-1] == tag, (self.open, tag)
        self.open.pop()

    def handle_data(self, data):
        if self.open and self.open[-1] == "script":
            attributes, before = self.scripts[-1]
            self.scripts[-1] = (attributes, before + data)
        elif self.open and self.open[-1] != "style":
            self.text += data

    def handle_comment(self, data):
        raise AssertionError("a comment: " + data)

    def unknown_decl(self, data):
        raise AssertionError("a declaration: " + data)

    def all(self, tag):
        return [attributes for name, attributes in self.elements if name == tag]

    def data(self):
        """What the view reads, by the plan's number."""
        return {int(attributes["data-plan"]): json.loads(text) for attributes, text in self.scripts if "data-plan" in attributes}


def words(text):
    return " ".join(text.split())


class PageTest(support.ProgramTest):
    def page(self, *inputs, code=None):
        target, report = self.path("page.html"), self.path("report.json")
        done = self.run_program("check", *inputs, "--report", "html=" + target, "--report", "json=" + report)
        if code is not None:
            self.assertEqual(done.returncode, code, done.stderr)
        self.written = pathlib.Path(target).read_bytes().decode()
        self.report = self.read(report)
        page = Page(self.written)
        self.assert_closed(page)
        return page

    def assert_closed(self, page):
        """Nothing in it can be asked for from elsewhere, and no script can run but the one that the policy names."""
        self.assertTrue(self.written.startswith("<!DOCTYPE html>\n"))
        for tag, attributes in page.elements:
            self.assertNotIn(tag, {"link", "img", "iframe", "object", "embed", "base", "form", "image", "use", "audio", "video"})
            for name, value in attributes.items():
                self.assertFalse(name.startswith("on"), (tag, name))
                self.assertNotIn(name, {"src", "srcset", "srcdoc", "action", "formaction", "background", "xlink:href", "style"})
                if name == "href":
                    self.assertRegex(value, r"^#[a-z0-9-]+$")
        ids = [attributes["id"] for _, attributes in page.elements if "id" in attributes]
        self.assertEqual(len(ids), len(set(ids)))
        for anchor in page.all("a"):
            self.assertIn(anchor["href"][1:], ids)
        for _, attributes in page.elements:
            for name in ("aria-labelledby", "aria-describedby", "for"):
                for each in attributes.get(name, "").split():
                    self.assertIn(each, ids)
        [policy] = [meta["content"] for meta in page.all("meta") if meta.get("http-equiv") == "Content-Security-Policy"]
        self.assertIn("default-src 'none'", policy)
        run = [text for attributes, text in page.scripts if attributes.get("type") != "application/json"]
        digests = ["'sha256-" + base64.b64encode(hashlib.sha256(text.encode()).digest()).decode() + "'" for text in run]
        self.assertLessEqual(len(run), 1)
        self.assertEqual(re.findall(r"script-src ([^;]*)", policy), digests)
        style = "".join(re.findall(r"<style>.*?</style>", self.written, re.S))
        self.assertNotRegex(style, r"url\((?!#)|@import|expression")

    def assert_tells(self, page):
        plans = self.report["plans"] if "plans" in self.report else [self.report]
        text = words(page.text)
        for plan in plans:
            self.assertIn(plan["outcome"].capitalize(), text)
            if plan["title"].isprintable():
                self.assertIn(words(plan["title"]), text)
            if "plan_sha256" in plan:
                self.assertIn(plan["plan_sha256"], text)
            for finding in plan["findings"]:
                self.assertIn(finding["code"], text)
                if finding["message"].isprintable():
                    self.assertIn(words(finding["message"].replace("`", "")), text.replace("`", ""))
            for step in plan["steps"]:
                if step["title"].isprintable():
                    self.assertIn(words(step["title"]), text)
            for piece in plan["pieces"]:
                self.assertIn(piece["name"], text)


class Pages(PageTest):
    def test_every_plan(self):
        good = sorted(str(path) for path in (PROJECT / "plans").glob("*.yaml") if b"\ncases:" not in path.read_bytes())
        broken = sorted(str(path) for path in (PROJECT / "plans/broken").glob("*.yaml"))
        for plans in [[each] for each in broken + good[:5]] + [good + broken]:
            with self.subTest(plans):
                page = self.page(*plans)
                self.assert_tells(page)
                first = self.written
                self.page(*plans)
                self.assertEqual(self.written, first)

    def test_several_plans_begin_with_a_list_the_worst_first(self):
        names = [self.plan(text, name) for name, text in (("a.yaml", GOOD), ("b.yaml", REFUTED), ("c.yaml", "cutproof: 2\n"))]
        page = self.page(*names, code=2)
        self.assertEqual([anchor["href"] for anchor in page.all("a")], ["#plan-3", "#plan-2", "#plan-1"])
        self.assertIn("3 plans: 1 verified, 1 refuted, 1 invalid", words(page.text))

    def test_ends_that_show_nothing(self):
        self.assertIn("No plan falls to this shard.", self.page(self.plan(GOOD), "--shard", "2/2", code=0).text)
        page = self.page(self.plan(TOO_HARD), "--max-degree", "4", code=3)
        self.assertIn("A limit was reached before the first step was done, so nothing is decided.", page.text)
        page = self.page(self.path("none.yaml"), code=2)
        self.assertIn("cannot be read", page.text)

    def test_coordinates_beyond_doubles(self):
        page = self.page(self.plan(GOOD.replace("[2, 0], [0, 2]", "[2e400, 0], [0, 2]")), code=1)
        self.assert_tells(page)

    def test_what_is_at_fault_is_marked(self):
        page = self.page(self.plan(GOOD.replace("y = 1", "y = q")), code=2)
        self.assertEqual(len(page.all("mark")), 1)
        self.assertRegex(self.written, r"<mark>[^<]*q[^<]*</mark>")
        long = "x" * 5000
        self.page(self.plan(GOOD.replace("y = 1", f"y = {long} + 1")), code=2)
        self.assertLess(len(self.written), 900000)

    def test_the_line_shown_is_the_line_named(self):
        found = 0
        for path in sorted((PROJECT / "plans" / "broken").glob("*.yaml")):
            self.run_program("check", str(path), "--no-mends", "--report", "html=" + self.path("p.html"))
            page = pathlib.Path(self.path("p.html")).read_text(encoding="utf-8")
            for named, shown in re.findall(r'<span class="where">[^<]*line (\d+)</span>.*?(?:<pre class="excerpt"><span class="soft"> *(\d+)|</li>)',
                                           page, re.S):
                if shown:
                    self.assertEqual(named, shown, path.name)
                    found += 1
        self.assertGreater(found, 30)

    def test_a_mend_of_another_step_is_told_in_the_head_and_colours_are_named(self):
        plan = """cutproof: 1
start: { bar: { box: { size: [3, 1, 1] } } }
steps:
  - { cut: bar, by: { equation: "x = 1" }, into: [rest, left] }
  - { cut: rest, by: { equation: "x = 2" }, into: [right, middle] }
  - { move: { middle: { translation: [0.1, 5, 0] } } }
  - { move: { right: { translation: [0, 5, 0] } } }
  - { move: { middle: { translation: [0, -5, 0] }, right: { translation: [0, -5, 0] } } }
goal: { box: { size: [3, 1, 1] } }
"""
        page = self.page(self.plan(plan), code=1)
        self.assertIn("Step 4, line 7.", page.text)
        self.assertIn("With a change in step 3, line 6, the plan verifies (tried)", words(page.text))
        self.assertIn("With this in step 3 the plan verifies (tried)", words(page.text))
        self.assertIn("overlap at step 4: middle, right", words(page.text))
        self.assertRegex(self.written, r'overlap at step 4: <span class="swatch c\d h\d"></span>')
        # In the step that is named already nothing more is said.
        page = self.page(self.plan(plan.replace("[0.1, 5, 0]", "[0, 5, 0]").replace("[0, -5, 0] }, right", "[0, -4, 0] }, right")), code=1)
        self.assertIn("With this the plan verifies (tried)", words(page.text))
        self.assertNotIn("With a change", page.text)

    def test_beside_the_view_many_long_names_are_counted(self):
        plan = """cutproof: 1
start: { S: { box: { size: [2, 1, 1] } } }
steps:
  - { cut: S, by: { equation: "x = 1" }, into: [east, west] }
goal: { box: { size: [2, 1, 1] } }
"""
        self.page(self.plan(plan), code=0)
        self.assertIn('"Cut S into east, west."', self.written)
        self.page(self.plan(plan.replace("east", "east" * 20).replace("west", "west" * 20)), code=0)
        self.assertIn('"Cut S into 2 pieces."', self.written)

    def test_of_long_names_a_step_shows_few(self):
        for length, shown in ((1, 16), (40, 6), (200, 4)):
            stem = "s" * length
            self.page(self.plan(f"""cutproof: 1
start: {{ S: {{ box: {{ size: [16, 1, 1] }} }} }}
steps:
  - {{ cut: S, by: [{", ".join(f'{{ equation: "x = {i}" }}' for i in range(1, 16))}], into: {stem}.* }}
goal: {{ box: {{ size: [16, 1, 1] }} }}
"""), code=0)
            made = re.search(r'<p class="words">.*?-&gt; (.*?)</p>', self.written, re.S).group(1)
            self.assertEqual((made.count("<bdi>"), made.endswith(f"and {16 - shown} more")), (shown, shown < 16))

    def test_many_findings_and_pieces_fold(self):
        many = "\n".join("  - expect: { pieces: 7 }" for _ in range(123))
        page = self.page(self.plan(GOOD.replace("steps:\n", "steps:\n" + many + "\n")), code=1)
        self.assertIn("23 more of the kind expectation-failed, 123 in all", words(page.text))
        self.assertIn("90 more", page.text)

    def test_strangers_text_is_text(self):
        plain = len(self.page(self.plan(REFUTED), code=1).elements)
        for text in HOSTILE:
            with self.subTest(text[:40]):
                quoted = '"' + (text if "\\\"" in text else text.replace('"', '\\"')) + '"'
                plan = self.plan(f"cutproof: 1\ntitle: {quoted}\nsource: {quoted}\n" + REFUTED.split("\n", 2)[2]
                                 .replace("- move:", f"- title: {quoted}\n    note: {quoted}\n    move:")
                                 .replace("cut: T", f"title: {quoted}, cut: T"))
                page = self.page(plan, code=1)
                self.assert_tells(page)
                # (The view's script is the program's own.)
                told = re.sub(r"<script>.*?</script>", "", self.written, flags=re.S)
                self.assertEqual([c for c in told if c != "\n" and (ord(c) < 32 or 127 <= ord(c) < 160 or c in "\u202e\u2028\ufffe")], [])
                # A source, two titles and a note; no element more.
                self.assertEqual(len(page.elements) - plain, 5)
                self.page(self.plan(REFUTED.replace("cut: T", f"cut: {quoted}")), code=2)

    def test_strangers_paths_are_text(self):
        for name in ("<img src=x>.yaml", "a\"b.yaml", "a'b.yaml", "\u202eb.yaml", "a\nb.yaml"):
            page = self.page(self.plan(REFUTED, name), code=1)
            self.assert_tells(page)
            self.assertIn("Refuted", page.text)


if __name__ == "__main__":
    support.main()
