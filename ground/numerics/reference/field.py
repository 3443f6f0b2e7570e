"""Reference exceedances of the largest value of a smooth Gaussian field, by simulation in NumPy: stationary fields of
unit variance made by FFT from known spectra, the share of fields whose maximum exceeds a level, and its standard error.

Run: python3 field.py (writes field.json beside it; about 5 minutes of one core)

Directions: `open` ones are cut from a period at least 5 correlation lengths longer, with the covariance exp(-d^2/2), so
that the gradient variance is 1 and lengths are in its units; `closed` ones have a flat band of whole cycles per turn,
gradient variance sum(k^2)/n (radian^-2), length 2 pi times its root. The grid has h = 0.12 in those units in open and 0.18
or 0.23 in closed directions: its maximum lies below the true one by about u h^2/24 a direction, which makes a probability
too small by the share u^2 h^2/24: 1 to 4 %.
Rows: discrete, correlation exp(-d^2/2) too, at a pitch that gives the stated correlation of neighbors.
Cone: two independent fields; at each point the largest projection on a direction within the half-angle, in closed form.
Scale: the field over the root of chi-square/dof, one draw a field.
Levels for an estimated scale: scipy.stats.t.isf(scipy.stats.norm.sf(u), dof); pairs: orthants of the bivariate normal by
mpmath quadrature.
"""
import json
from pathlib import Path

import mpmath as mp
import numpy as np
import scipy
import scipy.fft
import scipy.stats

rng = np.random.default_rng(20240607)
LEVELS = [2.75, 3.0, 3.25, 3.5, 3.75, 4.0, 4.25, 4.5, 4.75, 5.0]


def open_direction(length, step=0.12):
    points = int(round(length / step)) + 1
    period = scipy.fft.next_fast_len(points + int(6 / step))
    k = 2 * np.pi * np.fft.fftfreq(period, d=length / (points - 1))
    return np.exp(-0.25 * k * k), points, {"length": length, "closed": False}


def closed_direction(low, high, points):
    k = np.fft.fftfreq(points, d=1 / points)
    band = ((np.abs(k) >= low) & (np.abs(k) <= high)).astype(float)
    root = np.sqrt(np.sum(band * k * k) / np.sum(band))
    return band, points, {"length": 2 * np.pi * root, "closed": True}


def rows_factor(count, correlation):
    distance = np.arange(count) * np.sqrt(-2 * np.log(correlation))
    c = np.exp(-0.5 * (distance[:, None] - distance) ** 2)
    w, v = np.linalg.eigh(c)
    return (v * np.sqrt(np.maximum(w, 0))).astype(np.float32)


def fields(directions, rows, batch):
    """[2, batch, rows or 1, ...]: two independent batches as real and imaginary part."""
    amplitude = directions[0][0]
    for d in directions[1:]:
        amplitude = amplitude[..., None] * d[0]
    amplitude = (amplitude / np.sqrt(np.sum(amplitude**2)) * np.sqrt(1.0)).astype(np.float32)
    count = 1 if rows is None else rows.shape[0]
    shape = (batch, count, *amplitude.shape)
    noise = rng.standard_normal((2, *shape), dtype=np.float32)
    axes = tuple(range(2, len(shape)))
    f = scipy.fft.fftn((noise[0] + 1j * noise[1]) * amplitude, axes=axes)
    f = f[(slice(None), slice(None), *(slice(0, d[1]) for d in directions))]
    return f if rows is None else np.einsum("rs,bs...->br...", rows, f)


def largest(f, cone):
    if cone is None:
        return np.concatenate([f.real.reshape(len(f), -1).max(1), f.imag.reshape(len(f), -1).max(1)])
    x, y = f.real, np.abs(f.imag)
    inside = y <= x * np.tan(cone) if cone < np.pi / 2 else y * np.cos(cone) <= x * np.sin(cone)
    z = np.where(inside, np.hypot(x, y), x * np.cos(cone) + y * np.sin(cone))
    return z.reshape(len(f), -1).max(1)


def simulate(name, directions, total, rows=None, cone=None, dof=None):
    factor = None if rows is None else rows_factor(rows["count"], rows["correlation"])
    size = int(np.prod([len(d[0]) for d in directions])) * (1 if rows is None else rows["count"])
    batch = max(1, 400_000 // size)
    above = np.zeros(len(LEVELS))
    done = 0
    while done < total:
        m = largest(fields(directions, factor, batch), cone)
        if dof is not None:
            m = m / np.sqrt(rng.chisquare(dof, len(m)) / dof)
        above += (m[:, None] > np.array(LEVELS)).sum(0)
        done += len(m)
    p = above / done
    case = {"name": name, "extents": [d[2] for d in directions], "fields": done}
    if rows is not None:
        case["rows"] = rows
    if cone is not None:
        case["cone_rad"] = cone
    if dof is not None:
        case["dof"] = dof
    case["levels"] = [[u, q, float(np.sqrt(q * (1 - q) / done))] for u, q in zip(LEVELS, p.tolist()) if 8e-4 <= q <= 0.11]
    print(name, case["levels"], flush=True)
    return case


def orthant(u, r):
    with mp.workdps(30):
        s = mp.sqrt(1 - mp.mpf(r) ** 2)
        return float(mp.quad(lambda x: mp.npdf(x) * mp.erfc((u - r * x) / s / mp.sqrt(2)) / 2, [u, u + 1, u + 3, u + 8, u + 20]))


turn = closed_direction(2, 8, 192)
narrow = closed_direction(3, 6, 128)
cases = [
    simulate("interval", [open_direction(12)], 1_200_000),
    simulate("circle", [turn], 1_200_000),
    simulate("rectangle", [open_direction(3), open_direction(5)], 300_000),
    simulate("cylinder", [open_direction(2), narrow], 250_000),
    simulate("interval in a cone", [open_direction(12)], 900_000, cone=0.6),
    simulate("circle, all directions", [turn], 600_000, cone=np.pi),
    simulate("rectangle in a cone", [open_direction(3), open_direction(5)], 160_000, cone=0.4),
    simulate("rows, little correlated", [turn], 200_000, rows={"count": 8, "correlation": 0.3}),
    simulate("rows, well correlated", [turn], 200_000, rows={"count": 8, "correlation": 0.8}),
    simulate("rows of an interval", [open_direction(4)], 250_000, rows={"count": 6, "correlation": 0.6}),
    simulate("rows in a cone", [turn], 120_000, rows={"count": 8, "correlation": 0.7}, cone=0.5),
    simulate("circle, scale of 40 degrees of freedom", [turn], 600_000, dof=40),
]
Path(__file__).with_suffix(".json").write_text(
    json.dumps(
        {
            "source": f"computed by field.py with NumPy {np.__version__} and SciPy {scipy.__version__}, mpmath {mp.__version__}",
            "tolerance": 0.1,
            "why": "relative, beyond three standard errors: the expected Euler characteristic is an approximation, and the grid costs up to 4 %",
            "cases": cases,
            "estimated": [[u, nu, float(scipy.stats.t.isf(scipy.stats.norm.sf(u), nu))] for u in [0.5, 2.0, 3.5, 5.0, 6.5] for nu in [3, 12.5, 80, 5000]],
            "orthants": [[u, r, orthant(u, r)] for u in [0.5, 2.0, 3.5, 5.0] for r in [-0.5, 0.0, 0.3, 0.9, 0.99]],
        }
    )
    + "\n"
)
