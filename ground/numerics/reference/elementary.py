"""Reference values of the elementary functions: mpmath, 50 digits and more.

Run: python3 elementary.py   (writes elementary.json beside it)
Every number is a double as 16 hexadecimal digits of its bits. A case is [arguments..., high, low]: the exact value
rounded to double, and the rounded rest, so that errors well below one unit in the last place can be measured.
"""
import json
import math
import random
import struct
from pathlib import Path

import mpmath as mp

mp.mp.dps = 60
rnd = random.Random(20240)
INF = math.inf


def bits(x):
    return "7ff8000000000000" if x != x else struct.pack(">d", x).hex()


def rounded(v):
    """mpf -> nearest double, also in the subnormal range and at overflow."""
    if v == 0:
        return 0.0
    if abs(v) > mp.mpf(2) ** 1025:
        return INF if v > 0 else -INF
    e = max(int(mp.floor(mp.log(abs(v), 2))), -1022)
    m = mp.nint(v * mp.mpf(2) ** (52 - e))  # nint rounds ties to even
    try:
        return math.ldexp(int(m), e - 52)
    except OverflowError:
        return INF if v > 0 else -INF


def expected(f, args):
    v = f(*[mp.mpf(a) for a in args])
    hi = rounded(v)
    lo = 0.0 if math.isinf(hi) else float(v - mp.mpf(hi)) if abs(v - mp.mpf(hi)) > mp.mpf("1e-320") else 0.0
    return hi, lo


def near(x, steps=(-2, -1, 0, 1, 2)):
    out = []
    for s in steps:
        y = x
        for _ in range(abs(s)):
            y = math.nextafter(y, INF if s > 0 else -INF)
        out.append(y)
    return out


def uniform(a, b, n):
    return [rnd.uniform(a, b) for _ in range(n)]


def logspread(lo, hi, n, signed=True):
    return [(rnd.choice((-1, 1)) if signed else 1) * 2 ** rnd.uniform(lo, hi) for _ in range(n)]


SUB = [5e-324, 1e-323, 2.2e-310, 2.225073858507201e-308, 2.2250738585072014e-308]
BIG = [1.7976931348623157e308, 8.98846567431158e307, 1e300]
SIGNED = [s * v for v in SUB + BIG for s in (1, -1)]
TINY = logspread(-1074, -30, 40)

# closest doubles to multiples of pi/2 known from the literature (Muller, Elementary Functions) and neighbours of multiples
HARD_TRIG = [6381956970095103 * 2.0**797, 5.319372648326541e255, 1e22, 2.0**1023, 1e6, 999999.9999, 1000000.0001, 1e9, 123456789.125]
for n in [1, 2, 3, 4, 5, 7, 10, 22, 355, 1000, 104348, 636619, 636620, 10**9, 10**15, 10**17]:
    HARD_TRIG += near(rounded(mp.pi / 2 * n), (-1, 0, 1))
HARD_TRIG += [-h for h in HARD_TRIG]
TRIG = uniform(-0.8, 0.8, 50) + uniform(-10, 10, 60) + logspread(0, 30, 60) + logspread(20, 1023, 60) + HARD_TRIG + TINY + SIGNED

LOGS = logspread(-1074, 1023, 90, False) + uniform(0.5, 2, 100) + near(1.0) + uniform(0.97, 1.03, 40)
LOGS += [1 + s * 2.0**-k for k in range(3, 53, 3) for s in (1, -1)] + SUB + BIG + [10.0**k for k in range(-5, 23)] + near(math.sqrt(2)) + near(math.sqrt(0.5))
UNIT = uniform(-1, 1, 120) + logspread(-60, 0, 60) + near(1.0, (-3, -2, -1, 0)) + near(-1.0, (0, 1, 2, 3)) + near(0.5) + TINY
UNIT += [s * (1 - 2.0**-k) for k in range(2, 52, 3) for s in (1, -1)]

