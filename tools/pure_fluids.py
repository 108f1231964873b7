"""Turns one fluid of the library into the mapping of a `fluids/pure/` file."""

import functools
import json
import math

import CoolProp.CoolProp as CP

import papers
import saturation_fit
import tables

# Gas constants where the paper is to be followed instead.
GAS_CONSTANT = {"R-1234ze(E)": 8.3144621, "R-717": 8.314462618}

# Published critical points that are not the equation's reducing point, with their source.
CRITICAL = {
    # ISO 17584, from memory; the paper reduces with 374.18 K and 508 kg/m3.
    "R-134a": (374.21, 4059280.0, 5017.053),
    # The paper's critical temperature; its pressure from the equation at that temperature.
    "R-11": (471.11, 4407600.0, 4032.962),
}

REMARKS = {
    "R-41": "Lemmon and Span 2006 print two equations for fluoromethane; this is their equation a.",
    "R-245fa": "The ideal-gas exponents are 222, 1010 and 2450 K over 427.01 K, as the paper has them.",
    "R-236ea": "The zero of enthalpy and entropy is not the paper's, whose erratum gives a1 = -17.5983849 and "
    "a2 = 8.87150449; differences are the same.",
    "R-1234ze(E)": "With the paper's gas constant of 8.3144621 J/(mol K).",
    "R-717": "With the paper's gas constant of 8.314462618 J/(mol K).",
    "R-134a": "tau and delta are 1 at 374.18 K and 508 kg/m3, the paper's critical parameters; "
    "the published critical point given here is that of ISO 17584 (from memory).",
    "R-732": "Second paper of this equation: Stewart, Jacobsen and Wagner 1991, "
    "J. Phys. Chem. Ref. Data 20, 917-1021, doi 10.1063/1.555897.",
}


# Refrigerants of the table without an open equation.
WITHOUT_EQUATION = {"R-31", "R-1132a"}


@functools.cache
def library_names():
    """The library's fluids by CAS number."""
    names = CP.get_global_param_string("FluidsList").split(",")
    return {CP.get_fluid_param_string(name, "CAS"): name for name in names}


class Fluid:
    """One fluid as the library holds it; the first equation of several is the current one."""

    def __init__(self, row):
        self.row = row
        self.designation = row["designation"]
        self.library_name = library_names()[row["cas"]]
        self.record = json.loads(CP.get_fluid_param_string(self.library_name, "JSON"))[0]
        self.eos = self.record["EOS"][0]

    @property
    def reducing(self):
        return self.eos["STATES"]["reducing"]


def clean(value):
    """Drops the last digits that arithmetic left behind, as in 273.15000000000003."""
    return float(f"{value:.12g}")


def _append(group, columns, values):
    for key, value in zip(columns, values, strict=True):
        group.setdefault(key, []).append(float(value))


def ideal_gas(fluid):
    """All ideal-gas terms, the constants that belong to them summed into `constant` and `linear`."""
    reducing = fluid.reducing["T"]
    constant, linear, log_tau = [], [], []
    power, planck, polynomial = {}, {}, {}
    for term in fluid.eos["alpha0"]:
        kind = term["type"].removeprefix("IdealGasHelmholtz")
        if kind in ("Lead", "EnthalpyEntropyOffset"):
            constant.append(term["a1"])
            linear.append(term["a2"])
        elif kind == "LogTau":
            log_tau.append(term["a"])
        elif kind == "Power":
            for n, t in zip(term["n"], term["t"], strict=True):
                if t == 0:
                    constant.append(n)
                elif t == 1:
                    linear.append(n)
                else:
                    _append(power, ("n", "t"), (n, t))
        elif kind == "PlanckEinstein":
            for n, t in zip(term["n"], term["t"], strict=True):
                _append(planck, ("n", "theta"), (n, t))
        elif kind == "PlanckEinsteinFunctionT":
            if term["Tcrit"] != reducing:
                raise ValueError(f"{fluid.designation}: characteristic temperatures over another temperature")
            for n, v in zip(term["n"], term["v"], strict=True):
                _append(planck, ("n", "theta"), (n, v / reducing))
        elif kind in ("CP0Constant", "CP0PolyT"):
            factors = term["c"] if kind == "CP0PolyT" else [term["cp_over_R"]]
            exponents = term["t"] if kind == "CP0PolyT" else [0]
            for c, t in zip(factors, exponents, strict=True):
                _heat_capacity(c, t, term["Tc"], term["T0"], reducing, constant, linear, log_tau, polynomial)
        else:
            raise ValueError(f"{fluid.designation}: ideal-gas terms of kind {kind}")
    if fluid.designation == "R-245fa":
        planck["theta"] = [222 / 427.01, 1010 / 427.01, 2450 / 427.01]
    return {
        "constant": math.fsum(constant),
        "linear": math.fsum(linear),
        "log_tau": math.fsum(log_tau),
        "power": power or None,
        "planck_einstein": planck or None,
        "heat_capacity_polynomial": polynomial or None,
    }


