#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Solids from mesh files: the same solid in every format, what `snap` changes, which files may be read, and files that are wrong."""
import hashlib
import json
import os
import struct
import unittest

import support

POINTS = [(0, 0, 0), (1, 0, 0), (0, 2, 0), (0, 0, 3)]
FACES = [(0, 2, 1), (0, 1, 3), (0, 3, 2), (1, 2, 3)]


def off(points=POINTS, faces=FACES):
    return (f"OFF\n{len(points)} {len(faces)} 0\n" + "".join("{} {} {}\n".format(*p) for p in points)
            + "".join(f"{len(f)} {' '.join(map(str, f))}\n" for f in faces))


def obj():
    return "".join("v {} {} {}\n".format(*p) for p in POINTS) + "".join("f {} {} {}\n".format(*(i + 1 for i in f)) for f in FACES)


def ply(form="ascii"):
    header = (f"ply\nformat {form} 1.0\nelement vertex 4\nproperty float x\nproperty double y\nproperty float z\n"
              "element face 4\nproperty list uchar int vertex_indices\nend_header\n").encode()
    if form == "ascii":
        return header + "".join(off().splitlines(keepends=True)[2:]).encode()
    end = "<" if "little" in form else ">"
    return (header + b"".join(struct.pack(end + "fdf", *p) for p in POINTS)
            + b"".join(struct.pack(end + "Biii", 3, *f) for f in FACES))


def stl():
    triangles = "".join("facet normal 0 0 0\nouter loop\n" + "".join("vertex {:e} {:e} {:e}\n".format(*POINTS[i]) for i in f)
                        + "endloop\nendfacet\n" for f in FACES)
    return f"solid tetrahedron\n{triangles}endsolid tetrahedron\n"


def binary_stl(points=POINTS, count=None):
    return (b"solid, as many write".ljust(80) + struct.pack("<I", len(FACES) if count is None else count)
            + b"".join(bytes(12) + b"".join(struct.pack("<3f", *points[i]) for i in f) + bytes(2) for f in FACES))


FORMATS = {"t.off": off(), "t.obj": obj(), "t.ply": ply(), "little.ply": ply("binary_little_endian"),
           "big.ply": ply("binary_big_endian"), "t.stl": stl(), "binary.stl": binary_stl()}
SOLIDS = {
    "hull": "{ convex-hull: [[0, 0, 0], [1, 0, 0], [0, 2, 0], [0, 0, 3]] }",
    "surface": "{ faces: { points: [[0, 0, 0], [1, 0, 0], [0, 2, 0], [0, 0, 3]], faces: [[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]] } }",
    "spaces": '{ half-spaces: [{ equation: "-x = 0" }, { equation: "-y = 0" }, { equation: "-z = 0" }, { equation: "x + y/2 + z/3 = 1" }] }',
    **{name.replace(".", "-"): f"{{ mesh: {{ file: {name} }} }}" for name in FORMATS}}
ATTITUDES = ["{ translation: [5*i, 0, 0] }", "{ rotation: { about: [[1, 2, 30*i], [2, 4, 30*i + 5]], angle: 90 deg } }",
             "[{ rotation: { about: z, angle: 45 deg } }, { translation: [0, 0, 10*i] }]"]


def plan_of(solid, goal=None):
    return f"cutproof: 2\nsolids:\n  S: {solid}\nstart: {{ T: S }}\nsteps: []\ngoal: {goal or 'S'}\n"


