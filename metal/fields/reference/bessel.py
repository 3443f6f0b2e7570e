"""Bessel functions J0, J1 and the radial moment of a winding: mpmath, 40 digits. Run: python3 bessel.py (writes bessel.json).

moment = integral of s J1(a s) ds from r1 to r2, by Struve functions: x = a r, F(x) = pi x / 2 (J1 H0 - J0 H1).
"""
import json
import random
from pathlib import Path

import mpmath as mp

mp.mp.dps = 40
rnd = random.Random(5)
xs = [0.0, 1e-9, 1e-3, 2.999999, 3.0, 3.000001, 2.404825557695773, 3.8317059702075125, 24.999999, 25.0, 25.000001]
xs += [rnd.uniform(0, 3) for _ in range(20)] + [rnd.uniform(3, 25) for _ in range(40)]
xs += [10 ** rnd.uniform(1.4, 5) for _ in range(40)]


def area(x):
    x = mp.mpf(x)
    return mp.pi * x / 2 * (mp.besselj(1, x) * mp.struveh(0, x) - mp.besselj(0, x) * mp.struveh(1, x))


def moment(a, r1, r2):
    a, r1, r2 = mp.mpf(a), mp.mpf(r1), mp.mpf(r2)
    return (area(a * r2) - area(a * r1)) / a**2


coils = [(0.5e-3, 1.5e-3), (2e-3, 4e-3), (6.15e-3, 12.4e-3), (0.0, 3e-3), (2.9e-3, 3e-3)]
moments = []
for r1, r2 in coils:
    for x in (0.01, 1, 5, 12, 20, 39, 41, 60, 150, 700):
        a = x / r2
        moments.append([a, r1, r2, float(moment(a, r1, r2))])
Path(__file__).with_suffix(".json").write_text(json.dumps({
    "source": f"computed by bessel.py with mpmath {mp.__version__}, 40 digits",
    "tolerance": "see the test: relative to the size of the oscillation",
    "bessel": [[x, float(mp.besselj(0, mp.mpf(x))), float(mp.besselj(1, mp.mpf(x)))] for x in xs],
    "moments": moments,
}) + "\n")
