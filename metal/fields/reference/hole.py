"""Coil in a hole, a second way. Run: python3 hole.py (writes hole.json beside it).

Bessel functions, their ratios and the reaction of the wall straight from their definitions by mpmath, 40 digits.
Impedances with SciPy's Bessel functions, logarithms of I accumulated, on grids finer than those of the program and with
all orders for every wave number. The coaxial coil beside it by finite elements: own axisymmetric runs with FreeFem++ 4.11
(second order, 83 000 triangles), whose reactance is off by 5e-4 ohm because their air ends at a finite distance.
"""
import json
from pathlib import Path

import mpmath as mp
import numpy as np
import scipy
from scipy.special import ive, kve

MU0 = 4e-7 * np.pi
mp.mp.dps = 40
C = {"r1": 0.3e-3, "r2": 0.7e-3, "length": 0.6e-3, "turns": 60, "liftOff": 0.15e-3}
FLAT = {"r1": 0.5e-3, "r2": 1.5e-3, "length": 1e-3, "turns": 100, "liftOff": 0.5e-3}
AXIAL = {"r1": 3e-3, "r2": 5e-3, "length": 2e-3, "turns": 100}


def parts(z):
    return [float(mp.re(z)), float(mp.im(z))]


def k_row(z):
    """K0 and K1 times exp(z)."""
    return parts(z) + parts(mp.besselk(0, z) * mp.exp(z)) + parts(mp.besselk(1, z) * mp.exp(z))


def k_ratio(m, z):
    return [m] + parts(z) + parts(mp.besselk(m + 1, z) / mp.besselk(m, z))


def i_ratio(m, x):
    return [m, float(x), float(mp.besseli(m + 1, x) / mp.besseli(m, x))]


def wall(m, k, b, f, sigma, mur):
    mu = 4 * mp.pi / 10**7
    k, b = mp.mpf(k), mp.mpf(b)
    g = mp.sqrt(k * k + 2j * mp.pi * f * mu * mur * sigma)
    dk = lambda z: m / z - mp.besselk(m + 1, z) / mp.besselk(m, z)
    y = mur * (k * k / g * dk(g * b) + (m / b) ** 2 * (1 - k * k / g**2) / (g * dk(g * b)))
    i, kk = mp.besseli(m, k * b), mp.besselk(m, k * b)
    return i * kk * (y - k * dk(k * b)) / (k * mp.besseli(m, k * b, 1) / i - y)


def panels(edges, n):
    x, w = np.polynomial.legendre.leggauss(n)
    e = np.asarray(edges)
    h, c = np.diff(e) / 2, (e[:-1] + e[1:]) / 2
    return (c[:, None] + h[:, None] * x).ravel(), (h[:, None] * w).ravel()


def grid(gap, x2, n, tol):
    w = 1 / x2
    e = [0.0] + list(w * 2.0 ** np.arange(-16, 1))
    while e[-1] < tol / (2 * gap):
        e.append(e[-1] + max(0.7 * w, e[-1] * 0.09))
    return panels(e, n)


def ratios(x, count):
    out = np.zeros((count + 1,) + x.shape)
    t = x / (count + 200 + np.sqrt((count + 200) ** 2 + x * x))
    for m in range(count + 199, 0, -1):
        t = 1 / (2 * m / x + t)
        if m <= count:
            out[m] = t
    return out


def log_i(x, count):
    out = np.log(ratios(x, count)[1:])
    first = np.log(ive(0, x)) + x
    return np.concatenate([first[None], first + np.cumsum(out, 0)])


