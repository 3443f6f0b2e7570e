"""Reference transforms: scipy.fft.fft. Run: python3 fft.py (writes fft.json beside it).

Input: re[t] = ((7 t^2 + 3 t) mod 101)/101 - 0.5, im[t] = ((5 t^2 + 11 t) mod 97)/97 - 0.5. For lengths above 64 only
some bins are kept. Filters: scipy.fft.ifft(scipy.fft.fft(x) H) with re H[k] = ((3 k^2 + k) mod 89)/89 - 0.4,
im H[k] = ((11 k^2 + 5 k) mod 83)/83 - 0.6.
"""
import json
from pathlib import Path

import numpy as np
import scipy
import scipy.fft

def kept(n):
    return sorted({int(k) for k in (range(n) if n <= 64 else [0, 1, 2, 3, n // 8, n // 4, n // 3, n // 2, n // 2 + 1, n - 2, n - 1])})


out = []
filters = []
for n in [1, 2, 4, 8, 16, 32, 64, 128, 512, 1024, 4096]:
    t = np.arange(n, dtype=np.int64)
    x = ((7 * t * t + 3 * t) % 101) / 101 - 0.5 + 1j * (((5 * t * t + 11 * t) % 97) / 97 - 0.5)
    y = scipy.fft.fft(x)
    bins = kept(n)
    out.append({"length": n, "bins": bins, "re": [float(y[k].real) for k in bins], "im": [float(y[k].imag) for k in bins]})
    if n in [4, 8, 32, 128, 512, 1024]:
        h = ((3 * t * t + t) % 89) / 89 - 0.4 + 1j * (((11 * t * t + 5 * t) % 83) / 83 - 0.6)
        z = scipy.fft.ifft(y * h)
        filters.append({"length": n, "bins": bins, "re": [float(z[k].real) for k in bins], "im": [float(z[k].imag) for k in bins]})
Path(__file__).with_suffix(".json").write_text(
    json.dumps(
        {
            "source": f"computed by fft.py with scipy.fft.fft, SciPy {scipy.__version__}",
            "tolerance": 4e-15,
            "why": "relative to the square root of the length: rounding of about log2(n) stages in either program",
            "cases": out,
            "filters": filters,
        }
    )
    + "\n"
)
