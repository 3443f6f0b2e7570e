"""Depths of penetration and a characteristic frequency, a second way. Run: python3 depth.py (writes depth-computed.json).

From their definitions by mpmath, 30 digits: the root of j omega mu sigma has 1 / delta as its real part; the
characteristic frequency is where omega mu sigma a^2 = 1. Conductivity of 100 %IACS: 58.0 MS/m. Beside the depths what
common tables of the trade would print, to three digits.
"""
import json
from pathlib import Path

import mpmath as mp

mp.mp.dps = 30
MU0 = 4 * mp.pi / 10**7
IACS = mp.mpf("58.0e6") / 100


def depth(f, sigma, mur):
    return 1 / mp.re(mp.sqrt(2j * mp.pi * f * MU0 * mur * sigma))


def row(case, iacs, mur, f, printed_mm):
    sigma = mp.mpf(iacs) * IACS
    return {"case": case, "sigma": float(sigma), "permeability": mur, "f": f,
            "depth_mm": float(1000 * depth(f, sigma, mur)), "three_digits_mm": printed_mm}


def bar(diameter, sigma, mur):
    f = mp.findroot(lambda f: 2 * mp.pi * f * MU0 * mur * sigma * (mp.mpf(diameter) / 2) ** 2 - 1, 300)
    return {"diameter": float(diameter), "sigma": sigma, "permeability": mur, "f": float(f),
            "radius_over_depth": float(mp.mpf(diameter) / 2 / depth(f, sigma, mur))}


Path(__file__).with_name("depth-computed.json").write_text(json.dumps({
    "source": f"computed by depth.py with mpmath {mp.__version__} (30 digits)",
    "tolerance": 1e-13,
    "why": "relative; both sides round only in the last places",
    "depths": [
        row("aluminum of 32 %IACS", 32, 1, 200e3, 0.261), row("aluminum of 32 %IACS", 32, 1, 500e3, 0.165),
        row("titanium of 1 %IACS", 1, 1, 1e6, 0.661), row("titanium of 1 %IACS", 1, 1, 2e6, 0.467),
        row("304 of 2.4 %IACS", "2.4", 1, 500e3, 0.603),
        row("carbon steel of 10 %IACS", 10, 100, 100e3, 0.066), row("carbon steel of 10 %IACS", 10, 100, 500e3, 0.030),
    ],
    "bars": [bar("0.01", 17.4e6, 1), bar("0.02", 5e6, 100)],
}) + "\n")
