"""Matched filter, joining of rows, covariance and statistic. Run: python3 statistic.py (writes statistic.json beside it).

Columns u[t] = ((7 t^2 + 13 t) mod 101)/101 - 0.5 and v[t] = ((3 t^2 + 29 t) mod 103)/103 - 0.5 - 0.4 u[t], t = 0 ... 511,
seen as 16 rows of 32.
"""
import json
from pathlib import Path

import numpy as np
import scipy
from scipy import linalg, ndimage

t = np.arange(512, dtype=np.int64)
u = ((7 * t * t + 13 * t) % 101) / 101 - 0.5
v = ((3 * t * t + 29 * t) % 103) / 103 - 0.5 - 0.4 * u

w = np.array([0.5, 0.35, 0.1])
joined = ndimage.correlate1d(u.reshape(16, 32), np.concatenate([w[:0:-1], w]), axis=0, mode="constant").ravel()

K = 1.482602218505602
mad = lambda a: K * np.median(np.abs(a))
sx, sy = mad(u), mad(v)
p, q = mad(u / sx + v / sy), mad(u / sx - v / sy)
rho = (p * p - q * q) / (p * p + q * q)
S = np.array([[sx * sx, rho * sx * sy], [rho * sx * sy, sy * sy]])

# the smallest covariance that dominates S and R: generalized eigenproblem R e = lambda S e
R = np.array([[0.03, 0.03], [0.03, 0.12]])
lam, E = linalg.eigh(R, S)  # E' S E = 1
B = np.linalg.inv(E.T)
larger = B @ np.diag(np.maximum(1, lam)) @ B.T

# statistic: the largest projection of the whitened size on the whitened directions of a cone, by brute force
cone = np.radians([49.0, 104.0])
L = np.linalg.cholesky(larger)
W = np.linalg.inv(L)
keep = list(range(0, 512, 37))
angles = np.linspace(cone[0], cone[1], 200001)
D = W @ np.vstack([np.cos(angles), np.sin(angles)])
D /= np.linalg.norm(D, axis=0)
stat = []
for i in keep:
    z = W @ np.array([u[i], v[i]])
    a = z @ D
    stat.append(float(a.max() if abs(a.max()) >= abs(a.min()) else a.min()))

Path(__file__).with_suffix(".json").write_text(
    json.dumps(
        {
            "source": f"computed by statistic.py with scipy.ndimage.correlate1d, numpy.median, scipy.linalg.eigh, NumPy {np.__version__}, SciPy {scipy.__version__}",
            "tolerance": 1e-12,
            "statisticTolerance": 1e-8,
            "why": "rounding of short sums; the brute-force maximum is taken over steps of 5e-6 rad, so its error is of second order in them",
            "weights": w.tolist(),
            "keep": keep,
            "joined": joined[keep].tolist(),
            "covariance": [S[0, 0], S[0, 1], S[1, 1]],
            "other": [R[0, 0], R[0, 1], R[1, 1]],
            "larger": [larger[0, 0], larger[0, 1], larger[1, 1]],
            "cone": cone.tolist(),
            "statistic": stat,
        }
    )
    + "\n"
)
