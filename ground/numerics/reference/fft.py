"""Reference transforms: scipy.fft.fft. Run: python3 fft.py (writes fft.json beside it).

Input: re[t] = ((7 t^2 + 3 t) mod 101)/101 - 0.5, im[t] = ((5 t^2 + 11 t) mod 97)/97 - 0.5. For lengths above 64 only
some bins are kept.
"""
import json
from pathlib import Path

import numpy as np
import scipy
import scipy.fft

out = []
for n in [1, 2, 4, 8, 16, 32, 64, 128, 512, 1024, 4096]:
    t = np.arange(n, dtype=np.int64)
    x = ((7 * t * t + 3 * t) % 101) / 101 - 0.5 + 1j * (((5 * t * t + 11 * t) % 97) / 97 - 0.5)
    y = scipy.fft.fft(x)
    bins = sorted({int(k) for k in (range(n) if n <= 64 else [0, 1, 2, 3, n // 8, n // 4, n // 3, n // 2, n // 2 + 1, n - 2, n - 1])})
    out.append({"length": n, "bins": bins, "re": [float(y[k].real) for k in bins], "im": [float(y[k].imag) for k in bins]})
Path(__file__).with_suffix(".json").write_text(
    json.dumps(
        {
            "source": f"computed by fft.py with scipy.fft.fft, SciPy {scipy.__version__}",
            "tolerance": 4e-15,
            "why": "relative to the square root of the length: rounding of about log2(n) stages in either program",
            "cases": out,
        }
    )
    + "\n"
)
