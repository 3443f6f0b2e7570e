"""Circular driver and a differential pair of half-round pick-ups over a crack, a second way. Run: python3 d_pair.py.

SciPy's J_n and J_n' at every cell and place (no table over the radius), the series of the pair written with derivatives and
angles as it comes from the potential, windings averaged turn by turn over 16 radii, the crack by the whole matrix of
crack.py and LU. Potential of a plane winding, a sheet of upright dipoles:
psi = (mu0 / 2) sum of a_n cos n(phi - phi0) integral of T Z S_n J_n(k rho) exp(g z) dk, T = 2 k / (k + g / mur),
Z = N / l (exp(-k h) - exp(-k (h + l))) / k, S_n = integral of J_n(k r) r dr to the radius of a turn;
E_x = -j w d psi / dy; a_n = 4 (-1)^((n - 1) / 2) / (pi n), n odd. mpmath with 40 digits for J_n.
"""
import functools
import json
import random
from pathlib import Path

import mpmath as mp
import numpy as np
import scipy
from scipy.special import jv

from crack import MU0, field, matrix, panels, wave_numbers

mp.mp.dps = 40
ORDERS = range(1, 18, 2)


def grid(r2, h):
    return wave_numbers(np.pi / (2 * r2), 30 / h, 12)


@functools.cache
def share(n, r1, r2, h):
    k, _ = grid(r2, h)
    x, w = np.polynomial.legendre.leggauss(16)
    turns, out = (r1 + r2) / 2 + x * (r2 - r1) / 2, 0
    for a, wa in zip(turns, w / 2):
        r, wr = panels(np.linspace(0, a, 2 + int(k.max() * a / 12)), 16)
        out = out + wa * np.concatenate([(jv(n, np.outer(part, r)) * (r * wr)).sum(1) for part in np.array_split(k, 40)])
    return out


def pair(coil, f, sigma, mur, y, z, across, along, phi0, terms):
    r1, r2, length, h, turns = coil
    w = 2 * np.pi * f
    k, wk = grid(r2, h)
    g = np.sqrt(k * k + 1j * w * MU0 * mur * sigma)
    base = MU0 / 2 * 2 * k / (k + g / mur) * turns / length * (np.exp(-k * h) - np.exp(-k * (h + length))) / k * wk
    depth = np.exp(np.outer(g, z))
    shares = {n: share(n, r1, r2, h) for n, _ in terms}
    out = []
    for xc, yc in zip(across, along):
        dx, dy = -xc, y - yc
        rho, phi = np.maximum(np.hypot(dx, dy), 1e-9), np.arctan2(dy, dx)
        kr, e = np.outer(rho, k), 0
        j = {n: jv(n, kr) for n in range(max(n for n, _ in terms) + 2)}
        for n, a in terms:
            slope = -j[1] if n == 0 else (j[n - 1] - j[n + 1]) / 2
            part = (np.sin(phi) * np.cos(n * (phi - phi0)))[:, None] * slope * k
            part = part - (n * np.cos(phi) / rho * np.sin(n * (phi - phi0)))[:, None] * j[n]
            e = e + a * (part * (base * shares[n])) @ depth
        out.append(-1j * w * e)
    return np.array(out)


def answers(driver, pick_up, phi0, f, sigma, mur, crack, cells, places):
    length, depth = crack
    ny, nz = cells
    hy, hz = length / ny, depth / nz
    y, z = (np.arange(ny) + 0.5) * hy - length / 2, -(np.arange(nz) + 0.5) * hz
    across, along = np.array(places).T
    terms = [(n, 4 * (-1) ** ((n - 1) // 2) / (np.pi * n)) for n in ORDERS]
    drive = field(driver, f, sigma, mur, y, z, across, along).reshape(len(places), -1).T
    heard = pair(pick_up, f, sigma, mur, y, z, across, along, phi0, terms).reshape(len(places), -1).T
    return -(heard * np.linalg.solve(matrix(f, sigma, mur, hy, hz, ny, nz), -drive)).sum(0) * hy * hz


DRIVER, PAIR = (1.0e-3, 1.4e-3, 0.8e-3, 0.1e-3, 80), (0.6e-3, 0.9e-3, 0.8e-3, 0.1e-3, 60)
ACROSS = [(x * 1e-3, 0) for x in (-2, -1.5, -1.2, -1, -0.8, -0.6, -0.4, -0.2, 0.2, 0.6, 1)]
CASES = [
    ("split line along the crack", 0.0, 500e3, 18.97e6, 1, (1.5e-3, 0.75e-3), (32, 16), ACROSS),
    ("split line across it", float(np.pi / 2), 500e3, 18.97e6, 1, (1.5e-3, 0.75e-3), (20, 10),
     [(0, -1e-3), (0, -0.4e-3), (0, 0.6e-3), (0.3e-3, 0.5e-3)]),
    ("turned, titanium", 0.6, 2e6, 0.58e6, 1, (1.2e-3, 0.6e-3), (16, 8), [(-0.5e-3, 0.2e-3), (0, 0), (0.4e-3, -0.7e-3)]),
    ("turned, steel", -1.1, 50e3, 1.45e6, 75, (1.2e-3, 0.6e-3), (16, 8), [(-0.5e-3, 0.2e-3), (0.4e-3, -0.7e-3)]),
]


def row(name, phi0, f, sigma, mur, crack, cells, places):
    z = answers(DRIVER, PAIR, phi0, f, sigma, mur, crack, cells, places)
    return {"id": name, "turned": phi0, "f": f, "sigma": sigma, "mur": mur, "crack": dict(zip(("length", "depth"), crack)),
            "cells": list(cells), "places": [list(p) for p in places], "change": [[v.real, v.imag] for v in z]}


def bessel():
    rnd = random.Random(7)
    xs = [0.0, 1e-6, 1e-3, 0.5, 0.999999, 1.0, 1.000001, 24.999999, 25.0, 25.000001]
    xs += [rnd.uniform(0, 1) for _ in range(6)] + [rnd.uniform(1, 25) for _ in range(24)]
    xs += [10 ** rnd.uniform(1.4, 4) for _ in range(16)]
    return [[x, *(float(mp.besselj(n, mp.mpf(x))) for n in range(19))] for x in xs]


def round_coil():
    """n = 0 alone is the round coil: the largest difference from the field of crack.py."""
    y, z = np.linspace(-0.7e-3, 0.7e-3, 8), -np.array([0.02e-3, 0.2e-3])
    at = (500e3, 18.97e6, 1, y, z, [0.4e-3], [0.1e-3])
    one, other = pair(DRIVER, *at, 0.0, [(0, 1.0)]), field(DRIVER, *at)
    return abs(one - other).max() / abs(other).max()


if __name__ == "__main__":
    assert round_coil() < 1e-7
    named = lambda c: dict(zip(("r1", "r2", "length", "liftOff", "turns"), c))
    out = {
        "source": f"computed by d_pair.py with NumPy {np.__version__}, SciPy {scipy.__version__} and mpmath {mp.__version__}",
        "place": "its list of cases", "unit": "ohm, meters, radians, hertz, siemens per meter", "tolerance": 1e-7,
        "why": "relative to the largest answer; same cells, matching and orders, other quadratures",
        "driver": named(DRIVER), "pick_up": named(PAIR), "cases": [row(*case) for case in CASES], "bessel": bessel(),
    }
    Path(__file__).with_name("d_pair.json").write_text(json.dumps(out) + "\n")
    for case in out["cases"]:
        print(case["id"], [complex(*z) for z in case["change"]])
