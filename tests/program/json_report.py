#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The JSON report of `check`, as scripts read it: every key with its value, long lists, and exact numbers that are expressions of the
plan language. Stale reports, streams and devices are in reports.py, wrong usage and several plans in usage.py, limits in limits.py."""
import decimal
import pathlib
import re
import sys

import support
from support import GOOD, INVALID, TOO_HARD

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent / "certificates"))
from expressions import evaluate  # noqa: E402  (a second reader of exact numbers, which shares no code with the program)

PLANS = pathlib.Path(__file__).resolve().parents[2] / "plans"
LISTED = 100  # of one code

decimal.getcontext().prec = 70


def boxes(number, size="[1, 1, 1]", at="[2*{i}, 0, 0]"):
    """Entries of `start` (P0, P1, ...): equal boxes, each in a place of its own."""
    return "\n".join("  P{i}: {{ box: {{ size: {size}, at: {at} }} }}".format(i=i, size=size, at=at.format(i=i)) for i in range(number))


def a_plan(start, steps, goal):
    return "cutproof: 1\nstart:\n" + start + "\nsteps:" + ("\n" + "\n".join(steps) if steps else " []") + "\ngoal:\n" + goal + "\n"


class LongLists(support.ProgramTest):
    """A list of more than 100 findings of one code is cut; `counts` has the true numbers."""

    def assert_cut(self, text, *counts, code=1):
        report = self.check(self.plan(text), code=code)
        self.assertEqual(report["counts"], dict(counts))
        for name, number in counts:
            listed = [finding for finding in report["findings"] if finding["code"] == name]
            self.assertEqual(len(listed), min(number, LISTED), name)
        return report

    def test_exactly_a_hundred_are_all_listed(self):
        steps = ["  - expect: { pieces: 7 }"] * LISTED
        self.assert_cut(a_plan(boxes(1), steps, "  one: { box: { size: [1, 1, 1] } }"), ("expectation-failed", LISTED))

    def test_expectations(self):
        steps = ["  - expect: { pieces: 7 }"] * 103
        report = self.assert_cut(a_plan(boxes(1), steps, "  one: { box: { size: [1, 1, 1] } }"), ("expectation-failed", 103))
        self.assertEqual([finding["step"] for finding in report["findings"]], list(range(1, LISTED + 1)))

    def test_planes_that_miss(self):
        names = ", ".join(f"P{i}" for i in range(102))
        self.assert_cut(a_plan(boxes(102), [f'  - {{ cut: [{names}], by: {{ equation: "z = 5" }} }}'], boxes(102)), ("plane-misses", 102))

    def test_mirror_images(self):
        steps = ['  - move: { P0: { reflection: { equation: "x = 1/2" } } }'] * 104
        self.assert_cut(a_plan(boxes(1), steps, boxes(1)), ("mirrored", 104))

    def test_overlaps(self):
        goal = "  wide: { box: { size: [1 + 14/100, 1, 1] } }\n  rest: { box: { size: [15 - 114/100, 1, 1], at: [9, 9, 9] } }"
        self.assert_cut(a_plan(boxes(15, at="[{i}/100, 0, 0]"), [], goal), ("missing", 1), ("overlap", 15 * 14 // 2))

    def test_joins_of_what_is_apart(self):
        steps = ["  - { join: [P0, P1], as: C }", '  - { cut: C, by: { equation: "x = 3/2" }, into: [P1, P0] }'] * 101
        self.assert_cut(a_plan(boxes(2), steps, boxes(2)), ("join-apart", 101))

    def test_pieces_in_two_goals(self):
        goal = "  low: { box: { size: [105, 1, 1] } }\n  high: { box: { size: [105, 1, 1], at: [0, 1, 0] } }"
        self.assert_cut(a_plan(boxes(105, "[1, 2, 1]", "[{i}, 0, 0]"), [], goal), ("straddles", 105))

    def test_what_is_missing_and_too_much(self):
        report = self.assert_cut(a_plan(boxes(101), [], boxes(101, at="[2*{i}, 5, 0]")), ("excess", 101), ("missing", 101))
        self.assertEqual(report["outcome"], "refuted")

    def test_errors_of_names_and_of_the_text(self):
        steps = [f"  - move: {{ Q{i}: {{ translation: [1, 0, 0] }} }}" for i in range(150)]
        self.assert_cut(a_plan(boxes(1), steps, boxes(1)), ("invalid-input", 150), code=2)
        steps = [f"  - move: {{ P0: {{ translation: [x{i}, 0, 0] }} }}" for i in range(150)]
        self.assert_cut(a_plan(boxes(1), steps, boxes(1)), ("invalid-input", 150), code=2)


WRONG = """cutproof: 1
title: A bar of length sqrt(2), set down wrong
let: { a: sqrt(2) }
start: { T: { box: { size: [a, 1, 1] } } }
steps:
  - title: halves
    note: seen from the left
    cut: T
    by: { equation: "x = a/2" }
    into: [right, left]
  - move:
      right: { translation: [-1/4, 0, 0] }
  - { cut: left, by: { equation: "x = 5" } }
  - move: { left.1: { translation: [1, 0, 0] } }
  - expect: { pieces: 9 }
