"""A radial coil in a hole as an engineer would compute it with NumPy and SciPy; one JSON line.

Usage: peer_hole.py POINTS.json. Delta Z = -(j w mu0 / 2 pi^2) times the sum over m of (1 for m = 0, else 2) times the
integral of Q_m(k) f_m(k)^2 dk: ratios of Bessel functions only (I downward, K upward from SciPy's), f_m from logarithms
of I over whole arrays [wave number, column], 12-point Gauss panels over k. `points` and `alone`: a point at a time, all
of it. `sweep`: f_m kept for the points in the same hole. One
point before the clock runs; after it Python is no faster in a second pass, so that one serves as first and as later one.
"""
import json
import sys
import time

import numpy as np
from scipy.special import ive, kve

MU0 = 4e-7 * np.pi
TOL = 36
RULES = {n: np.polynomial.legendre.leggauss(n) for n in (12, 28, 48)}


def eased(n):
    x, w = RULES[n]
    t = (x + 1) / 2
    return t * t * (3 - 2 * t), 3 * t * (1 - t) * w


def wave_numbers(gap, x2):
    w = 1 / x2
    edges = [0.0, *(w * 2.0 ** np.arange(-14, 1))]
    while edges[-1] < TOL / (2 * gap):
        edges.append(edges[-1] + max(w, 0.12 * edges[-1]))
    x, weights = RULES[12]
    half, middle = np.diff(edges) / 2, (np.array(edges[:-1]) + np.array(edges[1:])) / 2
    return (middle[:, None] + half[:, None] * x).ravel(), (half[:, None] * weights).ravel()


def ratios(x, count):
    """I_m / I_(m - 1) for m = 1 to count."""
    out = np.zeros((count + 1,) + x.shape)
    start = count + 80
    t = x / (start + np.sqrt(start**2 + x * x))
    for m in range(start - 1, 0, -1):
        t = 1 / (2 * m / x + t)
        if m <= count:
            out[m] = t
    return out


def log_i(x, count):
    out = ratios(x, count)
    out[0] = np.log(ive(0, x)) + x
    for m in range(1, count + 1):
        out[m] = out[m - 1] + np.log(out[m])
    return out


def across(y, k, r1, r2):
    """The dipoles of the winding seen across it, [wave number, column]."""
    z1, z2 = np.sqrt(np.maximum(r1 * r1 - y * y, 0)), np.sqrt(np.maximum(r2 * r2 - y * y, 0))
    u, du = eased(48)
    z = z1[:, None] + (z2 - z1)[:, None] * u
    m = np.maximum(r2 - np.hypot(y[:, None], z), 0) * (z2 - z1)[:, None] * du
    return np.array([2 * ((r2 - r1) * np.sin(q * z1) / q + (m * np.cos(q * z)).sum(1)) for q in k])


def of_coil(c, b):
    """k, its weights, and f_m(k) as [m, wave number]."""
    r1, r2, x2 = c["r1"], c["r2"], b - c["liftOff"]
    x1 = x2 - c["length"]
    k, wk = wave_numbers(b - x2, x2)
    count = int(TOL / (2 * np.log(b / np.hypot(x2, r2)))) + 12
    u, du = eased(28)
    y = np.concatenate([r1 * u, r1 + (r2 - r1) * u])
    wy = np.concatenate([r1 * du, (r2 - r1) * du])
    g = across(y, k, r1, r2) * 2 * wy * c["turns"] / ((r2 - r1) * (x2 - x1))
    base = log_i(k * b, count)
    f = np.zeros((count + 1, len(k)))
    for x, sign in ((x2, 1), (x1, -1)):
        turn = np.arctan2(y, x)
        own = log_i(np.outer(k, np.hypot(x, y)), count)
        for m in range(count + 1):
            f[m] += sign * (g * np.exp(own[m] - base[m][:, None]) * np.cos(m * turn)).sum(1)
    return k, wk, f


def reaction(k, b, w, point, count):
    sigma, mur = point["sigma"], point["mur"]
    x = k * b
    r = ratios(x, count + 1)
    g = np.sqrt(k * k + 1j * w * MU0 * mur * sigma)
    gb = g * b
    qk, qg = kve(1, x) / kve(0, x), kve(1, gb) / kve(0, gb)
    out = np.empty((count + 1, len(k)), complex)
    for m in range(count + 1):
        if m > 0:
            qk, qg = 2 * m / x + 1 / qk, 2 * m / gb + 1 / qg
        li, lk, q = k * (r[m + 1] + m / x), k * (m / x - qk), m / gb - qg
        y = mur * ((k * k / g) * q + (m / b) ** 2 * (1 - k * k / g**2) / (g * q))
        out[m] = (y - lk) / (li - y) / (x * (qk + r[m + 1]))
    return out


def change(k, wk, f, point):
    w = 2 * np.pi * point["f"]
    q = reaction(k, point["diameter"] / 2, w, point, len(f) - 1)
    return -1j * w * MU0 / (2 * np.pi**2) * (2 * q[1:] * f[1:] ** 2 * wk).sum() - 1j * w * MU0 / (2 * np.pi**2) * (
        q[0] * f[0] ** 2 * wk
    ).sum()


def alone(points):
    return [change(*of_coil(point["coil"], point["diameter"] / 2), point) for point in points]


def keeping(points):
    kept = {}
    out = []
    for point in points:
        key = (*point["coil"].items(), point["diameter"])
        if key not in kept:
            kept[key] = of_coil(point["coil"], point["diameter"] / 2)
        out.append(change(*kept[key], point))
    return out


def timed(work, points):
    start = time.process_time()
    out = work(points)
    return out, time.process_time() - start


with open(sys.argv[1]) as file:
    POINTS = json.load(file)
alone(POINTS[:1])
first, fresh = timed(alone, POINTS)
_, sweep = timed(keeping, POINTS)
print(json.dumps({
    "change": [[z.real, z.imag] for z in first],
    "points_s": fresh, "warmPoints_s": fresh, "warmAlone_s": fresh, "warmSweep_s": sweep,
}))
