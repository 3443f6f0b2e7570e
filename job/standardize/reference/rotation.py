"""Lift-off axis of a small cloud, loop spans. Run: python3 rotation.py (writes rotation.json beside it).

Cloud: u[i] = ((7 i^2 + 3 i) mod 101)/101 - 0.5 + ((13 i^2 + i) mod 103)/103 - 0.5 along 40 degrees, v[i] = 0.25 (((5 i^2 +
11 i) mod 97)/97 - 0.5) across, i = 0 ... 3999; one point in 50 is thrown to (9, -4). The axis is that of the multivariate t
distribution with 3 degrees of freedom, its likelihood maximized by scipy.optimize.minimize over location and Cholesky factor.
Loops: x[i] = ((7 i^2 + 3 i) mod 101)/101 - 0.5 + 0.02 i, y[i] = ((5 i^2 + 11 i) mod 97)/97 - 0.5, i = 0 ... 149.
"""
import json
from pathlib import Path

import numpy as np
import scipy
from scipy.optimize import minimize
from scipy.spatial.distance import pdist, squareform
from scipy.stats import multivariate_t

i = np.arange(4000, dtype=np.int64)
u = ((7 * i * i + 3 * i) % 101) / 101 - 0.5 + ((13 * i * i + i) % 103) / 103 - 0.5
v = 0.25 * (((5 * i * i + 11 * i) % 97) / 97 - 0.5)
a = np.deg2rad(40)
x = u * np.cos(a) - v * np.sin(a)
y = u * np.sin(a) + v * np.cos(a)
x[::50] = 9
y[::50] = -4
cloud = np.column_stack([x, y])


def negative(p):
    factor = np.array([[np.exp(p[2]), 0], [p[3], np.exp(p[4])]])
    return -multivariate_t(p[:2], factor @ factor.T, df=3).logpdf(cloud).mean()


p = np.array([0, 0, np.log(0.3), 0.2, np.log(0.2)])
for _ in range(6):
    p = minimize(negative, p, method="Nelder-Mead", options={"xatol": 1e-11, "fatol": 1e-15, "maxiter": 20000, "maxfev": 20000}).x
factor = np.array([[np.exp(p[2]), 0], [p[3], np.exp(p[4])]])
values, vectors = np.linalg.eigh(factor @ factor.T)
axis = float(np.arctan2(vectors[1, 1], vectors[0, 1]))
axis -= np.pi * np.round(axis / np.pi)

k = np.arange(150, dtype=np.int64)
lx = ((7 * k * k + 3 * k) % 101) / 101 - 0.5 + 0.02 * k
ly = ((5 * k * k + 11 * k) % 97) / 97 - 0.5
chords = []
for start, stop in [(0, 150), (20, 60), (3, 5)]:
    d = squareform(pdist(np.column_stack([lx, ly])[start:stop]))
    first, last = sorted(int(n) for n in np.unravel_index(d.argmax(), d.shape))
    chords.append({"from": start, "to": stop, "length": float(d.max()), "earlier": start + first, "later": start + last})

Path(__file__).with_suffix(".json").write_text(
    json.dumps(
        {
            "source": f"computed by rotation.py with scipy.stats.multivariate_t, scipy.optimize and scipy.spatial.distance, SciPy {scipy.__version__}",
            "tolerance": 1e-6,
            "why": "a search for the least value of a function finds its place to about the root of the rounding; loops: 1e-14",
            "axis_rad": axis,
            "axisRatio": float(np.sqrt(values[1] / values[0])),
            "chords": chords,
        }
    )
    + "\n"
)
print(axis, np.rad2deg(axis), np.sqrt(values[1] / values[0]))
