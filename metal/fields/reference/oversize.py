"""How the answer of a crack falls with the distance of the coil. Run: python3 oversize.py (writes oversize.json beside it).

Ideal crack (closed, insulating, rectangular) in a half-space under an air-core coil: no current crosses it, so the field
of its surface dipoles cancels that of the coil on it. Pulse cells, matched at their middles; time factor exp(+jwt). The
change of impedance is -integral of (incident field times dipole density). From the second distance on it is given as a
share of the first. Second table: the largest answer of a shorter or shallower crack as a share of that of one 1 mm long and
0.5 mm deep, the coil moved along both.
"""
import json
from pathlib import Path

import numpy as np
import scipy
from scipy.special import j1

MU0 = 4e-7 * np.pi
SMALL = {"r1": 0.3e-3, "r2": 0.7e-3, "length": 0.6e-3, "turns": 60}
LARGE = {"r1": 2e-3, "r2": 4e-3, "length": 3e-3, "turns": 300}
ALUMINUM = {"f": 500e3, "sigma": 18.97e6, "mur": 1}
TITANIUM = {"f": 2e6, "sigma": 0.58e6, "mur": 1}
STEEL = {"f": 50e3, "sigma": 5e6, "mur": 100}
CASES = [
    ("small coil, aluminum", SMALL, ALUMINUM, (0.75e-3, 0.75e-3), (40, 20), 0.5e-3, [0.1, 0.15, 0.2, 0.3, 0.5]),
    ("large coil, steel", LARGE, STEEL, (5e-3, 1e-3), (80, 20), 0.0, [0.5, 1.0, 1.5, 2.0, 2.5]),
    ("shorter than the coil, aluminum", SMALL, ALUMINUM, (0.25e-3, 0.25e-3), (60, 30), 0.4e-3, [0.03, 0.05, 0.1, 0.2, 0.3]),
    ("shorter than the coil, titanium", SMALL, TITANIUM, (0.25e-3, 0.25e-3), (60, 30), 0.4e-3, [0.03, 0.05, 0.1, 0.2, 0.3]),
    ("beside the coil, titanium", SMALL, TITANIUM, (0.75e-3, 0.75e-3), (60, 30), 0.5e-3, [0.03, 0.05, 0.1, 0.2, 0.3]),
]

METALS = {"aluminum": ALUMINUM, "titanium": TITANIUM, "steel": {"f": 1e6, "sigma": 1.45e6, "mur": 75}}
SMALLER_mm = [(1.0, 0.25), (1.0, 0.4), (0.8, 0.5), (0.5, 0.5), (0.3, 0.5), (0.5, 0.25), (0.8, 0.4)]


def panels(edges, n):
    x, w = np.polynomial.legendre.leggauss(n)
    e = np.asarray(edges)
    h, c = np.diff(e) / 2, (e[:-1] + e[1:]) / 2
    return (c[:, None] + h[:, None] * x).ravel(), (h[:, None] * w).ravel()


def cells(metal, size, count):
    """Field at the middle of each cell by the dipoles of each other one: direct, image, and the surface's own part."""
    f, sigma, mur = metal["f"], metal["sigma"], metal["mur"]
    (hy, hz), (ny, nz) = size, count
    wave = 1j * 2 * np.pi * f * MU0 * mur * sigma
    k = np.sqrt(wave)
    fall = lambda r: -(1 + k * r) * np.exp(-k * r) / (4 * np.pi * r**3)
    x, w = np.polynomial.legendre.leggauss(16)
    m, n = np.arange(ny)[:, None, None], np.arange(2 * nz + 1)[None, :, None]
    around = 0
    for side in (1, -1):
        y, z = m * hy + side * hy / 2, n * hz + x * hz / 2
        around = around + side * (y * fall(np.hypot(y, z)) * w * hz / 2).sum(-1)
        y, z = m * hy + x * hy / 2, n * hz + side * hz / 2
        around = around + side * (z * fall(np.hypot(y, z)) * w * hy / 2).sum(-1)
    step = 2 * np.pi / ((ny + 0.5) * hy)
    edges = np.concatenate([[0], step * 2.0 ** np.arange(-12, 0), step * np.arange(1, int(72 / hz / step) + 2)])
    a, wa = panels(edges, 14)
    g = np.sqrt(a * a + wave)
    part = wave / sigma / (2 * np.pi) * wa * a / (g * g * (g / mur + a))
    across = np.diff(np.array([j1(a * (i - 0.5) * hy) for i in range(ny + 1)]), axis=0)
    down = np.array([np.exp(-g * (i + 0.5) * hz) - np.exp(-g * (i + 1.5) * hz) for i in range(2 * nz - 1)])
    surface = across @ (part * down).T
    iy, iz = (v.ravel() for v in np.meshgrid(np.arange(ny), np.arange(nz), indexing="ij"))
    dy, dz, sz = abs(iy[:, None] - iy), abs(iz[:, None] - iz), iz[:, None] + iz
    return -(around[dy, dz] + around[dy, sz + 1]) / sigma + surface[dy, sz]


