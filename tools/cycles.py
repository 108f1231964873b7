"""Writes tests/data/cycles.csv: 20 cycles of pure refrigerants by a general-purpose open library.

    python3 tools/cycles.py > tests/data/cycles.csv

It is asked for states alone (CoolProp's PropsSI); the arithmetic of the cycle is done here, from
ASHRAE Handbook Fundamentals, chapter 2.
"""

import CoolProp
from CoolProp.CoolProp import PropsSI

KELVIN = 273.15
# refrigerant, its name in the library, evaporating and condensing temperature (C; of a gas cooler
# pressure in bar and outlet), useful and suction superheat (K), subcooling (K), efficiency,
# effectiveness of a suction-line heat exchanger, pressure drops of evaporator and condenser (kPa),
# way of compression, approach of the economizer (K)
CYCLES = [
    ("R-134a", "R134a", -10, 40, 0, 0, 0, 1.0, 0, 0, 0, "one", 0),
    ("R-134a", "R134a", 5, 55, 5, 10, 5, 0.7, 0, 0, 0, "one", 0),
    ("R-134a", "R134a", -20, 30, 4, 4, 3, 0.65, 0.6, 0, 0, "one", 0),
    ("R-134a", "R134a", 0, 45, 5, 12, 4, 0.7, 0, 20, 30, "one", 0),
    ("R-134a", "R134a", -30, 40, 0, 0, 0, 1.0, 0, 0, 0, "flash", 0),
    ("R-134a", "R134a", -30, 40, 5, 8, 3, 0.75, 0, 0, 0, "economizer", 4),
    ("R-22", "R22", -15, 40, 6, 6, 5, 0.72, 0, 0, 0, "one", 0),
    ("R-22", "R22", -35, 35, 0, 10, 0, 0.8, 0, 0, 0, "flash", 0),
    ("R-32", "R32", 7, 50, 5, 5, 5, 0.7, 0, 0, 0, "one", 0),
    ("R-32", "R32", -20, 45, 5, 15, 3, 0.7, 0, 15, 25, "one", 0),
    ("R-290", "n-Propane", -10, 45, 5, 20, 2, 0.65, 0, 0, 0, "one", 0),
    ("R-290", "n-Propane", -25, 40, 3, 3, 4, 0.7, 0.5, 0, 0, "one", 0),
    ("R-600a", "IsoButane", -20, 45, 0, 30, 10, 0.6, 0, 0, 0, "one", 0),
    ("R-717", "Ammonia", -10, 35, 0, 5, 0, 0.75, 0, 0, 0, "one", 0),
    ("R-717", "Ammonia", -40, 35, 0, 0, 0, 0.75, 0, 0, 0, "flash", 0),
    ("R-1234yf", "R1234yf", 5, 60, 10, 15, 5, 0.65, 0, 0, 0, "one", 0),
    ("R-1234ze(E)", "R1234ze(E)", 10, 70, 8, 8, 6, 0.75, 0, 0, 0, "one", 0),
    ("R-744", "CarbonDioxide", -10, 15, 5, 5, 2, 0.7, 0, 0, 0, "one", 0),
    ("R-744", "CarbonDioxide", -8, (92.0, 35), 5, 10, 0, 0.7, 0, 0, 0, "one", 0),
    ("R-744", "CarbonDioxide", 0, (110.0, 40), 0, 0, 0, 0.65, 0.5, 0, 50, "one", 0),
]
HEAD = (
    "refrigerant,evaporating_C,condensing_C,gas_cooler_bar,gas_cooler_outlet_C,useful_superheat_K,"
    "suction_superheat_K,subcooling_K,efficiency,effectiveness,evaporator_drop_kPa,"
    "condenser_drop_kPa,stages,approach_K,evaporating_Pa,condensing_Pa,effect_J_kg,"
    "suction_volume_m3_kg,discharge_K,cop_cooling,cop_heating"
)


def cycle(fluid, evaporating, condensing, useful, suction, subcooling, eta, eps, drop_e, drop_c, way, approach):
    """Pressures, effect, suction volume, discharge temperature and both COPs."""
    ask = lambda what, a, x, b, y: PropsSI(what, a, x, b, y, fluid)
    pe = ask("P", "T", evaporating + KELVIN, "Q", 1)
    if isinstance(condensing, tuple):
        pc, t3 = condensing[0] * 1e5, condensing[1] + KELVIN
        p3 = pc - drop_c * 1e3
    else:
        pc = ask("P", "T", condensing + KELVIN, "Q", 0)
        p3 = pc - drop_c * 1e3
        t3 = ask("T", "P", p3, "Q", 0) - subcooling
    saturated = not isinstance(condensing, tuple) and subcooling == 0
    h3 = ask("H", "P", p3, "Q", 0) if saturated else ask("H", "P", p3, "T", t3)
    dew = evaporating + KELVIN

    def vapor(what, superheat):
        if superheat == 0:
            return ask(what, "P", pe, "Q", 1)
        return ask(what, "P", pe, "T", dew + superheat)

    if eps:
        suction = useful + eps * (t3 - dew - useful)
    h0, h1, s1 = vapor("H", useful), vapor("H", suction), vapor("S", suction)

    def compressed(h, s, p):
        return h + (ask("H", "P", p, "S", s) - h) / eta

    h4 = h3 - (h1 - h0) if eps else h3
    if way == "one":
        h_last, ratio = compressed(h1, s1, pc), 1.0
        work = h_last - h1
    else:
        pi = (pe * pc) ** 0.5
        h2, h9 = compressed(h1, s1, pi), ask("H", "P", pi, "Q", 1)
        if way == "flash":
            h4, h5 = ask("H", "P", pi, "Q", 0), h9
            s5 = ask("S", "P", pi, "Q", 1)
            ratio = (h2 - h4) / (h9 - h3)
        else:
            h4 = ask("H", "P", p3, "T", ask("T", "P", pi, "Q", 0) + approach)
            ratio = 1 + (h3 - h4) / (h9 - h3)
            h5 = (h2 + (ratio - 1) * h9) / ratio
            s5 = ask("S", "P", pi, "H", h5)
        h_last = compressed(h5, s5, pc)
        work = h2 - h1 + ratio * (h_last - h5)
    effect = h0 - h4
    volume = 1 / vapor("D", suction)
    discharge = ask("T", "P", pc, "H", h_last)
    return pe, pc, effect, volume, discharge, effect / work, ratio * (h_last - h3) / work


def main():
    print(HEAD)
    for name, fluid, evaporating, condensing, *rest in CYCLES:
        answer = cycle(fluid, evaporating, condensing, *rest)
        hot = isinstance(condensing, tuple)
        high = ("", *condensing) if hot else (condensing, "", "")
        cells = [name, evaporating, *high, *rest, *(f"{value:.9g}" for value in answer)]
        print(",".join(str(cell) for cell in cells))


if __name__ == "__main__":
    assert CoolProp.__version__ == "8.0.0"
    main()
