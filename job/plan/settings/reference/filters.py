"""Pulse of a differential probe through causal high-passes. Run: python3 filters.py (writes filters.json beside it).

The pulse is the derivative of a Gaussian bell of half-height width 1; a corner is given in 1 / (time that the width takes).
First and second order, maximally flat, simulated by scipy.signal.lsim on an exact discretization.
"""
import json
from pathlib import Path

import numpy as np
import scipy
import scipy.signal

sigma = 1 / (2 * np.sqrt(2 * np.log(2)))
t = np.linspace(-12, 12, 48001)
pulse = -t * np.exp(-0.5 * t * t)
span = pulse.max() - pulse.min()


def loss(order, corner):
    b, a = scipy.signal.butter(order, 2 * np.pi * corner * sigma, "high", analog=True)
    _, out, _ = scipy.signal.lsim((b, a), pulse, t - t[0])
    return float(1 - (out.max() - out.min()) / span)


rows = [
    {"corner": corner, "first": loss(1, corner), "second": loss(2, corner)}
    for corner in (0.02, 0.05, 0.1, 0.2, 0.375, 0.5)
]
out = {"source": f"computed by filters.py with SciPy {scipy.__version__}", "tolerance": 2e-4, "why": "steps of 1/200 here, 1/2000 there", "rows": rows}
Path(__file__).with_suffix(".json").write_text(json.dumps(out, indent=2) + "\n")