class Meshes(support.ProgramTest):
    def file(self, name, content):
        path = self.folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content if isinstance(content, bytes) else content.encode())
        return path

    def refused(self, solid, message, code=2, *options):
        """The first finding of a plan with this solid says so, at the mesh's path."""
        report = self.check(self.plan(plan_of(solid)), *options, code=code)
        self.assertEqual(report["outcome"], {2: "invalid", 3: "stopped"}[code])
        self.assertIn(message, report["findings"][0]["message"])
        self.assertEqual(report["findings"][0]["line"], 3)
        return report

    def test_the_same_tetrahedron_however_it_is_described(self):
        for name, content in FORMATS.items():
            self.file(name, content)
        solids = "".join(f"  {name}: {text}\n" for name, text in SOLIDS.items())
        for motion in ATTITUDES:
            start = "".join(f"  P{i}: {{ moved: {{ solid: {name}, by: {motion.replace('i,', f'{i},').replace('*i', f'*{i}')} }} }}\n"
                            for i, name in enumerate(SOLIDS))
            report = self.check(self.plan(f"cutproof: 2\nsolids:\n{solids}start:\n{start}steps:\n"
                                          f"  - expect: {{ shapes: {{ of: all, count: 1 }}, pieces: {len(SOLIDS)} }}\n"
                                          "goal: { box: { size: [1, 1, 1], at: [-99, 0, 0] } }\n"), code=1)
            self.assertNotIn("expectation-fails", [finding["code"] for finding in report["findings"]])
            self.assertEqual(len(report["meshes"]), len(FORMATS))
        plan = self.plan(f"cutproof: 2\nsolids:\n{solids}")
        run = self.run_program("measure", plan, "--report", "json=-")
        self.assertEqual(run.returncode, 0)
        measured = json.loads(run.stdout)["solids"]
        self.assertEqual(len(measured), len(SOLIDS))
        for each in measured:
            meshes, name = each.pop("meshes", []), each.pop("solid")
            self.assertEqual([mesh["file"] for mesh in meshes],
                             [str(self.folder / file) for file in FORMATS if file.replace(".", "-") == name])
            self.assertEqual(each, measured[0])

    def test_meshes_are_named_with_their_digests(self):
        self.file("below/t.off", off())
        plan = self.plan(plan_of("{ union: [{ mesh: { file: below/t.off } }, { mesh: { file: below/../below/t.off } }] }"))
        report = self.check(plan, code=0)
        digest = hashlib.sha256(off().encode()).hexdigest()
        self.assertEqual(report["meshes"], [{"file": self.path("below/t.off"), "sha256": digest}])
        self.assertIn("meshes: ", self.text)
        run = self.run_program("compare", plan, "--report", "json=-")
        self.assertEqual(json.loads(run.stdout)["meshes"], report["meshes"])
        self.file("below/t.off", off() + "x")  # also of a plan that is wrong
        report = self.check(plan, code=2)
        self.assertEqual(report["meshes"][0]["sha256"], hashlib.sha256((off() + "x").encode()).hexdigest())

    def test_decimals_are_exact(self):
        self.file("t.off", off([(0, 0, 0), ("0.1", 0, 0), (0, "0.2", 0), (0, 0, "1e-30")]))
        self.check(self.plan(plan_of("{ mesh: { file: t.off } }", "{ convex-hull: [[0, 0, 0], [1/10, 0, 0], [0, 1/5, 0], [0, 0, 1/10^30]] }")),
                   code=0)

    def test_snap(self):
        tenth = struct.unpack("<f", struct.pack("<f", 0.1))[0]
        self.file("t.stl", binary_stl([(0, 0, 0), (tenth, 0, 0), (0, -tenth, 0), (0, 0, 0.5)][:1] + [(0, tenth, 0), (tenth, 0, 0), (0, 0, 0.5)]))
        goal = "{ convex-hull: [[0, 0, 0], [1/10, 0, 0], [0, 1/10, 0], [0, 0, 1/2]] }"
        reversed_mesh = "{ mirrored: { solid: { mesh: { file: t.stl, SNAP } }, in: { equation: x = y } } }"
        self.file("t.stl", binary_stl([(0, 0, 0), (tenth, 0, 0), (0, tenth, 0), (0, 0, 0.5)]))
        for snap in ("snap: { grid: 1/10 }", "snap: { grid: 1/20, within: 1/10^6 }", "snap: { to: [0, 1/10, 0.5], within: 1e-6 }"):
            report = self.check(self.plan(plan_of(reversed_mesh.replace("SNAP", snap), goal)), code=0)
            [mesh] = report["meshes"]
            self.assertEqual((mesh["changed"], mesh["largest"]["exact"]), (2, "1/671088640"))
            self.assertIn("2 coordinates snapped, by at most 1/671088640", self.text)
        root = struct.unpack("<f", struct.pack("<f", 0.5 ** 0.5))[0]
        self.file("t.stl", binary_stl([(0, 0, 0), (root, 0, 0), (0, -root, 0), (0, 0, -1)]))
        report = self.check(self.plan(plan_of("{ mesh: { file: t.stl, snap: { to: [0, sqrt(2)/2, 1], within: 1e-6 } } }",
                                              "{ convex-hull: [[0, 0, 0], [sqrt(2)/2, 0, 0], [0, -sqrt(2)/2, 0], [0, 0, -1]] }")), code=0)
        self.assertEqual(report["meshes"][0]["changed"], 2)
        self.assertEqual(report["field"]["degree"], 2)

    def test_snaps_that_do_not_say_where_to(self):
        self.file("t.off", off([(0, 0, 0), (1, 0, 0), (0, 2, 0), (0, 0, "2.5")]))
        for snap, message in {
                "{ grid: 1 }": "z = 5/2 of the point number 3 lies midway between the multiples 2 and 3 of the grid",
                "{ grid: 5/3, within: 1/3 }": "y = 2 of the point number 2 lies farther than `within` from 5/3" ,
                "{ to: [0, 1, 2], within: 0.4 }": "z = 5/2 of the point number 3 lies within that distance of none of the values",
                "{ to: [0, 1, 2, 3], within: 0.5 }": "z = 5/2 of the point number 3 lies within that distance of two values, 2 and 3",
        }.items():
            if "5/3" in snap:
                snap = snap.replace("within: 1/3", "within: 1/4")
                message = "x = 1 of the point number 1 lies farther than `within` from 5/3"
            report = self.refused(f"{{ mesh: {{ file: t.off, snap: {snap} }} }}", message)
            self.assertEqual(len(report["findings"]), 1)
        self.check(self.plan(plan_of("{ mesh: { file: t.off, snap: { grid: 2.5, within: 3 } } }")), code=2)  # flat afterwards

    def test_paths(self):
        outer = self.folder
        self.folder = outer / "plans"
        self.folder.mkdir()
        outer.joinpath("t.off").write_text(off())
        self.file("own.off", off())
        os.symlink("../t.off", self.folder / "link.off")
        os.symlink("own.off", self.folder / "good.off")
        os.symlink("..", self.folder / "up")
        os.symlink("link-to-itself", self.folder / "link-to-itself")
        (self.folder / "folder").mkdir()
        os.mkfifo(self.folder / "pipe")
        with open(self.folder / "large.off", "wb") as file:
            file.truncate(100 << 20)
        for path, message in {
                "../t.off": "the path leads out of the plan's folder",
                "own/../../t.off": "the path leads out of the plan's folder",
                "../../../../../../etc/passwd": "the path leads out of the plan's folder",
                str(outer / "t.off"): "the path is absolute",
                "/etc/passwd": "the path is absolute",
                "link.off": "a link leads out of the plan's folder",
                "up/t.off": "a link leads out of the plan's folder",
                "link-to-itself": "the file cannot be found",
                "folder": "this is a folder",
                ".": "this is a folder",
                "pipe": "this is a pipe",
                "absent.off": "there is no such file",
                "own.off/more": "there is no such file",
        }.items():
            self.refused(f"{{ mesh: {{ file: {path} }} }}", f"the mesh `{path}`: {message}")
        self.refused("{ mesh: { file: large.off } }", "the mesh `large.off`: the file is larger than the limit of 16 MB", 3)
        for path in ("own.off", "./own.off", "folder/../own.off", "good.off"):
            self.check(self.plan(plan_of(f"{{ mesh: {{ file: {path} }} }}")), code=0)
        for path in ("../t.off", "link.off", "up/t.off", str(outer / "t.off")):
            self.check(self.plan(plan_of(f"{{ mesh: {{ file: {path} }} }}")), "--outside", code=0)
        self.refused("{ mesh: { file: /dev/zero } }", "this is a device, not a file", 2, "--outside")

    def test_a_plan_from_standard_input_has_the_working_folder(self):
        self.file("t.off", off())
        plan = plan_of("{ mesh: { file: t.off } }").encode()
        run = self.run_program("check", "-", "--report", "json=-", input=plan, cwd=self.folder)
        self.assertEqual(run.returncode, 0)
        self.assertEqual([mesh["file"] for mesh in json.loads(run.stdout)["meshes"]], ["t.off"])
        (self.folder / "elsewhere").mkdir()
        run = self.run_program("check", "-", input=plan, cwd=self.folder / "elsewhere")
        self.assertEqual(run.returncode, 2)

    def test_surfaces_that_bound_no_solid(self):
        box = [(0, 0, 0), (1, 0, 0), (1, 1, "1e-30"), (0, 1, 0), (0, 0, 1), (1, 0, 1), (1, 1, 1), (0, 1, 1)]
        sides = [(3, 2, 1, 0), (4, 5, 6, 7), (0, 1, 5, 4), (1, 2, 6, 5), (2, 3, 7, 6), (3, 0, 4, 7)]
        for content, message in {
                off(box, sides): "face 1 (line 11) is not planar: the corner number 0 [0, 0, 0] does not lie in the plane of the others, but 1e-30 away",
                off(faces=FACES[:3]): "the surface is not closed",
                off(faces=[(0, 2, 1), (0, 3, 1), (0, 3, 2), (1, 2, 3)]): "face 2 (line 8) is inside out",
                off(faces=[f[::-1] for f in FACES]): "the surface is inside out",
                off(faces=FACES + FACES[:1]): "are the same face",
                off(faces=[]): "this surface has no faces",
                off([(0, 0, 0), (1, 0, 0), (0, 0, "0.0"), (0, 0, 3)]): "passes the corner number 0 twice",
        }.items():
            self.file("t.off", content)
            self.refused("{ mesh: { file: t.off } }", "the mesh `t.off`: ")
            self.assertIn(message, self.check(self.plan(plan_of("{ mesh: { file: t.off } }")), code=2)["findings"][0]["message"])

    def test_files_that_are_no_meshes(self):
        for content, message in {
                b"": "the file is empty",
                binary_stl()[:200]: "as a binary STL it is to have 4 triangles, which take 284 bytes, but the file has 200",
                bytes(80) + struct.pack("<I", 4000000000): "to have 4000000000 triangles",
                stl()[:100].encode(): "the file ends where",
                off().replace("3 0 1 3", "3 0 1 -3").encode(): "line 8: a corner of face 2 is `-3`",
                obj().replace("v 1 0 0", "v 1 nan 0").encode(): "line 2: `nan` is no number",
                ply().replace(b"double", b"decimal"): "line 5: `decimal` is no type of numbers",
                b"OFF\n1 0 0\n\x1b[31m\xff\xfe 0 0\n": "line 3: `?[31m??` is no number",
                os.urandom(1000): "",
        }.items():
            self.file("t.mesh", content)
            self.refused("{ mesh: { file: t.mesh } }", message)

    def test_a_refuted_plan_with_a_mesh_is_mended(self):
        self.file("t.off", off())
        text = plan_of("{ mesh: { file: t.off } }").replace("steps: []", "steps:\n  - move: { T: { translation: [1, 0, 0] } }")
        report = self.check(self.plan(text), code=1)
        self.assertTrue(report["mends"])


if __name__ == "__main__":
    support.main()
