# SPDX-License-Identifier: GPL-3.0-or-later
"""The published tetrahedra of rational-tetrahedra.txt as solids of the plan language."""
import pathlib

# Unit normals with the given products, the first along x and the second in the plane of x and y; the corner of the first three faces
# is the origin.
LET = """cutproof: 1
let:
  c12: cos({e12}*pi/{n})
  c34: cos({e34}*pi/{n})
  c13: cos({e13}*pi/{n})
  c24: cos({e24}*pi/{n})
  c14: cos({e14}*pi/{n})
  c23: cos({e23}*pi/{n})
  s: sin({e12}*pi/{n})
  p: -(c23 + c12*c13)/s
  q: sqrt(1 - c13^2 - p^2)
  r: -(c24 + c12*c14)/s
  t: -(c34 + c13*c14 + p*r)/q
"""
SOLID = LET + """  n1: [1, 0, 0]
  n2: [-c12, s, 0]
  n3: [-c13, p, q]
  n4: [-c14, r, t]
  v1: cross(n2, n3)
  v2: cross(n1, n3)
  v3: cross(n1, n2)
solids:
  tetrahedron: {{ convex-hull: [[0, 0, 0], "v1/dot(n4, v1)", "v2/dot(n4, v2)", "v3/dot(n4, v3)"] }}
"""
# A plan in the same field that only compares a box with itself.
BOX = LET + """start: {{ T: {{ box: {{ size: [1 + q, s, 1] }} }} }}
steps: []
goal: {{ box: {{ size: [1 + q, s, 1] }} }}
"""
EDGES = ("12", "34", "13", "24", "14", "23")  # the order of a row


def read_rows():
    """N, and the numerators of the angles by edge."""
    rows = []
    for line in pathlib.Path(__file__).with_name("rational-tetrahedra.txt").read_text(encoding="utf-8").splitlines():
        if line and not line.startswith("#"):
            n, *numerators = map(int, line.split())
            rows.append((n, dict(zip(EDGES, numerators))))
    return rows


def renumbered(angles, order):
    """The same tetrahedron with its faces in another order."""
    return {edge: angles["".join(sorted(str(order[int(face) - 1]) for face in edge))] for edge in EDGES}


def text_of(form, n, angles):
    return form.format(n=n, **{"e" + edge: angles[edge] for edge in EDGES})