ONE = {
    "exp": (mp.exp, uniform(-1, 1, 90) + uniform(-745, 709, 120) + uniform(-745.1, -708, 40) + near(709.782712893384, (-2, -1, 0)) + [-745.1332191019411, -745.0, 709.5, -708.4] + TINY + SIGNED[:10] + [0.0, -0.0]),
    "expm1": (mp.expm1, uniform(-1, 1, 110) + uniform(-45, 45, 90) + uniform(45, 709, 30) + logspread(-60, -1, 60) + [-0.34657, 0.34657, 0.35, -0.35, 1.04, 1.05, -1.04] + TINY + SIGNED[:10]),
    "log": (mp.log, LOGS),
    "log10": (mp.log10, LOGS),
    "log1p": (mp.log1p, logspread(-60, 0, 90) + uniform(-0.999999, 3, 110) + logspread(1, 1023, 40, False) + [-1 + 2.0**-k for k in range(1, 54, 3)] + TINY + SUB + BIG),
    "sin": (mp.sin, TRIG),
    "cos": (mp.cos, TRIG),
    "tan": (mp.tan, TRIG),
    "asin": (mp.asin, UNIT),
    "acos": (mp.acos, UNIT),
    "atan": (mp.atan, logspread(-60, 60, 100) + uniform(-3, 3, 120) + [s * i / 32 for i in range(1, 40) for s in (1, -1)] + TINY + SIGNED),
    "cbrt": (lambda x: mp.sign(x) * mp.cbrt(abs(x)), logspread(-1074, 1023, 140) + uniform(-30, 30, 100) + [float(k**3) for k in range(1, 30)] + SIGNED),
}


def pairs(f):
    return [f() for _ in range(140)]


ANGLES = pairs(lambda: (rnd.uniform(-1, 1), rnd.uniform(-1, 1))) + pairs(lambda: (logspread(-40, 40, 1)[0], logspread(-40, 40, 1)[0]))
WIDE = [(logspread(-1070, 1023, 1)[0], logspread(-1070, 1023, 1)[0]) for _ in range(40)]
CLOSE = [(x * rnd.uniform(0.5, 2), x) for x in logspread(-1070, 1022, 60)]
EDGE2 = [(a, b) for a in (5e-324, 1e-310, 1.0, 1.7e308) for b in (5e-324, -1e-310, 1.0, -1.7e308)]


def power_cases():
    out = [(rnd.uniform(0, 20), rnd.uniform(-20, 20)) for _ in range(120)]
    out += [(2 ** rnd.uniform(-1074, 1023), rnd.uniform(-1, 1)) for _ in range(60)]
    for _ in range(120):  # results all over the range, subnormal ones too
        y = rnd.choice((-1, 1)) * 2 ** rnd.uniform(-3, 40)
        x = 2 ** min(1023, max(-1074, rnd.uniform(-1074, 1023) / y))
        out.append((x, y))
    out += [(-float(rnd.randint(1, 9)), float(rnd.randint(-40, 40))) for _ in range(40)]
    out += [(10.0, float(k)) for k in range(-323, 309, 17)] + [(x, y) for x in near(1.0) for y in (1e5, -1e9, 3.0, 1e15)]
    out += [(x, 0.5) for x in SUB + BIG] + [(2.0, -1074.0), (2.0, 1023.0), (0.1, 0.05), (10.0, 0.6)]
    return [(x, y) for x, y in out if x != 0]


TWO = {
    "atan2": (mp.atan2, ANGLES + WIDE + CLOSE + EDGE2),
    "hypot": (lambda a, b: mp.sqrt(a * a + b * b), ANGLES + WIDE + CLOSE + EDGE2 + [(3.0, 4.0), (5.0, 12.0), (3e-320, 4e-320)]),
    "pow": (mp.power, power_cases()),
}