def shape(c, b, n=14, tol=42, ny=36, nz=64):
    """f_m(k) of the radial coil: k, weights, F[m, k]."""
    r1, r2, x2 = c["r1"], c["r2"], b - c["liftOff"]
    x1 = x2 - c["length"]
    k, wk = grid(b - x2, x2, n, tol)
    count = int(tol / (2 * np.log(b / np.hypot(x2, r2)))) + 12
    t, wt = np.polynomial.legendre.leggauss(ny)
    t, wt = (t + 1) / 2, wt / 2
    u, du = t * t * (3 - 2 * t), 6 * t * (1 - t)
    y, wy = np.concatenate([r1 * u, r1 + (r2 - r1) * u]), np.concatenate([r1 * du * wt, (r2 - r1) * du * wt])
    t, wt = np.polynomial.legendre.leggauss(nz)
    t, wt = (t + 1) / 2, wt / 2
    u, du = t * t * (3 - 2 * t), 6 * t * (1 - t)
    z1, z2 = np.sqrt(np.maximum(r1 * r1 - y * y, 0)), np.sqrt(r2 * r2 - y * y)
    z, wz = z1[:, None] + (z2 - z1)[:, None] * u, (z2 - z1)[:, None] * du * wt
    edge = np.maximum(r2 - np.hypot(y[:, None], z), 0) * wz
    out = np.zeros((count + 1, len(k)))
    for part in np.array_split(np.arange(len(k)), len(k) // 25 + 1):
        kk = k[part]
        g = np.array([2 * ((r2 - r1) * np.sin(q * z1) / q + (edge * np.cos(q * z)).sum(1)) for q in kk])
        g = g * 2 * wy * c["turns"] / ((r2 - r1) * (x2 - x1))
        base = log_i(kk * b, count)
        for x, sign in ((x2, 1), (x1, -1)):
            turn = np.cos(np.arange(count + 1)[:, None] * np.arctan2(y, x))
            l = log_i(np.outer(kk, np.hypot(x, y)), count) - base[:, :, None]
            out[:, part] += sign * np.einsum("ky,mky,my->mk", g, np.exp(l), turn)
    return k, wk, out


def reaction(k, b, w, sigma, mur, count):
    x = k * b
    r = ratios(x, count + 1)
    g = np.sqrt(k * k + 1j * w * MU0 * mur * sigma)
    gb = g * b
    qk, qg = kve(1, x) / kve(0, x), kve(1, gb) / kve(0, gb)
    out = np.empty((count + 1, len(k)), complex)
    for m in range(count + 1):
        if m > 0:
            qk, qg = 2 * m / x + 1 / qk, 2 * m / gb + 1 / qg
        li, lk, q = k * (r[m + 1] + m / x), k * (-qk + m / x), -qg + m / gb
        y = mur * ((k * k / g) * q + (m / b) ** 2 * (1 - k * k / g**2) / (g * q))
        out[m] = (y - lk) / (li - y) / x / (qk + r[m + 1])
    return out


def change(k, wk, f_m, b, f, sigma, mur):
    w = 2 * np.pi * f
    twice = np.where(np.arange(len(f_m)) == 0, 1, 2)[:, None]
    return -1j * w * MU0 / (2 * np.pi**2) * (twice * reaction(k, b, w, sigma, mur, len(f_m) - 1) * f_m**2 * wk).sum()


def coaxial(c, b):
    k, wk = grid(b - c["r2"], c["r2"], 28, 44)
    s, ws = panels([c["r1"], c["r2"]], 48)
    moment = (np.exp(np.outer(k, s) - (k * b)[:, None]) * ive(1, np.outer(k, s)) * (s * ws)).sum(1) / ive(0, k * b)
    density = c["turns"] / ((c["r2"] - c["r1"]) * c["length"])
    return k, wk, (density * 4 * np.pi * moment * np.sin(k * c["length"] / 2) / k)[None]


def row(coil, b, metal, f, z):
    return {**coil, "diameter": 2 * b, "sigma": metal[0], "mur": metal[1], "f": f, "dR": z.real, "dX": z.imag}


if __name__ == "__main__":
    ray = mp.exp(1j * mp.pi / 4)
    even = [(18.97e6, 1, 200e3), (18.97e6, 1, 500e3), (0.58e6, 1, 2e6), (1.45e6, 75, 1e6)]
    radial, limit, axial = [], [], []
    for b in (1.98e-3, 3.175e-3, 6.35e-3):
        f_m = shape(C, b)
        radial += [row(C, b, (s, m), f, change(*f_m, b, f, s, m)) for s, m, f in even]
    for b in (10e-3, 20e-3):
        f_m = shape(FLAT, b)
        limit += [row(FLAT, b, (18.7e6, m), 100e3, change(*f_m, b, 100e3, 18.7e6, m)) for m in (1, 100)]
    f_m = coaxial(AXIAL, 5.5e-3)
    for m, fem in ((1, (0.4644160, -0.53812)), (50, (0.2015962, 0.49415))):
        z = change(*f_m, 5.5e-3, 10e3, 2e6, m)
        axial.append({**row(AXIAL, 5.5e-3, (2e6, m), 10e3, z), "finite_elements": fem})
    angles = [mp.mpf(1), mp.exp(0.3j), ray]
    sizes = ["0.0001", "0.01", "0.1", "0.5", "1", "2", "5", "10", "19.9", "20.1", "30", "50", "200", "3000"]
    walls = [(3.175e-3, 500e3, s, m) for s, m in ((18.97e6, 1), (1.45e6, 75), (0, 1), (0, 50), (58e6, 1))]
    Path(__file__).with_suffix(".json").write_text(json.dumps({
        "source": f"computed by hole.py with SciPy {scipy.__version__}, NumPy {np.__version__}, mpmath {mp.__version__} (40 digits)",
        "tolerance": 1e-10,
        "why": "relative to |dZ|; two quadratures that differ in grid and orders agree to about 1e-13",
        "scaled_k": [k_row(mp.mpf(x) * a) for x in sizes for a in angles],
        "k_ratios": [k_ratio(m, mp.mpf(x) * ray) for x in ("0.1", "2", "20", "200") for m in (0, 1, 5, 20, 50, 300)],
        "i_ratios": [i_ratio(m, mp.mpf(x)) for x in ("0.001", "2", "20", "200", "3000") for m in (0, 1, 5, 20, 50, 300)],
        "scaled_i0": [[float(x), float(mp.besseli(0, mp.mpf(x)) * mp.exp(-mp.mpf(x)))] for x in sizes],
        "wall": [[*w, m, k, *parts(wall(m, k, *w))] for w in walls for m in (0, 1, 20) for k in (100, 1000, 5000)],
        "radial": radial, "flat_limit": limit, "coaxial": axial,
    }) + "\n")