goal: { box: { size: [a, 1, 1] } }
"""
ANY = object()  # a key that must be there with whatever value


def number(exact, text):
    return {"exact": exact, "decimal": text}


def box(low, high):
    """Box and corners of an axis-parallel region of width and height 1, from its lowest and highest x."""
    corners = [[x, y, z] for x in (low, high) for y in "01" for z in "01"]
    return {"box": {"min": corners[0], "max": corners[-1]}, "corners": corners}


class TheObject(support.ProgramTest):
    def assert_holds(self, whole, part, path="report"):
        """Every key of the part is in the whole, with the same value; lists have the same length."""
        if isinstance(part, dict):
            for key, value in part.items():
                self.assertIn(key, whole, path)
                self.assert_holds(whole[key], value, f"{path}.{key}")
        elif isinstance(part, list):
            self.assertEqual(len(whole), len(part), path)
            for i, value in enumerate(part):
                self.assert_holds(whole[i], value, f"{path}[{i}]")
        elif part is not ANY:
            self.assertEqual(whole, part, path)
            self.assertEqual(type(whole), type(part), path)

    def test_every_key_of_a_refuted_plan(self):
        path = self.plan(WRONG)
        report = self.check(path, code=1)
        whole = number("sqrt(2)", "1.4142135623730950488")
        side = {"volume": whole, "dehn": {"zero": True, "terms": []}}
        quarter = number("1/4", "0.25000000000000000000")
        self.assert_holds(report, {
            "format": "cutproof-report", "version": 1, "plan": path, "title": "A bar of length sqrt(2), set down wrong",
            "outcome": "refuted", "exit_code": 1, "field": {"degree": 2, "generators": ["sqrt(2)"]},
            "start": side, "goal": side, "dissection": "exists",
            "steps": [
                {"index": 1, "kind": "cut", "title": "halves", "line": 8, "pieces_before": 1, "pieces_after": 2, "removed": ["T"],
                 "added": ["right", "left"], "moved": [], "volume": whole},
                {"index": 2, "kind": "move", "title": "", "line": 11, "pieces_before": 2, "pieces_after": 2, "removed": [], "added": [],
                 "moved": ["right"], "volume": whole,
                 "motions": [{"pieces": ["right"], "line": 12, "column": 14, "words": "shifted by (-1/4, 0, 0)", "proper": True,
                              "rows": [["1", "0", "0"], ["0", "1", "0"], ["0", "0", "1"]], "shift": ["-1/4", "0", "0"],
                              "screw": {"point": ["0", "0", "0"], "direction": ["-1", "0", "0"], "degrees": "0", "of_pi": "0",
                                        "along": "0.25000000000000000000"}}]},
                {"index": 3, "kind": "cut", "title": "", "line": 13, "pieces_before": 2, "pieces_after": 2, "removed": [],
                 "added": [], "moved": [], "volume": whole},
                {"index": 4, "kind": "move", "title": "", "line": 14, "skipped": True, "pieces_before": 2, "pieces_after": 2, "removed": [],
                 "added": [], "moved": [], "volume": whole},
                {"index": 5, "kind": "expect", "title": "", "line": 15, "pieces_before": 2, "pieces_after": 2, "removed": [], "added": [],
                 "moved": [], "volume": whole}],
            "pieces": [{"name": name, "parts": 1, "shape": 0,
                        "volume": number("sqrt(2)/2", "0.70710678118654752440")} for name in ("right", "left")],
            "shapes": [{"volume": number("sqrt(2)/2", "0.70710678118654752440"), "pieces": ["right", "left"], "mirror_of": None,
                        "chiral": False}],
            "smallest": {"edge": number("sqrt(2)/2", "0.70710678118654752440"), "edge_of": "right",
                         "volume": number("sqrt(2)/2", "0.70710678118654752440"), "volume_of": "right"},
            "findings": [
                {"code": "overlap", "step": 2, "line": 11, "column": 5, "pieces": ["right", "left"], "message": ANY, "volume": quarter,
                 "suspects": [{"piece": "right", "step": 2, "line": 12, "column": 14}, {"piece": "left", "step": 1, "line": 9, "column": 9}],
                 **box("sqrt(2)/2 - 1/4", "sqrt(2)/2")},
                {"code": "plane-misses", "step": 3, "line": 13, "column": 22, "pieces": ["left"], "message": ANY},
                {"code": "missing", "step": 5, "line": 16, "column": 1, "pieces": ["right"], "message": ANY, "volume": quarter,
                 **box("sqrt(2) - 1/4", "sqrt(2)")}],
            "consequences": [{"code": "expectation-failed", "step": 5, "line": 15, "column": ANY, "pieces": [], "message": ANY}],
            "counts": {"missing": 1, "overlap": 1, "plane-misses": 1}})
        self.assertEqual([step for step in report["steps"] if "skipped" in step], [report["steps"][3]])
        self.assertEqual(set(report["counts"]), {"missing", "overlap", "plane-misses"})

    def test_parts_are_counted_as_by_split(self):
        """Two cubes that touch along an edge are two parts, and at one face one part."""
        cubes = "{{ union: [ {{ box: {{ size: [1, 1, 1] }} }}, {{ box: {{ size: [1, 1, 1], at: {at} }} }} ] }}"
        for at, parts in (("[1, 1, 0]", 2), ("[1, 1, 1]", 2), ("[1, 1/2, 0]", 1), ("[5, 0, 0]", 2)):
            solid = cubes.format(at=at)
            text = f"cutproof: 1\nstart: {{ A: {solid} }}\nsteps: []\ngoal: {solid}\n"
            self.assertEqual([piece["parts"] for piece in self.check(self.plan(text), code=0)["pieces"]], [parts], at)

    def test_terms_of_an_invariant(self):
        """An edge of length 2 and the angle arccos(1/3), six times (M. Dehn, Math. Ann. 55 (1901))."""
        text = ("cutproof: 1\nstart: { T: { regular: { name: tetrahedron, edge: 2 } } }\nsteps: []\n"
                "goal: { regular: { name: tetrahedron, edge: 2 } }\n")
        report = self.check(self.plan(text), code=0)
        for side in ("start", "goal"):
            dehn = report[side]["dehn"]
            self.assertIs(dehn["zero"], False)
            [term] = dehn["terms"]
            self.assertEqual(evaluate(term["angle"]["cosine"]), decimal.Decimal(1) / 3)
            self.assertLess(abs(decimal.Decimal(term["angle"]["degrees"]) - decimal.Decimal("70.52877936550930863075400066")),
                            decimal.Decimal("1e-18"))
            self.assertEqual(evaluate(term["coefficient"]["exact"]), 12)

    def test_invalid_input(self):
        """Judged by the text, and by names."""
        for text, line, column in ((GOOD.replace("half-turn", "half-trun"), 6, ANY), (INVALID, 5, 12), (GOOD.replace("goal", "gaol"), 7, 1)):
            report = self.check(self.plan(text), code=2)
            self.assert_holds(report, {"format": "cutproof-report", "version": 1, "outcome": "invalid", "exit_code": 2, "steps": []})
            self.assert_holds(report["findings"][0], {"code": "invalid-input", "line": line, "column": column, "message": ANY})
            self.assertTrue(report["findings"][0]["message"])

    def test_stopped(self):
        report = self.check(self.plan(TOO_HARD), "--max-degree", "4", code=3)
        self.assert_holds(report, {"format": "cutproof-report", "version": 1, "outcome": "stopped", "exit_code": 3,
                                   "findings": [{"code": "limit-reached", "line": 7, "column": ANY, "message": ANY}]})

    def test_several_plans(self):
        """Each object is that of its plan alone, and the field is chosen for each plan: together these would need degree 8."""
        texts = [GOOD.replace("height: 1", f"height: sqrt({root})").replace("[2, 1, 1]", f"[2, 1, sqrt({root})]") for root in (2, 3, 5)]
        plans = [self.plan(text, f"{i}.yaml") for i, text in enumerate(texts)]
        options = ("--max-degree", "2")
        together = self.check(*plans, *options, code=0)
        self.assertEqual([together["format"], together["version"], together["exit_code"]], ["cutproof-report", 1, 0])
        for plan, part in zip(plans, together["plans"]):
            alone = self.check(plan, *options, code=0)
            self.assertEqual(part, {key: value for key, value in alone.items() if key not in ("format", "version", "cutproof")})
        self.assertEqual([part["field"] for part in together["plans"]], [
            {**part["field"], "degree": 2, "generators": [f"sqrt({root})"]} for part, root in zip(together["plans"], (2, 3, 5))])

    def test_degree_is_that_of_all_values_together(self):
        lengths = "[sqrt(2), sqrt(3), sqrt(6)]"
        text = f"cutproof: 1\nlet: {{ unused: sqrt(5) }}\nstart: {{ A: {{ box: {{ size: {lengths} }} }} }}\ngoal: {{ box: {{ size: {lengths} }} }}\n"
        self.assertEqual(self.check(self.plan(text), code=0)["field"]["degree"], 4)
        self.assertEqual(self.check(self.plan(text.replace("sqrt(2)", "3^(1/4)").replace("sqrt(6)", "1")), code=0)["field"]["degree"], 4)
        self.assertEqual(self.check(self.plan(GOOD), code=0)["field"]["degree"], 1)


def flat(node):
    """The texts in a point, a list of points or a box, in their order."""
    if isinstance(node, str):
        return [node]
    return [text for part in (node.values() if isinstance(node, dict) else node) for text in flat(part)]


class Exact(support.ProgramTest):
    """Exact numbers can be pasted back into a plan; decimals carry at least 20 significant digits. Over every plan in plans/."""

    def numbers_in(self, report):
        """Every {exact, decimal}; of these the texts whose values lie in the plan's field, coordinates too; and the others."""
        values, inside, outside = [], set(), set()

        def visit(node, key, texts):
            if isinstance(node, dict):
                if "exact" in node:
                    self.assertEqual(set(node), {"exact", "decimal"})
                    values.append((node["exact"], node["decimal"]))
                    texts.add(node["exact"])
                for name, value in node.items():
                    if name.endswith("_decimal"):
                        values.extend(zip(flat(node[name.removesuffix("_decimal")]), flat(value)))
                    elif name != "certificate":
                        visit(value, name, outside if name.startswith("dehn") or name == "smallest" else texts)
            elif isinstance(node, list):
                for value in node:
                    visit(value, key, texts)
            elif key in ("min", "max", "corners", "cosine", "rows", "shift", "point", "direction"):
                texts.add(node)
        visit(report, "", inside)
        return values, inside | set(report["field"]["generators"]), outside

    def assert_decimal(self, exact, text):
        value, shown = evaluate(exact), decimal.Decimal(text)
        digits = re.sub(r"[eE].*|[-.]", "", text).lstrip("0")
        if value == 0:
            self.assertEqual(shown, 0)
        else:
            self.assertGreaterEqual(len(digits), 20, text)
            self.assertLess(abs(shown / value - 1), decimal.Decimal("1e-19"), (exact, text))

    def assert_pasted_back(self, texts, degree, name):
        """Each text is a length in a plan of its own, and all together need no larger field than the plan that they come from."""
        texts = sorted(texts)
        lines = "\n".join(f'  v{i}: "{text}"' for i, text in enumerate(texts))
        solids = "\n".join(f"  P{i}: {{ box: {{ size: [abs(v{i}) + 1, 1, 1], at: [0, 2*{i}, 0] }} }}" for i in range(len(texts)))
        report = self.check(self.plan("cutproof: 1\nlet:\n" + lines + "\n" + a_plan(solids, [], solids).split("\n", 1)[1]), code=0)
        self.assertEqual(degree % report["field"]["degree"], 0, (name, "a subfield of the plan's"))
        for text, piece in zip(texts, report["pieces"]):
            volume = piece["volume"]
            length = abs(evaluate(text)) + 1
            for got in (evaluate(volume["exact"]), decimal.Decimal(volume["decimal"])):
                self.assertLess(abs(got / length - 1), decimal.Decimal("1e-19"), (name, text))

    def test_every_number_of_every_plan(self):
        seen = irrational = 0
        for path in [*sorted(PLANS.glob("*.yaml")), *sorted(PLANS.glob("broken/*.yaml"))]:
            self.run_program("check", str(path), "--report", "json=" + self.path("of-plan.json"))
            report = self.read(self.path("of-plan.json"))
            if "start" not in report:
                continue
            values, inside, outside = self.numbers_in(report)
            for exact, text in values:
                self.assert_decimal(exact, text)
            self.assert_pasted_back(inside, report["field"]["degree"], path.name)
            for text in outside - inside:  # lengths and cosines
                self.assert_pasted_back([text], 0, path.name)
            seen += len(inside | outside)
            irrational += sum("sqrt" in text or "^" in text for text in inside | outside)
        self.assertGreater(seen, 200)
        self.assertGreater(irrational, 50)

    def test_the_tool_itself_finds_them_equal(self):
        """A finding's volume stands in an `expect` about a solid whose volume was written down by hand."""
        report = self.check(self.plan(WRONG.replace("-1/4", "-1e-30*a/7")), code=1)
        volume = report["findings"][0]["volume"]["exact"]
        corner = report["findings"][0]["box"]["min"][0]
        text = ("cutproof: 1\nstart: { A: { box: { size: [sqrt(2)*10^-30/7, 1, 1] } }, B: { box: { size: [1/sqrt(2) - 2^0.5/7e30, 1, 1], "
                "at: [5, 0, 0] } } }\nsteps:\n  - expect:\n      volume: { A: \"%s\", B: \"%s\" }\n"
                "goal: [ { box: { size: [sqrt(2)*10^-30/7, 1, 1] } }, { box: { size: [\"%s\", 1, 1], at: [5, 0, 0] } } ]\n")
        self.check(self.plan(text % (volume, corner, corner)), code=0)
        self.check(self.plan(text % (volume, corner + " + 1e-60", corner)), code=1)


