#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Makes the Debian package and looks into it: names, dependencies, files; and runs the program that it holds.

Usage: debian_package.py CPACK BUILD_FOLDER PROJECT_FOLDER VERSION
"""
import os
import pathlib
import re
import subprocess
import sys
import tempfile


def output_of(*words, **options):
    done = subprocess.run(words, capture_output=True, text=True, check=False, **options)
    if done.returncode != 0:
        sys.exit(f"{words}: {done.returncode}\n{done.stdout}{done.stderr}")
    return done.stdout


def demand(good, what):
    if not good:
        sys.exit(f"FAILED: {what}")


def main():
    cpack, build, project, version = sys.argv[1:]
    with tempfile.TemporaryDirectory() as folder:
        output_of(cpack, "--config", os.path.join(build, "CPackConfig.cmake"), "-B", folder)
        made = list(pathlib.Path(folder).glob("*.deb"))
        demand(len(made) == 1 and made[0].name.startswith(f"cutproof_{version}"), f"made {made}")
        fields = dict(re.findall(r"^ ?([A-Z][A-Za-z-]*): (.*)$", output_of("dpkg-deb", "-I", str(made[0])), re.MULTILINE))
        demand((fields["Package"], fields["Version"]) == ("cutproof", version), fields)
        needed = {re.split(r"[ (:]", each.strip())[0] for each in fields["Depends"].split(",")}
        demand({"libc6", "libgmp10", "libstdc++6"} <= needed, needed)
        told = (pathlib.Path(project) / "docs/continuous-integration.md").read_text(encoding="utf-8")
        listed = set(re.search(r"needs these\npackages when it runs:\n\n((?:    .*\n)+)", told).group(1).split())
        demand(listed == needed, f"docs/continuous-integration.md lists {sorted(listed)}, the package needs {sorted(needed)}")
        files = {line.split(None, 5)[5] for line in output_of("dpkg-deb", "-c", str(made[0])).splitlines()}
        for name in ("bin/cutproof", "share/doc/cutproof/copyright", "share/doc/cutproof/docs/tutorial.md",
                     "share/doc/cutproof/plans/tutorial.yaml", "share/doc/cutproof/plans/broken/tutorial-1.yaml"):
            demand(f"./usr/{name}" in files, f"{name} is not in the package")
        demand(not [name for name in files if name.endswith((".a", ".hpp", ".cmake", ".pc"))], "files of the library are in it")
        root = os.path.join(folder, "root")
        output_of("dpkg-deb", "-x", str(made[0]), root)
        program = os.path.join(root, "usr/bin/cutproof")
        demand(output_of(program, "--version") == f"cutproof {version}\n", "--version")
        text = output_of(program, "check", "plans/tutorial.yaml", cwd=os.path.join(root, "usr/share/doc/cutproof"))
        demand(text.startswith("verified: plans/tutorial.yaml\n"), text)


main()
