#!/usr/bin/env python3
"""Times zeotrope against CoolProp 8.0.0 (MIT licence; thanks to its authors) in one run.

    tools/peer_speed.py [--venv DIR] [--csv FILE|-] [--passes 3] [--only TASK ...]

Both sides answer the same inputs in turn, pass by pass; medians are compared. Ours is
`examples/peer_speed.rs`, built here in release mode: public calls of `Refrigerant`, range check
included. The peer is its low-level state object, less the same loop around its cheapest call; what
is left still holds the cost of a call from Python, so that for calls under 5 µs the peer's time,
and with it the ratio, is an upper bound. Answers are compared too.

Uses CoolProp where it can be imported in version 8.0.0, else installs it into a virtual
environment in DIR (default: build directory). Blends are built there from our components and mole
fractions.
"""

import argparse
import csv
import importlib.metadata
import json
import os
import random
import statistics
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
TARGET = Path(os.environ.get("CARGO_TARGET_DIR", ROOT / "target"))
VERSION = "8.0.0"

PURES = ["R-134a", "R-32", "R-290", "R-1234yf"]
BLENDS = ["R-407C", "R-410A", "R-448A", "R-454B", "R-455A"]
CHART_PURES = """R-11 R-12 R-13 R-14 R-21 R-22 R-23 R-32 R-40 R-41 R-113 R-114 R-115 R-116 R-123 R-124 R-125 R-134a
R-141b R-142b R-143a R-152a R-161 R-218 R-227ea R-236ea R-236fa R-245ca R-245fa R-365mfc R-RC318 R-C318 R-1233zd(E)
R-1234yf R-1234ze(E) R-1234ze(Z) R-1243zf R-1270 R-170 R-290 R-600 R-600a R-601 R-601a R-717 R-744 R-E170 R-1150
R-764 R-1336mzz(E)""".split()
TASKS = [
    ("pure_saturation_pressure", 10),
    ("pure_saturation_state", 5),
    ("pure_saturation_temperature", 10),
    ("pure_density_pT", 10),
    ("pure_entropy_ph", 30),
    ("blend_bubble_pressure_exact", 30),
    ("blend_dew_pressure_exact", 30),
    ("blend_bubble_pressure", 2000),
    ("blend_dew_pressure", 2000),
    ("blend_density_pT_liquid", 500),
    ("blend_density_pT_vapor", 150),
    ("blend_temperature_ph_liquid", 5000),
    ("blend_temperature_ph_two_phase", 5000),
    ("blend_temperature_ph_vapor", 5000),
    ("pure_state_ph", 15),
    ("blend_state_ph", 2000),
    ("blend_state_ps", 2000),
    ("cycle_pure", 15),
    ("cycle_blend", 300),
    ("chart_all", 60),
    ("cold_start", 200),
]


def the_peer(arguments):
    """Goes on in an interpreter that has the peer."""
    try:
        if importlib.metadata.version("CoolProp") == VERSION:
            return
    except importlib.metadata.PackageNotFoundError:
        pass
    folder = Path(arguments.venv or TARGET / "peer")
    python = folder / "bin" / "python"
    if not python.exists():
        subprocess.run([sys.executable, "-m", "venv", folder], check=True)
    if Path(sys.prefix).resolve() == folder.resolve():
        sys.exit(f"error: CoolProp {VERSION} is not in {folder}")
    subprocess.run([python, "-m", "pip", "install", "--quiet", f"CoolProp=={VERSION}"], check=True)
    os.execv(python, [str(python), *sys.argv])


class Ours:
    """The example, spoken to line by line."""

    def __init__(self):
        build = ["cargo", "build", "--quiet", "--release", "--bin", "zeotrope", "--example", "peer_speed"]
        subprocess.run(build, check=True, cwd=ROOT)
        self.program = TARGET / "release" / "examples" / "peer_speed"
        self.process = subprocess.Popen([self.program], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)

    def ask(self, *words, inputs=()):
        lines = [" ".join(map(str, words)), *(f"{a!r} {b!r}" for a, b in inputs)]
        self.process.stdin.write("\n".join(lines) + "\n")
        self.process.stdin.flush()
        reply = self.process.stdout.readline()
        if self.process.poll() is not None:
            sys.exit("error: our side ended")
        return reply.split()


