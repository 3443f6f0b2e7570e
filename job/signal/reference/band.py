"""Band of the ruler: gain law, kernel, convolution, pulse loss. Run: python3 band.py (writes band.json beside it).

Everything is computed anew from the stated law with NumPy and SciPy:
gain(k) = highpass(k / low) * lowpass(k / high) / sinc(knot k / 512)^4, zero for k <= min(2, floor(low)) and k > 2 high,
highpass(r) = 1 - exp(-a r^4) and lowpass(r) = exp(-b r^4), both 1/sqrt(2) at r = 1; the kernel has +- 256 points, its end
value shared. Input: x[t] = ((7 t^2 + 3 t) mod 101)/101 - 0.5, y[t] = ((5 t^2 + 11 t) mod 97)/97 - 0.5, 1024 points.
The pulse is the derivative of a Gaussian bell, summed from its analytic Fourier coefficients on a grid eight times as fine.
"""
import json
from pathlib import Path

import numpy as np
import scipy
import scipy.optimize
import scipy.signal

UNIT = 512
A = -np.log(1 - np.sqrt(0.5))
B = -np.log(np.sqrt(0.5))


def knot(high):
    """Near 0.2 cycle at the upper corner, in whole half steps of the grid: the largest of 1, 2, 4, 8 that leaves 3.5 points a cycle at 2 high."""
    step = max(s for s in (1, 2, 4, 8) if s == 1 or UNIT / s >= 3.5 * 2 * high)
    return 0.5 * step * max(1, np.floor(0.2 * UNIT / high / (0.5 * step) + 0.5))


def gain(low, high, k):
    k = np.asarray(k, float)
    g = np.exp(-B * (k / high) ** 4)
    if low > 0:
        g = g * (1 - np.exp(-A * (k / low) ** 4))
        g = np.where(k <= min(2, np.floor(low)), 0, g)
    return np.where(k > 2 * high, 0, g)


def kernel(low, high):
    k = np.arange(UNIT // 2 + 1)
    h = np.fft.irfft(gain(low, high, k) / np.sinc(knot(high) * k / UNIT) ** 4, UNIT)
    wide = np.concatenate([h[UNIT // 2 :], h[: UNIT // 2], h[UNIT // 2 : UNIT // 2 + 1]])
    wide[0] *= 0.5
    wide[-1] *= 0.5
    return wide


t = np.arange(2 * UNIT, dtype=np.int64)
x = ((7 * t * t + 3 * t) % 101) / 101 - 0.5
y = ((5 * t * t + 11 * t) % 97) / 97 - 0.5
keep = [0, 1, 2, 3, 100, 255, 256, 257, 400, 509, 510, 511]


def valid(column, weights):
    return scipy.signal.convolve(column, weights, mode="valid", method="direct")[:UNIT][keep].tolist()


convolved = []
for low, high in [(2.66, 14.96), (0.7, 8.0), (0.0, 20.0), (5.3, 30.0)]:
    h = kernel(low, high)
    convolved.append({"low": low, "high": high, "x": valid(x, h), "y": valid(y, h)})

mean = np.ones(UNIT + 1)
mean[0] = mean[-1] = 0.5
mean /= UNIT

gains = [
    {"low": low, "high": high, "k": k, "gain": float(gain(low, high, k) / np.sinc(knot(high) * k / UNIT) ** 4)}
    for low, high in [(2.66, 14.96), (0.7, 8.0), (0.0, 20.0)]
    for k in [0, 1, 2, 3, 4, 5.5, 8, 14, 16, 20, 29.9, 30, 41]
]


def losses(low, high, spacing):
    """Shares of the peak-to-peak of a differential pulse that the band takes."""
    k = np.arange(1, UNIT // 2)
    sigma = spacing / 2
    coefficient = k * np.exp(-0.5 * (2 * np.pi * k * sigma / UNIT) ** 2)
    fine = np.arange(0, UNIT, 1 / 8)
    waves = np.sin(2 * np.pi * np.outer(fine, k) / UNIT)
    before = waves @ coefficient
    after = waves @ (coefficient * gain(low, high, k))
    return 1 - (after.max() - after.min()) / (before.max() - before.min())


def footprint(diameter, width):
    """Peak of the spectrum of the derivative of a bell, half-height width `width`, in cycles per revolution."""
    around = np.pi * diameter
    sigma = width / (2 * np.sqrt(2 * np.log(2)))
    found = scipy.optimize.minimize_scalar(
        lambda k: -k * np.exp(-0.5 * (2 * np.pi * k * sigma / around) ** 2),
        bounds=(0.01, around / width),
        method="bounded",
        options={"xatol": 1e-10},
    )
    return {"diameter_mm": diameter, "width_mm": width, "center": float(found.x), "cycles": around / width}


pulses = []
for diameter, spacing in [(3.96, 1.3), (6.35, 1.274), (9.53, 1.6), (12.7, 1.3), (25.4, 2.0)]:
    width = np.sqrt(2 * np.log(2)) * spacing
    cycles = np.pi * diameter / width
    points = spacing / (np.pi * diameter) * UNIT
    for share in [0.2, 0.375, 0.5]:
        low, high = share * cycles, 3 * 0.375 * cycles
        pulses.append(
            {"diameter_mm": diameter, "spacing_points": points, "share": share, "low": low, "high": high, "loss": float(losses(low, high, points))}
        )

bell = []
for spacing in [0.7, 1.3, 2.0]:
    # half-height width of the bell whose derivative has its extremes `spacing` apart
    sigma = scipy.optimize.brentq(lambda s: 2 * s - spacing, 1e-3, 10)
    half = scipy.optimize.brentq(lambda u: np.exp(-0.5 * (u / sigma) ** 2) - 0.5, 0, 10 * sigma)
    bell.append({"spacing": spacing, "width": float(2 * half)})

Path(__file__).with_suffix(".json").write_text(
    json.dumps(
        {
            "source": f"computed by band.py with scipy.signal.convolve and scipy.optimize, SciPy {scipy.__version__}, NumPy {np.__version__}",
            "tolerance": 1e-13,
            "why": "rounding of an FFT of 1024 points against a direct sum; pulses: see the test",
            "points": keep,
            "convolved": convolved,
            "mean": {"x": valid(x, mean), "y": valid(y, mean)},
            "gains": gains,
            "footprints": [footprint(3.96, 1.5), footprint(6.35, 1.5), footprint(12.7, 1.5)],
            "bells": bell,
            "pulses": pulses,
        }
    )
    + "\n"
)