def _heat_capacity(c, t, scale, start, reducing, constant, linear, log_tau, polynomial):
    """cp0/R = c (T/K)^t, integrated from `start`; `scale` over tau is the temperature that the library puts in.

    Where `scale` is not the reducing temperature (R-123, whose paper gives the polynomial in reduced temperature),
    c is carried over so that the heat capacity at given tau stays the same.
    """
    first = scale / start
    if t == 0:
        constant.append(c - c * math.log(first))
        linear.append(-c / first)
        log_tau.append(c)
        return
    if t == -1:
        raise ValueError("heat capacity in 1/T: no term for it")
    linear.append(-c * start ** (t + 1) / (scale * (t + 1)))
    constant.append(c * start**t / t)
    _append(polynomial, ("n", "t"), (c * (scale / reducing) ** t if scale != reducing else c, t))


def residual(fluid):
    """All residual terms, sorted by shape."""
    groups = {}
    for term in fluid.eos["alphar"]:
        kind = term["type"].removeprefix("ResidualHelmholtz")
        if kind == "NonAnalytic":
            ours = {"A": "big_a", "B": "big_b", "C": "big_c", "D": "big_d"}
            groups["non_analytic"] = {
                ours.get(k, k): [float(v) for v in term[k]] for k in ("n", "a", "b", "beta", "A", "B", "C", "D")
            }
            continue
        columns = {k: v for k, v in term.items() if isinstance(v, list)}
        for values in zip(*columns.values(), strict=True):
            _residual_term(groups, kind, dict(zip(columns, values, strict=True)))
    order = ("power", "exponential", "gaussian", "gao", "double_exponential", "non_analytic")
    for group in groups.values():
        if set(group.get("g", [])) == {1.0}:
            del group["g"]
    return {shape: groups[shape] for shape in order if shape in groups}


def _residual_term(groups, kind, one):
    take = lambda shape, *keys: _append(groups.setdefault(shape, {}), keys, [one[k] for k in keys])
    if kind == "Gaussian":
        take("gaussian", "n", "t", "d", "eta", "epsilon", "beta", "gamma")
    elif kind == "GaoB":
        # The library stores eta with the opposite sign.
        one["eta"] = -one["eta"]
        take("gao", "n", "t", "d", "eta", "epsilon", "beta", "gamma", "b")
    elif kind in ("Power", "Exponential", "Lemmon2005"):
        if one.get("m"):
            take("double_exponential", "n", "t", "d", "l", "m")
        elif one["l"]:
            one["g"] = one.get("g", 1.0)
            take("exponential", "n", "t", "d", "l", "g")
        else:
            take("power", "n", "t", "d")
    else:
        raise ValueError(f"residual terms of kind {kind}")


def _sourced(row, key, convert=float):
    return {"value": convert(row[key]), "source": row[key + "_source"]} if row[key] else None


def warming(row):
    """The `gwp` list."""
    found = []
    for key, report in (("gwp_ar4", "IPCC AR4"), ("gwp_ar5", "IPCC AR5"), ("gwp_ar6", "IPCC AR6"),
                        ("gwp_other", row["gwp_other_source"])):
        if row[key]:
            entry = {"report": report, "horizon_years": 100, "value": float(row[key].lstrip("<"))}
            if row[key].startswith("<"):
                entry["below"] = True
            found.append(entry)
    return found


