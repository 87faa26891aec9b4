#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Writes texts of about a megabyte for the YAML harness, one for each way in which a plan can be long.

Usage: large_inputs.py FOLDER
"""
import pathlib
import sys

SIZE = 1_000_000


def repeated(part, begin="", end=""):
    """`part` with a number in it, as often as fits."""
    parts, length, number = [begin], len(begin) + len(end), 0
    while length < SIZE - 100:
        parts.append(part.replace("N", str(number)))
        length += len(parts[-1])
        number += 1
    return "".join(parts) + end


TEXTS = {
    "blocks": repeated("  PN: [N, sqrt(N), N/3]   # corner N\n", "points:\n"),
    "brackets": repeated("[N, N, \"max(N, 3)\"], ", "hull: [", "last]\n"),
    "steps": repeated("- { cut: [T.N, \"T.N.*\"], by: { equation: \"x + N*y = 1\" }, title: it's N }\n", "steps:\n"),
    "quoted": repeated("long text \\u00e9 \\\" N with escapes ", "title: \"", "\"\n"),
    "bar": repeated("  line N of a block scalar\n", "note: |\n", "title: x\n"),
    "folded": repeated("  line N of a folded text\n\n", "note: >\n", "title: x\n"),
    "plain": repeated("  line N of a plain text\n", "note: begin\n", "title: x\n"),
    "comment": "a: b\n#" + "x" * (SIZE - 10) + "\n",
    "comments": repeated("# comment N\n", "a: b\n"),
    "deep": repeated("{ a: [[[[[[[[[[N]]]]]]]]]] }, ", "a: [", "last]\n"),
    "anchors": repeated("&xN ", "a: ", "1\n"),
    "open": repeated("(, ", "a: [", "]\n"),
    "behind-quotes": repeated("\"b\" c, ", "a: [", "]\n"),
}


def main():
    if len(sys.argv) != 2:
        print(__doc__, file=sys.stderr)
        return 2
    for name, text in TEXTS.items():
        (pathlib.Path(sys.argv[1]) / f"{name}.yaml").write_text(text, encoding="utf-8")
    return 0


sys.exit(main())
