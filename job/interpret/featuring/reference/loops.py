"""Loops, lines and noise of a sheet of chance. Run: python3 loops.py (writes loops.json beside it).

Columns of 512 elements, i = 0 ... 511, step 4, 128 a revolution: x = ((7 i^2 + 13 i) mod 101)/101 - 0.5,
y = ((11 i^2 + 5 i) mod 97)/97 - 0.5, cx = ((3 i^2 + 17 i) mod 89)/89 - 0.5, cy = ((5 i^2 + 7 i) mod 83)/83 - 0.5.
Shape s(t) = -u exp((1 - u^2)/2)/2, u = t/16, along 85 degrees. Covariance of the noise N = [[0.04, 0.01], [0.01, 0.01]].
Loops of +- 40 ruler points around ruler points 600 and 1112.
"""
import json
from pathlib import Path

import numpy as np
import scipy
from scipy.linalg import cholesky, eigvalsh, inv, solve_triangular
from scipy.ndimage import uniform_filter1d

i = np.arange(512, dtype=np.int64)


def column(a, b, m):
    return ((a * i * i + b * i) % m) / m - 0.5


x, y = column(7, 13, 101), column(11, 5, 97)
c = column(3, 17, 89) + 1j * column(5, 7, 83)
noise = np.array([[0.04, 0.01], [0.01, 0.01]])
white = cholesky(noise, lower=True)


def shape(t):
    u = t / 16
    return -0.5 * u * np.exp(0.5 - 0.5 * u * u)


def loop(at):
    offset = 4 * i - at
    keep = np.abs(offset) <= 40
    return offset[keep], np.vstack([x[keep], y[keep]])


def whitened(z):
    return solve_triangular(white, z, lower=True)


offset, one = loop(600)
_, other = loop(1112)
s = shape(offset)
fit, rest, _, _ = np.linalg.lstsq(s[:, None], whitened(one).T, rcond=None)
size = np.linalg.lstsq(s[:, None], one.T, rcond=None)[0][0]
likeness = 1 - rest.sum() / (whitened(one) ** 2).sum()
a, b = whitened(one).ravel(), whitened(other).ravel()
likeness_of_two = np.dot(a, b) / np.sqrt(np.dot(a, a) * np.dot(b, b))

power = np.mean([np.abs(np.fft.fft(c[128 * k : 128 * (k + 1)]) / 128) ** 2 for k in range(4)], axis=0)
lines = power[1:64] + power[:64:-1]
best = 4 + int(np.argmax(lines[3:]))

auto = np.correlate(s, s, mode="full")
gain = auto.max() ** 3 / (auto**2).sum()
moments = one @ one.T - one.shape[1] * gain * noise * 0.1
values = eigvalsh(moments)


def unfollowed(columns, reach):
    rest = energy = 0.0
    for column in columns:
        mean = uniform_filter1d(column, 2 * reach + 1, mode="constant")
        inner = slice(reach, len(column) - reach)
        rest += ((column - mean)[inner] ** 2).sum()
        energy += (column[inner] ** 2).sum()
    return rest / energy


own = unfollowed([s], 2)
u = np.array([np.cos(0.7), np.sin(0.7)])
weights = inv(noise) @ u / (u @ inv(noise) @ u)

Path(__file__).with_suffix(".json").write_text(
    json.dumps(
        {
            "source": f"computed by loops.py with numpy.linalg.lstsq, numpy.fft, scipy.linalg, scipy.ndimage, NumPy {np.__version__}, SciPy {scipy.__version__}",
            "tolerance": 1e-12,
            "why": "rounding of sums of a few hundred terms near 1",
            "size": size.tolist(),
            "likeness": float(likeness),
            "correlation": float(likeness_of_two),
            "comb": {"perTurn": best, "share": float(lines[best - 1] / lines.sum()), "size": float(np.sqrt(2 * lines[best - 1]))},
            "roundness": float(np.sqrt(values[0] / values[1])),
            "sharpness": float((unfollowed(one, 2) - own) / (1 - own)),
            "weights": weights.tolist(),
        }
    )
    + "\n"
)
