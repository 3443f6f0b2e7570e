"""Twin of sizing by SciPy and NumPy: exact normal distribution, continuous optima, finer grids. Writes sizing.json.

Run: python3 sizing.py > sizing.json
"""
import json

import numpy as np
import scipy
from scipy.optimize import brentq, least_squares, minimize_scalar
from scipy.stats import norm, t as student

WIDTH = 2 * np.sqrt(2 * np.log(2))
N = dict(notchScatter=0.03, lengthScatter=0.03, turnScatter=0.03, aspectSpread=0.4, notchAspect=0.04,
         otherProportions=0.01, alike=0.5, leftOut=0.05)


def filled(length, width):
    return 2 * norm.cdf(0.5 * length * WIDTH / width) - 1


def seen(z, length, width):
    s = width / WIDTH
    if length < 1e-6:
        return np.exp(-0.5 * (z / s) ** 2)
    return (norm.cdf((z + length / 2) / s) - norm.cdf((z - length / 2) / s)) / filled(length, width)


def extent(length, width):
    return 2 * brentq(lambda z: seen(z, length, width) - 0.5, 0, length + width)


def behind(rows, half, length, width, noise, reach):
    z, x, y = (np.array(rows[k]) for k in ('z_mm', 'x', 'y'))
    near = (z >= half[0] - reach) & (z <= half[1] + reach)
    z, x, y = z[near], x[near], y[near]
    raised = (1 + N['alike']) / (1 - N['alike'])
    vx, vy = noise['xx'] * raised, noise['yy'] * raised

    def fit(middle):
        t = seen(z - middle, length, width)
        tt = t @ t
        cx, cy = (t @ x) / tt, (t @ y) / tt
        return ((x - cx * t) ** 2).sum() / vx + ((y - cy * t) ** 2).sum() / vy, cx, cy, vx / tt, vy / tt

    mid = 0.5 * (half[0] + half[1])
    grid = np.linspace(mid - width / 2, mid + width / 2, 401)
    best = grid[np.argmin([fit(m)[0] for m in grid])]
    best = minimize_scalar(lambda m: fit(m)[0], bounds=(best - width / 200, best + width / 200), method='bounded').x
    misfit, cx, cy, xx, yy = fit(best)
    energy = (x * x).sum() / noise['xx'] + (y * y).sum() / noise['yy']
    return dict(misfit=misfit, x=cx, y=cy, xx=xx, yy=yy, rows=len(z), energy=energy, middle=best)


def half_extent(rows, noise):
    z, x, y = (np.array(rows[k]) for k in ('z_mm', 'x', 'y'))
    strength = x * x / noise['xx'] + y * y / noise['yy']
    at = int(np.argmax(strength))
    size = (x * x[at] / noise['xx'] + y * y[at] / noise['yy']) / strength[at]
    ends = []
    for sense in (-1, 1):
        i = at
        while size[i + sense] >= 0.5:
            i += sense
        ends.append(z[i] + (size[i] - 0.5) / (size[i] - size[i + sense]) * (z[i + sense] - z[i]))
    return ends


def width_of(notches, noise):
    bore = [n for n in notches if n['place'] == 'mid-bore']
    halves = [half_extent(n['rows'], noise) for n in bore]
    shortest = min(b - a for a, b in halves)

    def most(w):
        return max(behind(n['rows'], half, n['length_mm'], w, noise, shortest)['energy'] for n, half in zip(bore, halves))

    def total(w):
        out = 0
        for n, half in zip(bore, halves):
            b = behind(n['rows'], half, n['length_mm'], w, noise, shortest)
            out += b['misfit'] / (2 * b['rows'] + 0.03**2 * b['energy'] + 0.02**2 * most(w))
        return out

    return minimize_scalar(total, bounds=(0.4 * shortest, 1.3 * shortest), method='bounded', options=dict(xatol=1e-4)).x


FORMS = {
    'share': lambda d, l, share, scale: (share * (1 - np.exp(-d / scale)), -share * d * np.exp(-d / scale) / scale**2),
    'area': lambda d, l, share, scale: (d * l / (d * l + scale), -d * l / (d * l + scale) ** 2),
}


def law_with(points, name, own, tails):
    d, l, share, size, yy, beside = (np.array([p[k] for p in points]) for k in ('depth_mm', 'length_mm', 'share', 'y', 'yy', 'beside'))
    var = yy + (own * size) ** 2 + (tails * beside) ** 2
    sd = np.sqrt(var)
    form = FORMS[name]
    r = least_squares(lambda p: (p[0] * form(d, l, share, p[1])[0] - size) / sd, [size.max(), 0.6],
                      xtol=1e-14, ftol=1e-14, gtol=1e-14)
    misfit = 2 * r.cost
    information = r.jac.T @ r.jac
    raised = max(1, misfit / (len(d) - 2))
    deviance = misfit + np.log(var).sum()
    relative = np.linalg.det(information) * r.x[0] ** 2 * r.x[1] ** 2
    return dict(form=name, full=r.x[0], scale=r.x[1], misfit=misfit, deviance=deviance, scatter=own,
                restricted=deviance + np.log(relative), cov=(np.linalg.inv(information) * raised).tolist())


