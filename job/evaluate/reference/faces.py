"""Notches and flaws at a face, and notches that stand in each other's tails, made by NumPy and SciPy. Writes faces.json.

Run: python3 faces.py > faces.json
"""
import json

import numpy as np
import scipy
from scipy.stats import norm, t as student

K = 2 * np.sqrt(2 * np.log(2))
UNIT = 512


def seen(z, flaw, width, fade):
    """Answer along the axis: the extent through a bell, fading toward the face at 0 as a normal distribution."""
    s = width / K
    a, b = flaw['z0_mm'], flaw['z0_mm'] + flaw['length_mm']
    full = 2 * norm.cdf(0.5 * flaw['length_mm'] / s) - 1
    left = 1 if fade is None else norm.cdf(z / fade)
    area = flaw['depth_mm'] * flaw['length_mm']
    return 3 * area / (area + 1.5) * (norm.cdf((z - a) / s) - norm.cdf((z - b) / s)) / full * left


def rows(flaw, width, fade, turn=0.15):
    middle = flaw['z0_mm'] + 0.5 * flaw['length_mm']
    z = middle + 0.2 * np.arange(-12, 13) + 0.03
    y = seen(z, flaw, width, fade)
    return dict(z_mm=z.tolist(), x=(turn * flaw['depth_mm'] * y).tolist(), y=y.tolist())


def standard(bore, corner, fade):
    out = []
    for depth in (0.25, 0.5, 0.9, 1.5):
        for place, length, width, z0, f in (('mid-bore', 2 * depth, bore, 8 - depth, None), ('entry corner', depth, corner, 0.0, fade)):
            n = dict(place=place, depth_mm=depth, length_mm=length, z0_mm=z0)
            out.append(dict(n, middle_mm=z0 + 0.5 * length, rows=rows(n, width, f)))
    return out


def faces():
    out = []
    for name, bore, corner, fade in (('fading', 1.4, 1.4, 0.45), ('fading, pick-ups apart', 2.1, 1.3, 0.4), ('not fading', 1.5, 1.5, None)):
        flaws = []
        for depth, length, z0, place in ((0.7, 0.7, 0, 'corner'), (1.1, 1.1, 0, 'corner'), (0.6, 1.2, 4, 'mid-bore'), (1.2, 2.4, 3, 'mid-bore')):
            f = dict(depth_mm=depth, length_mm=length, z0_mm=z0)
            corner_flaw = place == 'corner'
            flaws.append(dict(f, place=place, rows=rows(f, corner if corner_flaw else bore, fade if corner_flaw else None)))
        out.append(dict(name=name, bore=bore, corner=corner, **({} if fade is None else dict(fade=fade)),
                        notches=standard(bore, corner, fade), flaws=flaws))
    return out


def gain(k, low, high):
    """Of the band: nothing up to twice a revolution, 3 dB at both corners (rules of the signal room)."""
    g = (1 - np.exp(-1.2279471772995156 * (k / low) ** 4)) * np.exp(-0.5 * np.log(2) * (k / high) ** 4)
    return np.where((k <= min(2, np.floor(low))) | (k > 2 * high), 0, g)


def tails():
    """Four notches around a small hole at one depth: the whole revolution through the band, then fitted notch by notch."""
    spacing, low, high = 52.0, 2.2, 12.0
    half = round(1.25 * spacing)
    t = (np.arange(UNIT) - UNIT / 2) / (0.5 * spacing)
    pulse = -t * np.exp(-0.5 * t * t)
    k = np.abs(np.fft.fftfreq(UNIT, 1 / UNIT))
    through = lambda s: np.fft.ifft(np.fft.fft(s) * gain(k, low, high)).real
    form = through(pulse)[UNIT // 2 - half:UNIT // 2 + half + 1]
    angles = [20.0, 92.0, 199.0, 281.0]
    depths = [0.25, 0.5, 1.0, 1.5]
    sizes = [0.3, 1.0, 2.3, 3.2]
    z = 5 + 0.25 * np.arange(-12, 13)
    lengths = [0.5, 1.0, 2.0, 3.0]
    s = 1.5 / K
    profiles = [(norm.cdf((z - 5 + l / 2) / s) - norm.cdf((z - 5 - l / 2) / s)) / (2 * norm.cdf(l / 2 / s) - 1) for l in lengths]
    at = [round(a / 360 * UNIT) for a in angles]
    turns = [0.1, 0.2, 0.3, 0.4]
    met = [dict(x=[], y=[]) for _ in angles]
    for i in range(len(z)):
        whole = sum(n * p[i] * (q + 1j) * np.roll(pulse, a - UNIT // 2) for n, p, q, a in zip(sizes, profiles, turns, at))
        left = through(whole.real) + 1j * through(whole.imag)
        for a, m in zip(at, met):
            window = left[(a + np.arange(-half, half + 1)) % UNIT]
            size = (form @ window) / (form @ form)
            m['x'].append(float(size.real))
            m['y'].append(float(size.imag))
    return dict(
        band=dict(low=low, high=high, unit='cycles per revolution'),
        form=dict(half=half, x=(0.2 * form).tolist(), y=form.tolist()),
        notches=[
            dict(id=f'{d} mm', angle_deg=360 * a / UNIT, depth_mm=d, length_mm=l, rows=dict(z_mm=z.tolist(), **m),
                 alone=(n * np.hypot(q, 1)))
            for d, l, a, m, n, q in zip(depths, lengths, at, met, sizes, turns)
        ],
    )


def proportions():
    """Prediction for one more of a normal sample: s √(1 + 1/n) t, over the normal quantile."""
    out = []
    for aspects in ([2.0, 2.1, 1.9, 2.2], [1.0, 1.1, 1.05, 0.9, 1.2]):
        logs = np.log(aspects)
        n = len(logs)
        out.append(dict(aspects=aspects, aspect=float(np.exp(logs.mean())),
                        spread=float(logs.std(ddof=1) * np.sqrt(1 + 1 / n) * student.ppf(0.975, n - 1) / norm.ppf(0.975))))
    return out


print(json.dumps(dict(
    source=f'computed by faces.py with NumPy {np.__version__} and SciPy {scipy.__version__}',
    method='forward models with the exact normal distribution and NumPy\'s FFT; prediction of one more by Student\'s t',
    faces=faces(), tails=tails(), proportions=proportions())))
