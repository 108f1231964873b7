"""Evaluates the data files' terms by themselves, to compare them with the library they were transcribed from.

Written from the formulas in src/catalogue/records.rs, in mpmath: values to any accuracy, derivatives by
Taylor expansion, slow.
"""

import mpmath as mp


def _terms(group, *keys):
    if not group:
        return []
    columns = [group[key] if group.get(key) is not None else [1.0] * len(group["n"]) for key in keys]
    return [[mp.mpf(v) for v in row] for row in zip(*columns, strict=True)]


def ideal_without_density(ideal, reducing_temperature, tau):
    """alpha0 - ln(delta)."""
    value = mp.mpf(ideal["constant"]) + ideal["linear"] * tau + ideal["log_tau"] * mp.log(tau)
    for n, t in _terms(ideal.get("power"), "n", "t"):
        value += n * tau**t
    for n, theta in _terms(ideal.get("planck_einstein"), "n", "theta"):
        value += n * mp.log(1 - mp.exp(-theta * tau))
    for n, t in _terms(ideal.get("heat_capacity_polynomial"), "n", "t"):
        if t in (0, -1):
            raise ValueError("exponents 0 and -1 are written otherwise")
        value -= n * mp.mpf(reducing_temperature) ** t * tau ** (-t) / (t * (t + 1))
    return value


def residual(groups, tau, delta):
    """alphar, all shapes."""
    total = mp.mpf(0)
    for n, t, d in _terms(groups.get("power"), "n", "t", "d"):
        total += n * tau**t * delta**d
    for n, t, d, l, g in _terms(groups.get("exponential"), "n", "t", "d", "l", "g"):
        total += n * tau**t * delta**d * mp.exp(-g * delta**l)
    bell = ("n", "t", "d", "eta", "epsilon", "beta", "gamma")
    for n, t, d, eta, eps, beta, gamma in _terms(groups.get("gaussian"), *bell):
        total += n * tau**t * delta**d * mp.exp(-eta * (delta - eps) ** 2 - beta * (tau - gamma) ** 2)
    for n, t, d, eta, eps, beta, gamma in _terms(groups.get("gerg_bell"), *bell):
        total += n * tau**t * delta**d * mp.exp(-eta * (delta - eps) ** 2 - beta * (delta - gamma))
    for n, t, d, eta, eps, beta, gamma, b in _terms(groups.get("gao"), *bell, "b"):
        total += n * tau**t * delta**d * mp.exp(-eta * (delta - eps) ** 2 + 1 / (beta * (tau - gamma) ** 2 + b))
    for n, t, d, l, m in _terms(groups.get("double_exponential"), "n", "t", "d", "l", "m"):
        total += n * tau**t * delta**d * mp.exp(-(delta**l) - tau**m)
    keys = ("n", "a", "b", "beta", "big_a", "big_b", "big_c", "big_d")
    for n, a, b, beta, big_a, big_b, big_c, big_d in _terms(groups.get("non_analytic"), *keys):
        off = (delta - 1) ** 2
        theta = (1 - tau) + big_a * off ** (1 / (2 * beta))
        distance = theta**2 + big_b * off**a
        psi = mp.exp(-big_c * off - big_d * (tau - 1) ** 2)
        total += n * distance**b * delta * psi
    return total


def derivatives(function, *point):
    """Value, first and second derivatives of a function of one or two variables."""
    orders = [(0,), (1,), (2,)] if len(point) == 1 else [(0, 0), (1, 0), (0, 1), (2, 0), (1, 1), (0, 2)]
    with mp.workdps(50):
        arguments = tuple(mp.mpf(v) for v in point)
        found = []
        for order in orders:
            if not any(order):
                found.append(function(*arguments))
            elif len(point) == 1:
                found.append(mp.diff(function, arguments[0], order[0]))
            else:
                found.append(mp.diff(function, arguments, order))
        return [float(v) for v in found]
