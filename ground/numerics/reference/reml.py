"""Restricted maximum likelihood of unbalanced readings: mpmath, 40 digits, dense V, roots of the score by secants.

Run: python3 reml.py (writes reml.json beside it). The data are simulated ones of our own (variance.json, `mixed`).
"""
import json
from pathlib import Path

import mpmath as mp

mp.mp.dps = 40
here = Path(__file__).parent
data = json.loads((here / "variance.json").read_text())["mixed"]["unbalanced"]
y = mp.matrix([mp.mpf(repr(v)) for v in data["y"]])
n = len(y)
one = mp.matrix([1] * n)
alike = lambda levels: mp.matrix(n, n) + mp.matrix([[int(a == b) for b in levels] for a in levels])
kinds = [mp.eye(n), alike(data["part"]), alike(data["operator"])]


def projector(variances):
    v = mp.matrix(n, n)
    for variance, kind in zip(variances, kinds):
        v += variance * kind
    inverse = v**-1
    column = inverse * one
    return inverse, (one.T * column)[0], inverse - column * column.T / (one.T * column)[0]


def score(*variances):
    _, _, p = projector(variances)
    pull = p * y
    trace = lambda kind: mp.fsum(p[i, j] * kind[j, i] for i in range(n) for j in range(n))
    return [(pull.T * kind * pull)[0] - trace(kind) for kind in kinds]


def criterion(variances):
    v = mp.matrix(n, n)
    for variance, kind in zip(variances, kinds):
        v += mp.mpf(variance) * kind
    _, weight, p = projector(variances)
    return -(mp.log(mp.det(v)) + mp.log(weight) + (y.T * p * y)[0] + (n - 1) * mp.log(2 * mp.pi)) / 2


start = [mp.mpf(v) for v in ("0.0052", "0.102", "0.00093")]
best = mp.findroot(score, start, tol=1e-30)
inverse, weight, _ = projector(list(best))
part, operator, residual = data["variances"]
out = {
    "source": f"computed by reml.py with mpmath {mp.__version__}",
    "tolerance": 1e-10,
    "why": "steps of the fit end at 1e-11 standard errors",
    "order": ["residual", "part", "operator"],
    "variances": [float(v) for v in best],
    "mean": float((one.T * inverse * y)[0] / weight),
    "error": float(1 / mp.sqrt(weight)),
    "logLikelihood": float(criterion(best)),
    "logLikelihoodOfLme4": float(criterion([residual, part, operator])),
}
(here / "reml.json").write_text(json.dumps(out, indent=1) + "\n")
