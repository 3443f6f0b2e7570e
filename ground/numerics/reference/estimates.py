"""Reference values of quantiles, histograms, distributions, B-splines and fits: NumPy, SciPy, mpmath.

Run: python3 estimates.py (writes estimates.json beside it)
"""
import json
from pathlib import Path

import mpmath as mp
import numpy as np
import scipy
import scipy.interpolate
import scipy.linalg
import scipy.stats

mp.mp.dps = 60
rng = np.random.default_rng(11)


def normal():
    sf = lambda x: mp.erfc(x / mp.sqrt(2)) / 2
    xs = [0.0, 1e-300, 1e-8, 0.1, 0.5, 0.6744897501960817, 1.0, 1.6448536269514722, 1.96, 2.5, 3.0, 4.0, 5.5, 7.0, 9.0, 12.0, 16.0, 20.0, 25.0, 30.0, 35.0, 37.0, 37.5]
    xs += [float(v) for v in rng.uniform(0, 10, 60)]
    xs = xs + [-x for x in xs]

    def quantile(p):
        p = mp.mpf(p)
        if p == mp.mpf(1) / 2:
            return 0.0
        if p > mp.mpf(1) / 2:
            g = lambda x: mp.erf(x / mp.sqrt(2)) - (2 * p - 1)
            return float(mp.findroot(g, scipy.stats.norm.ppf(float(p)), tol=1e-80))
        g = lambda x: mp.log(sf(-x)) - mp.log(p)
        return float(mp.findroot(g, scipy.stats.norm.ppf(float(p)), tol=1e-50))

    ps = [1e-300, 1e-200, 1e-100, 1e-50, 1e-20, 1e-10, 1e-5, 0.001, 0.01, 0.025, 0.05, 0.1, 0.2, 0.25, 0.2500001, 0.3, 0.4, 0.45, 0.49, 0.4999, 0.49999999, 0.5, 0.50000001, 0.6, 0.74, 0.75, 0.76, 0.9, 0.95, 0.975, 0.999, 0.999999, 1 - 1e-12]
    ps += [float(v) for v in rng.uniform(0, 1, 60)]
    return {"survival": [[x, float(sf(mp.mpf(x)))] for x in xs], "quantile": [[p, quantile(p)] for p in ps]}


def chi_square_2():
    xs = [1e-20, 1e-5, 0.1, 1.0, 2.0, 5.991464547107979, 9.21, 50.0, 700.0, 1400.0]
    ps = [1e-300, 1e-20, 1e-5, 0.1, 0.5, 0.9, 0.95, 0.999]
    return {
        "values": [[x, float(-mp.expm1(-mp.mpf(x) / 2)), float(mp.exp(-mp.mpf(x) / 2))] for x in xs],
        "quantiles": [[p, float(-2 * mp.log1p(-mp.mpf(p))), float(-2 * mp.log(mp.mpf(p)))] for p in ps],
    }


def exponential_integral():
    return [[z, float(mp.exp(mp.mpf(z)) * mp.e1(mp.mpf(z)))] for z in [1e-10, 1e-3, 0.1, 0.5, 0.99, 1.0, 1.01, 1.5, 2.0, 5.0, 10.0, 50.0, 500.0]]


def order():
    out = []
    for n in [1, 2, 3, 10, 11, 100, 501]:
        v = np.round(rng.standard_normal(n), 3)
        if n == 100:
            v = np.round(v * 2)  # many equal values
        ps = [0, 0.05, 0.25, 0.5, 1 / 3, 0.75, 0.9, 0.995, 1]
        out.append({"values": v.tolist(), "quantiles": [[p, float(np.quantile(v, p))] for p in ps], "median": float(np.median(v)), "deviation": float(scipy.stats.median_abs_deviation(v)), "sigma": float(scipy.stats.median_abs_deviation(v, scale="normal"))})
    return out


def histogram():
    v = np.round(rng.standard_normal(500) * 0.4, 4)
    max_, bins = 1.0, 37
    inside = np.abs(v)[np.abs(v) < max_]
    counts, edges = np.histogram(inside, bins=bins, range=(0, max_))
    cum = np.concatenate([[0], np.cumsum(counts)])
    ps = [0.001, 0.1, 0.5, 0.8, 0.95]
    x, y = np.round(rng.standard_normal(300), 4), np.round(rng.standard_normal(300), 4)
    c2, _, _ = np.histogram2d(x, y, bins=[9, 7], range=[[-2, 2.5], [-1.5, 2]])
    return {
        "magnitude": {"values": v.tolist(), "max": max_, "bins": bins, "counts": counts.tolist(), "overflow": int(len(v) - len(inside)), "quantiles": [[p, float(np.interp(p * len(v), cum, edges))] for p in ps]},
        "plane": {"x": x.tolist(), "y": y.tolist(), "xAxis": {"min": -2, "max": 2.5, "bins": 9}, "yAxis": {"min": -1.5, "max": 2, "bins": 7}, "counts": c2.astype(int).ravel().tolist()},
    }