def incident(coil, metal, gap, y, z):
    """Field of a unit current across the plane of the crack, the coil's axis in that plane."""
    r1, r2, length, turns = coil["r1"], coil["r2"], coil["length"], coil["turns"]
    omega = 2 * np.pi * metal["f"]
    step = np.pi / (2 * r2)
    edges = np.concatenate([[0], step * 2.0 ** np.arange(-14, 0), step * np.arange(1, int(38 / gap / step) + 2)])
    a, w = panels(edges, 20)
    s, ws = panels(np.linspace(r1, r2, int(a.max() * (r2 - r1) / 40) + 2), 64)
    moment = (j1(np.outer(a, s)) * (s * ws)).sum(1)
    g = np.sqrt(a * a + 1j * omega * MU0 * metal["mur"] * metal["sigma"])
    near = (np.exp(-a * gap) - np.exp(-a * (gap + length))) / a
    b = MU0 * turns / ((r2 - r1) * length) * a / (a + g / metal["mur"]) * moment * near * w
    return 1j * omega * ((b * j1(np.outer(abs(y), a))) @ np.exp(np.outer(g, z))) * np.sign(y)[:, None]


def answers(coil, metal, crack, count, offset, gaps):
    half, depth = crack
    hy, hz = 2 * half / count[0], depth / count[1]
    y, z = -half + (np.arange(count[0]) + 0.5) * hy, -(np.arange(count[1]) + 0.5) * hz
    field = np.array([incident(coil, metal, gap, y - offset, z).ravel() for gap in gaps]).T
    dipoles = np.linalg.solve(cells(metal, (hy, hz), count), -field)
    return abs(-(field * dipoles).sum(0) * hy * hz)


def case(name, coil, metal, crack, count, offset, gaps_mm):
    size = answers(coil, metal, crack, count, offset, [1e-3 * gap for gap in gaps_mm])
    radius = 0.5e3 * (coil["r1"] + coil["r2"])
    rows = [{"farther_mm": round(g - gaps_mm[0], 12), "share": s / size[0]} for g, s in zip(gaps_mm, size)][1:]
    return {"case": name, "mean_coil_radius_mm": radius, "nearest_mm": gaps_mm[0], "nearest_ohm": size[0], "rows": rows}


def largest(metal, length_mm, depth_mm):
    crack = (0.5e-3 * length_mm, 1e-3 * depth_mm)
    offsets = (0.0, 0.2e-3, 0.4e-3, 0.5e-3, 0.6e-3, 0.7e-3)
    return max(answers(SMALL, metal, crack, (48, 24), offset, [0.15e-3])[0] for offset in offsets)


def smaller(name, metal):
    whole = largest(metal, 1.0, 0.5)
    return [
        {"metal": name, "length": length / 1.0, "depth": depth / 0.5, "share": largest(metal, length, depth) / whole}
        for length, depth in SMALLER_mm
    ]


values = {
    "source": f"computed by oversize.py with SciPy {scipy.__version__} and NumPy {np.__version__}",
    "why": "the rule is for plausibility: no share may lie below its lower end",
    "cases": [case(*one) for one in CASES],
    "smaller": [row for name, metal in METALS.items() for row in smaller(name, metal)],
}
Path(__file__).with_suffix(".json").write_text(json.dumps(values, indent=2) + "\n")
