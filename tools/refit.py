"""Refits betaT and gammaT of pairs that miss measured bubble points, vapors included; see `tools/README.md`.

refit.py            fits, prints what it found, writes `tools/data/refitted.csv`
refit.py --check    fits, and shows whether that is what the committed table holds

The model evaluated is the project's own: `cargo build --release --example bubble_pressures` before.
"""

import argparse
import collections
import math
import os
import subprocess
import sys

import numpy
from scipy.optimize import least_squares

import mixtures
import tables

MISSES = 3.0  # % rms in pressure from which on a pair is refitted
ENOUGH = 25  # unsuspected points that must stand against it
GAIN = 0.8  # rms of points held back, over that of the published pair, that a refit must not exceed
# Nor may any group held back get worse: then the points disagree with one another more than with the pair.
POINT = 0.02  # how far a good measured point may lie, in ln p; farther ones count less and less
VAPOR = 0.01  # the same of a mole fraction in the vapor: the median of the uncertainties that papers state
NEAR_CRITICAL = 0.95  # of the reducing temperature: from here on a vapor tests the critical region, not the pair
PRIOR = (0.02, 0.05)  # how far betaT and gammaT may lie from the published ones
NO_POINT = 5.0  # weighted deviation of a point at which the model has no bubble point
COLDEST = 213.15  # K, the coldest that blends are answered and where liquids part first
ISOTHERM = 2.0  # K: points nearer than this to each other are held back together
TABLE = os.path.join(tables.HERE, "data", "refitted.csv")
COLUMNS = ["first", "second", "beta_t", "gamma_t", "points", "papers", "rms_before_percent", "rms_after_percent"]

# y_first is nan where no vapor was measured or its set is suspect.
Point = collections.namedtuple("Point", "temperature pressure x_first doi y_first")


class Pair:
    """A pair with its unsuspected points, all in the order of the pair's file."""

    def __init__(self, program, record, points):
        self.program, self.points = program, points
        self.first, self.second = record["first"], record["second"]
        self.source = record["source"]
        self.published = (record["reducing"]["beta_t"], record["reducing"]["gamma_t"])
        self.before = self.deviations(self.published, points)
        self.turns = self.turns_of(self.published)

    def deviations(self, parameters, points):
        """ln of the model's over the measured pressure, and model minus measured vapor; nan where there is none.

        A column of points each, so that a group of them is picked by place.
        """
        beta, gamma = map(float, parameters)
        head = "first,second,beta_t,gamma_t,T_K,x_first\n"
        rows = "".join(
            f"{self.first},{self.second},{beta!r},{gamma!r},{p.temperature!r},{p.x_first!r}\n" for p in points
        )
        answer = subprocess.run([self.program], input=head + rows, capture_output=True, text=True, check=True)
        found = numpy.array([float(word) for word in answer.stdout.split()]).reshape(len(points), 3).T
        vapors = found[1] - [p.y_first for p in points]
        vapors[~(found[2] < NEAR_CRITICAL)] = math.nan
        return numpy.array([numpy.log(found[0] / [p.pressure for p in points]), vapors])

    def turns_of(self, parameters):
        """How often the bubble pressure turns along the composition when cold: twice more where the liquid parts."""
        grid = [Point(COLDEST, 1.0, float(x), "", math.nan) for x in numpy.linspace(0.02, 0.98, 97)]
        found = self.deviations(parameters, grid)[0]
        rises = numpy.sign(numpy.diff(found[~numpy.isnan(found)]))
        return int(numpy.count_nonzero(numpy.diff(rises)))

    def fit(self, points):
        """betaT and gammaT nearest to the points and to the published values.

        On the straight way there they go only as far as no liquid parts that the published ones leave whole: nobody
        measured that, and two parameters fitted to warmer points cannot tell.
        """
        whole = self.nearest(points)
        for part in range(20, -1, -1):
            way = zip(self.published, whole, strict=True)
            found = tuple(round(a + (b - a) * part / 20, 5) for a, b in way)
            if self.turns_of(found) <= self.turns:
                return found
        return self.published

    def nearest(self, points):
        """betaT and gammaT of the least squares alone."""

        def weighted(parameters):
            pressures, vapors = self.deviations(parameters, points)
            own = numpy.append(
                numpy.nan_to_num(pressures / POINT, nan=NO_POINT), numpy.nan_to_num(vapors / VAPOR, nan=0.0)
            )
            return numpy.append(own, (parameters - numpy.array(self.published)) / PRIOR)

        def loss(squares):
            # Of a point: 2 (sqrt(1 + z) - 1), which grows with the deviation and not with its square once that is
            # above POINT, so that a bad point or set does not drag the rest. Of the prior: the square itself.
            root = numpy.sqrt(1 + squares)
            robust = numpy.array([2 * (root - 1), 1 / root, -0.5 / root**3])
            robust[:, -2:] = [squares[-2:], [1, 1], [0, 0]]
            return robust

        # Steps of 1e-5 stand well above the last digits of a solved pressure.
        found = least_squares(weighted, self.published, loss=loss, diff_step=1e-5, x_scale=PRIOR)
        return tuple(map(float, found.x))

    def groups(self):
        """Points held back together: those of a paper; of one paper alone, those of an isotherm."""
        if len({p.doi for p in self.points}) > 1:
            return "paper", [p.doi for p in self.points]
        order = sorted(p.temperature for p in self.points)
        edges = [high for low, high in zip(order, order[1:]) if high - low > ISOTHERM]
        return "isotherm", [sum(p.temperature >= edge for edge in edges) for p in self.points]

    def held_back(self):
        """Deviations at each group of points, of a fit to all the others, group by group."""
        what, labels = self.groups()
        found = {}
        for label in sorted(set(labels)):
            chosen = [i for i, one in enumerate(labels) if one == label]
            others = [p for p, one in zip(self.points, labels, strict=True) if one != label]
            found[label] = (chosen, self.deviations(self.fit(others), [self.points[i] for i in chosen]))
        return what, found


