"""The best power of y and its interval by the profile of the likelihood: mpmath, 40 digits, roots of the derivative.

Run: python3 box-cox.py (writes box-cox.json beside it). The data are simulated ones of our own (censored.json, `read`).
"""
import json
from pathlib import Path

import mpmath as mp

mp.mp.dps = 40
here = Path(__file__).parent
data = json.loads((here / "censored.json").read_text())["data"]["read"]
size = [mp.mpf(repr(v)) for v in data["size"]]
signal = [mp.mpf(repr(v)) for v in data["signal"]]
n = len(signal)


def height(x):
    mean = mp.fsum(x) / n
    away = [v - mean for v in x]
    spread = mp.fsum(v * v for v in away)

    def at(power):
        z = [mp.log(v) if power == 0 else (v**power - 1) / power for v in signal]
        middle = mp.fsum(z) / n
        z = [v - middle for v in z]
        slope = mp.fsum(a * b for a, b in zip(away, z)) / spread
        rest = mp.fsum((b - slope * a) ** 2 for a, b in zip(away, z))
        return -mp.mpf(n) / 2 * mp.log(rest / n) + (power - 1) * mp.fsum(map(mp.log, signal))

    return at


def case(name, x, start):
    at = height(x)
    best = mp.findroot(lambda power: mp.diff(at, power), start)
    fall = lambda power: 2 * (at(best) - at(power)) - 2 * mp.erfinv(mp.mpf("0.95")) ** 2
    values = [best, mp.findroot(fall, best - 0.15), mp.findroot(fall, best + 0.15), at(best), at(0), at(1)]
    return {"x": name, "lambda_lower_upper_top_zero_one": [float(v) for v in values]}


cases = [case("ln", [mp.log(v) for v in size], 0.01), case("none", size, 0.5)]
out = {
    "source": f"computed by box-cox.py with mpmath {mp.__version__}",
    "tolerance": 1e-10,
    "why": "a maximum is found from its derivative, to rounding of sums of 60",
    "confidence": 0.95,
    "cases": cases,
}
(here / "box-cox.json").write_text(json.dumps(out, indent=1) + "\n")