class Peer:
    """A state object of the peer for one refrigerant of ours."""

    def __init__(self, ours, name):
        import CoolProp

        self.kind = CoolProp
        words = ours.ask("contents", name)
        names, fractions = words[::2], [float(x) for x in words[1::2]]
        self.state = CoolProp.AbstractState("HEOS", "&".join(peer_name(one) for one in names))
        if len(names) > 1:
            self.state.set_mole_fractions(fractions)
        self.pure = len(names) == 1
        self.masses = [CoolProp.CoolProp.PropsSI("molarmass", peer_name(one)) for one in names]
        self.limits = self.state.Tmin(), self.state.Tmax()
        self.reducing = self.state.T_critical() if self.pure else self.state.T_reducing()

    def saturated(self, temperature, quality):
        self.state.update(self.kind.QT_INPUTS, quality, temperature)
        return self.state.p()


    def half_vapor(self):
        """Of half the moles vapor, the share of the mass."""
        if self.pure:
            return 0.5
        phases = self.state.mole_fractions_vapor(), self.state.mole_fractions_liquid()
        vapor, liquid = (sum(x * m for x, m in zip(phase, self.masses, strict=True)) for phase in phases)
        return vapor / (vapor + liquid)

    def has(self, density, temperature, pressure):
        """Whether the peer's equation has this pressure at a density in kg/m3."""
        self.state.specify_phase(self.kind.iphase_liquid)
        self.state.update(self.kind.DmassT_INPUTS, density, temperature)
        found = self.state.p()
        self.state.unspecify_phase()
        return abs(found / pressure - 1) < 1e-4


def peer_name(designation):
    known = {"R-E170": "DimethylEther", "R-601": "n-Pentane", "R-601a": "Isopentane", "R-600": "n-Butane"}
    return known.get(designation, designation.replace("R-", "R", 1))


def draw(seed, count, low, high):
    numbers = random.Random(seed)
    return [numbers.uniform(low, high) for _ in range(count)]


def root(f, a, b):
    """A root by secants from two points near it, to a tenth of a millikelvin in f."""
    at_a, at_b = f(a), f(b)
    for _ in range(20):
        if abs(at_b) < 1e-4:
            return b
        a, at_a, b = b, at_b, b - at_b * (b - a) / (at_b - at_a)
        at_b = f(b)
    raise ValueError("no root")


def cycle_questions(task, peer, name):
    """COP of one stage: 5 K superheat, 3 K subcooling, efficiency 70 %; of a blend between means of
    inlet and dew and of bubble and dew temperature, whose pressures are roots."""
    state, kind = peer.state, peer.kind
    count = 50 if peer.pure else 4
    low = draw(name + task, count, max(peer.limits[0] + 1.0, 245.0), 275.0)
    high = draw(name + task + "high", count, 300.0, min(320.0, 0.92 * peer.reducing))
    inputs = list(zip(low, high, strict=True))

    def saturation(pressure, quality):
        state.update(kind.PQ_INPUTS, pressure, quality)
        return state.T()

    def enthalpy(temperature, pressure):
        state.update(kind.PT_INPUTS, pressure, temperature)
        return state.hmass()

    def cop(k):
        evaporating, condensing = inputs[k]
        dew, bubble = peer.saturated(condensing, 1.0), peer.saturated(condensing, 0.0)
        p3 = dew
        if not peer.pure:
            p3 = root(lambda p: saturation(p, 0.0) + saturation(p, 1.0) - 2 * condensing, dew, bubble)
        h4 = enthalpy((condensing if peer.pure else saturation(p3, 0.0)) - 3.0, p3)
        p1 = peer.saturated(evaporating, 1.0)
        dew_at = evaporating
        if not peer.pure:

            def excess(p):
                state.update(kind.HmassP_INPUTS, h4, p)
                return state.T() + saturation(p, 1.0) - 2 * evaporating

            p1 = root(excess, p1, 1.03 * p1)
            dew_at = saturation(p1, 1.0)
        state.update(kind.PT_INPUTS, p1, dew_at + 5.0)
        h1, s1 = state.hmass(), state.smass()
        state.update(kind.PSmass_INPUTS, p3, s1)
        h2 = h1 + (state.hmass() - h1) / 0.7
        # discharge and evaporator inlet are states too: their temperatures; a blend's inlet is known
        for h, p in ((h2, p3), (h4, p1)) if peer.pure else ((h2, p3),):
            state.update(kind.HmassP_INPUTS, h, p)
            state.T()
        return (h1 - h4) / (h2 - h1)

    return inputs, cop


