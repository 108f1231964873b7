"""Writes how far each pair lies from measured bubble points and vapors, as `zeotrope validate` finds it.

measured.py            asks the built program and writes `tools/data/measured.csv` and `measured_vapors.csv`
measured.py --check    asks it, and shows whether that is what the committed tables hold
"""

import argparse
import json
import os
import subprocess
import sys

import mixtures
import tables

# Name of the table, key of the answer, columns.
TABLES = [
    ("measured.csv", "measured_bubble_points", ["points", "papers", "bias_percent", "rms_percent", "bias_K", "rms_K"]),
    ("measured_vapors.csv", "measured_vapors", ["points", "papers", "bias_y", "rms_y", "relative_volatility_percent"]),
]
DECIMALS = {
    "bias_percent": 2, "rms_percent": 2, "bias_K": 3, "rms_K": 3,
    "bias_y": 4, "rms_y": 4, "relative_volatility_percent": 2,
}
TURNS = "bias_y"  # changes its sign where the components change their order


def lines_of(found, known, columns):
    """The lines of a table, in the order of the answer."""
    lines = [",".join(["first", "second", *columns])]
    for row in found:
        order = (row["first"], row["second"])
        turned = order not in known
        order = order[::-1] if turned else order
        if order not in known or not row["points"]:
            reason = "no unsuspected point" if order in known else "no file"
            print(f"{row['first']} + {row['second']}: {reason}")
            continue
        if turned and TURNS in row:
            row[TURNS] = -row[TURNS]
        cells = (row[key] for key in columns)
        lines.append(",".join([*order, *(
            f"{round(cell, DECIMALS[key]) + 0.0:.{DECIMALS[key]}f}" if key in DECIMALS else str(cell)
            for key, cell in zip(columns, cells, strict=True)
        )]))
    return lines


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--check", action="store_true", help="compare with the committed tables")
    target = os.environ.get("CARGO_TARGET_DIR", os.path.join(tables.ROOT, "target"))
    parser.add_argument("--program", default=os.path.join(target, "release", "zeotrope"), help="the built program")
    options = parser.parse_args()
    answer = subprocess.run([options.program, "validate", "--format", "json"], capture_output=True, check=True)
    found = json.loads(answer.stdout)
    known = mixtures.with_refits(mixtures.pairs()).keys()
    same = True
    for name, key, columns in TABLES:
        path = os.path.join(tables.HERE, "data", name)
        lines = lines_of(found[key], known, columns)
        if options.check:
            own = open(path, encoding="utf-8").read().splitlines() == lines
            print(f"{name} {'is what this tool writes' if own else 'differs'}")
            same = same and own
            continue
        with open(path, "w", encoding="utf-8", newline="\n") as stream:
            stream.write("\n".join(lines) + "\n")
    return 0 if same else 1


if __name__ == "__main__":
    sys.exit(main())
