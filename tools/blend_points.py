"""Writes tests/data/blend_points.csv: bubble and dew pressures of blends from a general-purpose open library.

    python tools/blend_points.py

The library is asked with its own equations and pair parameters, at the mole fractions written into the file (five
digits, so that both sides have the very same composition). Points at which it finds no answer, or at which the bubble
pressure does not exceed the dew pressure, are left out and counted on the terminal.
"""

import csv
import os

import CoolProp
import CoolProp.CoolProp as coolprop

# Names by ISO 817 with mole fractions near those of the listed blends R-410A, R-407C, R-454B, R-513A, R-448A, R-32/R-134a,
# R-507A, and R-515B, R-1234yf/R-1234ze(E).
BLENDS = [
    (["R-32", "R-125"], [0.69761, 0.30239]),
    (["R-32", "R-125", "R-134a"], [0.38110, 0.17956, 0.43934]),
    (["R-32", "R-1234yf"], [0.82916, 0.17084]),
    (["R-1234yf", "R-134a"], [0.53000, 0.47000]),
    (["R-32", "R-125", "R-1234yf", "R-134a", "R-1234ze(E)"], [0.43, 0.19, 0.15, 0.18, 0.05]),
    (["R-32", "R-134a"], [0.45, 0.55]),
    (["R-125", "R-143a"], [0.41184, 0.58816]),
    (["R-1234ze(E)", "R-227ea"], [0.93852, 0.06148]),
    (["R-1234yf", "R-1234ze(E)"], [0.5, 0.5]),
]
TEMPERATURES = [223.15, 243.15, 263.15, 283.15, 303.15, 323.15, 333.15]
COLUMNS = ["components", "mole_fractions", "temperature_K", "bubble_pressure_Pa", "dew_pressure_Pa"]


def main():
    """Asks the library for every blend and temperature and writes what it answers."""
    coolprop.set_config_bool(coolprop.NORMALIZE_GAS_CONSTANTS, False)
    rows, missing = [], 0
    for names, fractions in BLENDS:
        library_names = "&".join(name.replace("-", "") for name in names)
        state = coolprop.AbstractState("HEOS", library_names)
        state.set_mole_fractions(fractions)
        for temperature in TEMPERATURES:
            pressures = []
            for quality in (0.0, 1.0):
                try:
                    state.update(coolprop.QT_INPUTS, quality, temperature)
                    pressures.append(state.p())
                except ValueError as error:
                    print(library_names, temperature, quality, str(error)[:100])
            if len(pressures) < 2 or not pressures[0] > pressures[1] * (1 - 1e-9):
                missing += 1
                print("left out:", library_names, temperature, pressures)
                continue
            rows.append(
                ["/".join(names), "/".join(f"{x:.5f}" for x in fractions), temperature]
                + [f"{pressure:.9g}" for pressure in pressures]
            )
    path = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "tests", "data", "blend_points.csv")
    with open(path, "w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(COLUMNS)
        writer.writerows(rows)
    print(f"{len(rows)} rows, {missing} left out, library {CoolProp.__version__}")


if __name__ == "__main__":
    main()
