"""Reference of chance.test.ts and logistic.test.ts: numpy convolution, scipy.stats.binom, scipy.optimize."""
import json
import pathlib

import numpy as np
import scipy
from scipy.optimize import minimize
from scipy.stats import binom

here = pathlib.Path(__file__).parent
random = np.random.default_rng(20261)


def passed(mass, level):
    tail = (1 - level) / 2
    below = np.cumsum(mass)  # P(K <= k)
    above = np.cumsum(mass[::-1])[::-1]  # P(K >= k)
    least = int(np.argmax(below > tail))
    most = int(np.max(np.nonzero(above > tail)))
    return least, most


cases = []
for n, top, level in [(12, 0.9, 0.9), (40, 0.3, 0.99), (60, 0.02, 0.99)]:
    chances = [round(float(p), 6) for p in random.uniform(0, top, n)]
    mass = np.array([1.0])
    for p in chances:
        mass = np.convolve(mass, [1 - p, p])
    least, most = passed(mass, level)
    cases.append(dict(chances=chances, mass=mass.tolist(), level=level, least=least, most=most))

binomial = []
for n, p in [(400, 0.1), (400, 0.005), (4000, 0.005), (20000, 0.005)]:
    least, most = passed(binom.pmf(np.arange(n + 1), n, p), 0.99)
    binomial.append(dict(n=n, p=p, level=0.99, least=least, most=most))

(here / 'chance.json').write_text(json.dumps(dict(source=f'computed by chance.py with numpy.convolve and scipy.stats.binom, NumPy {np.__version__}, SciPy {scipy.__version__}', cases=cases, binomial=binomial)) + '\n')

fits = []
for n, a, b in [(60, 6.0, 4.0), (300, 3.0, 1.5)]:
    size = np.round(np.exp(random.uniform(np.log(0.06), np.log(0.8), n)), 5)
    found = random.uniform(size=n) < 1 / (1 + np.exp(-(a + b * np.log(size))))
    sign = np.where(found, 1, -1)
    cost = lambda t: np.sum(np.logaddexp(0, -sign * (t[0] + t[1] * np.log(size))))
    best = minimize(cost, [0, 1], method='Nelder-Mead', options=dict(xatol=1e-12, fatol=1e-14, maxiter=20000)).x
    at = lambda share: float(np.exp((np.log(share / (1 - share)) - best[0]) / best[1]))
    fits.append(dict(size=size.tolist(), found=found.tolist(), at50=at(0.5), at90=at(0.9)))
(here / 'logistic.json').write_text(json.dumps(dict(source=f'computed by chance.py with scipy.optimize.minimize, NumPy {np.__version__}, SciPy {scipy.__version__}', fits=fits)) + '\n')
