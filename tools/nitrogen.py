"""Writes tests/data/nitrogen_density.csv: density of nitrogen over the range of a pressure test, by two other equations.

Neither is the one carried (Span et al. 2000): Cantera codes that of Reynolds 1979, pyaga8 that of GERG-2008 (Kunz &
Wagner 2012), which serves natural gas. Thanks to the authors of both (BSD and MIT licence).

Run with `pip install cantera==3.2.0 pyaga8==0.1.18`.
"""

import csv
import os

import cantera
import pyaga8

TEMPERATURES = [253.15, 273.15, 293.15, 313.15, 333.15]
PRESSURES = [101325.0, 1e6, 3e6, 5e6]


def reynolds():
    """Density in kg/m3 at a temperature in K and a pressure in Pa, by Cantera."""
    gas = cantera.Nitrogen()

    def density(temperature, pressure):
        gas.TP = temperature, pressure
        return gas.density

    return density


def gerg():
    """As above, by pyaga8, which counts in kPa, mol/L and g/mol."""
    nitrogen = pyaga8.Composition()
    nitrogen.nitrogen = 1.0
    gas = pyaga8.Gerg2008()
    gas.set_composition(nitrogen)
    gas.calc_molar_mass()

    def density(temperature, pressure):
        gas.temperature, gas.pressure = temperature, pressure / 1e3
        gas.calc_density(0)
        return gas.d * gas.mm

    return density


def main():
    """Asks both at every state and writes what they answer."""
    rows = [
        [name, t, p, f"{density(t, p):.7g}"]
        for name, density in [("Reynolds", reynolds()), ("GERG-2008", gerg())]
        for t in TEMPERATURES
        for p in PRESSURES
    ]
    path = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "tests", "data", "nitrogen_density.csv")
    with open(path, "w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["equation", "temperature_K", "pressure_Pa", "density_kg_m3"])
        writer.writerows(rows)
    print(len(rows), "rows by cantera", cantera.__version__, "and pyaga8")


if __name__ == "__main__":
    main()