def questions(task, peer, name):
    """Inputs for our side, the peer's call on the k-th, and its answer."""
    state, kind = peer.state, peer.kind
    low, high = max(peer.limits[0], 230.0) + 0.5, 0.95 * peer.reducing
    count = 400 if peer.pure else 20
    if task in ("pure_saturation_pressure", "pure_saturation_state"):
        inputs = [(t, 0.0) for t in draw(name + task, count, low, high)]

        def pressure(k):
            state.update(kind.QT_INPUTS, 0.0, inputs[k][0])
            return state.p()

        def with_densities(k):
            state.update(kind.QT_INPUTS, 0.0, inputs[k][0])
            liquid = state.saturated_liquid_keyed_output(kind.iDmass)
            return state.p() + liquid + state.saturated_vapor_keyed_output(kind.iDmass)

        return inputs, pressure if task == "pure_saturation_pressure" else with_densities
    if task == "pure_saturation_temperature":
        inputs = [(peer.saturated(t, 0.0), 0.0) for t in draw(name + task, count, low, high)]

        def temperature(k):
            state.update(kind.PQ_INPUTS, inputs[k][0], 0.0)
            return state.T()

        return inputs, temperature
    if task.startswith("blend_bubble") or task.startswith("blend_dew"):
        quality = 0.0 if "bubble" in task else 1.0
        inputs = [(t, 0.0) for t in draw(name, count, low, 0.92 * peer.reducing)]

        def line(k):
            state.update(kind.QT_INPUTS, quality, inputs[k][0])
            return state.p()

        return inputs, line
    if task.startswith("cycle"):
        return cycle_questions(task, peer, name)
    # one phase: (T, p) above or below the line, so that the phase has to be found
    phases = ["liquid", "vapor"]
    if task.endswith("_liquid") or task.endswith("_vapor"):
        phases = [task.rsplit("_", 1)[1]]
    elif task.endswith("_two_phase") or task.startswith("blend_state"):
        # states of blends in two phases, where they cost most
        phases = ["two"]
    elif task == "pure_state_ph":
        phases.insert(1, "two")
    each = 100 if peer.pure else 3
    inputs, given = [], []
    for phase in phases:
        count = 0
        # where the peer has no saturation pressure the next temperature is taken
        for t in draw(name + task + phase, 4 * each, low, 0.9 * peer.reducing):
            if count == each:
                break
            try:
                if phase == "liquid":
                    p = 1.3 * peer.saturated(t, 0.0) + 5e5
                elif phase == "vapor":
                    p = 0.6 * peer.saturated(t, 1.0)
                else:
                    p = peer.saturated(t, 0.5)
                    state.update(kind.PQ_INPUTS, p, 0.5)
                if phase != "two":
                    state.update(kind.PT_INPUTS, p, t)
            except ValueError:
                continue
            # in two phases our side takes the same share of vapor
            inputs.append((-peer.half_vapor() if phase == "two" else t, p))
            given.append((p, state.hmass(), state.smass()))
            count += 1
    if "_state_p" in task:
        by_entropy = task.endswith("_ps")
        single = {kind.iphase_liquid, kind.iphase_gas, kind.iphase_supercritical_gas, kind.iphase_supercritical_liquid}

        def whole(k):
            pressure, enthalpy, entropy = given[k]
            if by_entropy:
                state.update(kind.PSmass_INPUTS, pressure, entropy)
            else:
                state.update(kind.HmassP_INPUTS, enthalpy, pressure)
            state.T(), state.hmass(), state.smass(), state.umass()
            if state.phase() in single:
                state.cpmass(), state.cvmass(), state.speed_sound()
            return state.rhomass()

        return inputs, whole
    if "_ph" in task:
        peer.saturated(273.15, 0.0)
        zero = state.smass()

        def temperature_of(k):
            state.update(kind.HmassP_INPUTS, given[k][1], given[k][0])
            return state.T()

        def entropy_of(k):
            state.update(kind.HmassP_INPUTS, given[k][1], given[k][0])
            return state.smass() - zero

        return inputs, entropy_of if task == "pure_entropy_ph" else temperature_of

    def density(k):
        state.update(kind.PT_INPUTS, inputs[k][1], inputs[k][0])
        return state.rhomass()

    return inputs, density


