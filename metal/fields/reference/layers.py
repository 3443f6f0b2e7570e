"""Coil over plane layers, a second way. Run: python3 layers.py (writes layers.json beside it).

SciPy's Bessel functions, the radial moment by 64-point Gauss panels in s, the layers by the recursion of the surface
admittance Y with tanh, grids with 32 points a panel that reach further than those of the program. Perfect conductor:
mutual inductance of coil and image by elliptic integrals, without any integral over wave numbers.
"""
import json
from pathlib import Path

import numpy as np
import scipy
from scipy.special import ellipe, ellipk, j1

MU0 = 4e-7 * np.pi
A = {"r1": 0.5e-3, "r2": 1.5e-3, "length": 1e-3, "turns": 100}
B = {"r1": 2e-3, "r2": 4e-3, "length": 3e-3, "turns": 300}
T1 = {"r1": 6.15e-3, "r2": 12.4e-3, "length": 6.15e-3, "turns": 3790}
T2 = {"r1": 9.34e-3, "r2": 18.4e-3, "length": 9e-3, "turns": 408}


def panels(edges, n):
    x, w = np.polynomial.legendre.leggauss(n)
    e = np.asarray(edges)
    h, c = np.diff(e) / 2, (e[:-1] + e[1:]) / 2
    return (c[:, None] + h[:, None] * x).ravel(), (h[:, None] * w).ravel()


