# SPDX-License-Identifier: GPL-3.0-or-later
"""Many pieces, whose names are long because each was cut often: lists of names are cut at 100 in every format, the list of pieces at
the end is whole, and all of it fits.

The fast suite takes a cube cut into 12^3 cubes; CUTPROOF_SLOW=1 also one cut into 46^3 = 97,336, with default options.
"""
import itertools
import os
import re
import unittest

import support


def cubes(k):
    planes = ", ".join(f'{{ equation: "{axis} = {i}/{k}" }}' for axis in "xyz" for i in range(1, k))
    return (f"cutproof: 1\nsolids: {{ cube: {{ box: {{ size: [1, 1, 1] }} }} }}\nstart: {{ T: cube }}\nsteps:\n  - cut: all\n    by: [{planes}]\n"
            "  - move: { all: { translation: [3, 1, 2] } }\n"
            "goal: { moved: { solid: cube, by: { translation: [3, 1, 2] } } }\n")


def names(k):
    """Along each axis a cube lies on the positive side of its first planes, and on the negative one of the next, if there is one."""
    axis = [".1" * i + (".2" if i < k - 1 else "") for i in range(k)]
    return {"T" + "".join(parts) for parts in itertools.product(axis, repeat=3)}


class ManyPieces(support.ProgramTest):
    def check_cubes(self, k, *options):
        count = k ** 3
        report = self.check(self.plan(cubes(k)), *options, code=0)
        self.assertEqual({piece["name"] for piece in report["pieces"]}, names(k))
        self.assertEqual({piece["volume"]["exact"] for piece in report["pieces"]}, {f"1/{count}"})
        cut, move = report["steps"]
        self.assertEqual((len(cut["added"]), cut["added_count"], cut["removed"]), (100, count, ["T"]))
        self.assertEqual((len(move["moved"]), move["moved_count"]), (100, count))
        self.assertEqual((len(move["motions"][0]["pieces"]), move["motions"][0]["pieces_count"]), (100, count))
        self.assertTrue(set(cut["added"] + move["moved"]) <= names(k))
        return report

    def test_lists_of_names_are_cut_at_a_hundred(self):
        self.check_cubes(12)
        self.assertIn("and ", self.text)
        self.check_cubes(12, "--full")
        self.assertEqual(self.text.count(" more, 1728 in all"), 3)  # made, moved, and the pieces at the end
        page = self.path("page.html")
        self.assertEqual(self.run_program("check", self.plan(cubes(6)), "--report", f"html={page}").returncode, 0)
        with open(page, encoding="utf-8") as file:
            lists = re.findall(r'<p class="words">(?:cut .*? -&gt;|moved) (.*?) and (\d+) more</p>', file.read())
        self.assertEqual([shown.count("<bdi>") + int(rest) for shown, rest in lists], [6 ** 3, 6 ** 3])
        self.assertTrue(all(shown.count("<bdi>") <= 24 for shown, _ in lists))

    @unittest.skipUnless(os.environ.get("CUTPROOF_SLOW") == "1", "slow")
    @unittest.skipIf(support.SANITIZED, "sanitizers take several times the memory")
    def test_a_hundred_thousand_pieces_with_default_options(self):
        self.check_cubes(46)
        self.assertLess(os.path.getsize(self.path("report.json")), 60 << 20)
        peak, code = self.peak_of("check", self.plan(cubes(46)))
        self.assertEqual(code, 0)
        self.assertLess(peak, 1536 << 20)


if __name__ == "__main__":
    support.main()