def rms(deviations):
    """Root mean square in % of pressure, of the points that have an answer."""
    pressures = deviations[0]
    percents = (numpy.exp(pressures[~numpy.isnan(pressures)]) - 1) * 100
    return math.sqrt(numpy.mean(percents**2)) if len(percents) else math.nan


def vapors():
    """The unsuspected vapors by pair and point."""
    found = {}
    for row in tables.read("measured_vapors.csv", os.path.join(tables.ROOT, "tests", "data")):
        if not row["suspect"]:
            key = (row["first"], row["second"], float(row["T_K"]), float(row["p_Pa"]), float(row["x_first"]))
            found[key] = float(row["y_first"])
    return found


def measured():
    """The unsuspected points by (first, second), as the table orders them."""
    known = vapors()
    found = collections.defaultdict(list)
    for row in tables.read("measured_bubble_points.csv", os.path.join(tables.ROOT, "tests", "data")):
        if not row["note"]:
            key = (row["first"], row["second"], float(row["T_K"]), float(row["p_Pa"]), float(row["x_first"]))
            found[key[:2]].append(Point(*key[2:], row["doi"], known.get(key, math.nan)))
    return found


def turned(point):
    """A point with its components in the other order."""
    return point._replace(x_first=1 - point.x_first, y_first=1 - point.y_first)


def candidates(program):
    """Pairs that miss their points, and a sentence for each that misses and is not refitted."""
    known = mixtures.pairs()
    for (first, second), points in measured().items():
        record = known.get((first, second))
        if record is None and (record := known.get((second, first))):
            points = [turned(p) for p in points]
        pair = Pair(program, record or mixtures.unpublished(first, second), points)
        if (missed := rms(pair.before)) <= MISSES:
            continue
        if len(points) < ENOUGH:
            print(f"{pair.first} + {pair.second}: rms {missed:.1f} %, but {len(points)} points only; not refitted")
            continue
        yield pair