def spline():
    b = scipy.interpolate.BSpline.basis_element([-2, -1, 0, 1, 2], extrapolate=False)
    xs = [0, 0.1, 0.25, 0.5, 0.9, 1.0, 1.1, 1.5, 1.75, 1.99]
    piece = lambda x: mp.mpf(2) / 3 - x**2 + x**3 / 2 if x < 1 else (2 - x) ** 3 / 6

    def spectrum(f):  # by quadrature of the spline itself, not by sinc
        return float(2 * mp.quad(lambda x: piece(x) * mp.cos(2 * mp.pi * mp.mpf(f) * x), [0, 0.5, 1, 1.5, 2]))

    return {"values": [[x, float(b(x))] for x in xs], "spectrum": [[f, spectrum(f)] for f in [0, 0.01, 0.1, 0.25, 0.5, 0.75, 1.0, 1.3, 1.5, 2.0, 2.4, 3.5]]}


def solve():
    out = []
    for n in [1, 2, 4, 7]:
        m = rng.standard_normal((n + 2, n))
        a, b = m.T @ m, rng.standard_normal(n)
        out.append({"size": n, "matrix": a.ravel().tolist(), "right": b.tolist(), "solution": scipy.linalg.solve(a, b, assume_a="pos").tolist(), "factor": np.linalg.cholesky(a).ravel().tolist()})
    return out


def line():
    out = []
    for n, weighted in [(3, False), (20, False), (25, True), (201, False)]:
        x = np.round(rng.uniform(100, 120, n), 3)
        y = 3 - 0.7 * x + np.round(rng.standard_normal(n), 4)
        if n == 201:
            y[:60] += 50
            x[10:14] = x[10]
        w = np.round(rng.uniform(0.2, 4, n), 3) if weighted else np.ones(n)
        # The fit is done about a shifted origin in long doubles, so that the oracle is the more accurate one.
        x0 = np.longdouble(110)
        m = np.column_stack([np.ones(n), x.astype(np.longdouble) - x0]).astype(np.longdouble)
        wl, yl = w.astype(np.longdouble), y.astype(np.longdouble)
        g = (m * wl[:, None]).T @ m
        det = g[0, 0] * g[1, 1] - g[0, 1] ** 2
        inv = np.array([[g[1, 1], -g[0, 1]], [-g[0, 1], g[0, 0]]]) / det
        beta = inv @ ((m * wl[:, None]).T @ yl)
        s2 = (wl * (yl - m @ beta) ** 2).sum() / (n - 2)
        t = np.array([[1, -x0], [0, 1]], dtype=np.longdouble)
        beta, cov = t @ beta, t @ inv @ t.T * s2
        check, ccov = np.polyfit(x, y, 1, w=np.sqrt(w), cov=True)
        assert np.allclose(check[::-1], beta.astype(float), rtol=1e-8) and np.allclose(ccov[::-1, ::-1], cov.astype(float), rtol=1e-7)
        s = scipy.stats.siegelslopes(y, x)
        case = {"x": x.tolist(), "y": y.tolist(), "intercept": float(beta[0]), "slope": float(beta[1]), "sigma": float(np.sqrt(s2)), "covariance": {"intercept": float(cov[0, 0]), "slope": float(cov[1, 1]), "both": float(cov[0, 1])}, "repeatedMedian": {"slope": float(s.slope), "intercept": float(s.intercept)}}
        out.append({**case, "weights": w.tolist()} if weighted else case)
    return out


data = {
    "source": f"computed by estimates.py with NumPy {np.__version__}, SciPy {scipy.__version__}, mpmath {mp.__version__} (60 digits: distributions, spectrum)",
    "normal": {"tolerance": 1e-14, "why": "asked for: relative, far tails included", **normal()},
    "chiSquare2": {"tolerance": 1e-15, "why": "one elementary function", **chi_square_2()},
    "exponentialIntegral": {"tolerance": 1e-14, "why": "series and fraction of up to 120 terms", "cases": exponential_integral()},
    "order": {"why": "equal to the bit: the same formula as numpy.quantile", "cases": order()},
    "histogram": {"tolerance": 1e-12, "why": "interpolation in different order", **histogram()},
    "spline": {"tolerance": 1e-15, "why": "absolute; a few operations", **spline()},
    "solve": {"tolerance": 1e-10, "why": "relative; matrices with condition numbers up to some thousands", "cases": solve()},
    "line": {"tolerance": 1e-12, "why": "relative, against long doubles (checked against numpy.polyfit there)", "cases": line()},
}
lines = ",\n".join(f'"{k}": {json.dumps(v)}' for k, v in data.items())
Path(__file__).with_suffix(".json").write_text("{" + lines + "}\n")
