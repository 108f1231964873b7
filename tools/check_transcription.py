"""Compares every committed pure file with the library that it was transcribed from.

Each file is read back and evaluated by `helmholtz.py`, apart from the code that wrote it. At three states a fluid the
ideal-gas and the residual part and their derivatives to second order must agree to 1e-12.
"""

import sys

import CoolProp.CoolProp as CP
import mpmath as mp
import yaml

import helmholtz
import pure_fluids

LIMIT = 1e-12
# (Tc/T, rho/rhor): a liquid, a gas, a state above the critical point, none at a centre of the non-analytic terms.
STATES = [(1.45, 2.55), (1.18, 0.043), (0.83, 1.37)]


def loaded(designation):
    """One committed file."""
    path = f"{pure_fluids.tables.ROOT}/fluids/pure/{designation}.yaml"
    with open(path, encoding="utf-8") as stream:
        return yaml.safe_load(stream)


def worst(found, expected, size=0.0):
    """Largest difference, relative above 1 and absolute below.

    `size` is the sum of the terms' magnitudes. Where it is above 1000 (R-22's terms cancel from 5570 to 3.9) the
    library's own rounding in doubles comes near the limit, so differences are taken relative to a thousandth of it.
    """
    return max(abs(a - b) / max(1.0, abs(b), size / 1000) for a, b in zip(found, expected, strict=True))


def size_of(groups, tau, delta):
    """Sum of the magnitudes of all residual terms."""
    total = 0.0
    for shape, group in groups.items():
        for index in range(len(group["n"])):
            one = {shape: {key: [column[index]] for key, column in group.items()}}
            total += abs(float(helmholtz.residual(one, mp.mpf(tau), mp.mpf(delta))))
    return total


def compare(fluid):
    """Largest differences (ideal gas, residual) over all states."""
    record = loaded(fluid.designation)
    at = record["reducing"]
    library = CP.AbstractState("HEOS", fluid.library_name)
    library.specify_phase(CP.iphase_gas)
    ideal, rest = 0.0, 0.0
    for tau, delta in STATES:
        library.update(CP.DmolarT_INPUTS, delta * at["density_mol_m3"], at["temperature_K"] / tau)
        tau, delta = library.tau(), library.delta()
        expected = [library.alpha0() - float(mp.log(delta)), library.dalpha0_dTau(), library.d2alpha0_dTau2()]
        gas = dict(record["ideal_gas"])
        if fluid.designation == "R-245fa":
            # Undoes the one correction, to see that it is the only difference.
            theta = gas["planck_einstein"]["theta"]
            gas["planck_einstein"] = {**gas["planck_einstein"], "theta": [v * 427.01 / 427.16 for v in theta]}
        found = helmholtz.derivatives(
            lambda x, gas=gas: helmholtz.ideal_without_density(gas, at["temperature_K"], x), tau
        )
        ideal = max(ideal, worst(found, expected))
        expected = [
            library.alphar(), library.dalphar_dTau(), library.dalphar_dDelta(),
            library.d2alphar_dTau2(), library.d2alphar_dDelta_dTau(), library.d2alphar_dDelta2(),
        ]
        found = helmholtz.derivatives(lambda x, y: helmholtz.residual(record["residual"], x, y), tau, delta)
        rest = max(rest, worst(found, expected, size_of(record["residual"], tau, delta)))
    return ideal, rest


def main():
    failed = 0
    fluids = pure_fluids.all_fluids()
    for fluid in fluids:
        ideal, rest = compare(fluid)
        bad = not (ideal < LIMIT and rest < LIMIT)
        failed += bad
        print(f"{fluid.designation:14} ideal gas {ideal:8.1e}  residual {rest:8.1e}{'  ABOVE' if bad else ''}")
    print(f"{len(fluids)} fluids, {failed} above {LIMIT:g}")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
