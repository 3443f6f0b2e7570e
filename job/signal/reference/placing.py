"""Placing: weighted means by a cubic B-spline from scipy. Run: python3 placing.py (writes placing.json beside it).

Sample i lies at 100 + 0.83 i + 2 sin(0.05 i) ruler points, i = 0 ... 899; x[i] = ((7 i^2 + 3 i) mod 101)/101 - 0.5,
y[i] = ((5 i^2 + 11 i) mod 97)/97 - 0.5. The unit begins at point 150.
"""
import json
from pathlib import Path

import numpy as np
import scipy
from scipy.integrate import quad
from scipy.interpolate import BSpline

i = np.arange(900, dtype=np.int64)
at = 100 + 0.83 * i + 2 * np.sin(0.05 * i)
x = ((7 * i * i + 3 * i) % 101) / 101 - 0.5
y = ((5 * i * i + 11 * i) % 97) / 97 - 0.5
spline = BSpline.basis_element([-2, -1, 0, 1, 2], extrapolate=False)


def weights(d):
    return np.nan_to_num(spline(d))


keep = [0, 1, 2, 17, 100, 255, 256, 400, 510, 511]
cases = []
for knot in [3.0, 6.84, 12.5]:
    rows = []
    for n in keep:
        w = weights((at - (150 + n)) / knot)
        rows.append([float(w @ x / w.sum()), float(w @ y / w.sum()), float(w.sum() ** 2 / (w @ w))])
    cases.append({"knot": knot, "rows": rows})

square = quad(lambda u: float(spline(u)) ** 2, -2, 2, points=[-1, 0, 1], epsabs=1e-13)[0]
whole = quad(lambda u: float(spline(u)), -2, 2, points=[-1, 0, 1], epsabs=1e-13)[0]

Path(__file__).with_suffix(".json").write_text(
    json.dumps(
        {
            "source": f"computed by placing.py with scipy.interpolate.BSpline and scipy.integrate.quad, SciPy {scipy.__version__}",
            "tolerance": 1e-13,
            "why": "rounding of sums of at most a hundred terms",
            "points": keep,
            "cases": cases,
            "noise_per_knot": square / whole**2,
        }
    )
    + "\n"
)
