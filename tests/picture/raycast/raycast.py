#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Pictures against rays: an SVG, painted by librsvg with one colour a piece and crisp edges, shows at each point the piece that
a ray meets there first. The rays know nothing of the order in which the picture is painted: each is clipped by the planes of
every convex part, in doubles. Points near an edge, where the two may differ by rounding, are left out.

    raycast.py SAMPLES PLANS        SAMPLES: the program that draws scenes and plans; PLANS: a folder of plans
"""
import glob
import json
import os
import re
import struct
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as ET
import zlib

ZOOM = 0.5
SVG = "{http://www.w3.org/2000/svg}"


def read_png(data):
    """(width, height, rows of (r, g, b, a)) of a PNG with 8 bits a channel, not interlaced."""
    assert data[:8] == b"\x89PNG\r\n\x1a\n"
    at, packed = 8, b""
    while at < len(data):
        length, kind = struct.unpack(">I4s", data[at:at + 8])
        body = data[at + 8:at + 8 + length]
        if kind == b"IHDR":
            width, height, depth, colour, _, _, interlaced = struct.unpack(">IIBBBBB", body)
            assert depth == 8 and colour in (2, 6) and not interlaced
        elif kind == b"IDAT":
            packed += body
        at += 12 + length
    channels = 4 if colour == 6 else 3
    raw, stride, rows, above = zlib.decompress(packed), width * channels, [], bytearray(width * channels)
    for y in range(height):
        filtering, line = raw[y * (stride + 1)], bytearray(raw[y * (stride + 1) + 1:(y + 1) * (stride + 1)])
        for i in range(stride):
            left = line[i - channels] if i >= channels else 0
            corner = above[i - channels] if i >= channels else 0
            if filtering == 1:
                line[i] = (line[i] + left) & 255
            elif filtering == 2:
                line[i] = (line[i] + above[i]) & 255
            elif filtering == 3:
                line[i] = (line[i] + (left + above[i]) // 2) & 255
            elif filtering == 4:
                p = left + above[i] - corner
                a, b, c = abs(p - left), abs(p - above[i]), abs(p - corner)
                line[i] = (line[i] + (left if a <= b and a <= c else above[i] if b <= c else corner)) & 255
        rows.append([tuple(line[i:i + 3]) + ((line[i + 3],) if channels == 4 else (255,)) for i in range(0, stride, channels)])
        above = line
    return width, height, rows


def plain(svg, names):
    """The picture with one colour a piece, areas and lines; that of piece i is a multiple of i + 1."""
    root = ET.fromstring(svg)
    for parent in list(root.iter()):
        for child in list(parent):
            if child.tag in (SVG + "style", SVG + "defs", SVG + "rect") or re.search("names|trace", child.get("class", "")):
                parent.remove(child)
    for group in root.iter(SVG + "g"):
        if group.get("data-piece") is None:
            continue
        colour = "#%06x" % ((names.index(group.get("data-piece")) + 1) * 0x010307)
        for path in group:
            kind = path.get("class").split()[-1]  # edges and cuts to come; else an area
            path.set("fill", "none" if kind in ("l", "d") else colour)
            path.set("stroke", colour)
            path.set("stroke-width", ".6")
            path.set("stroke-linejoin", "bevel")
            path.set("shape-rendering", "crispEdges")
    return ET.tostring(root)


def paint(svg, zoom):
    done = subprocess.run(["rsvg-convert", "-z", str(zoom)], input=svg, stdout=subprocess.PIPE, check=True)
    return read_png(done.stdout)


class Part:
    """A convex part as the ray sees it: point p + t * d, larger t nearer to the viewer."""

    def __init__(self, part, piece, shift, rows, toward):
        self.piece = piece
        corners = [[c[i] + shift[i] for i in range(3)] for c in part["corners"]]
        shown = [[sum(r[i] * c[i] for i in range(3)) for r in rows] for c in corners]
        self.edges = [(shown[i], shown[j]) for i, j in part["edges"]]
        self.box = [f(s[k] for s in shown) for k in (0, 1) for f in (min, max)]
        self.planes = [(n[:3], n[3] + sum(n[i] * shift[i] for i in range(3)), sum(n[i] * toward[i] for i in range(3)))
                       for n in part["planes"]]

    def nearest(self, point):
        low, high = -1e300, 1e300
        for normal, offset, slope in self.planes:
            room = offset - sum(normal[i] * point[i] for i in range(3))
            if abs(slope) < 1e-12:
                if room < 0:
                    return None
            elif slope > 0:
                high = min(high, room / slope)
            else:
                low = max(low, room / slope)
        return high if low < high else None


def cast(pieces, root, zoom, width, height):
    """For each pixel the number of the piece seen at its middle, from 1, or 0; and whether the edge of a part is near it."""
    numbers = [float(x) for x in root.get("data-projection").split()]
    rows = [numbers[:3], numbers[3:]]
    scale = sum(x * x for x in rows[0])
    assert abs(sum(a * b for a, b in zip(*rows))) < 1e-9 * scale and abs(sum(x * x for x in rows[1]) - scale) < 1e-9 * scale
    (a, b, c), (d, e, f) = rows
    toward = [(c * e - b * f) / scale, (a * f - c * d) / scale, (b * d - a * e) / scale]  # y runs downward
    shifts = {}
    for group in root.iter(SVG + "g"):
        if group.get("data-shift"):
            shifts[group.get("data-piece")] = [float(x) for x in group.get("data-shift").split()]
    parts = [Part(part, i, shifts.get(piece["name"], [0, 0, 0]), rows, toward)
             for i, piece in enumerate(pieces) for part in piece["parts"]]
    left, top = [float(x) for x in root.get("viewBox").split()[:2]]
    seen = []
    for y in range(height):
        line, v = [], top + (y + 0.5) / zoom
        row = [p for p in parts if p.box[2] <= v <= p.box[3]]
        for x in range(width):
            u = left + (x + 0.5) / zoom
            point = [(u * rows[0][i] + v * rows[1][i]) / scale for i in range(3)]
            best, piece = None, 0
            for part in row:
                if part.box[0] <= u <= part.box[1]:
                    t = part.nearest(point)
                    if t is not None and (best is None or t > best + 1e-9):
                        best, piece = t, part.piece + 1
            line.append(piece)
        seen.append(line)
    near = [[False] * width for _ in range(height)]
    for part in parts:
        for (x0, y0), (x1, y1) in part.edges:
            steps = int(2 * zoom * max(abs(x1 - x0), abs(y1 - y0))) + 1
            for k in range(steps + 1):
                x, y = [int((a + (b - a) * k / steps - low) * zoom // 1) for a, b, low in ((x0, x1, left), (y0, y1, top))]
                for j in range(max(0, y - 1), min(height, y + 2)):
                    for i in range(max(0, x - 1), min(width, x + 2)):
                        near[j][i] = True
    return seen, near


def compare(svg, pieces, zoom, what):
    """How many pixels were compared and how many differ, which are told when `what` names the picture; and what rays see."""
    names = [piece["name"] for piece in pieces]
    width, height, pixels = paint(plain(svg, names), zoom)
    seen, near = cast(pieces, ET.fromstring(svg), zoom, width, height)
    compared = wrong = 0
    for y in range(1, height - 1):
        for x in range(1, width - 1):
            piece = seen[y][x]
            if near[y][x] or any(seen[y + j][x + i] != piece for j in (-1, 0, 1) for i in (-1, 0, 1)):
                continue
            r, g, b, a = pixels[y][x]
            colour = piece * 0x010307
            compared += 1
            expected = (colour >> 16, colour >> 8 & 255, colour & 255, 255) if piece else (0, 0, 0, 0)
            if (r, g, b, a) != expected:
                wrong += 1
                if wrong < 5 and what:
                    print(f"{what}: at pixel {x}, {y} rays see piece {piece}, the picture shows {(r, g, b, a)}")
    return compared, wrong, seen


def check_names(root, seen, zoom, pieces, what):
    """How many names stand over something else than their pieces, as far as the middle half of each text tells."""
    left, top = [float(x) for x in root.get("viewBox").split()[:2]]
    wrong = 0
    for text in root.iter(SVG + "text"):
        size, x, y = (float(text.get(key)) for key in ("font-size", "x", "y"))
        for k in range(-4, 5):
            u, v = x + k / 4 * 0.25 * size * len(text.text), y - 0.35 * size
            piece = seen[int((v - top) * zoom)][int((u - left) * zoom)]
            if piece == 0 or pieces[piece - 1]["name"] != text.text:
                print(f"{what}: the name {text.text} stands over something else")
                wrong += 1
                break
    return wrong


def main():
    slow = os.environ.get("CUTPROOF_SLOW")
    plans = sorted([path for path in glob.glob(f"{sys.argv[2]}/*.yaml") if "\ncases:" not in open(path, encoding="utf-8").read()] + (glob.glob(f"{sys.argv[2]}/broken/*.yaml") if slow else []))
    plans = [plan for plan in plans if os.path.getsize(plan) < 20000]
    total = failed = 0
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run([sys.argv[1], folder, str(200 if slow else 24), *plans], check=True)
        pictures = sorted(glob.glob(f"{folder}/*.svg"))
        for i, path in enumerate(pictures):
            if not slow and i >= 24 and i % 5:
                continue
            with open(path, "rb") as file:
                svg = file.read()
            with open(path.replace(".svg", ".json"), encoding="utf-8") as file:
                pieces = json.load(file)
            root = ET.fromstring(svg)
            what = root.find(SVG + "title").text
            compared, wrong, seen = compare(svg, pieces, ZOOM, what)
            assert compared > 500, f"{what}: nothing was compared"
            total, failed = total + compared, failed + wrong + check_names(root, seen, ZOOM, pieces, what)
            if i == 0:  # a picture that is painted the other way round must not pass
                for group in root.iter(SVG + "g"):
                    group[:] = list(group)[::-1]
                ET.register_namespace("", SVG[1:-1])
                assert compare(ET.tostring(root), pieces, ZOOM, "")[1] > 20
    print(f"{len(pictures)} pictures, {total} pixels compared, {failed} differ")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
