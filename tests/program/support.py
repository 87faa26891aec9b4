# SPDX-License-Identifier: GPL-3.0-or-later
"""What the tests of the whole program share: running it, plans made for a purpose, and a folder for each test.

Each test file is run as `FILE.py PROGRAM [--sanitized]`. With sanitizers memory limits cannot be tested: these need the address space.
"""
import json
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile
import unittest

PROGRAM = os.path.abspath(sys.argv[1]) if len(sys.argv) > 1 else "cutproof"
SANITIZED = "--sanitized" in sys.argv
# Root may do anything: what permissions forbid is tested as somebody else.
AS_NOBODY = {"user": 65534, "group": 65534} if os.geteuid() == 0 else {}

GOOD = """cutproof: 1
title: A prism becomes a box
start: { T: { prism: { base: [[0, 0], [2, 0], [0, 2]], height: 1 } } }
steps:
  - { cut: T, by: { equation: "y = 1" }, into: [tip, stump] }
  - move: { tip: { half-turn: [[1, 1, 0], [1, 1, 1]] } }
goal: { box: { size: [2, 1, 1] } }
"""
REFUTED = GOOD.replace("half-turn: [[1, 1, 0], [1, 1, 1]]", "translation: [1, 0, 0]")
INVALID = GOOD.replace("cut: T", "cut: S")
TOO_HARD = GOOD.replace("size: [2, 1, 1]", "size: [sqrt(2), sqrt(3), sqrt(5)]")  # stopped under --max-degree 4
# One case of each outcome but `failed`: the last one is stopped under --max-degree 2.
FAMILY = """cutproof: 2
title: A bar becomes two cubes
parameters: { n: 2, e: 1 }
cases: [{ n: 2 }, { n: 3 }, { n: 1 }, { n: 0 }, { e: 2^(1/3) }]
start: { T: { box: { size: [n, 1, e] } } }
steps:
  - { cut: T, by: { equation: x = 1 }, into: [a, b] }
  - { title: it comes back, move: { b: { translation: [2 - n, 0, 0] } } }
goal: { box: { size: [2, 1, e] } }
"""
FAMILY_OUTCOMES = ["verified", "refuted", "refuted", "invalid", "stopped"]
FAMILY_OPTIONS = ("--max-degree", "2")

PLANS = pathlib.Path(__file__).resolve().parents[2] / "plans"


def has_cases(path):
    return b"\ncases:" in pathlib.Path(path).read_bytes()


def plans_with_cases(folder):
    """Paths of all plans with `cases`. Of one a case has thirty thousand steps, which tests/plans/check_families.py looks at;
    a copy without it stands in the folder."""
    paths = []
    for path in sorted(PLANS.glob("*.yaml")):
        if not has_cases(path):
            continue
        if path.name == "cube-to-board.yaml":
            text = path.read_text()
            assert text.count(", { n: 22 }]") == 1
            path = pathlib.Path(folder) / path.name
            path.write_text(text.replace(", { n: 22 }]", "]"))
        paths.append(str(path))
    assert len(paths) >= 8
    return paths


def long_plan(planes=60):
    """Cuts a cube by planes in general position: thousands of pieces, and steps that take longer and longer."""
    steps = [f'  - {{ cut: all, by: {{ equation: "{3 + i * i % 17}*x + {5 + i * 7 % 23}*y - {1 + i * 11 % 29}*z = {i % 13 + 1}/7" }} }}'
             for i in range(planes)]
    return "cutproof: 1\nstart: { C: { box: { size: [2, 2, 2], at: [-1, -1, -1] } } }\nsteps:\n" + "\n".join(steps) + \
        "\ngoal: { box: { size: [2, 2, 2], at: [-1, -1, -1] } }\n"


class ProgramTest(unittest.TestCase):
    def setUp(self):
        self.folder = pathlib.Path(tempfile.mkdtemp(prefix="cutproof-"))
        self.addCleanup(shutil.rmtree, self.folder, ignore_errors=True)

    def plan(self, text, name="plan.yaml"):
        path = self.folder / name
        path.write_text(text)
        return str(path)

    def path(self, name):
        return str(self.folder / name)

    def run_program(self, *words, **options):
        options.setdefault("stdout", subprocess.PIPE)
        options.setdefault("stderr", subprocess.PIPE)
        options.setdefault("timeout", 300)
        program = self.copied_program() if "user" in options else PROGRAM
        return subprocess.run([program, *words], **options)

    def copied_program(self):
        """A copy for another user, to whom the folders above the program (root's home, say) may be closed."""
        folder = tempfile.mkdtemp(prefix="cutproof-program-")
        self.addCleanup(shutil.rmtree, folder, ignore_errors=True)
        os.chmod(folder, 0o755)
        return shutil.copy(PROGRAM, folder)

    def start_program(self, *words, **options):
        return subprocess.Popen([PROGRAM, *words], stdout=subprocess.PIPE, stderr=subprocess.PIPE, **options)

    def check(self, *words, code, **options):
        """Runs `check` with a JSON report and compares the exit code everywhere it stands; returns the report."""
        report = self.path("report.json")
        done = self.run_program("check", *words, "--report", f"json={report}", **options)
        self.assertEqual(done.returncode, code, (done.stdout, done.stderr))
        result = self.read(report)
        self.assertEqual(result["exit_code"], code)
        self.text = done.stdout.decode()
        return result

    def peak_of(self, *words):
        """The largest resident set of the program and its children, in bytes, and the program's exit code. Measured from a small
        process, because a new program's record begins with the size of the one that started it."""
        script = ("import resource, subprocess, sys; code = subprocess.run(sys.argv[1:], stdout=subprocess.DEVNULL).returncode; "
                  "print(code, resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss * 1024)")
        done = subprocess.run([sys.executable, "-S", "-c", script, PROGRAM, *words], stdout=subprocess.PIPE, timeout=300, check=True)
        code, peak = done.stdout.split()
        return int(peak), int(code)

    def read(self, path):
        with open(path, encoding="utf-8") as file:
            return json.load(file)

    def assert_nothing_but(self, *names):
        """No temporary file, no half-written report: only these are in the folder."""
        self.assertEqual(sorted(os.listdir(self.folder)), sorted(names))


def main():
    unittest.main(argv=[sys.argv[0], *[word for word in sys.argv[2:] if word != "--sanitized"]])