def loop(call, places):
    start = time.perf_counter_ns()
    for k in places:
        call(k)
    return (time.perf_counter_ns() - start) / len(places)


class Row:
    """One task on one refrigerant."""

    def __init__(self, ours, task, name):
        self.task, self.name = task, name
        peer = Peer(ours, name)
        self.inputs, self.call = questions(task, peer, name)
        # what the peer cannot answer is left out for both
        keep, theirs = [], []
        for k in range(len(self.inputs)):
            try:
                theirs.append(self.call(k))
                keep.append(k)
            except ValueError:
                pass
        self.left_out, self.other_root = len(self.inputs) - len(keep), 0
        self.asked = [self.inputs[k] for k in keep]
        answers = [float(x) for x in self.load(ours)]
        if "density" in task:
            # a peer's density far from ours, while its own equation has the pressure asked for at ours
            for n in reversed(range(len(keep))):
                if abs(answers[n] / theirs[n] - 1) > 1e-3 and peer.has(answers[n], *self.asked[n]):
                    for values in (keep, theirs, answers, self.asked):
                        del values[n]
                    self.other_root += 1
        self.keep = keep
        scale = max(map(abs, theirs)) if task == "pure_entropy_ph" else None
        self.difference = max(
            abs(a - b) / (scale or abs(b)) for a, b in zip(answers, theirs, strict=True)
        )
        self.cheapest = lambda _, cheap=peer.state.T: cheap()
        # slow calls: a place or a few a pass, another one each time
        cost = loop(self.call, keep[:1])
        self.places = len(keep) if cost < 1e5 else max(1, min(len(keep), int(2e7 / cost)))
        self.most_passes = 2 if cost > 5e8 else None
        self.ours, self.peer = [], []

    def load(self, ours, word="load"):
        return ours.ask(word, self.task, self.name, len(self.asked), inputs=self.asked)

    def one_pass(self, ours, number):
        if self.most_passes is not None and number >= self.most_passes:
            return
        count = len(self.keep)
        at = number * self.places % count
        stop = min(at + self.places, count)
        self.load(ours)
        self.ours.append(float(ours.ask("time", at, stop)[0]))
        places = self.keep[at:stop]
        cheap = loop(self.cheapest, places) if len(places) > 50 else 0.0
        self.peer.append(max(loop(self.call, places) - cheap, 0.0))

    def result(self):
        ours, peer = statistics.median(self.ours), statistics.median(self.peer)
        return self.task, self.name, ours, peer, peer / ours, self.difference


