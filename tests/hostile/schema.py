#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""docs/plan.schema.json accepts every plan that verifies, refuses hostile files whose structure is wrong, and tells of each key what it
means. Exit 77: jsonschema or yaml is not installed for Python."""
import functools
import glob
import json
import os
import sys

try:
    import jsonschema
    import yaml
except ImportError:
    sys.exit(77)

REFUSED = ["step-of-two-kinds", "step-misspelt", "motion-misspelt", "coordinates-two", "by-empty", "bare-number-for-an-angle",
           "unknown-section", "into-one-name", "solid-of-two-kinds", "goal-named-box", "prism-without-height", "piece-named-all",
           "newer-word", "archimedean-unknown", "mesh-without-file", "mesh-is-a-path", "mesh-scale", "snap-of-nothing", "snap-both", "snap-without-within", "place-without-a-place", "place-misspelt",
           "place-empty", "lay-without-against", "lay-in-nothing", "lay-within-inverse", "lay-by-name", "lay-and-onto",
           "onto-against", "corners-alone", "congruent-without-to", "shapes-without-count", "holds-of-nothing", "holds-of-a-mapping", "holds-empty", "flat-solids", "flat-planes", "flat-lines-in-space", "flat-figures-in-space",
           "flat-in-version-1", "flat-dimension-of-four", "flat-dimension-misspelt", "flat-hole-without-outer",
           "flat-point-of-three", "flat-polygon-of-two-corners", "loop-each-forgotten", "loop-outside-a-list", "loop-for-empty", "loop-range-is-a-mapping",
           "loop-rows-empty", "loop-group-of-nothing", "loop-group-with-a-kind", "loop-with-another-key",
           "loop-when-is-no-condition", "into-a-name", "into-only-a-star", "into-two-stars",
           "into-star-in-a-list", "use-in-version-1", "lemmas-in-version-1", "lemma-with-nothing",
           "lemma-without-goal", "lemma-is-a-list", "lemmas-empty", "lemma-name-with-a-blank", "lemma-of-a-version",
           "lemma-without-take", "lemma-takes-all"]


def keys_without_description(schema):
    """Keys of the language of which neither the schema nor the definition that it refers to says what they mean."""
    silent = []

    def look(node, path):
        if isinstance(node, list):
            for number, each in enumerate(node):
                look(each, f"{path}/{number}")
        if not isinstance(node, dict):
            return
        properties = node.get("properties")
        for key, value in properties.items() if isinstance(properties, dict) and "/if" not in path and "/then" not in path else ():
            meaning = value
            while isinstance(meaning, dict) and "description" not in meaning and "$ref" in meaning:
                meaning = functools.reduce(lambda part, step: part[step], meaning["$ref"].split("/")[1:], schema)
            if isinstance(meaning, dict) and meaning and "description" not in meaning:
                silent.append(f"{path}/{key}")
        for key, value in node.items():
            look(value, f"{path}/{key}")

    look(schema, "")
    return silent


def main():
    root = sys.argv[1]
    with open(os.path.join(root, "docs", "plan.schema.json"), encoding="utf-8") as file:
        schema = json.load(file)
    jsonschema.Draft7Validator.check_schema(schema)
    validator = jsonschema.Draft7Validator(schema)

    def accepts(path):
        with open(path, encoding="utf-8") as file:
            return validator.is_valid(yaml.safe_load(file))

    good = sorted(glob.glob(os.path.join(root, "plans", "*.yaml")))
    faults = [f"{path} is refused" for path in good if not accepts(path)]
    faults += [f"{name} is accepted" for name in REFUSED if accepts(os.path.join(root, "tests", "hostile", name + ".yaml"))]
    faults += [f"{key} has no description" for key in keys_without_description(schema)]
    if len(REFUSED) < 30:
        faults.append("too few files are refused")
    if not good:
        faults.append("there are no plans")
    print("\n".join(faults + [f"{len(good)} plans, {len(faults)} faults"]))
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
