"""Shape of a form and its fit. Run: python3 form.py (writes form.json beside it).

Form, k = -20 ... 20: x = 0.3 p + 0.05 ((7 k^2 + 3 k) mod 11)/11, y = 0.9 p + 0.05 ((5 k^2 + 11 k) mod 13)/13, p = -k/8 exp(-k^2/128)
(mod as a non-negative remainder). The shape is the first left singular vector; the fit its inner product with the signal
x[t] = ((7 t^2 + 3 t) mod 101)/101 - 0.5, y[t] = ((5 t^2 + 11 t) mod 97)/97 - 0.5 at 100, 230, 371, averaged.
"""
import json
from pathlib import Path

import numpy as np

k = np.arange(-20, 21)
p = -k / 8 * np.exp(-(k**2) / 128)
x = 0.3 * p + 0.05 * ((7 * k * k + 3 * k) % 11) / 11
y = 0.9 * p + 0.05 * ((5 * k * k + 11 * k) % 13) / 13
shape = np.linalg.svd(np.column_stack([x, y]), full_matrices=False)[0][:, 0]
shape *= np.sign(shape @ y)
t = np.arange(500, dtype=np.int64)
sx = ((7 * t * t + 3 * t) % 101) / 101 - 0.5
sy = ((5 * t * t + 11 * t) % 97) / 97 - 0.5
places = [100, 230, 371]
fit = [float(np.mean([shape @ s[at - 20 : at + 21] for at in places])) for s in (sx, sy)]
Path(__file__).with_suffix(".json").write_text(
    json.dumps(
        {
            "source": f"computed by form.py with numpy.linalg.svd, NumPy {np.__version__}",
            "tolerance": 1e-12,
            "why": "rounding, magnified by the distance of the two singular values",
            "x": x.tolist(),
            "y": y.tolist(),
            "shape": shape.tolist(),
            "places": places,
            "fit": fit,
        }
    )
    + "\n"
)
