"""Turns the tables of pairs, departure functions and blends into the mappings of their files."""

import itertools
import re

import tables

LARGEST_TOLERANCE = 2.5
SHAPES = {
    "power": ("n", "t", "d"),
    "exponential": ("n", "t", "d", "l"),
    "gaussian": ("n", "t", "d", "eta", "epsilon", "beta", "gamma"),
    "gerg-bell": ("n", "t", "d", "eta", "epsilon", "beta", "gamma"),
}
UNKNOWN = "Nothing is published for this pair and nothing was fitted: all four parameters 1, about 3 K either way."


def departures():
    """A mapping a departure function, by name."""
    found = {}
    for row in tables.read("departures.csv"):
        record = found.setdefault(row["departure"], {"name": row["departure"], "residual": {}, "source": row["source"]})
        group = record["residual"].setdefault(row["shape"].replace("-", "_"), {})
        for key in SHAPES[row["shape"]]:
            group.setdefault(key, []).append(float(row[key]))
    return found


def pairs():
    """A mapping a pair, published and estimated, by (first, second)."""
    found = {}
    for row in tables.read("pairs.csv"):
        found[row["first"], row["second"]] = {
            "first": row["first"],
            "second": row["second"],
            "kind": row["kind"],
            "reducing": {
                "beta_t": float(row["betaT"]), "gamma_t": float(row["gammaT"]),
                "beta_v": float(row["betaV"]), "gamma_v": float(row["gammaV"]),
            },
            "departure": row["departure"] or None,
            "departure_factor": float(row["F"]) if row["departure"] else None,
            "source": row["source"],
            "remark": row["remark"] or None,
        }
    for row in tables.read("estimated_pairs.csv"):
        key = (row["first"], row["second"])
        if key in found or key[::-1] in found:
            raise ValueError(f"{key}: both published and estimated")
        blends = ", ".join(row["blends"].split())
        fitted = (
            f"Estimated: gamma_t alone, fitted together with the other estimated pairs to the bubble and dew points at "
            f"101.325 kPa of {blends} (ASHRAE Handbook Fundamentals 2021, ch. 29, Table 2); "
            f"not a fit to measured mixtures."
        )
        found[key] = {
            "first": row["first"],
            "second": row["second"],
            "kind": "estimated",
            "reducing": {
                "beta_t": 1.0, "gamma_t": float(row["gammaT"] or 1.0), "beta_v": 1.0, "gamma_v": 1.0,
            },
            "source": fitted if row["gammaT"] else "Estimated: Lorentz-Berthelot combining rules.",
            "remark": None if row["gammaT"] else UNKNOWN,
        }
    return found


def unpublished(first, second):
    """The mapping of a pair of which nothing is published, before a fit to measured points."""
    return {
        "first": first,
        "second": second,
        "kind": "estimated",
        "reducing": {"beta_t": 1.0, "gamma_t": 1.0, "beta_v": 1.0, "gamma_v": 1.0},
        "source": "Estimated: Lorentz-Berthelot combining rules.",
    }


def with_refits(found):
    """The pairs, and those of which `refit.py` alone knows."""
    for row in tables.read("refitted.csv"):
        key = (row["first"], row["second"])
        if key[::-1] in found:
            raise ValueError(f"{key}: the pair's file has the other order")
        found.setdefault(key, unpublished(*key))
    return found


def with_measurements(found):
    """Adds to the pairs what `refit.py` and `measured.py` found: `refitted` after `reducing`, `measured` last."""
    found = with_refits(found)
    by_pair = lambda name: {(row["first"], row["second"]): row for row in tables.read(name)}
    refitted, measured, vapors = map(by_pair, ("refitted.csv", "measured.csv", "measured_vapors.csv"))
    if strangers := (measured.keys() | vapors.keys()) - found.keys():
        raise ValueError(f"no pair in this order: {sorted(strangers)}")
    for key, record in found.items():
        ordered = {}
        for name, value in record.items():
            ordered[name] = value
            if name == "reducing" and key in refitted:
                ordered["refitted"] = refit_block(refitted[key])
        if key in measured:
            row = measured[key]
            counts = {name: int(row[name]) for name in ("points", "papers")}
            deviations = ("bias_percent", "rms_percent", "bias_K", "rms_K")
            ordered["measured"] = counts | {name: float(row[name]) for name in deviations}
        if key in vapors:
            row = vapors[key]
            counts = {name: int(row[name]) for name in ("points", "papers")}
            deviations = ("bias_y", "rms_y", "relative_volatility_percent")
            ordered["measured_vapors"] = counts | {name: float(row[name]) for name in deviations}
        found[key] = ordered
    return found


