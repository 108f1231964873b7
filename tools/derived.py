#!/usr/bin/env python3
"""Writes tests/data/derived.csv: compressibility, expansion and slopes of the pressure in one phase,
computed with CoolProp 8.0.0 (MIT licence; thanks to its authors).

    tools/derived.py [--check]
"""

import csv
import importlib.metadata
import io
import sys
from pathlib import Path

import CoolProp

FILE = Path(__file__).resolve().parent.parent / "tests" / "data" / "derived.csv"
VERSION = "8.0.0"
# refrigerant, the library's fluids, mole fractions, K, Pa: liquid, vapor, dense gas
STATES = [
    ("R-134a", ["R134a"], [1.0], 260.0, 2e6),
    ("R-134a", ["R134a"], [1.0], 300.0, 2e5),
    ("R-134a", ["R134a"], [1.0], 400.0, 6e6),
    ("R-744", ["R744"], [1.0], 280.0, 8e6),
    ("R-744", ["R744"], [1.0], 320.0, 9e6),
    ("R-290", ["R290"], [1.0], 290.0, 2e6),
    ("R-717", ["R717"], [1.0], 330.0, 1e6),
    ("R-32/R-125", ["R32", "R125"], [0.6, 0.4], 270.0, 3e6),
    ("R-32/R-125", ["R32", "R125"], [0.6, 0.4], 310.0, 5e5),
    ("R-290/R-600a", ["R290", "R600a"], [0.5, 0.5], 280.0, 2e6),
]
HEAD = [
    "refrigerant",
    "mole_fractions",
    "temperature_K",
    "pressure_Pa",
    "isothermal_compressibility_1_Pa",
    "thermal_expansion_1_K",
    "dp_drho_T_Pa_m3_kg",
    "dp_dT_rho_Pa_K",
]


def rows():
    for name, fluids, fractions, temperature, pressure in STATES:
        state = CoolProp.AbstractState("HEOS", "&".join(fluids))
        if len(fluids) > 1:
            state.set_mole_fractions(fractions)
        state.update(CoolProp.PT_INPUTS, pressure, temperature)
        yield [
            name,
            "/".join(map(str, fractions)),
            temperature,
            pressure,
            f"{state.isothermal_compressibility():.9e}",
            f"{state.isobaric_expansion_coefficient():.9e}",
            f"{state.first_partial_deriv(CoolProp.iP, CoolProp.iDmass, CoolProp.iT):.9e}",
            f"{state.first_partial_deriv(CoolProp.iP, CoolProp.iT, CoolProp.iDmass):.9e}",
        ]


def main():
    if importlib.metadata.version("CoolProp") != VERSION:
        sys.exit(f"error: this needs CoolProp {VERSION}")
    text = io.StringIO()
    sheet = csv.writer(text, lineterminator="\n")
    sheet.writerow(HEAD)
    sheet.writerows(rows())
    if "--check" in sys.argv:
        if FILE.read_text() != text.getvalue():
            sys.exit(f"error: {FILE.name} is not what this writes")
    else:
        FILE.write_text(text.getvalue())


if __name__ == "__main__":
    main()
