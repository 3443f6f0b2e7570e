"""Reference values of gamma, incomplete gamma and beta functions and of the laws made of them: mpmath, 40 digits.

Run: python3 special.py (writes special.json beside it)
"""
import json
import time
from pathlib import Path

import mpmath as mp
import scipy
import scipy.stats as st

mp.mp.dps = 40
half = mp.mpf(1) / 2


def digits(log_rest):
    """Digits with which 1 - share keeps 30, from the natural logarithm of the rest."""
    return 35 + int(max(0, min(800, -log_rest)) / 2.3)


def summed(ratio):
    """1 + r0 + r0 r1 + …, all terms positive."""
    term, total, k = mp.mpf(1), mp.mpf(1), 0
    least = mp.mpf(10) ** -mp.mp.dps
    while term > total * least:
        term *= ratio(k)
        total += term
        k += 1
    return total


def P(a, x):
    with mp.workdps(digits(st.gamma.logsf(float(x), float(a)))):
        a, x = mp.mpf(a), mp.mpf(x)
        return mp.exp(a * mp.log(x) - x - mp.loggamma(a + 1)) * summed(lambda k: x / (a + 1 + k))


def Q(a, x):
    with mp.workdps(digits(st.gamma.logsf(float(x), float(a)))):
        return 1 - P(a, x)


def I(a, b, x, y):
    """Lower share by the series of positive terms in the argument that is small."""
    with mp.workdps(digits(min(st.beta.logsf(float(x), float(a), float(b)), st.beta.logcdf(float(x), float(a), float(b))))):
        a, b = mp.mpf(a), mp.mpf(b)
        front = mp.exp(a * mp.log(x) + b * mp.log(y) + mp.loggamma(a + b) - mp.loggamma(a) - mp.loggamma(b))
        if x * (a + b + 2) < a + 1:
            return front / a * summed(lambda k: x * (a + b + k) / (a + 1 + k))
        return 1 - front / b * summed(lambda k: y * (a + b + k) / (b + 1 + k))


def beta_odds(a, b, r):
    with mp.workdps(400):
        r = mp.mpf(r)
        return I(a, b, r / (1 + r), 1 / (1 + r))


def nct(t, dof, shift, upper=False):
    t, dof, shift = mp.mpf(t), mp.mpf(dof), mp.mpf(shift)
    c = 2 * (dof / 2) ** (dof / 2) / mp.gamma(dof / 2)
    sign = -1 if upper else 1
    f = lambda s: c * s ** (dof - 1) * mp.exp(-dof * s * s / 2) * mp.erfc(-sign * (t * s - shift) / mp.sqrt(2)) / 2
    # break points: about the middle of s and where the argument of Phi is small
    w = 1 / mp.sqrt(2 * dof)
    points = {mp.mpf(0), *[max(mp.mpf(0), 1 + k * w) for k in (-16, -8, -4, -2, -1, 0, 1, 2, 4, 8, 16, 32)]}
    if t != 0 and shift / t > 0:
        points |= {max(mp.mpf(0), shift / t + k / abs(t)) for k in (-12, -6, -3, -1, 0, 1, 3, 6, 12)}
    # and about the maximum of the product in a far tail
    middle, width = (2 * dof + t * shift) / (2 * dof + t * t), 1 / mp.sqrt(2 * dof + t * t)
    points |= {max(mp.mpf(0), middle + k * width) for k in (-12, -6, -3, -1, 0, 1, 3, 6, 12)}
    points = sorted(points)
    return mp.quad(f, points + [points[-1] + 60 * w + 10])


def root(f, start, goal):
    """Secant steps on log share over log x."""
    g = lambda u: mp.log(f(mp.exp(u))) - mp.log(goal)
    return mp.exp(mp.findroot(g, mp.log(mp.mpf(start)), tol=1e-50, verify=False))


GAMMA = [(a, x) for a in (0.5, 1, 2.5, 15, 100, 5000.5) for x in (1e-8 * a, 0.3 * a, 0.97 * a, a, a + 1, 1.02 * a, 1.7 * a + 1, 4 * a + 20)]
GAMMA += [(1e6, x) for x in (0.999e6, 1e6, 1.002e6)]
GAMMA += [(a, x) for a in (1e-8, 1e-3, 0.2, 0.9) for x in (1e-20, 0.01, 0.5, 0.999, 1.0, 1.5, 8.0, 200.0)]
BETA = [(a, b, r) for a, b in ((0.5, 0.5), (0.5, 30), (29, 1), (2, 1000), (10, 20), (450, 0.5), (5000, 7000), (1e4, 0.5), (99990, 11), (1, 1))
        for r in (1e-9 * a / b, 0.2 * a / b, 0.98 * a / b, a / b, 1.03 * a / b, 2.5 * a / b, 1e4 * a / b)]


def worth(v):
    return all(mp.mpf("1e-290") < abs(x) for x in v)


def gamma_cases():
    out = []
    for a, x in GAMMA:
        if st.gamma.logsf(x, a) < -650 or st.gamma.logcdf(x, a) < -650:
            continue
        lo, hi = P(mp.mpf(a), mp.mpf(x)), Q(mp.mpf(a), mp.mpf(x))
        if worth((lo, hi)):
            out.append([a, x, float(lo), float(hi)])
    return out


