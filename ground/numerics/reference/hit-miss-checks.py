"""Bend of a predictor and curves between asymptotes, by 30-digit Newton steps of the plain likelihood: mpmath.

Run: python3 hit-miss-checks.py (reads hit-miss.json and asymptotes.json, writes hit-miss-checks.json beside them)
"""
import json
from pathlib import Path

import mpmath as mp

mp.mp.dps = 30
here = Path(__file__).parent
sets = json.loads((here / "hit-miss.json").read_text())["sets"]
wide = json.loads((here / "asymptotes.json").read_text())

F = {
    "logit": lambda e: 1 / (1 + mp.exp(-e)),
    "probit": lambda e: mp.ncdf(e),
    "log-log": lambda e: mp.exp(-mp.exp(-e)),
    "c-log-log": lambda e: 1 - mp.exp(-mp.exp(e)),
}
G = {"logit": lambda p: mp.log(p / (1 - p))}


def maximize(f, start, h=mp.mpf(10) ** -8):
    """Newton by differences of a function of a few numbers, halved where it falls."""
    x = [mp.mpf(v) for v in start]
    n = len(x)

    def moved(at, *steps):
        y = list(at)
        for i, d in steps:
            y[i] += d
        return f(y)

    for _ in range(60):
        here_value = f(x)
        g = mp.matrix([(moved(x, (i, h)) - moved(x, (i, -h))) / (2 * h) for i in range(n)])
        H = mp.matrix(n, n)
        for i in range(n):
            for j in range(i, n):
                H[i, j] = H[j, i] = (
                    moved(x, (i, h), (j, h)) - moved(x, (i, h), (j, -h)) - moved(x, (i, -h), (j, h)) + moved(x, (i, -h), (j, -h))
                ) / (4 * h * h)
        step = mp.lu_solve(H, -g)
        share = mp.mpf(1)
        while f([x[i] + share * step[i] for i in range(n)]) < here_value - mp.mpf(10) ** -20 and share > 1e-6:
            share /= 2
        x = [x[i] + share * step[i] for i in range(n)]
        if max(abs(s) for s in step) < mp.mpf(10) ** -12:
            break
    return f(x), x


def bend(name, link):
    one = sets[name]
    trials = one.get("trials", [1] * len(one["size"]))
    rows = [(mp.log(s), h, n - h) for s, h, n in zip(one["size"], one["hits"], trials)]
    center = sum(x for x, _, _ in rows) / len(rows)

    def likelihood(b):
        total = mp.mpf(0)
        for x, h, m in rows:
            z = x - center
            p = F[link](b[0] + b[1] * z + (b[2] if len(b) > 2 else 0) * z * z)
            total += (h * mp.log(p) if h else 0) + (m * mp.log(1 - p) if m else 0)
        return total

    two, b = maximize(likelihood, [0, 1])
    three, _ = maximize(likelihood, [*b, 0])
    return {"set": name, "link": link, "statistic": float(2 * (three - two))}


rows = [(mp.log(s), h) for s, h in zip(wide["size"], wide["hits"])]


def chance(theta, x):
    return theta[2] + (theta[3] - theta[2]) * F["logit"](theta[0] + theta[1] * x)


def four(theta):
    if not 0 < theta[2] < theta[3] < 1:
        return mp.mpf("-inf")
    return sum(mp.log(chance(theta, x)) if h else mp.log(1 - chance(theta, x)) for x, h in rows)


def secant(f, a, b):
    fa, fb = f(a), f(b)
    for _ in range(40):
        if abs(fb) < mp.mpf(10) ** -10:
            return b
        a, b, fa = b, b - fb * (b - a) / (fb - fa), fb
        fb = f(b)
    raise ValueError("no root")


def asymptotes():
    top, theta = maximize(four, [*wide["b"], wide["lower"], wide["upper"]])
    c95 = mp.mpf("3.841458820694124")

    def profile(index, value):
        rest = [t for i, t in enumerate(theta) if i != index]
        best, _ = maximize(lambda r: four([*r[:index], value, *r[index:]]), rest)
        return 2 * (top - best) - c95

    def through(share, x, start):
        def held(r):
            b1, lower, upper = r
            if not 0 < lower < share < upper < 1:
                return mp.mpf("-inf")
            b0 = G["logit"]((share - lower) / (upper - lower)) - b1 * x
            return four([b0, b1, lower, upper])

        best, _ = maximize(held, start)
        return 2 * (top - best)

    lower = [secant(lambda v: profile(2, v), *pair) for pair in ((mp.mpf("0.0226"), mp.mpf("0.0227")), (mp.mpf("0.0806"), mp.mpf("0.0807")))]
    upper = [secant(lambda v: profile(3, v), *pair) for pair in ((mp.mpf("0.8977"), mp.mpf("0.8978")), (mp.mpf("0.9714"), mp.mpf("0.9715")))]
    share = mp.mpf("0.8")
    x80 = (G["logit"]((share - theta[2]) / (theta[3] - theta[2])) - theta[0]) / theta[1]
    c90 = mp.mpf("2.705543454095404")
    bound = secant(lambda x: through(share, x, theta[1:]) - c90, x80 + mp.mpf("0.1"), x80 + mp.mpf("0.12"))
    return {
        "theta": [float(t) for t in theta],
        "logLikelihood": float(top),
        "lower": [float(v) for v in lower],
        "upper": [float(v) for v in upper],
        "a80": float(mp.exp(x80)),
        "a80Bound": float(mp.exp(bound)),
    }


out = {
    "source": f"computed by hit-miss-checks.py with mpmath {mp.__version__}",
    "tolerance": {"bend": 1e-8, "estimates": 1e-9, "bounds": 1e-8},
    "why": "the statistics are differences of like numbers; bounds are sought to 1e-10 of the statistic",
    "bend": [bend(name, link) for name, link in (("hm1", "logit"), ("hm1", "probit"), ("hm2", "log-log"), ("hm_ties_grouped", "c-log-log"))],
    "asymptotes": asymptotes(),
}
(here / "hit-miss-checks.json").write_text(json.dumps(out, indent=1) + "\n")