def check_values(designation, molar_mass, rows, at_most=8):
    """The paper's printed values in SI by mole, spread over its states."""
    plain = {
        ("pressure", "MPa"): ("pressure_Pa", 1e6),
        ("pressure", "kPa"): ("pressure_Pa", 1e3),
        ("pressure", "bar"): ("pressure_Pa", 1e5),
        ("cp_molar", "J/(mol K)"): ("cp_J_mol_K", 1.0),
        ("cv_molar", "J/(mol K)"): ("cv_J_mol_K", 1.0),
        ("cp_molar", "kJ/(mol K)"): ("cp_J_mol_K", 1e3),
        ("cv_molar", "kJ/(mol K)"): ("cv_J_mol_K", 1e3),
        ("cp", "kJ/(kg K)"): ("cp_J_mol_K", 1e3 * molar_mass),
        ("cv", "kJ/(kg K)"): ("cv_J_mol_K", 1e3 * molar_mass),
        ("speed_of_sound", "m/s"): ("speed_of_sound_m_s", 1.0),
        ("density", "kg/m3"): ("density_mol_m3", 1 / molar_mass),
        ("molar_density", "mol/L"): ("density_mol_m3", 1e3),
    }
    chosen, seen, states = [], {}, []
    for row in rows:
        known = plain.get((row["property"], row["unit"]))
        if row["tier"] != "A" or row["refrigerant"] != designation or row["composition"] or not known:
            continue
        if "older or other" in row["note"] or "reduces with" in row["note"] or not row["T_K"]:
            continue
        density = None
        if row["rho_mol_per_L"]:
            density = clean(float(row["rho_mol_per_L"]) * 1e3)
        elif row["rho_kg_per_m3"]:
            density = clean(float(row["rho_kg_per_m3"]) / molar_mass)
        pressure = float(row["p_Pa"]) if row["p_Pa"] else None
        quality = float(row["quality"]) if row["quality"] else None
        if density is not None:
            pressure = quality = None
        elif quality is not None:
            pressure = None
        if (density, pressure, quality) == (None, None, None) or quality not in (None, 0.0, 1.0):
            continue
        name, factor = known
        chosen.append({
            "temperature_K": float(row["T_K"]), "density_mol_m3": density, "pressure_Pa": pressure,
            "quality": quality, "property": name, "value": clean(float(row["value"]) * factor),
            "rtol": float(row["rtol"]),
        })
    # One value of each state in turn, so that few values see many states.
    for entry in chosen:
        state = (entry["temperature_K"], entry["density_mol_m3"], entry["pressure_Pa"], entry["quality"])
        seen.setdefault(state, []).append(entry)
    states = list(seen.values())
    turn, picked = 0, []
    while len(picked) < at_most and any(len(s) > turn for s in states):
        for number, state in enumerate(states):
            if len(picked) < at_most and turn < len(state):
                picked.append(state[(turn + number) % len(state)])
        turn += 1
    keys = [id(entry) for entry in picked]
    return [entry for entry in chosen if id(entry) in keys]


def record(fluid, published_rows):
    """The whole mapping of `fluids/pure/<designation>.yaml`."""
    row, eos, reducing = fluid.row, fluid.eos, fluid.reducing
    temperature, pressure, density = CRITICAL.get(
        fluid.designation, (reducing["T"], reducing["p"], reducing["rhomolar"])
    )
    molar_mass = clean(eos["molar_mass"])
    found = {
        "designation": fluid.designation,
        "name": row["name"],
        "spellings": [s for s in row["spellings"].split("|") if s],
        "formula": row["formula"],
        "cas": row["cas"],
        "safety_class": _sourced(row, "safety_class", str),
        "gwp": warming(row) or None,
        "odp": _sourced(row, "odp"),
        "lfl_kg_m3": _sourced({**row, "lfl_kg_m3_source": row["lfl_source"]}, "lfl_kg_m3"),
        "molar_mass_kg_mol": molar_mass,
        "gas_constant_J_mol_K": GAS_CONSTANT.get(fluid.designation, eos["gas_constant"]),
        "critical_point": {
            "published": {
                "temperature_K": clean(temperature),
                "pressure_Pa": float(f"{pressure:.8g}"),
                "density_mol_m3": clean(density),
            },
            "equation": None,
        },
        "range": {
            "temperature_min_K": clean(eos["STATES"]["sat_min_liquid"]["T"]),
            "temperature_max_K": float(eos["T_max"]),
            "pressure_max_Pa": float(eos["p_max"]),
        },
        "reducing": {"temperature_K": float(reducing["T"]), "density_mol_m3": float(reducing["rhomolar"])},
        "ideal_gas": ideal_gas(fluid),
        "residual": residual(fluid),
        "ancillary": None,
        "reference": papers.reference(eos["BibTeX_EOS"]),
        "remark": REMARKS.get(fluid.designation),
        "check_values": check_values(fluid.designation, molar_mass, published_rows) or None,
    }
    found["critical_point"]["equation"] = saturation_fit.critical_point(fluid, found)
    found["ancillary"] = saturation_fit.ancillary(fluid, found)
    return found


def all_fluids():
    """Every fluid of the table that has an open equation."""
    rows = tables.read("refrigerants.csv")
    return [Fluid(row) for row in rows if row["designation"] not in WITHOUT_EQUATION]