def rms_of_vapors(deviations):
    """Root mean square of the mole fraction in the vapor, of the points that have one."""
    known = deviations[1][~numpy.isnan(deviations[1])]
    return math.sqrt(numpy.mean(known**2)) if len(known) else math.nan


def blends_with(pair):
    """Designations of the blends carried that hold both components."""
    parts = lambda blend: {component["refrigerant"] for component in blend["components"]}
    carried = [blend for blend in mixtures.blends() if not blend["refused"]]
    return [blend["designation"] for blend in carried if {pair.first, pair.second} <= parts(blend)]


def judge(pair):
    """Prints what a refit does to points that it did not see; a row of the table if they get better."""
    print(f"{pair.first} + {pair.second}: {len(pair.points)} points; {pair.source}")
    what, found = pair.held_back()
    before = numpy.concatenate([pair.before[:, chosen] for chosen, _ in found.values()], axis=1)
    after = numpy.concatenate([deviations for _, deviations in found.values()], axis=1)
    parameters = pair.fit(pair.points)
    own = pair.deviations(parameters, pair.points)
    for label, (chosen, deviations) in found.items():
        temperatures = [pair.points[i].temperature for i in chosen]
        name = label if what == "paper" else f"{min(temperatures):.2f} K"
        print(
            f"  {what} {name}: {len(chosen)} points, rms published {rms(pair.before[:, chosen]):.2f} %, "
            f"refitted without them {rms(deviations):.2f} %, with them {rms(own[:, chosen]):.2f} %"
        )
    middle = lambda deviations: numpy.nanmedian(numpy.abs(deviations[0])) * 100
    vapors_before, vapors_after = rms_of_vapors(before), rms_of_vapors(after)
    print(
        f"  held back: rms {rms(before):.2f} -> {rms(after):.2f} %, median {middle(before):.2f} -> {middle(after):.2f} %, "
        f"vapors {vapors_before:.4f} -> {vapors_after:.4f}"
    )
    print(
        f"  betaT {pair.published[0]} -> {parameters[0]}, gammaT {pair.published[1]} -> {parameters[1]}, "
        f"rms of all {rms(pair.before):.2f} -> {rms(own):.2f} %"
    )
    print(f"  listed blends with this pair: {', '.join(blends_with(pair)) or 'none'}")
    worse = sum(rms(deviations) > rms(pair.before[:, chosen]) for chosen, deviations in found.values())
    if rms(after) > GAIN * rms(before) or middle(after) > middle(before):
        print("  published values kept: points held back gain too little")
        return None
    if vapors_after > vapors_before:
        print("  published values kept: vapors held back get worse")
        return None
    if worse:
        print(f"  published values kept: {worse} of {len(found)} groups get worse when held back")
        return None
    print("  refitted")
    return {
        "first": pair.first,
        "second": pair.second,
        "beta_t": parameters[0],
        "gamma_t": parameters[1],
        "points": len(pair.points),
        "papers": " ".join(sorted({p.doi for p in pair.points})),
        "rms_before_percent": round(rms(pair.before), 2),
        "rms_after_percent": round(rms(own), 2),
    }


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--check", action="store_true", help="compare with the committed table")
    target = os.environ.get("CARGO_TARGET_DIR", os.path.join(tables.ROOT, "target"))
    usual = os.path.join(target, "release", "examples", "bubble_pressures")
    parser.add_argument("--program", default=usual, help="the built example")
    options = parser.parse_args()
    rows = [row for pair in candidates(options.program) if (row := judge(pair))]
    text = [",".join(COLUMNS)] + [",".join(str(row[key]) for key in COLUMNS) for row in rows]
    if options.check:
        same = open(TABLE, encoding="utf-8").read().splitlines() == text
        print("the committed table is what this tool writes" if same else "the committed table differs")
        return 0 if same else 1
    with open(TABLE, "w", encoding="utf-8", newline="\n") as stream:
        stream.write("\n".join(text) + "\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
