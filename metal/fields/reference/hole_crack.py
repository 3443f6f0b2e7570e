"""Crack in the wall of a hole, a second way. Run: python3 hole_crack.py (writes hole_crack.json beside it).

NumPy and SciPy: the field of the coil in the metal by its sum over all orders and its integral over wave numbers at every
cell, angle and place (no table over the distance, nothing cut by size), the crack by the whole matrix of crack.py and LU.
E_phi(rho, phi, z) = (1 / 4 pi^2) sum of eps_m cos(m phi) integral of 2j sin(k z) (-w mu0 mur k / g^2) f_m
  / (b (k I'/I - Y)) [g K'_m(g rho) / K_m(g b) - m^2 / (b rho) K_m(g rho) / (g K'_m(g b))] dk
"""
import json
from pathlib import Path

import numpy as np
import scipy
from scipy.special import kve

from crack import inside, matrix
from hole import C, MU0, ratios, shape


def field(fine, b, f, sigma, mur, depth, z, angles):
    """[angle, z, depth], V/m."""
    k, wk, f_m = fine
    w, count = 2 * np.pi * f, len(f_m) - 1
    r = ratios(k * b, count + 1)
    g = np.sqrt(k * k + 1j * w * MU0 * mur * sigma)
    gb, rho = g * b, b + depth
    g_rho = np.outer(g, rho)
    at_wall, at_depth = kve(1, gb) / kve(0, gb), kve(1, g_rho) / kve(0, g_rho)
    share = kve(0, g_rho) / kve(0, gb)[:, None] * np.exp(-np.outer(g, depth))
    total = np.zeros((len(angles), len(k), len(rho)), complex)
    for m in range(count + 1):
        if m > 0:
            share = share * at_depth / at_wall[:, None]
            at_depth, at_wall = 2 * m / g_rho + 1 / at_depth, 2 * m / gb + 1 / at_wall
        slope = m / gb - at_wall
        y = mur * ((k * k / g) * slope + (m / b) ** 2 * (1 - k * k / g**2) / (g * slope))
        part = g[:, None] * (m / g_rho - at_depth) * share - (m * m / (b * rho))[None] * share / (g * slope)[:, None]
        front = wk * (-w * MU0 * mur * k / g**2) * f_m[m] / (b * (k * (r[m + 1] + m / (k * b)) - y))
        part = (1 if m == 0 else 2) * front[:, None] * part
        for i, angle in enumerate(angles):
            total[i] += np.cos(m * angle) * part
    wave = 2j * np.sin(np.outer(k, z)).T / (4 * np.pi**2)
    return np.array([wave @ one for one in total])


def answers(fine, coil, diameter, f, sigma, mur, crack, cells, places):
    outline, length, depth = crack
    ny, nz = cells
    hy, hz = length / ny, depth / nz
    y, s = (np.arange(ny) + 0.5) * hy - length / 2, (np.arange(nz) + 0.5) * hz
    keep = inside(outline, ny, nz).ravel()
    angles = sorted({angle for angle, _ in places})
    along = sorted({a for _, a in places})
    e = field(fine, diameter / 2, f, sigma, mur, s, np.concatenate([y - a for a in along]), angles)
    e = e.reshape(len(angles), len(along), ny * nz)
    e = np.array([e[angles.index(angle), along.index(a)][keep] for angle, a in places]).T
    p = np.linalg.solve(matrix(f, sigma, mur, hy, hz, ny, nz)[np.ix_(keep, keep)], -e)
    return -(e * p).sum(0) * hy * hz


AL, STEEL, TI = (18.97e6, 1), (1.45e6, 75), (0.58e6, 1)
LINE = [(0, 0), (0, 0.5e-3), (0, 1e-3)]
BESIDE = [(0.1, 0), (-0.25, 0), (0.25, 0.4e-3), (0.4, -0.4e-3)]
CASES = [
    ("aluminum", 3.96e-3, 500e3, AL, ("rectangle", 1.5e-3, 0.75e-3), (40, 20), LINE + BESIDE),
    ("aluminum", 6.35e-3, 500e3, AL, ("rectangle", 1.5e-3, 0.75e-3), (40, 20), LINE + BESIDE),
    ("aluminum", 12.7e-3, 500e3, AL, ("rectangle", 1.5e-3, 0.75e-3), (40, 20), LINE + BESIDE),
    ("titanium", 6.35e-3, 2e6, TI, ("half ellipse", 1.2e-3, 0.6e-3), (24, 12), LINE + BESIDE),
    ("steel", 6.35e-3, 1e6, STEEL, ("quarter ellipse", 0.6e-3, 0.3e-3), (20, 10), LINE + BESIDE),
]


def row(name, diameter, f, metal, crack, cells, places):
    closed = answers(shape(C, diameter / 2, tol=60), C, diameter, f, *metal, crack, cells, places)
    return {"id": f"{name}, {diameter} m", "diameter": diameter, "f": f, "sigma": metal[0], "mur": metal[1],
            "crack": dict(zip(("outline", "length", "depth"), crack)), "cells": list(cells),
            "places": [list(p) for p in places], "closed": [[z.real, z.imag] for z in closed]}


if __name__ == "__main__":
    out = {
        "source": f"computed by hole_crack.py with NumPy {np.__version__} and SciPy {scipy.__version__}",
        "place": "its list of cases", "unit": "ohm, meters, radians, hertz, siemens per meter",
        "tolerance": 1e-7, "why": "relative to the largest answer; same cells and matching, other quadratures",
        "coil": C, "cases": [row(*case) for case in CASES],
    }
    Path(__file__).with_name("hole_crack.json").write_text(json.dumps(out) + "\n")
    for case in out["cases"]:
        print(case["id"], case["closed"])
