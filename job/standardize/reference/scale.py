"""Peak-to-peak of a pair over a notch behind the band. Run: python3 scale.py (writes scale.json beside it).

Two like bells of width sigma at +- sigma, subtracted, sigma = spacing / (2 p) with p tanh(p) = 1, so that the lobes lie
`spacing` apart; around a hole of 6.35 mm, spacing 1.3 mm. The band is that of the footprint: w = sqrt(2 ln 2) spacing,
corners 0.2 and 1.125 cycles of pi D / w, gain as in the signal room's reference/band.py.
"""
import json
from pathlib import Path

import numpy as np
import scipy
from scipy.optimize import brentq

D, SPACING = 6.35, 1.3
cycles = np.pi * D / (np.sqrt(2 * np.log(2)) * SPACING)
low, high = 0.2 * cycles, 1.125 * cycles
p = brentq(lambda q: q * np.tanh(q) - 1, 0.5, 2)
sigma = SPACING / (2 * p)
turn = np.arange(-4096, 4096) / 8192
s = np.pi * D * turn / sigma
pulse = np.exp(-0.5 * (s - 1) ** 2) - np.exp(-0.5 * (s + 1) ** 2)
k = np.fft.rfftfreq(8192, 1 / 8192)
gain = np.exp(0.5 * np.log(0.5) * (k / high) ** 4) * (1 - np.exp(np.log(1 - np.sqrt(0.5)) * (k / low) ** 4))
gain[(k <= min(2, np.floor(low))) | (k > 2 * high)] = 0
after = np.fft.irfft(np.fft.rfft(pulse) * gain, 8192)
Path(__file__).with_suffix(".json").write_text(
    json.dumps(
        {
            "source": f"computed by scale.py with scipy.optimize and numpy.fft, SciPy {scipy.__version__}, NumPy {np.__version__}",
            "low": low,
            "high": high,
            "kept": float(np.ptp(after) / np.ptp(pulse)),
        }
    )
    + "\n"
)
