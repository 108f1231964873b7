#!/usr/bin/env python3
"""Fits the short formulas from which `src/refrigerant/quick.rs` starts, to CoolProp 8.0.0 (MIT licence;
thanks to its authors). They are starts and no more: no answer rests on them.

    tools/starts.py

Prints the coefficients of 1 - Z below the saturation pressure, and of the powers with which the
departures of enthalpy and of Z fall with temperature on an isobar, with what they leave.
"""

import random

import CoolProp
import numpy as np

FLUIDS = """R134a R32 Propane R1234yf R125 R22 R152A R1234ze(E) IsoButane R143a R245fa CO2 Ammonia""".split()
POINTS = 300


def saturated(state, temperature):
    """p, 1 - Z and residual enthalpy over R T of the saturated vapour."""
    state.update(CoolProp.QT_INPUTS, 1, temperature)
    rt = state.gas_constant() * temperature
    return state.p(), 1 - state.p() / (state.rhomolar() * rt), -state.hmolar_residual() / rt


def beside(state, temperature, pressure):
    """The same of a vapour that is not saturated."""
    state.update(CoolProp.PT_INPUTS, pressure, temperature)
    rt = state.gas_constant() * temperature
    return 1 - pressure / (state.rhomolar() * rt), -state.hmolar_residual() / rt


def fit(name, columns, values, weights):
    matrix = np.stack(columns, 1)
    found, *_ = np.linalg.lstsq(matrix * weights[:, None], values * weights, rcond=None)
    left = np.abs(values - matrix @ found) * weights
    print(name, found.round(3), f"leaves {np.sqrt((left**2).mean()):.2g} rms, {np.median(left):.2g} median")


def main():
    numbers = random.Random(3)
    below, hotter = [], []
    for fluid in FLUIDS:
        state = CoolProp.AbstractState("HEOS", fluid)
        critical, coldest = state.T_critical(), state.Tmin()
        for _ in range(POINTS):
            temperature = numbers.uniform(max(coldest, 0.6 * critical), 0.97 * critical)
            pressure, x, _ = saturated(state, temperature)
            part = numbers.uniform(0.05, 0.99)
            below.append((x, part, beside(state, temperature, part * pressure)[0] / (x * part)))
            dew = numbers.uniform(max(coldest, 0.6 * critical), 0.95 * critical)
            pressure, x, h = saturated(state, dew)
            ratio = numbers.uniform(1.02, 1.35)
            there_x, there_h = beside(state, ratio * dew, pressure)
            of_h = np.log(h / (ratio * there_h)) / np.log(ratio)
            hotter.append((x, h / x, ratio - 1, of_h, np.log(x / there_x) / np.log(ratio)))
    x, part, y = np.array(below).T
    bend = (1 - y) / (1 - part)
    fit("bend: x, x2, x2 part, x2 part2", [x, x * x, x * x * part, x * x * part**2], bend,
        x * x * part * (1 - part) / (1 - x * part) / x)
    x, r, t, of_h, of_z = np.array(hotter).T
    columns = [np.ones_like(x), r, x, t * x, t * r, t]
    fit("power of enthalpy: 1, r, x, t x, t r, t", columns, of_h, np.ones_like(x))
    fit("power of 1 - Z:    1, r, x, t x, t r, t", columns, of_z, np.ones_like(x))


if __name__ == "__main__":
    main()