CHART = """
import json, sys, CoolProp
cells = gaps = 0
for names, fractions, top in json.loads(sys.argv[1]):
    state = CoolProp.AbstractState("HEOS", "&".join(names))
    if len(names) > 1:
        state.set_mole_fractions(fractions)
    top = 0.98 * (state.T_critical() if len(names) == 1 else top)
    for celsius in range(-50, 61, STEP):
        kelvin = celsius + 273.15
        if kelvin >= top or kelvin < state.Tmin():
            continue
        for quality in (0.0, 1.0):
            cells += 1
            try:
                state.update(CoolProp.QT_INPUTS, quality, kelvin)
                state.p()
            except ValueError:
                gaps += 1
print(cells, gaps)
"""
COLD = """
import time
begin = time.perf_counter_ns()
import CoolProp
middle = time.perf_counter_ns()
state = CoolProp.AbstractState("HEOS", "R134a")
state.update(CoolProp.QT_INPUTS, 0.0, 278.15)
state.p()
end = time.perf_counter_ns()
print(end - begin, end - middle)
"""


def timed(command):
    start = time.perf_counter_ns()
    out = subprocess.run(command, check=True, capture_output=True, text=True).stdout
    return time.perf_counter_ns() - start, out.split()


def chart_all(ours, passes, step):
    """Whole charts from process start; the peer takes every `step` kelvin, counted `step`-fold."""
    both, peer = [], []
    carried = ours.ask("list")
    blends = [name for name in carried if name.startswith(("R-4", "R-5"))]
    pures = [name for name in carried if name in CHART_PURES]
    for name in pures + blends:
        words = ours.ask("contents", name)
        if not words or (len(words) == 2 and len(both) >= 40):
            continue
        try:
            one = Peer(ours, name)
            one.saturated(0.8 * one.reducing, 0.0)
        except ValueError:
            continue
        both.append(name)
        names = [peer_name(x) for x in words[::2]]
        peer.append((names, [float(x) for x in words[1::2]], one.reducing))
    script = CHART.replace("STEP", str(step))
    mine, all_mine = [], []
    for _ in range(passes):
        mine.append(timed([ours.program, "chart", *both]))
    for _ in range(3):
        all_mine.append(timed([ours.program, "chart", *carried]))
    theirs = timed([sys.executable, "-c", script, json.dumps(peer)])
    start = timed([sys.executable, "-c", "import CoolProp"])[0]
    ns = statistics.median(t for t, _ in mine)
    peer_ns = start + (theirs[0] - start) * step
    every = statistics.median(t for t, _ in all_mine)
    note = (
        f"chart_all: {len(both)} refrigerants both can build; ours {mine[0][1][0]} cells, {mine[0][1][1]} gaps in "
        f"{ns / 1e9:.3f} s; peer every {step} K: {theirs[1][0]} cells, {theirs[1][1]} gaps in {theirs[0] / 1e9:.1f} s, "
        f"counted {step}-fold. All {len(carried)} carried: {all_mine[0][1][0]} cells, {all_mine[0][1][1]} gaps in "
        f"{every / 1e9:.3f} s."
    )
    return ("chart_all", "all", ns, peer_ns, peer_ns / ns, None), note


def cold_start(passes):
    program = TARGET / "release" / "zeotrope"
    shell = f'i=0; while [ $i -lt 20 ]; do "{program}" saturation R-134a --temperature 5C >/dev/null; i=$((i+1)); done'
    empty = shell.replace(f'"{program}" saturation R-134a --temperature 5C', "/bin/true")
    mine, bare, peer, state = [], [], [], []
    for k in range(passes):
        mine.append(timed(["/bin/sh", "-c", shell])[0] / 20)
        bare.append(timed(["/bin/sh", "-c", empty])[0] / 20)
        if k < 5:
            words = timed([sys.executable, "-c", COLD])[1]
            peer.append(int(words[0]))
            state.append(int(words[1]))
    ns, peer_ns = statistics.median(mine), statistics.median(peer)
    note = (
        f"cold_start: ours a whole process, {ns / 1e6:.2f} ms (an empty one here {statistics.median(bare) / 1e6:.2f} ms); "
        f"peer in a started interpreter, loading its library included; without that "
        f"{statistics.median(state) / 1e6:.1f} ms."
    )
    return ("cold_start", "R-134a", ns, peer_ns, peer_ns / ns, None), note


