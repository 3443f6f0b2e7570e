"""Conductivity and distance from a point of the impedance plane, a second way. Run: python3 inverse.py (writes inverse.json).

Points by SciPy's own sum over wave numbers at known conductivity and distance. Uncertainties twice: from slopes by
differences of fourth order with a matrix inverse of NumPy, and without any slopes from the scatter of the answers that
scipy.optimize.fsolve finds for 2000 measurements drawn around the point.
"""
import json
from pathlib import Path

import numpy as np
import scipy
from scipy.optimize import fsolve
from scipy.special import j1

MU0 = 4e-7 * np.pi
A = {"r1": 0.5e-3, "r2": 1.5e-3, "length": 1e-3, "turns": 100, "L0": 1.266503273446e-05}
B = {"r1": 2e-3, "r2": 4e-3, "length": 3e-3, "turns": 300, "L0": 3.940974933048e-04}


def panels(edges, n):
    x, w = np.polynomial.legendre.leggauss(n)
    e = np.asarray(edges)
    h, c = np.diff(e) / 2, (e[:-1] + e[1:]) / 2
    return (c[:, None] + h[:, None] * x).ravel(), (h[:, None] * w).ravel()


def plan(c, h):
    step = np.pi / (3.4 * c["r2"])
    count = int(np.ceil(24 / h / step))
    a, wt = panels(np.concatenate([[0], step * 2.0 ** np.arange(-14, 0), step * np.arange(1, count + 1)]), 20)
    s, w = panels(np.linspace(c["r1"], c["r2"], int(a.max() * (c["r2"] - c["r1"]) / 40) + 2), 64)
    moment = (j1(np.outer(a, s)) * (s * w)).sum(1)
    n = c["turns"] / ((c["r2"] - c["r1"]) * c["length"])
    return a, wt * (n * moment / a * (np.exp(-a * h) - np.exp(-a * (h + c["length"])))) ** 2 * MU0 * np.pi / c["L0"]


def gamma(a, w, layers):
    s, m, _ = layers[-1]
    y_below = np.sqrt(a * a + 1j * w * MU0 * m * s) / m
    for s, m, d in reversed(layers[:-1]):
        g = np.sqrt(a * a + 1j * w * MU0 * m * s)
        y, t = g / m, np.tanh(g * d)
        y_below = y * (y_below + y * t) / (y + y_below * t)
    return (a - y_below) / (a + y_below)


def point(planned, f, layers, rise):
    """Delta Z / (omega L0) is j times the sum; the coil in air is at (0, 1)."""
    a, wt = planned
    z = 1j * (wt * np.exp(-2 * a * rise) * gamma(a, 2 * np.pi * f, layers)).sum()
    return np.array([z.real, 1 + z.imag])


def case(name, c, h, f, layers, of, distance, u, correlation):
    """Unknown: conductivity of layer 0, and its thickness or the rise."""
    planned = plan(c, h)

    def at(p):
        first = (layers[0][0] * np.exp(p[0]), layers[0][1], layers[0][2])
        if of == "lift-off":
            return point(planned, f, [first, *layers[1:]], p[1] * 1e-3)
        return point(planned, f, [(first[0], first[1], p[1] * 1e-3), *layers[1:]], 0)

    answer = np.array([0.0, distance * 1e3])
    z = at(answer)
    slopes = np.empty((2, 2))
    for i, step in enumerate((1e-3, 1e-3 * answer[1])):
        e = np.eye(2)[i] * step
        slopes[:, i] = (8 * (at(answer + e) - at(answer - e)) - at(answer + 2 * e) + at(answer - 2 * e)) / (12 * step)
    c_z = np.array([[u[0] ** 2, correlation * u[0] * u[1]], [correlation * u[0] * u[1], u[1] ** 2]])
    inverse = np.linalg.inv(slopes)
    cov = inverse @ c_z @ inverse.T
    size = np.sqrt(np.diag(cov))
    draws = np.random.default_rng(20).multivariate_normal(z, c_z, 2000)
    scatter = np.std([fsolve(lambda p: at(p) - draw, answer, xtol=1e-10) for draw in draws], axis=0)
    return {
        "id": name, "coil": c, "liftOff": h, "f": f, "of": of, "distance": distance,
        "layers": [{"sigma": s, "mur": m, "thickness": d} for s, m, d in layers],
        "point": list(z), "u": u, "correlation": correlation,
        "u_sigma": size[0] * layers[0][0], "u_distance": size[1] * 1e-3, "answers_correlate": cov[0, 1] / size.prod(),
        "crossing": float(np.arcsin(abs(np.linalg.det(slopes)) / np.linalg.norm(slopes, axis=0).prod())),
        "scatter": [scatter[0] * layers[0][0], scatter[1] * 1e-3],
    }


steel, air = (5e6, 100, None), (0, 1, None)
rows = [
    ("aluminum under paint", A, 0.1e-3, 500e3, [(17.4e6, 1, None)], "lift-off", 0.4e-3, (1e-4, 2e-4), 0.3),
    ("aluminum", A, 0.1e-3, 100e3, [(17.4e6, 1, None)], "lift-off", 0.05e-3, (1e-4, 1e-4), 0),
    ("titanium", A, 0.1e-3, 2e6, [(0.58e6, 1, None)], "lift-off", 0.05e-3, (2e-4, 1e-4), -0.5),
    ("steel under paint", B, 0.5e-3, 100e3, [steel], "lift-off", 0.3e-3, (1e-4, 1e-4), 0),
    ("zinc on steel", B, 0.5e-3, 100e3, [(16.5e6, 1, 0.1e-3), steel], 0, 0.1e-3, (1e-5, 1e-5), 0),
    ("sheet in air", A, 0.1e-3, 10e3, [(17.4e6, 1, 1e-3), air], 0, 1e-3, (1e-5, 1e-5), 0),
]
Path(__file__).with_suffix(".json").write_text(json.dumps({
    "source": f"computed by inverse.py with SciPy {scipy.__version__}, NumPy {np.__version__}",
    "tolerance": 1e-6,
    "why": "of answers, uncertainties and slopes, by the steps of the differences; of the scatter of 2000 draws 6 %",
    "cases": [case(*row) for row in rows],
}) + "\n")
