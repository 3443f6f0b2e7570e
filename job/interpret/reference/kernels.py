"""Matched output, swing, answer of the notch to itself. Run: python3 kernels.py (writes kernels.json beside it).

y[t] = ((5 t^2 + 11 t) mod 97)/97 - 0.5, t = 0 ... 599; weights w[k] = sin(0.3 (k - half)) / (1 + 0.01 (k - half)^2), half 21;
pulse p[t] = -u exp(-u^2/2), u = (t - 256)/16, 512 points.
"""
import json
from pathlib import Path

import numpy as np
import scipy
from scipy.ndimage import maximum_filter1d, minimum_filter1d

t = np.arange(600, dtype=np.int64)
y = ((5 * t * t + 11 * t) % 97) / 97 - 0.5
half = 21
k = np.arange(-half, half + 1)
w = np.sin(0.3 * k) / (1 + 0.01 * k**2)
matched = np.correlate(y, w, mode="valid")  # element n: sum w(j) y(n + j)
keep = [0, 1, 2, 100, 277, 400, 555, 557]
swings = {}
for reach in [1, 7, 21]:
    swings[str(reach)] = (maximum_filter1d(y, 2 * reach + 1) - minimum_filter1d(y, 2 * reach + 1))[21:579].tolist()

u = (np.arange(512) - 256) / 16
pulse = -u * np.exp(-0.5 * u * u)
answer = np.correlate(np.tile(pulse, 3), w, mode="same")[512:1024]
answer /= answer[256]
points = [0, 100, 200, 230, 248, 255, 256, 257, 280, 300, 400, 511]

Path(__file__).with_suffix(".json").write_text(
    json.dumps(
        {
            "source": f"computed by kernels.py with numpy.correlate and scipy.ndimage, NumPy {np.__version__}, SciPy {scipy.__version__}",
            "tolerance": 1e-13,
            "why": "rounding of sums of 43 terms; swings are exact differences",
            "half": half,
            "keep": keep,
            "matched": matched[keep].tolist(),
            "swings": swings,
            "points": points,
            "answer": answer[points].tolist(),
        }
    )
    + "\n"
)