def builds(ours, rows):
    """What building curves costs, and after how many calls that is paid."""
    exact = {(row.task, row.name): row for row in rows}
    notes = []
    for row in rows:
        if row.task not in ("blend_bubble_pressure", "blend_dew_pressure"):
            continue
        took = float(row.load(ours, "build")[0])
        slow = exact.get((row.task + "_exact", row.name))
        if slow:
            saved = statistics.median(slow.ours) - statistics.median(row.ours)
            notes.append(
                f"{row.task} {row.name}: first {len(row.asked)} calls, curve built on the way, "
                f"{took / 1e3:.0f} µs; paid back after {took / saved:.0f} calls."
            )
    return notes


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--venv", help="virtual environment to use or make")
    parser.add_argument("--csv", help="write rows to a file, or - for standard output")
    parser.add_argument("--passes", type=int, default=3)
    parser.add_argument("--only", nargs="*", help="tasks to run")
    parser.add_argument("--chart-step", type=int, default=10, help="kelvin between the peer's chart rows")
    arguments = parser.parse_args()
    the_peer(arguments)
    chosen = [task for task, _ in TASKS if not arguments.only or task in arguments.only]
    began = time.monotonic()
    ours = Ours()
    rows = []
    for task in chosen:
        if task in ("chart_all", "cold_start"):
            continue
        names = BLENDS if "blend" in task else PURES
        if task == "pure_density_pT":
            names = [*names, "R-744"]
        rows += [Row(ours, task, name) for name in names]
    for number in range(arguments.passes):
        for row in rows:
            row.one_pass(ours, number)
    results = [row.result() for row in rows]
    notes = [
        f"{row.task} {row.name}: the peer has no answer at {row.left_out} of {len(row.inputs)} points, left out."
        for row in rows
        if row.left_out
    ]
    notes += [
        f"{row.task} {row.name}: at {row.other_root} points the peer answers another root of its own equation, left out."
        for row in rows
        if row.other_root
    ]
    notes += builds(ours, rows)
    if "chart_all" in chosen:
        row, note = chart_all(ours, arguments.passes, arguments.chart_step)
        results.append(row)
        notes.append(note)
    if "cold_start" in chosen:
        row, note = cold_start(arguments.passes)
        results.append(row)
        notes.append(note)
    show(results, notes, arguments, time.monotonic() - began)


def show(results, notes, arguments, took):
    goals = dict(TASKS)
    print("| task | rows | ours, median ns | peer, median ns | ratio, median | lowest | asked for | answers differ by |")
    print("|---|---|---|---|---|---|---|---|")
    for task in goals:
        rows = [row for row in results if row[0] == task]
        if not rows:
            continue
        ours, peer, ratio = (statistics.median(row[k] for row in rows) for k in (2, 3, 4))
        lowest = min(rows, key=lambda row: row[4])
        differ = max((row[5] for row in rows if row[5] is not None), default=None)
        differ = "" if differ is None else f"{differ:.1e}"
        print(
            f"| `{task}` | {len(rows)} | {ours:.4g} | {peer:.4g} | {ratio:.1f} | {lowest[4]:.1f} ({lowest[1]}) "
            f"| {goals[task]} | {differ} |"
        )
    print()
    print(f"{arguments.passes} passes in turn, one thread, {took:.0f} s. Where the peer takes less than 5000 ns its time")
    print("still holds the call from Python: an upper bound for it. Of calls over 0.5 s there are 2 passes.")
    for note in notes:
        print("-", note)
    if arguments.csv:
        target = sys.stdout if arguments.csv == "-" else open(arguments.csv, "w", newline="")
        sheet = csv.writer(target, lineterminator="\n")
        sheet.writerow(["task", "refrigerant", "ours_ns", "peer_ns", "ratio", "max_rel_diff"])
        for task, name, ours, peer, ratio, differ in results:
            differ = "" if differ is None else f"{differ:.3e}"
            sheet.writerow([task, name, f"{ours:.2f}", f"{peer:.2f}", f"{ratio:.2f}", differ])


if __name__ == "__main__":
    main()
