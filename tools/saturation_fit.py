"""The equation's own critical point, and short equations for starting values on its saturation line."""

import CoolProp.CoolProp as CP
import mpmath as mp
import numpy as np

import helmholtz

PRESSURE_EXPONENTS = [
    [1.0, 1.5, 2.0, 2.5, 4.0, 5.0],
    [1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 7.0],
    [1.0, 1.25, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 7.0, 9.0],
    # For old equations that bend at low temperatures.
    [1.0, 1.25, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 7.0, 9.0, 12.0, 16.0, 22.0],
]
DENSITY_EXPONENTS = [
    [0.33, 0.67, 1.0, 1.33, 1.67, 2.5],
    [0.33, 0.67, 1.0, 1.33, 1.67, 2.0, 3.0, 4.5],
    [0.33, 0.5, 0.67, 1.0, 1.33, 1.67, 2.0, 3.0, 4.5, 7.0],
    [0.33, 0.5, 0.67, 1.0, 1.33, 1.67, 2.0, 3.0, 4.5, 7.0, 10.0, 14.0, 20.0],
]
AIM = 1e-3


def critical_point(fluid, record):
    """Where dp/drho and d2p/drho2 of the equation vanish, by Newton from the library's own solution."""
    published = record["critical_point"]["published"]
    start = fluid.eos["SUPERANCILLARY"]["crit_anc"]
    if record["residual"].get("non_analytic"):
        return {"temperature_K": published["temperature_K"], "density_mol_m3": published["density_mol_m3"]}
    groups, at = record["residual"], record["reducing"]

    def slopes(temperature, density):
        tau = at["temperature_K"] / temperature
        delta = density / at["density_mol_m3"]
        a = [mp.diff(lambda d: helmholtz.residual(groups, tau, d), delta, k) for k in (1, 2, 3)]
        first = 1 + 2 * delta * a[0] + delta**2 * a[1]
        second = 2 * a[0] + 4 * delta * a[1] + delta**2 * a[2]
        return first, second

    with mp.workdps(30):
        found = mp.findroot(slopes, (mp.mpf(start["Tc / K"]), mp.mpf(start["rhoc / mol/m^3"])), tol=1e-28)
    return {"temperature_K": round(float(found[0]), 9), "density_mol_m3": round(float(found[1]), 7)}


def _fit(exponent_sets, theta, target, factor, weight, errors_of):
    best = None
    for exponents in exponent_sets:
        matrix = factor[:, None] * theta[:, None] ** np.array(exponents)
        n = np.linalg.lstsq(matrix * weight[:, None], target * weight, rcond=None)[0]
        n = [float(f"{v:.8g}") for v in n]
        worst = float(np.max(np.abs(errors_of(matrix @ np.array(n)))))
        if best is None or worst < best[2]:
            best = (n, exponents, worst)
        if worst < AIM:
            break
    return best


def ancillary(fluid, record):
    """The `ancillary` block: forms of records.rs, fitted by linear least squares, with the largest errors found."""
    critical = record["critical_point"]["equation"]
    tc, rhoc = critical["temperature_K"], critical["density_mol_m3"]
    lowest = record["range"]["temperature_min_K"]
    state = CP.AbstractState("HEOS", fluid.library_name)
    ratio = record["gas_constant_J_mol_K"] / fluid.eos["gas_constant"]
    at = record["reducing"]
    tau = at["temperature_K"] / tc
    delta = rhoc / at["density_mol_m3"]
    with mp.workdps(30):
        slope = float(mp.diff(lambda d: helmholtz.residual(record["residual"], mp.mpf(tau), d), mp.mpf(delta)))
    pc = rhoc * record["gas_constant_J_mol_K"] * tc * (1 + delta * slope)
    span = 1 - lowest / tc
    theta = np.concatenate([np.geomspace(1e-4, min(0.1, span), 60), np.linspace(min(0.1, span), span, 120)[1:]])
    rows = []
    for x in theta:
        temperature = max(tc * (1 - x), lowest)
        state.update(CP.QT_INPUTS, 0, temperature)
        liquid, pressure = state.rhomolar(), state.p() * ratio
        state.update(CP.QT_INPUTS, 1, temperature)
        vapor = state.rhomolar()
        # At low pressure the vapour's own pressure is the accurate one.
        rows.append((temperature, state.p() * ratio if pressure < 1e4 else pressure, liquid, vapor))
    temperature, pressure, liquid, vapor = np.array(rows).T
    theta = 1 - temperature / tc
    warm, one = tc / temperature, np.ones_like(theta)
    p = np.log(pressure / pc)
    fit_p = _fit(PRESSURE_EXPONENTS, theta, p, warm, one, lambda y: np.expm1(y - p))
    fit_l = _fit(DENSITY_EXPONENTS, theta, liquid / rhoc - 1, one, rhoc / liquid, lambda y: rhoc * (1 + y) / liquid - 1)
    v = np.log(vapor / rhoc)
    fit_v = _fit(DENSITY_EXPONENTS, theta, v, warm, one, lambda y: np.expm1(y - v))
    series = lambda scale, fit: {"scale": scale, "n": fit[0], "t": fit[1]}
    return {
        "temperature_K": tc,
        "pressure": series(float(f"{pc:.10g}"), fit_p),
        "liquid_density": series(rhoc, fit_l),
        "vapor_density": series(rhoc, fit_v),
        "largest_error": [float(f"{fit[2]:.2g}") for fit in (fit_p, fit_l, fit_v)],
    }
