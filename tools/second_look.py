"""A second look at two files through another library, which did not copy its coefficients from the first.

Cantera (BSD licence; thanks to its authors) codes R-134a by the same equation of Tillner-Roth & Baehr 1994 and carbon
dioxide by an older one of Reynolds 1979. Pressure, cv and the difference of enthalpy from a first state are compared
at single-phase states (not cp, which it finds by differences). R-134a has to agree to 1e-6, carbon dioxide to what two
different equations can: 1 % in a gas below 0.3 of the critical density.

Run with `pip install cantera==3.2.0` beside the packages of requirements.txt.
"""

import random
import sys

import cantera
import mpmath as mp
import yaml

import helmholtz
import tables


def evaluate(record, temperature, density):
    """Pressure, cv and enthalpy by mass at a temperature in K and density in kg/m3."""
    r, mass = record["gas_constant_J_mol_K"], record["molar_mass_kg_mol"]
    at = record["reducing"]
    tau = at["temperature_K"] / temperature
    delta = density / mass / at["density_mol_m3"]
    gas = helmholtz.derivatives(
        lambda x: helmholtz.ideal_without_density(record["ideal_gas"], at["temperature_K"], x), tau
    )
    a = helmholtz.derivatives(lambda x, y: helmholtz.residual(record["residual"], x, y), tau, delta)
    _, a_tau, a_delta, a_tau_tau, _, _ = a
    pressure = density / mass * r * temperature * (1 + delta * a_delta)
    cv = -(tau**2) * (gas[2] + a_tau_tau) * r / mass
    enthalpy = r * temperature * (1 + tau * (gas[1] + a_tau) + delta * a_delta) / mass
    return pressure, cv, enthalpy


def look(designation, fluid, states, limit):
    """Prints and judges the largest difference over the states."""
    with open(f"{tables.ROOT}/fluids/pure/{designation}.yaml", encoding="utf-8") as stream:
        record = yaml.safe_load(stream)
    worst, zero = 0.0, None
    for temperature, density in states:
        fluid.TD = temperature, density
        ours = evaluate(record, temperature, density)
        theirs = fluid.P, fluid.cv_mass, fluid.enthalpy_mass
        if zero is None:
            zero = ours[2], theirs[2]
        pairs = [*zip(ours[:2], theirs[:2], strict=True)]
        worst = max(worst, *(abs(float(a / b) - 1) for a, b in pairs))
        difference = (ours[2] - zero[0]) - (theirs[2] - zero[1])
        worst = max(worst, abs(float(difference)) / 2e5)
    print(f"{designation}: {len(states)} states, largest difference {worst:.1e} (limit {limit:g})")
    return worst <= limit


def main():
    mp.mp.dps = 30
    draw = random.Random(1)
    # above the critical temperature every density is one phase
    hot = [(draw.uniform(380, 450), draw.uniform(5, 900)) for _ in range(20)]
    gas = [(draw.uniform(320, 600), draw.uniform(2, 140)) for _ in range(20)]
    fine = look("R-134a", cantera.Hfc134a(), hot, 1e-6)
    fine &= look("R-744", cantera.CarbonDioxide(), gas, 1e-2)
    return 0 if fine else 1


if __name__ == "__main__":
    sys.exit(main())
