"""Axial footprint and robust scatter. Run: python3 axial.py (writes axial.json beside it).

Extent: a notch of length L seen along the axis through a cubic B-spline whose width at half height is 1 mm: the convolution
with a box, by scipy.interpolate.BSpline and its antiderivative; the distance of the two places at half the largest value,
by scipy.optimize.brentq, and the shares at 0, 0.05 ... 1 mm from the middle.
Scatter: x[t] = ((7 t^2 + 3 t) mod 101)/101 - 0.5, y[t] = ((5 t^2 + 11 t) mod 97)/97 - 0.5 + 0.6 x[t], t = 0 ... 799, by
scipy.stats.median_abs_deviation(scale='normal') of x, y and of sum and difference of the scaled columns.
"""
import json
from pathlib import Path

import numpy as np
import scipy
from scipy.interpolate import BSpline
from scipy.optimize import brentq
from scipy.stats import median_abs_deviation

basis = BSpline.basis_element([-2, -1, 0, 1, 2], extrapolate=False)
value = lambda u: float(np.nan_to_num(basis(u)))
half_at = brentq(lambda u: value(u) - value(0) / 2, 0, 2)
knot = 1 / (2 * half_at)
whole = basis.antiderivative()
integral = lambda u: float(whole(np.clip(u, -2, 2)))
rows = []
for length in (0.8, 1.2, 2.0):
    seen = lambda d: integral((d + length / 2) / knot) - integral((d - length / 2) / knot)
    edge = brentq(lambda d: seen(d) - seen(0) / 2, 0, length / 2 + 2 * knot)
    shares = [seen(d) / seen(0) for d in np.arange(21) / 20]
    rows.append({"length_mm": length, "extent_mm": 2 * edge, "shares": shares})

t = np.arange(800, dtype=np.int64)
x = ((7 * t * t + 3 * t) % 101) / 101 - 0.5
y = ((5 * t * t + 11 * t) % 97) / 97 - 0.5 + 0.6 * x
mad = lambda v: median_abs_deviation(v, scale="normal")
sx, sy = mad(x), mad(y)
plus, minus = mad(x / sx + y / sy) ** 2, mad(x / sx - y / sy) ** 2
scatter = {"xx": sx**2, "xy": sx * sy * (plus - minus) / (plus + minus), "yy": sy**2}
Path(__file__).with_suffix(".json").write_text(
    json.dumps(
        {
            "source": f"computed by axial.py with scipy.interpolate and scipy.stats, SciPy {scipy.__version__}, NumPy {np.__version__}",
            "footprint_mm": 1,
            "notches": rows,
            "scatter": scatter,
            "tolerance": 1e-12,
            "why": "rounding; the scale factor of the median absolute deviation is the same constant",
        },
        indent=1,
    )
    + "\n"
)
