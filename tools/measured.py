"""Writes `tools/data/measured.csv`: how far each pair lies from measured bubble points, as `zeotrope validate` finds it.

measured.py            asks the built program and writes the table
measured.py --check    asks it, and shows whether that is what the committed table holds
"""

import argparse
import json
import os
import subprocess
import sys

import mixtures
import tables

TABLE = os.path.join(tables.HERE, "data", "measured.csv")
COLUMNS = ["first", "second", "points", "papers", "bias_percent", "rms_percent", "bias_K", "rms_K"]
DECIMALS = {"bias_percent": 2, "rms_percent": 2, "bias_K": 3, "rms_K": 3}


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--check", action="store_true", help="compare with the committed table")
    target = os.environ.get("CARGO_TARGET_DIR", os.path.join(tables.ROOT, "target"))
    parser.add_argument("--program", default=os.path.join(target, "release", "zeotrope"), help="the built program")
    options = parser.parse_args()
    answer = subprocess.run([options.program, "validate", "--format", "json"], capture_output=True, check=True)
    known = mixtures.pairs().keys()
    lines = [",".join(COLUMNS)]
    for found in json.loads(answer.stdout)["measured_bubble_points"]:
        order = (found["first"], found["second"])
        order = order if order in known else order[::-1]
        if order not in known or not found["points"]:
            print(f"{found['first']} + {found['second']}: {'no unsuspected point' if order in known else 'no file'}")
            continue
        found["first"], found["second"] = order
        cells = (found[key] for key in COLUMNS)
        lines.append(",".join(
            f"{round(cell, DECIMALS[key]) + 0.0:.{DECIMALS[key]}f}" if key in DECIMALS else str(cell)
            for key, cell in zip(COLUMNS, cells, strict=True)
        ))
    if options.check:
        same = open(TABLE, encoding="utf-8").read().splitlines() == lines
        print("the committed table is what this tool writes" if same else "the committed table differs")
        return 0 if same else 1
    with open(TABLE, "w", encoding="utf-8", newline="\n") as stream:
        stream.write("\n".join(lines) + "\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
