"""Ideal crack, a second way. Run: python3 reference/crack.py (writes crack.json beside it).

NumPy and SciPy: Bessel functions of SciPy, the contour of every cell by Gauss on all four sides, the surface term and the
field of the coil by their integrals at every distance (no table over the radius), the whole matrix by LU with pivots (no
symmetry used), the outline by the inequality of its ellipse, the gradient by numpy.diff. Also the script that the
benchmark runs: scan(). Same cells and same matching at the middle of each cell, so that results agree far closer than
either is converged.
"""
import json
from pathlib import Path

import numpy as np
from scipy.special import j1

MU0 = 4e-7 * np.pi


def panels(edges, n):
    x, w = np.polynomial.legendre.leggauss(n)
    e = np.asarray(edges)
    h, c = np.diff(e) / 2, (e[:-1] + e[1:]) / 2
    return (c[:, None] + h[:, None] * x).ravel(), (h[:, None] * w).ravel()


def wave_numbers(width, end, n):
    return panels(np.concatenate([[0], width * 2.0 ** np.arange(-14, 0), width * np.arange(1, int(end / width) + 2)]), n)


def tables(f, sigma, mur, hy, hz, ny, nz):
    w, mu = 2 * np.pi * f, MU0 * mur
    q = (1 - 1j) * np.sqrt(w * mu * sigma / 2)
    x, wt = np.polynomial.legendre.leggauss(16)
    m, n = np.arange(ny)[:, None, None], np.arange(2 * nz + 1)[None, :, None]
    slope = lambda r: -(1 + 1j * q * r) * np.exp(-1j * q * r) / (4 * np.pi * r**3)
    direct = 0
    for side in (1, -1):
        y, z = m * hy + side * hy / 2, n * hz + x * hz / 2
        direct = direct + side * (y * slope(np.sqrt(y * y + z * z)) * wt * hz / 2).sum(-1)
        y, z = m * hy + x * hy / 2, n * hz + side * hz / 2
        direct = direct + side * (z * slope(np.sqrt(y * y + z * z)) * wt * hy / 2).sum(-1)
    k, wk = wave_numbers(2 * np.pi / ((ny + 0.5) * hy), 72 / hz, 14)
    g = np.sqrt(k * k + 1j * w * mu * sigma)
    front = 1j * w * mu / (2 * np.pi) * wk * k / (g * g * (g / mur + k))
    bessel = np.array([j1(k * (i - 0.5) * hy) for i in range(ny + 1)])
    fall = np.array([np.exp(-g * (i + 0.5) * hz) - np.exp(-g * (i + 1.5) * hz) for i in range(2 * nz - 1)])
    return direct, (bessel[1:] - bessel[:-1]) @ (front * fall).T


def matrix(f, sigma, mur, hy, hz, ny, nz):
    direct, top = tables(f, sigma, mur, hy, hz, ny, nz)
    y, z = (i.ravel() for i in np.meshgrid(np.arange(ny), np.arange(nz), indexing="ij"))
    dy, dz, sz = abs(y[:, None] - y), abs(z[:, None] - z), z[:, None] + z
    return -(direct[dy, dz] + direct[dy, sz + 1]) / sigma + top[dy, sz]