def beta_cases():
    out = []
    for a, b, r in BETA:
        lo = beta_odds(a, b, r)
        with mp.workdps(400):
            hi = beta_odds(b, a, 1 / mp.mpf(r))
        if worth((lo, hi)):
            out.append([a, b, float(r), float(lo), float(hi)])
    return out


NCT = [(t, v, d) for v, d in ((1, 0), (1, 2), (3, 0.5), (4, 8), (10, 4.0526), (13, 5), (58, 9.9), (199, 18.1238760487365), (28, -3), (5000, 90), (0.5, 1))
       for t in (-2.0, 0.7, 0.6 * d, 1.3 * d + 1, 3 * d + 4)]


def nct_cases():
    out = []
    with mp.workdps(30):
        for t, v, d in NCT:
            lo, hi = nct(t, v, d), nct(t, v, d, True)
            assert abs(lo + hi - 1) < mp.mpf("1e-16"), (t, v, d, lo + hi)
            if lo > mp.mpf("1e-28") and hi > mp.mpf("1e-28"):  # farther out this quadrature is not exact enough
                out.append([t, v, d, float(lo), float(hi)])
    return out


QUANTILES = [1e-200, 1e-12, 0.003, 0.05, 0.3, 0.5]


def gamma_quantiles():
    out = []
    for a in (0.5, 1, 3.7, 30, 1000):
        for p in QUANTILES:
            s = st.gamma.ppf(p, a) or 1e-100
            lower = root(lambda x: P(a, x), s if p > 1e-100 else mp.exp((mp.log(p) + mp.loggamma(a + 1)) / a), mp.mpf(p))
            if p > 1e-100 or a < 100:
                out.append([a, "lower", p, float(lower)])
            upper = root(lambda x: Q(a, x), st.gamma.isf(p, a), mp.mpf(p))
            out.append([a, "upper", p, float(upper)])
    return out


def student():
    two = lambda t, v: beta_odds(mp.mpf(v) / 2, half, v / mp.mpf(t) ** 2)
    tails = [[t, v, float(two(t, v) / 2)] for v in (1, 2.5, 7, 52.7, 1000, 2e4) for t in (0.01, 1.96, 5.0, 30.0)]
    tails = [row for row in tails if row[2] > 1e-290]
    quantiles = []
    for v in (1, 2.5, 7, 52.7, 1000):
        for q in (1e-30, 0.001, 0.05, 0.4, 0.499999):
            t = root(lambda x: two(x, v) / 2, st.t.isf(q, v), mp.mpf(q))
            quantiles.append([q, v, float(t)])
    return {"survival": tails, "upperQuantile": quantiles}


def nct_quantiles():
    out = []
    with mp.workdps(25):
        for v, d in ((4, 3.0), (28, 6.7), (13, -5)):
            for p in (1e-6, 0.95):
                f = lambda t: mp.log(nct(t, v, d)) - mp.log(mp.mpf(p))
                out.append([p, v, d, float(mp.findroot(f, (st.nct.ppf(p, v, d), st.nct.ppf(p, v, d) * 1.0001 + 1e-5), tol=1e-40, verify=False))])
    return out


XS = [1e-300, 1e-8, 0.1, 0.4999, 0.5, 0.9, 0.9999999, 1.0000001, 1.25, 1.4999, 1.5, 1.9999999, 2.0000001, 2.5, 3.3, 7.99, 8.0, 15.5, 100.0, 1e6, 1e15]
START = time.monotonic()


def timed(make):
    out = make()
    print(make.__name__, round(time.monotonic() - START, 1), flush=True)
    return out


DATA = {
    "source": f"computed by special.py with mpmath {mp.__version__} (40 digits), starts of roots by SciPy {scipy.__version__}",
    "logGamma": {"tolerance": 1e-14, "why": "series of 25 terms, one logarithm", "cases": [[x, float(mp.loggamma(x)), float(mp.digamma(x))] for x in XS]},
    "gamma": {"tolerance": 1e-12, "why": "asked for", "cases": timed(gamma_cases)},
    "beta": {"tolerance": 1e-12, "why": "asked for", "cases": timed(beta_cases)},
    "gammaQuantile": {"tolerance": 1e-12, "why": "asked for", "cases": timed(gamma_quantiles)},
    "student": {"tolerance": 1e-12, "why": "asked for", **timed(student)},
    "noncentral": {"tolerance": 1e-11, "why": "asked for: 1e-10", "cases": timed(nct_cases), "quantiles": timed(nct_quantiles)},
}
body = ",\n".join(f'"{k}": {json.dumps(v)}' for k, v in DATA.items())
Path(__file__).with_suffix(".json").write_text("{" + body + "}\n")
print({k: len(v["cases"]) for k, v in DATA.items() if "cases" in v})
# The coefficients in gamma.ts that are no ratios.
print("ZETA", [float((-1) ** k * (mp.zeta(k) - 1) / k) for k in range(2, 27)], "1 - EULER", float(1 - mp.euler))
