"""Constants of ground/numerics, printed as shortest round-trip decimals, to be pasted into the sources.

Run: python3 coefficients.py      Needs: mpmath (60 digits).
Polynomials are Chebyshev fits of the remainder after the exactly kept leading terms; tables are
correctly rounded high parts with the rounded rest as low part.
"""
import mpmath as mp

mp.mp.dps = 60


def fit(name, f, a, b, n):
    # f is analytic but given as a quotient that is 0/0 at 0: fitted with 60 digits, nodes never hit 0 exactly.
    c, err = mp.chebyfit(f, [mp.mpf(a), mp.mpf(b)], n, error=True)
    print(f"{name} (max error 2^{float(mp.log(err, 2)):.1f}), lowest power first:")
    print("  ", ", ".join(repr(float(x)) for x in reversed(c)))


def pair(v):
    hi = float(v)
    return hi, float(v - mp.mpf(hi))


def parts(v, bits, n):
    out = []
    for _ in range(n - 1):
        e = mp.floor(mp.log(abs(v), 2))
        s = mp.mpf(2) ** (bits - 1 - e)
        p = mp.floor(v * s) / s
        out.append(float(p))
        v -= p
    out.append(float(v))
    return out


def mills(n):
    # (1 + x) * M(x) with M(x) = survival/density of the standard normal, as a function of t = (x - 2.5)/(x + 2.5)
    def g(t):
        if t >= 1:
            return mp.mpf(1)
        x = mp.mpf(5) / 2 * (1 + t) / (1 - t)
        if x > 60:  # asymptotic series, far beyond 60 digits here
            s, term = mp.mpf(0), mp.mpf(1)
            for k in range(1, 40):
                s += term
                term *= -(2 * k - 1) / (x * x)
            return (1 + x) / x * s
        return (1 + x) * mp.sqrt(mp.pi / 2) * mp.exp(x * x / 2) * mp.erfc(x / mp.sqrt(2))

    m = 80
    nodes = [mp.cos(mp.pi * (k + mp.mpf(1) / 2) / m) for k in range(m)]
    values = [g(t) for t in nodes]
    return [
        (2 if j else 1) * mp.fsum(values[k] * mp.cos(mp.pi * j * (k + mp.mpf(1) / 2) / m) for k in range(m)) / m
        for j in range(n)
    ]


if __name__ == "__main__":
    print("LN2 in 32 bits + rest:", parts(mp.log(2), 32, 2))
    print("LN2 hi, lo:", pair(mp.log(2)), " 1/LN2:", repr(float(1 / mp.log(2))))
    print("1/ln10 hi, lo:", pair(1 / mp.log(10)))
    print("pi/2 in 33-bit parts:", parts(mp.pi / 2, 33, 4))
    print("pi/2 hi, lo:", pair(mp.pi / 2), " pi:", pair(mp.pi), " 2/pi:", repr(float(2 / mp.pi)))
    mp.mp.prec = 1400
    print("floor(2/pi * 2^1184) =", hex(int(mp.floor(2 / mp.pi * mp.mpf(2) ** 1184))))
    print("round(pi/2 * 2^128) =", hex(int(mp.nint(mp.pi / 2 * mp.mpf(2) ** 128))))
    mp.mp.dps = 60
    third = lambda r: (mp.exp(r) - 1 - r - r * r / 2) / r**3
    fit("exp: (e^r - 1 - r - r^2/2)/r^3 on |r| <= 0.35", third, -0.35, 0.35, 10)
    sq = mp.sqrt
    fit("sin: (sin(r)/r - 1)/z, z = r^2 <= 0.617", lambda z: (mp.sin(sq(z)) / sq(z) - 1) / z, 1e-12, 0.617, 7)
    fit("cos: (cos(r) - 1 + z/2)/z^2", lambda z: (mp.cos(sq(z)) - 1 + z / 2) / z**2, 1e-12, 0.617, 7)
    print("atan(i/16), hi then lo:")
    at = [pair(mp.atan(mp.mpf(i) / 16)) for i in range(17)]
    print("  ", ", ".join(repr(a[0]) for a in at))
    print("  ", ", ".join(repr(a[1]) for a in at))
    print("log table, j = 22..46: reciprocal of j/32 in 10 bits, -log(reciprocal) hi, lo")
    rc = [mp.nint(mp.mpf(2) ** 15 / j) / 2**10 for j in range(22, 47)]
    print("  ", ", ".join(str(int(r * 1024)) for r in rc))
    lg = [pair(-mp.log(r)) if r != 1 else (0.0, 0.0) for r in rc]
    print("  ", ", ".join(repr(a[0]) for a in lg))
    print("  ", ", ".join(repr(a[1]) for a in lg))
    c = mills(44)
    print("Mills ratio, Chebyshev in t:")
    print("  ", ", ".join(repr(float(v)) for v in c if abs(v) > 2e-18))