class Notes(support.ProgramTest):
    """Decimals that look like rounded roots are remarked on, and that changes nothing."""
    PLAN = """cutproof: 1
title: the square root of 2 is not 1.414
let: { r: sqrt(2)/3, a: %s }
start: { T: { box: { size: [r, a, 1] } } }
steps:
  - { cut: T, by: { equation: "z = 1/2" }, into: slab.*, note: "0.866" }
goal: { box: { size: [r, a, 1] } }
"""

    def notes(self, number):
        return self.check(self.plan(self.PLAN % number), code=0).get("notes", [])

    def test_what_is_near(self):
        for number, near in (("0.866", "sqrt(3)/2"), ("1.732", "sqrt(3)"), ("1.4142", "sqrt(2)"), ("0.333", "1/3"), ("0.667", "2/3"),
                             ("1.618", "(1 + sqrt(5))/2"), ("0.4714", "r"), ("2 + 0.471*2", "r"), ("0.8660254", "sqrt(3)/2"),
                             ("3*0.866 - 1", "sqrt(3)/2"), ("1.2599", "cbrt(2)")):
            notes = self.notes(number)
            self.assertEqual(len(notes), 1, number)
            self.assertEqual(notes[0]["line"], 3)
            self.assertIn(f"is near `{near}` = ", notes[0]["message"])
            self.assertIn("is not equal to it", notes[0]["message"])
            decimal = [word for word in number.replace("*", " ").split() if "." in word][0]
            self.assertEqual(notes[0]["column"], self.PLAN.splitlines()[2].index("%s") + number.index(decimal) + 1)

    def test_what_is_not(self):
        for number in ("0.5", "0.125", "1.25", "0.87", "0.8661", "1.4143", "866/1000", "0.3", "0.3334", "1.75", "2.718", "0.1", "2", "sqrt(3)/2"):
            self.assertEqual(self.notes(number), [], number)
        self.assertNotIn("note", self.text)

    def test_on_the_terminal(self):
        self.assertEqual(len(self.notes("0.866 + 0.577")), 2)
        self.assertRegex(" ".join(self.text.split()), r"note: `0\.866` is near `sqrt\(3\)/2` = 0\.86602\d\.\.\., and is not equal to it \(line 3\) note: `0\.577` is near ")
        # Only what is the same number is said once.
        self.assertEqual(len(self.notes("0.866 + 0.577 - 0.866*0 + 1.414*0 + 0.707*0 + 1.732*0 - 0.866*0")), 7)
        text = " ".join(self.text.split())
        self.assertIn("not equal to it (line 3, and 2 times more) note: `0.577` is near", text)
        self.assertRegex(text, r"note: `1\.414` is near .*?\(line 3\), and 2 numbers more such")
        done = self.run_program("check", "--full", self.plan(self.PLAN % "0.866"))
        self.assertIn(b"Notes, which have no part in the verdict", done.stdout)
        report = self.check(self.plan((self.PLAN % "0.866").replace("size: [r, a, 1] } }\n", "size: [r, a, 2] } }\n", 1)), code=1)
        self.assertEqual(len(report["notes"]), 1)
        self.assertIn("note: `0.866`", self.text)


if __name__ == "__main__":
    support.main()
