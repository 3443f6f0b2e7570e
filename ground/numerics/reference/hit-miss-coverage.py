"""Coverage of one-sided 95 % upper bounds of a90 from hits and misses: how often the bound lies above the true a90.

The logit with a50 0.6 mm and slope 3 on ln a; whether a likelihood bound holds is asked at the truth, not by seeking it.
Run: python3 hit-miss-coverage.py (prints shares; drawn anew they differ by their standard error)
"""
import json

import numpy as np
from scipy.stats import chi2, norm

rng = np.random.default_rng(20240601)
Z = norm.ppf(0.95)


def fit(X, Y, steps=40):
    b0 = np.zeros(len(X))
    b1 = np.zeros(len(X))
    for _ in range(steps):
        e = np.clip(b0[:, None] + b1[:, None] * X, -35, 35)
        p = 1 / (1 + np.exp(-e))
        w = p * (1 - p) + 1e-300
        r = Y - p
        g0, g1 = r.sum(1), (r * X).sum(1)
        a, c, h = w.sum(1), (w * X).sum(1), (w * X * X).sum(1)
        D = a * h - c * c
        D = np.where(D > 0, D, np.nan)
        s0, s1 = (h * g0 - c * g1) / D, (a * g1 - c * g0) / D
        m = np.maximum(1, np.maximum(abs(s0), abs(s1)) / 5)
        b0, b1 = b0 + np.nan_to_num(s0 / m), b1 + np.nan_to_num(s1 / m)
    e = np.clip(b0[:, None] + b1[:, None] * X, -35, 35)
    return b0, b1, (Y * e - np.logaddexp(0, e)).sum(1), h / D, -c / D, a / D


def profile(X, Y, g, x0, steps=60):
    U = X - x0
    b = np.full(len(X), 2.0)
    for _ in range(steps):
        p = 1 / (1 + np.exp(-np.clip(g + b[:, None] * U, -35, 35)))
        b = b + np.clip(((Y - p) * U).sum(1) / ((p * (1 - p) * U * U).sum(1) + 1e-12), -2, 2)
    e = np.clip(g + b[:, None] * U, -60, 60)
    return (Y * e - np.logaddexp(0, e)).sum(1)


def shares(n, trials=20000):
    b0t, b1t, g = -3 * np.log(0.6), 3.0, np.log(9)
    x90 = (g - b0t) / b1t
    X = np.tile(np.linspace(np.log(0.2), np.log(4), n), (trials, 1))
    Y = (rng.random((trials, n)) < 1 / (1 + np.exp(-(b0t + b1t * X)))).astype(float)
    b0, b1, top, V0, V01, V1 = fit(X, Y)
    ok = np.where(Y == 0, X, -np.inf).max(1) > np.where(Y == 1, X, np.inf).min(1)
    xh = (g - b0) / b1
    se = np.sqrt(V0 + 2 * xh * V01 + xh**2 * V1) / abs(b1)
    lr = 2 * (top - profile(X, Y, g, x90))
    eta = b0 + b1 * x90
    sd = np.sqrt(V0 + 2 * x90 * V01 + x90**2 * V1)
    held = {
        "propagation": xh + Z * se >= x90,
        "likelihood": (eta <= g) | (lr <= Z * Z),
        "crossing": (eta - Z * sd <= g) | (b1 <= 0),
        "joint likelihood": (eta <= g) | (lr <= chi2.ppf(0.95, 2)),
    }
    return {"flaws": n, "reps": trials, "shares": {name: float(one[ok].mean()) for name, one in held.items()}}


print(json.dumps([shares(n) for n in (60, 120)], indent=1))