def refit_block(row):
    """The mapping of a row of `refitted.csv`."""
    return {
        "beta_t": float(row["beta_t"]),
        "gamma_t": float(row["gamma_t"]),
        "papers": row["papers"].split(),
        "points": int(row["points"]),
        "rms_before_percent": float(row["rms_before_percent"]),
        "rms_after_percent": float(row["rms_after_percent"]),
    }


def tolerance(text):
    """`±2` or `+0.5,-1.5` as [below, above]."""
    if match := re.fullmatch(r"±([\d.]+)", text):
        value = float(match.group(1))
        return [value, value]
    if match := re.fullmatch(r"\+([\d.]+),-?([\d.]+)", text):
        return [float(match.group(2)), float(match.group(1))]
    raise ValueError(f"a tolerance of the form {text!r}")


def check_tolerances(designation, nominal, limits, rules):
    """Refuses tolerances above 2.5 mass % and boxes in which no corner but the nominal point sums to 100."""
    if max(max(pair) for pair in limits) > LARGEST_TOLERANCE:
        raise ValueError(f"{designation}: a tolerance above {LARGEST_TOLERANCE} mass %")
    corners = 0
    for free in range(len(nominal)):
        others = [i for i in range(len(nominal)) if i != free]
        for signs in itertools.product((0, 1), repeat=len(others)):
            point = list(nominal)
            for index, sign in zip(others, signs, strict=True):
                point[index] += limits[index][1] if sign else -limits[index][0]
            point[free] = 100 - sum(point[i] for i in others)
            inside = nominal[free] - limits[free][0] - 1e-9 <= point[free] <= nominal[free] + limits[free][1] + 1e-9
            sums = all(
                -below - 1e-9 <= sum(point[i] - nominal[i] for i in members) <= above + 1e-9
                for members, (below, above) in rules
            )
            corners += inside and sums and min(point) >= 0
    if not corners:
        raise ValueError(f"{designation}: no corner of the tolerances sums to 100")


def blends():
    """A mapping a blend, in the standard's order."""
    found = []
    for row in tables.read("blends.csv"):
        designation = row["designation"]
        names = row["components"].split("/")
        nominal = [float(v) for v in row["mass_percent"].split("/")]
        if len(names) != len(nominal) or abs(sum(nominal) - 100) > 1e-9:
            raise ValueError(f"{designation}: contents that do not sum to 100")
        limits = [tolerance(t) for t in row["tolerances"].split("/")] if row["tolerances"] else [None] * len(names)
        rule = None
        if row["sum_rule"]:
            members, limit = row["sum_rule"].split(":")
            rule = {"refrigerants": members.split("+"), "tolerance_mass_percent": tolerance(limit)}
        if row["tolerances"]:
            indices = [([names.index(m) for m in rule["refrigerants"]], rule["tolerance_mass_percent"])] if rule else []
            check_tolerances(designation, nominal, limits, indices)
        sourced = lambda key, source, convert: (
            {"value": convert(row[key]), "source": row[source]} if row[key] else None
        )
        found.append({
            "designation": designation,
            "components": [
                {"refrigerant": n, "mass_percent": m, "tolerance_mass_percent": t}
                for n, m, t in zip(names, nominal, limits, strict=True)
            ],
            "sum_rule": rule,
            "safety_class": sourced("safety_class", "safety_class_source", str),
            "bubble_C": sourced("bubble_C", "values_source", float),
            "dew_C": sourced("dew_C", "values_source", float),
            "fitted_to_these_values": True if row["bubble_C"] and not row["refused"] and fitted(designation) else None,
            "refused": row["refused"] or None,
            "warning": row["warning"] or None,
        })
    return found


def fitted(designation):
    """True where an estimated pair of the blend was fitted to its published bubble and dew points."""
    return any(row["gammaT"] and designation in row["blends"].split() for row in tables.read("estimated_pairs.csv"))
