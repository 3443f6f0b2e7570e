"""Reference for band-limited resampling: scipy.signal.resample_poly and scipy.signal.resample on sums of sines far
below both Nyquist frequencies. Run: python3 resample.py (writes resample.json beside it).
"""
import json
from pathlib import Path

import numpy as np
import scipy
from scipy import signal

n = 1200
t = np.arange(n)
# taper to zero at both ends, so that what lies beyond the ends does not matter; all tones below 0.19 cycles a sample
parts = [(0.011, 1.0, 0.3), (0.057, 0.6, 1.1), (0.119, 0.35, 2.0), (0.163, 0.2, 4.0)]


def x_of(t):
    return np.sin(np.pi * t / n) ** 6 * sum(a * np.sin(2 * np.pi * f * t + p) for f, a, p in parts)


x = x_of(t)
cases = []
for up, down in [(2, 1), (4, 1), (1, 2), (3, 2), (2, 3), (5, 7)]:
    # a long Kaiser window, so that its own pass-band error stays below 1e-6
    taps = signal.firwin(2 * 120 * max(up, down) + 1, 1 / max(up, down), window=("kaiser", 12.0))
    poly = signal.resample_poly(x, up, down, window=taps)
    exact = x_of(np.arange(len(poly)) * down / up)
    assert np.max(np.abs(poly - exact)) < 2e-5, np.max(np.abs(poly - exact))
    row = {"up": up, "down": down, "poly": poly[::9].tolist()}
    if n * up % down == 0:
        fourier = signal.resample(x, n * up // down)
        assert np.max(np.abs(fourier - x_of(np.arange(len(fourier)) * down / up))) < 1e-9
        row["fourier"] = fourier[::9].tolist()
    cases.append(row)
Path(__file__).with_suffix(".json").write_text(json.dumps({
    "source": f"computed by resample.py with scipy.signal, SciPy {scipy.__version__}",
    "tolerance": 2e-4,
    "why": "absolute, peak about 1.6: 80 dB window of ours",
    "every": 9,
    "length": n,
    "parts": parts,
    "cases": cases,
}) + "\n")
