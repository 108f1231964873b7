"""Writes the files of `fluids/` from published facts; see `tools/README.md`.

transcribe.py            writes them
transcribe.py --check    writes them elsewhere and lists what differs from the committed ones
"""

import argparse
import difflib
import os
import sys
import tempfile

import pure_fluids
import tables
import yaml_text


def write(path, content):
    """Writes a file whole or not at all."""
    os.makedirs(os.path.dirname(path), exist_ok=True)
    with open(path + ".new", "w", encoding="utf-8", newline="\n") as stream:
        stream.write(content)
    os.replace(path + ".new", path)


def write_pure(folder, only=None):
    """`pure/*.yaml`; returns the records."""
    rows = tables.read("published_values.csv", os.path.join(tables.ROOT, "tests", "data"))
    records = {}
    for fluid in pure_fluids.all_fluids():
        if only and fluid.designation not in only:
            continue
        found = pure_fluids.record(fluid, rows)
        records[fluid.designation] = found
        comment = f"{fluid.designation}, {found['name']}: equation of state, constants and environmental facts."
        path = os.path.join(folder, "pure", fluid.designation + ".yaml")
        write(path, yaml_text.document(comment, found))
    return records


def compare(written, committed):
    """Prints a unified diff of every differing file; true where there is none."""
    same = True
    for folder, _, names in os.walk(written):
        for name in sorted(names):
            new = os.path.join(folder, name)
            old = os.path.join(committed, os.path.relpath(new, written))
            before = open(old, encoding="utf-8").read().splitlines() if os.path.exists(old) else []
            after = open(new, encoding="utf-8").read().splitlines()
            if before != after:
                same = False
                print("\n".join(difflib.unified_diff(before, after, old, new, lineterm="", n=0)))
    return same


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--check", action="store_true", help="write elsewhere and compare")
    parser.add_argument("--only", nargs="*", help="designations of pure refrigerants; the rest is left out")
    options = parser.parse_args()
    fluids = os.path.join(tables.ROOT, "fluids")
    if not options.check:
        write_pure(fluids, options.only)
        return 0
    with tempfile.TemporaryDirectory() as folder:
        write_pure(folder, options.only)
        if compare(folder, fluids):
            print("the committed files are what this tool writes")
            return 0
    return 1


if __name__ == "__main__":
    sys.exit(main())