def moment(a, r1, r2):
    s, w = panels(np.linspace(r1, r2, int(a.max() * (r2 - r1) / 40) + 2), 64)
    return np.concatenate([(j1(np.outer(part, s)) * (s * w)).sum(1) for part in np.array_split(a, len(a) // 500 + 1)])


def field(coil, f, sigma, mur, y, z, across, along):
    r1, r2, length, h, turns = coil
    w = 2 * np.pi * f
    a, wt = wave_numbers(np.pi / (2 * r2), 38 / h, 20)
    g = np.sqrt(a * a + 1j * w * MU0 * mur * sigma)
    size = moment(a, r1, r2) * (np.exp(-a * h) - np.exp(-a * (h + length)))
    weight = MU0 * turns / ((r2 - r1) * length) * size / (a + g / mur) * wt
    depth = np.exp(np.outer(g, z))
    out = []
    for xc, yc in zip(across, along):
        rho = np.hypot(xc, y - yc)
        potential = (weight * j1(np.outer(rho, a))) @ depth
        out.append(1j * w * potential * ((y - yc) / np.where(rho > 0, rho, 1))[:, None])
    return np.array(out)


def inside(outline, ny, nz):
    part, z = (np.arange(ny) + 0.5) / ny, (np.arange(nz) + 0.5) / nz
    y = {"rectangle": 0 * part, "half ellipse": 2 * part - 1, "quarter ellipse": part}[outline]
    return (y[:, None] ** 2 + (z[None, :] * (outline != "rectangle")) ** 2) <= 1


def scan(coil, f, sigma, mur, crack, cells, places):
    outline, length, depth, opening = crack
    ny, nz = cells
    hy, hz = length / ny, depth / nz
    y, z = (np.arange(ny) + 0.5) * hy - length / 2, -(np.arange(nz) + 0.5) * hz
    within = inside(outline, ny, nz)
    keep = within.ravel()
    e = field(coil, f, sigma, mur, y, z, *np.array(places).T).reshape(len(places), -1)[:, keep].T
    p = np.linalg.solve(matrix(f, sigma, mur, hy, hz, ny, nz)[np.ix_(keep, keep)], -e)
    closed = -(e * p).sum(0) * hy * hz
    full = np.full((ny * nz, len(places)), np.nan + 0j)
    full[keep] = p
    full = full.reshape(ny, nz, -1)
    steps = np.nansum((np.diff(full, axis=0) / hy) ** 2, (0, 1)) + np.nansum((np.diff(full, axis=1) / hz) ** 2, (0, 1))
    return closed, opening / (4 * sigma) * steps * hy * hz


T1, T2 = (6.15e-3, 12.4e-3, 6.15e-3, 0.88e-3, 3790), (9.34e-3, 18.4e-3, 9e-3, 2.03e-3, 408)
C, B = (0.3e-3, 0.7e-3, 0.6e-3, 0.15e-3, 60), (2e-3, 4e-3, 3e-3, 1e-3, 300)
SLOT = ("rectangle", 12.6e-3, 5e-3, 0.28e-3)
AL = [(0, 0), (0, 0.5e-3), (0, 1e-3)]
CASES = [
    ("TEAM 15-1", T1, 900, 30.6e6, 1, SLOT, (30, 12), [(0, 0), (0, 9e-3), (0, 20e-3)]),
    ("TEAM 15-2", T2, 7000, 30.6e6, 1, SLOT, (30, 12), [(0, 0), (0, 13e-3)]),
    ("small coil, aluminum", C, 500e3, 18.97e6, 1, ("rectangle", 1.5e-3, 0.75e-3, 0), (24, 12), AL),
    ("beside the plane", C, 500e3, 18.97e6, 1, ("rectangle", 1.5e-3, 0.75e-3, 0), (20, 10), [(0.4e-3, 0.2e-3), (-0.8e-3, 0)]),
    ("half ellipse", C, 500e3, 18.97e6, 1, ("half ellipse", 1.5e-3, 0.75e-3, 0), (24, 12), AL),
    ("half ellipse, open", T1, 900, 30.6e6, 1, ("half ellipse", 12.6e-3, 5e-3, 0.28e-3), (24, 10), [(0, 9e-3)]),
    ("quarter ellipse", C, 500e3, 18.97e6, 1, ("quarter ellipse", 1.5e-3, 0.75e-3, 0), (20, 10), [(0, -0.6e-3), (0, 0), (0, 0.6e-3)]),
    ("steel", B, 50e3, 5e6, 100, ("rectangle", 4e-3, 0.5e-3, 0), (50, 8), [(0, 0), (0, 3e-3)]),
]


def row(name, coil, f, sigma, mur, crack, cells, places):
    closed, opening = scan(coil, f, sigma, mur, crack, cells, places)
    flat = lambda z: [[v.real, v.imag] for v in z]
    crack = dict(zip(("outline", "length", "depth", "opening"), crack))
    coil = dict(zip(("r1", "r2", "length", "liftOff", "turns"), coil))
    return {"id": name, "coil": coil, "f": f, "sigma": sigma, "mur": mur, "crack": crack, "cells": list(cells),
            "places": [list(p) for p in places], "closed": flat(closed), "opening": flat(opening)}


if __name__ == "__main__":
    out = {
        "source": "computed by crack.py with NumPy and SciPy", "place": "its list of cases", "unit": "ohm, meters, hertz, siemens per meter",
        "tolerance": 1e-7, "why": "same cells and matching, other quadratures, no symmetry; both are within 1e-9 of their limit",
        "cases": [row(*case) for case in CASES],
    }
    Path(__file__).with_name("crack.json").write_text(json.dumps(out) + "\n")
