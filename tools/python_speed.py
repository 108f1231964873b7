#!/usr/bin/env python3
"""Times the wheel's calls over columns against the crate's own loop over slices and against CoolProp
8.0.0 (MIT licence; thanks to its authors), in turn and in one run.

    cargo build --profile wheel -p zeotrope-python --example slices
    tools/python_speed.py --slices target/wheel/examples/slices [--passes 15]

Needs zeotrope, numpy, pyarrow and CoolProp 8.0.0. Medians are compared, of one thread; each call
allocates its answer. Of each, the second of two calls in a row is timed: the first has to fetch its
tables into caches that the others have filled. With the crate by the clock, whose loop has no other
here; with the peer by the time of the processor, which other programs do not disturb.
"""

import argparse
import statistics
import subprocess
import time
from collections.abc import Callable

import CoolProp.CoolProp as peer
import numpy as np
import pyarrow as pa

import zeotrope

ROWS = [10_000, 100_000, 1_000_000]
NAMES = ["R-134a", "R-407C"]


Times = tuple[float, float]


def seconds(call: Callable[[], object]) -> Times:
    """On the clock, and of the processor."""
    begun, spent = time.perf_counter(), time.thread_time()
    call()
    return time.perf_counter() - begun, time.thread_time() - spent


def compared(calls: dict[str, Callable[[], Times]], passes: int) -> dict[str, Times]:
    """Medians of calls made in turn."""
    taken: dict[str, list[Times]] = {name: [] for name in calls}
    for _ in range(passes):
        for name, call in calls.items():
            call()
            taken[name].append(call())
    median = statistics.median
    return {
        name: (median(one[0] for one in times), median(one[1] for one in times))
        for name, times in taken.items()
    }


def main() -> None:
    arguments = argparse.ArgumentParser(description=__doc__)
    arguments.add_argument("--slices", required=True)
    arguments.add_argument("--passes", type=int, default=15)
    asked = arguments.parse_args()
    crate = subprocess.Popen(
        [asked.slices], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )

    def of_crate(question: str, name: str, rows: int) -> Times:
        assert crate.stdin and crate.stdout
        crate.stdin.write(f"{question} {name} {rows}\n")
        crate.stdin.flush()
        taken = int(crate.stdout.readline()) * 1e-9
        return taken, taken

    random = np.random.default_rng(1)
    print("| question | rows | ns a row | of the processor | NumPy / crate | peer / NumPy |")
    print("|---|---|---|---|---|---|")

    def row(label: str, rows: int, calls: dict[str, Callable[[], Times]], passes: int) -> None:
        found = compared(calls, passes)
        wall, cpu = (one / rows * 1e9 for one in found["numpy"])
        crate_ratio = f"{found['numpy'][0] / found['crate'][0]:.2f}" if "crate" in found else ""
        peer_ratio = f"{found['peer'][1] / found['numpy'][1]:.0f}" if "peer" in found else ""
        print(f"| {label} | {rows} | {wall:.1f} | {cpu:.1f} | {crate_ratio} | {peer_ratio} |")

    for rows in ROWS:
        for name in NAMES:
            r = zeotrope.Refrigerant(name)
            temperatures = random.uniform(230, 340, rows)
            calls = {
                "crate": lambda: of_crate("line", name, rows),
                "numpy": lambda: seconds(lambda: r.dew_pressure_Pa(temperatures)),
            }
            if name == "R-134a":
                calls["peer"] = lambda: seconds(
                    lambda: peer.PropsSI("P", "T", temperatures, "Q", 1, "R134a")
                )
            row(f"{name} dew pressure", rows, calls, asked.passes if rows < 1_000_000 else 5)
    for name in NAMES:
        rows = 10_000
        r = zeotrope.Refrigerant(name)
        pressures, enthalpies = random.uniform(2e5, 2e6, rows), random.uniform(250e3, 450e3, rows)
        calls = {
            "crate": lambda: of_crate("state", name, rows),
            "numpy": lambda: seconds(lambda: r.state(pressure_Pa=pressures, enthalpy_J_kg=enthalpies)),
        }
        row(f"{name} state by (p, h)", rows, calls, asked.passes)
    rows = 1_000_000
    names = pa.array(random.choice(["R-407C", "R-134a", "R-454B", "R-410A"], rows))
    pressures = pa.array(random.uniform(2e5, 2e6, rows))
    for label, column in (("dictionary", names.dictionary_encode()), ("text", names)):
        calls = {
            "numpy": lambda: seconds(lambda: zeotrope.dew_temperature_K(column, pressures)),
        }
        row(f"dew temperature, names as {label}, Arrow", rows, calls, asked.passes)
    assert crate.stdin
    crate.stdin.close()


if __name__ == "__main__":
    main()
