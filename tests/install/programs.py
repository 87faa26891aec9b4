#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Takes the programs out of a document.

Usage: programs.py DOCUMENT FOLDER        writes each `cpp` block as FOLDER/program-N.cpp
       programs.py DOCUMENT N OUTPUT      fails unless the N-th program's `text` block is what the file OUTPUT holds
       programs.py DOCUMENT N OUTPUT --write   puts it there
"""
import pathlib
import re
import sys

BLOCKS = re.compile(r"^```cpp\n(.*?)^```\n\n^```text\n(.*?)^```$", re.MULTILINE | re.DOTALL)


def main():
    document = pathlib.Path(sys.argv[1])
    text = document.read_text(encoding="utf-8")
    blocks = list(BLOCKS.finditer(text))
    if len(sys.argv) == 3:
        folder = pathlib.Path(sys.argv[2])
        for number, block in enumerate(blocks, 1):
            (folder / f"program-{number}.cpp").write_text(block.group(1), encoding="utf-8")
        return 0 if len(blocks) == len(re.findall(r"^```cpp$", text, re.MULTILINE)) else 1
    block = blocks[int(sys.argv[2]) - 1]
    output = pathlib.Path(sys.argv[3]).read_text(encoding="utf-8")
    if sys.argv[4:] == ["--write"]:
        document.write_text(text[: block.start(2)] + output + text[block.end(2) :], encoding="utf-8")
        return 0
    if block.group(2) != output:
        print(f"program {sys.argv[2]} of {document} printed:\n{output}")
        return 1
    return 0


sys.exit(main())