def law_of(points, name):
    best = None
    for tails in (0, 0.01, 0.02, 0.035, 0.06, 0.1):
        for times in (1, 1.5, 2.25, 3.4, 5):
            one = law_with(points, name, times * N['notchScatter'], tails)
            if best is None or one['restricted'] < best['restricted'] - 0.5:
                best = one
    return best


def laws_of(points):
    laws = [law_of(points, name) for name in FORMS]
    least = min(law['deviance'] for law in laws)
    weights = np.array([np.exp(-0.5 * (law['deviance'] - least)) for law in laws])
    return [dict(law, weight=float(w)) for law, w in zip(laws, weights / weights.sum())]


def turn_of(points):
    d, x, y, xx = (np.array([p[k] for p in points]) for k in ('depth_mm', 'x', 'y', 'xx'))
    w = 1 / (xx / y**2 + N['turnScatter'] ** 2)
    a = np.stack([np.ones_like(d), d], 1)
    cov = np.linalg.inv(a.T @ (a * w[:, None]))
    b = cov @ (a.T @ (w * x / y))
    raised = max(1, (w * (x / y - a @ b) ** 2).sum() / (len(d) - 2))
    return dict(at0=b[0], slope=b[1], cov=(cov * raised).tolist())


def depths(planes, turn, deepest, ratio=1.0, ratio_variance=0.0):
    """Quantiles for flaws of any proportions, and for those of the notches' own, whose lengths speak for the depth only through the answer."""
    grid = np.exp(np.linspace(np.log(deepest / 60), np.log(3 * deepest), 600))
    any_, like = np.zeros_like(grid), np.zeros_like(grid)
    for behinds, aspect, width, law in planes:
        least = min(b['misfit'] for _, _, b in behinds)
        over = max(1, least / max(1, 2 * behinds[0][2]['rows'] - 4))
        own, left, alone = np.zeros_like(grid), np.zeros_like(grid), 0.0
        for weight, length, b in behinds:
            share = filled(length, width)
            s1, s2 = FORMS[law['form']](grid, length, share, law['scale'])
            s2 = law['full'] * s2
            c = law['cov']
            size = ratio * law['full'] * s1
            known = c[0][0] * s1**2 + 2 * c[0][1] * s1 * s2 + c[1][1] * s2**2
            var = b['yy'] + ratio**2 * known + (law['scatter'] ** 2 + ratio_variance / ratio**2) * size**2
            chi = (abs(b['y']) - size) ** 2 / var + np.log(var)
            t = turn['at0'] + turn['slope'] * grid
            ct = turn['cov']
            tvar = b['xx'] / b['y'] ** 2 + N['turnScatter'] ** 2 + ct[0][0] + 2 * ct[0][1] * grid + ct[1][1] * grid**2
            chi += (b['x'] / b['y'] - t) ** 2 / tvar + np.log(tvar)
            answer = np.exp(-0.5 * chi)
            rows = weight * np.exp(-0.5 * (b['misfit'] - least) / over)
            u = np.log(max(0.01 * width, length) / grid / aspect)
            wide = norm.pdf(u, scale=N['aspectSpread'])
            mixed = N['otherProportions'] * wide + (1 - N['otherProportions']) * norm.pdf(u, scale=N['notchAspect'])
            any_ += law['weight'] * rows * answer * wide
            own += rows * answer * mixed
            left += rows * mixed
        cut = own / left
        like += law['weight'] * own.sum() * cut / cut.sum()

    def quantiles(total):
        cum = np.cumsum(total) / total.sum()
        return [float(np.exp(np.interp(q, cum, np.log(grid)))) for q in (0.025, 0.5, 0.975)]

    return dict(any=quantiles(any_), like=quantiles(like))


def interval_of(planes, turn, extra):
    """Notch-equivalent; where a ratio holds, no figure is lower than that."""
    like = depths(planes, turn, 1.5)['like']
    return like if extra == {} else [max(a, b) for a, b in zip(like, depths(planes, turn, 1.5, **extra)['any'])]


def make_rows(rng, depth, length, width, noise, z0=5.0, factor=1.0):
    z = z0 + 0.25 * np.arange(-12, 13) + 0.07
    size = factor * 3.2 * filled(length, width) * (1 - np.exp(-depth / 0.6)) * seen(z - z0, length, width)
    angle = np.arctan2(1, 0.05 + 0.22 * depth)
    return dict(
        z_mm=z.tolist(),
        x=(size * np.cos(angle) + np.sqrt(noise['xx']) * rng.standard_normal(25)).tolist(),
        y=(size * np.sin(angle) + np.sqrt(noise['yy']) * rng.standard_normal(25)).tolist(),
    )


