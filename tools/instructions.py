"""Counts the instructions of one call of each question in benches/questions.rs.

A wall clock wavers on a shared machine; the count of instructions does not. The program is run
under callgrind with N and with 3N calls; the difference over 2N is one call, without start-up.

    python tools/instructions.py            # every kernel
    python tools/instructions.py saturation # every question whose layer or name holds the word
    python tools/instructions.py --all

Needs valgrind (for example: apt-get install valgrind). Prints a Markdown table.
"""

import json
import re
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
CALLS = {"kernel": 2000, "property": 1000, "chart": 3}
OTHER_CALLS = 60


def binary():
    """Builds the bench and says where it lies."""
    built = subprocess.run(
        ["cargo", "bench", "--bench", "instructions", "--no-run", "--message-format=json"],
        cwd=ROOT,
        check=True,
        stdout=subprocess.PIPE,
    )
    for line in built.stdout.splitlines():
        message = json.loads(line)
        if message.get("executable") and message["target"]["name"] == "instructions":
            return message["executable"]
    sys.exit("error: cargo named no program\nhint: see what it printed above")


def instructions(program, place, calls):
    """Instructions of a whole run."""
    with tempfile.TemporaryDirectory() as folder:
        run = subprocess.run(
            [
                "valgrind",
                "--tool=callgrind",
                f"--callgrind-out-file={folder}/out",
                program,
                str(place),
                str(calls),
            ],
            check=True,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            text=True,
        )
    return int(re.search(r"Collected : (\d+)", run.stderr).group(1))


def main():
    words = sys.argv[1:] or ["kernel"]
    program = binary()
    listed = subprocess.run([program], check=True, stdout=subprocess.PIPE, text=True).stdout
    print("| layer | question | instructions |\n|---|---|---|")
    for line in listed.splitlines():
        place, layer, name = line.split("\t")
        if words != ["--all"] and not any(word in f"{layer} {name}" for word in words):
            continue
        calls = CALLS.get(layer, OTHER_CALLS)
        few, many = (instructions(program, place, times) for times in (calls, 3 * calls))
        print(f"| {layer} | {name} | {(many - few) / (2 * calls):.0f} |", flush=True)


if __name__ == "__main__":
    main()
