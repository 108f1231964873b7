"""Writes tests/data/water_and_ice.csv: saturation and sublimation pressures of water from a general-purpose open library.

    python tools/water_and_ice.py

Above the triple point the library is asked for the saturation line of IAPWS-95, below it for its sublimation equation.
"""

import csv
import os

import iapws
from iapws._iapws import _Sublimation_Pressure

ICE = [180.0, 200.0, 220.0, 230.0, 240.0, 250.0, 260.0, 265.0, 270.0, 273.0]
WATER = [273.16, 275.0, 280.0, 290.0, 300.0, 310.0, 325.0, 350.0]


def main():
    """Asks the library for every temperature and writes what it answers."""
    rows = [["ice", t, f"{_Sublimation_Pressure(t) * 1e6:.9g}"] for t in ICE]
    rows += [["water", t, f"{iapws.IAPWS95(T=t, x=1).P * 1e6:.9g}"] for t in WATER]
    path = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "tests", "data", "water_and_ice.csv")
    with open(path, "w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["phase", "temperature_K", "pressure_Pa"])
        writer.writerows(rows)
    print(len(rows), "rows by iapws", iapws.__version__)


if __name__ == "__main__":
    main()