def main():
    rng = np.random.default_rng(20260101)
    width, noise = 1.5, dict(xx=0.05**2, yy=0.02**2)
    notches = []
    for place, depth, length in [('mid-bore', d, 2 * d) for d in (0.25, 0.5, 1.0, 1.5)] + [
        ('entry corner', d, d) for d in (0.25, 0.5, 0.76, 1.5)
    ]:
        notches.append(dict(place=place, depth_mm=depth, length_mm=length, rows=make_rows(rng, depth, length, width, noise)))
    w = width_of(notches, noise)
    points = []
    for n in notches:
        b = behind(n['rows'], half_extent(n['rows'], noise), n['length_mm'], w, noise, w)
        points.append(dict(b, depth_mm=n['depth_mm'], length_mm=n['length_mm'], share=filled(n['length_mm'], w)))
        n['amplitude'] = float(b['y'])
    for n, p in zip(notches, points):
        p['beside'] = max(abs(q['y']) for m, q in zip(notches, points) if m is not n and m['place'] == n['place'])
    laws, turn = laws_of(points), turn_of(points)
    flaws = []
    for place, depth, length, factor, ratio in [
        ('mid-bore', 0.6, 1.2, 1.0, None),
        ('mid-bore', 1.2, 2.2, 1.0, None),
        ('corner', 0.7, 0.7, 1.0, None),
        ('mid-bore', 1.0, 1.6, 0.75, [0.75, 0.05, 8]),
        ('corner', 0.5, 0.6, 0.72, [0.75, 0.05, 8]),
    ]:
        rows = make_rows(rng, depth, length, width, noise, factor=factor)
        half = half_extent(rows, noise)
        # a point weighs as much as each of the 76 lengths looked at, which go by even factors
        lengths = np.exp(np.linspace(np.log(0.1 * w), np.log(half[1] - half[0] + w), 231))
        fits = [(76 / 231, l, behind(rows, half, l, w, noise, w)) for l in lengths]
        fits.insert(0, (1.0, 0.0, behind(rows, half, 0.0, w, noise, w)))
        kinds = [2.0] if place == 'mid-bore' else [1.0, 2.0]
        extra = {} if ratio is None else dict(ratio=ratio[0], ratio_variance=ratio[1] ** 2 * (1 + 1 / ratio[2]))
        planes = [(fits, aspect, w, law) for aspect in kinds for law in laws]
        best = min(fits, key=lambda f: f[2]['misfit'])[1]
        flaws.append(
            dict(
                place=place, truth=dict(depth_mm=depth, length_mm=length), rows=rows,
                **({} if ratio is None else dict(ratio=ratio)),
                half=[float(h) for h in half], length_mm=float(best),
                interval=interval_of(planes, turn, extra),
            )
        )
    curve = dict(depth_mm=[0.3, 0.5, 0.8, 1.2, 1.6], amplitude=[0.41, 0.78, 1.31, 2.2, 3.05], asked=1.6)
    x, y = np.log(curve['depth_mm']), np.log(curve['amplitude'])
    n, xm = len(x), x.mean()
    b1 = ((x - xm) @ y) / ((x - xm) @ (x - xm))
    b0 = y.mean() - b1 * xm
    s = np.sqrt(((y - b0 - b1 * x) ** 2).sum() / (n - 2))
    q, sxx = student.ppf(0.975, n - 2), (x - xm) @ (x - xm)
    x0 = (np.log(curve['asked']) - b0) / b1
    g = q * q * s * s / (b1 * b1 * sxx)
    h = q * s / abs(b1) * np.sqrt((1 + 1 / n) * (1 - g) + (x0 - xm) ** 2 / sxx)
    curve['expected'] = [float(np.exp(v)) for v in (x0, xm + (x0 - xm - h) / (1 - g), xm + (x0 - xm + h) / (1 - g))]
    footprint = [
        dict(length=l, width=v, filled=float(filled(l, v)), extent=float(extent(l, v)),
             seen=[float(seen(z, l, v)) for z in (0.0, 0.3, 0.9)])
        for l, v in [(0.1, 1.5), (0.5, 1.5), (1.0, 1.7), (2.0, 1.45), (3.0, 1.0)]
    ]
    print(json.dumps(dict(
        source=f'computed by sizing.py with scipy.stats and scipy.optimize, SciPy {scipy.__version__}, NumPy {np.__version__}',
        noise=noise, notches=notches, width=float(w), laws=[{k: (law[k] if k == 'form' else float(law[k])) for k in ('form', 'full', 'scale', 'weight', 'scatter')} for law in laws],
        turn=dict(at0=float(turn['at0']), slope=float(turn['slope'])), flaws=flaws, curve=curve, footprint=footprint)))


main()
