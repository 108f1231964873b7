"""Writes the files of `fluids/` from published facts; see `tools/README.md`.

transcribe.py            writes them
transcribe.py --check    writes them elsewhere and lists what differs from the committed ones
"""

import argparse
import difflib
import os
import sys
import tempfile

import mixtures
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


BLENDS_COMMENT = (
    "Designated blends. Contents and tolerances: ANSI/ASHRAE 34-2019 and later addenda, quoted at second hand "
    "unless an entry warns that its contents are from memory."
)


def write_mixtures(folder):
    """`departures/*.yaml`, `pairs/*.yaml` and `blends.yaml`."""
    for name, record in mixtures.departures().items():
        path = os.path.join(folder, "departures", name + ".yaml")
        write(path, yaml_text.document(f"Departure function {name}.", record))
    for (first, second), record in mixtures.with_measurements(mixtures.pairs()).items():
        path = os.path.join("pairs", f"{first}_{second}.yaml")
        comment = f"{first} + {second}: parameters of the mixture model."
        write(os.path.join(folder, path), yaml_text.document(comment, record))
    write(os.path.join(folder, "blends.yaml"), yaml_text.listing(BLENDS_COMMENT, mixtures.blends()))


def yaml_files(folder):
    """Paths of all data files below a folder, relative to it."""
    return {
        os.path.relpath(os.path.join(inside, name), folder)
        for inside, _, names in os.walk(folder)
        for name in names
        if name.endswith(".yaml")
    }


def compare(written, committed, whole):
    """Prints what differs; true where nothing does. Committed files are missed only where the whole was written."""
    ours, theirs = yaml_files(written), yaml_files(committed)
    same = True
    for path in sorted(theirs - ours) if whole else []:
        same = False
        print(f"{path}: committed, but not written by this tool")
    for path in sorted(ours):
        after = open(os.path.join(written, path), encoding="utf-8").read().splitlines()
        before = open(os.path.join(committed, path), encoding="utf-8").read().splitlines() if path in theirs else []
        if before != after:
            same = False
            print("\n".join(difflib.unified_diff(before, after, path, "as written", lineterm="", n=0)))
    return same


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--check", action="store_true", help="write elsewhere and compare")
    parser.add_argument("--only", nargs="*", help="designations of pure refrigerants; the rest is left out")
    options = parser.parse_args()
    fluids = os.path.join(tables.ROOT, "fluids")
    if not options.check:
        write_pure(fluids, options.only)
        if not options.only:
            write_mixtures(fluids)
        return 0
    with tempfile.TemporaryDirectory() as folder:
        write_pure(folder, options.only)
        if not options.only:
            write_mixtures(folder)
        if compare(folder, fluids, not options.only):
            print("the committed files are what this tool writes")
            return 0
    return 1


if __name__ == "__main__":
    sys.exit(main())