def moment(a, c):
    s, w = panels(np.linspace(c["r1"], c["r2"], int(a.max() * (c["r2"] - c["r1"]) / 40) + 2), 64)
    return np.concatenate([(j1(np.outer(part, s)) * (s * w)).sum(1) for part in np.array_split(a, len(a) // 500 + 1)])


def factor(a, c, h):
    n = c["turns"] / ((c["r2"] - c["r1"]) * c["length"])
    return n * moment(a, c) / a * (np.exp(-a * h) - np.exp(-a * (h + c["length"])))


def gamma(a, w, layers):
    s, m, _ = layers[-1]
    y_below = np.sqrt(a * a + 1j * w * MU0 * m * s) / m
    for s, m, d in reversed(layers[:-1]):
        g = np.sqrt(a * a + 1j * w * MU0 * m * s)
        y, t = g / m, np.tanh(g * d)
        y_below = y * (y_below + y * t) / (y + y_below * t)
    return (a - y_below) / (a + y_below)


def change(drive, pick, f, layers):
    (c, h), (c2, h2) = drive, pick
    step = np.pi / (1.7 * (c["r2"] + c2["r2"]))
    count = int(np.ceil(60 / (h + h2) / step))
    edges = np.concatenate([[0], step * 2.0 ** np.arange(-16, 0), step * np.arange(1, count + 1)])
    a, wt = panels(edges, 32)
    w = 2 * np.pi * f
    return 1j * w * MU0 * np.pi * (wt * factor(a, c, h) * factor(a, c2, h2) * gamma(a, w, layers)).sum()


def inductance(c):
    """Cut three times as far out as in the program, each panel with 32 points; tail by the mean of the moment squared."""
    step = np.pi / (1.7 * 2 * c["r2"])
    count = int(12000 / c["r2"] / step)
    a, wt = panels(np.concatenate([[0], step * 2.0 ** np.arange(-16, 0), step * np.arange(1, count + 1)]), 32)
    end, l = step * count, c["length"]
    total = (wt * (moment(a, c) / a) ** 2 * (a * l + np.exp(-a * l) - 1)).sum()
    total += (c["r1"] + c["r2"]) / np.pi * (l / (3 * end**3) - 1 / (4 * end**4))
    return 2 * MU0 * np.pi * (c["turns"] / ((c["r2"] - c["r1"]) * l)) ** 2 * total


def image(c, h, n=24):
    """-M(coil, image) of a perfect conductor, in H."""
    r, wr = panels([c["r1"], c["r2"]], n)
    z, wz = panels([h, h + c["length"]], n)
    total = 0.0
    for zi, wi in zip(z, wz):
        for zk, wk in zip(z, wz):
            a, b, d = r[:, None], r[None, :], zi + zk
            k2 = 4 * a * b / ((a + b) ** 2 + d * d)
            k = np.sqrt(k2)
            m = MU0 * np.sqrt(a * b) * ((2 / k - k) * ellipk(k2) - 2 / k * ellipe(k2))
            total += wi * wk * (wr[:, None] * wr[None, :] * m).sum()
    return -total * (c["turns"] / ((c["r2"] - c["r1"]) * c["length"])) ** 2


al, steel, air = (17.4e6, 1, None), (5e6, 100, None), (0, 1, None)
plate = [(30.6e6, 1, 12.22e-3), air]
single = [
    ("H1", A, 0.1e-3, 100e3, [al]), ("H2", A, 0.1e-3, 500e3, [al]), ("H3", A, 0.5e-3, 500e3, [al]),
    ("H4", A, 0.1e-3, 2e6, [(0.58e6, 1, None)]), ("H5", A, 0.5e-3, 500e3, [(0.58e6, 1, None)]),
    ("H6", A, 0.1e-3, 10e3, [(58e6, 1, None)]), ("M1", B, 0.5e-3, 10e3, [steel]), ("M2", B, 0.5e-3, 100e3, [steel]),
    ("M3", B, 2e-3, 100e3, [steel]), ("M4", A, 0.1e-3, 500e3, [(1.45e6, 75, None)]),
    ("M5", B, 0.5e-3, 100e3, [(0, 100, None)]), ("L1", B, 0.5e-3, 100e3, [(0, 1, 0.3e-3), steel]),
    ("L2", B, 0.5e-3, 100e3, [(16.5e6, 1, 0.1e-3), steel]), ("L3", A, 0.1e-3, 10e3, [(17.4e6, 1, 1e-3), air]),
    ("L4", B, 0.5e-3, 1e3, [(17.4e6, 1, 2e-3), (0, 1, 0.1e-3), (17.4e6, 1, 2e-3), air]),
    ("L5", B, 0.5e-3, 50e3, [(0, 1, 0.2e-3), (16.5e6, 1, 0.05e-3), (5e6, 100, 5e-3), air]),
    ("TEAM 15-1 plate", T1, 0.88e-3, 900, plate), ("TEAM 15-1 infinite", T1, 0.88e-3, 900, [(30.6e6, 1, None)]),
    ("TEAM 15-2 plate", T2, 2.03e-3, 7e3, plate),
]
pairs = [
    ("pair over aluminum", (B, 0.8e-3), (A, 0.2e-3), 100e3, [al]),
    ("pair over painted steel", (B, 0.5e-3), (A, 0.5e-3), 50e3, [(0, 1, 0.2e-3), steel]),
    ("stacked pair over a plate", (A, 0.1e-3), (A, 1.2e-3), 10e3, [(17.4e6, 1, 1e-3), air]),
]


def stack(layers):
    return [{"sigma": s, "mur": m, "thickness": d} for s, m, d in layers]


def row(name, drive, pick, f, layers):
    z = change(drive, pick, f, layers)
    coils = [{**c, "liftOff": h} for c, h in ((drive, pick) if pick is not drive else (drive,))]
    return {"id": name, "coils": coils, "f": f, "layers": stack(layers), "dR": z.real, "dX": z.imag}


cases = [row(n, p, p, f, layers) for n, c, h, f, layers in single for p in [(c, h)]]
cases += [row(*pair) for pair in pairs]
Path(__file__).with_suffix(".json").write_text(json.dumps({
    "source": f"computed by layers.py with SciPy {scipy.__version__}, NumPy {np.__version__}",
    "tolerance": 1e-10,
    "why": "relative to |dZ|; two quadratures that differ in grid, moment and recursion agree to about 1e-14",
    "cases": cases,
    "inductance": [{**c, "L0": inductance(c)} for c in (A, B, T1, T2)],
    "image": {"coil": {**B, "liftOff": 0.5e-3}, "dL": image(B, 0.5e-3)},
}) + "\n")