# Values at zeros, infinities and NaN: ECMA-262, sections of Math.<name> and Number::exponentiate. [arguments..., value]
NAN = math.nan
SPECIAL = {
    "exp": [(NAN, NAN), (INF, INF), (-INF, 0.0), (0.0, 1.0), (-0.0, 1.0), (710.0, INF), (-746.0, 0.0)],
    "expm1": [(NAN, NAN), (INF, INF), (-INF, -1.0), (0.0, 0.0), (-0.0, -0.0)],
    "log": [(NAN, NAN), (INF, INF), (-INF, NAN), (-1.0, NAN), (0.0, -INF), (-0.0, -INF), (1.0, 0.0)],
    "log10": [(NAN, NAN), (INF, INF), (-1.0, NAN), (0.0, -INF), (-0.0, -INF), (1.0, 0.0)],
    "log1p": [(NAN, NAN), (INF, INF), (-1.0, -INF), (-1.5, NAN), (0.0, 0.0), (-0.0, -0.0)],
    "sin": [(NAN, NAN), (INF, NAN), (-INF, NAN), (0.0, 0.0), (-0.0, -0.0)],
    "cos": [(NAN, NAN), (INF, NAN), (-INF, NAN), (0.0, 1.0), (-0.0, 1.0)],
    "tan": [(NAN, NAN), (INF, NAN), (-INF, NAN), (0.0, 0.0), (-0.0, -0.0)],
    "asin": [(NAN, NAN), (1.5, NAN), (-1.5, NAN), (0.0, 0.0), (-0.0, -0.0), (INF, NAN)],
    "acos": [(NAN, NAN), (1.5, NAN), (-1.5, NAN), (1.0, 0.0), (-INF, NAN)],
    "atan": [(NAN, NAN), (0.0, 0.0), (-0.0, -0.0), (INF, math.pi / 2), (-INF, -math.pi / 2)],
    "cbrt": [(NAN, NAN), (0.0, 0.0), (-0.0, -0.0), (INF, INF), (-INF, -INF), (-8.0, -2.0)],
    "atan2": [(y, x, math.atan2(y, x)) for y in (0.0, -0.0, 1.0, -1.0, INF, -INF) for x in (0.0, -0.0, 1.0, -1.0, INF, -INF)]
    + [(NAN, 1.0, NAN), (1.0, NAN, NAN)],
    "hypot": [(NAN, INF, INF), (INF, NAN, INF), (NAN, 1.0, NAN), (0.0, -0.0, 0.0), (-INF, 1.0, INF), (-0.0, -3.0, 3.0)],
    "pow": [
        (NAN, 0.0, 1.0), (NAN, -0.0, 1.0), (1.0, NAN, NAN), (2.0, NAN, NAN), (1.0, INF, NAN), (-1.0, -INF, NAN), (2.0, INF, INF),
        (0.5, INF, 0.0), (2.0, -INF, 0.0), (0.5, -INF, INF), (INF, 2.0, INF), (INF, -2.0, 0.0), (-INF, 3.0, -INF), (-INF, 2.0, INF),
        (-INF, -3.0, -0.0), (-INF, -2.0, 0.0), (0.0, 2.0, 0.0), (0.0, -2.0, INF), (-0.0, 3.0, -0.0), (-0.0, -3.0, -INF),
        (-0.0, 2.0, 0.0), (-0.0, -2.0, INF), (-0.0, 0.5, 0.0), (-2.0, 0.5, NAN), (-8.0, 1 / 3, NAN), (-2.0, 3.0, -8.0),
        (2.0, 1e300, INF), (0.5, 1e300, 0.0), (-1.0, 9007199254740993.0, 1.0), (3.0, 1.0, 3.0), (2.0, 5e-324, 1.0),
    ],
}


def main():
    functions = {}
    for name, (f, xs) in {**{k: (f, [(x,) for x in v]) for k, (f, v) in ONE.items()}, **TWO}.items():
        cases = []
        for args in xs:
            hi, lo = expected(f, args)
            if hi == 0 and args[0] < 0 and name in ("sin", "tan", "asin", "atan", "expm1", "atan2", "cbrt"):
                hi = -0.0
            cases.append([*map(bits, args), bits(hi), bits(lo)])
        functions[name] = {"cases": cases, "special": [[*map(bits, c)] for c in SPECIAL[name]]}
    head = {
        "source": f"computed by elementary.py with mpmath {mp.__version__}, 60 digits; special values: ECMA-262 (2023)",
        "tolerance": "per function in elementary.test.ts, at most 1 unit in the last place",
    }
    path = Path(__file__).with_suffix(".json")
    lines = ",\n".join(
        f'"{k}": {{"special": {json.dumps(v["special"])},\n"cases": [\n' + ",\n".join(json.dumps(c) for c in v["cases"]) + "\n]}"
        for k, v in functions.items()
    )
    path.write_text(json.dumps(head)[:-1] + ', "functions": {\n' + lines + "\n}}\n")
    print({k: len(v["cases"]) for k, v in functions.items()})


if __name__ == "__main__":
    main()
