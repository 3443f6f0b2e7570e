"""One scene simulated again, independently: NumPy and SciPy (numerical integration of the speed, B-splines of
scipy.interpolate, roots by brentq). Run: python3 scene.py (writes scene.json beside it).

Nothing random is in the scene. x, y, index are given at some sample numbers, kept to 17 digits.
"""
import json
from pathlib import Path

import numpy as np
import scipy
from scipy.integrate import quad
from scipy.interpolate import BSpline
from scipy.optimize import brentq

none = {"none": False, "lost": [7], "doubled": [9], "doubled_turn": 0.45, "bounced": [11], "bounce_turn": 0.04}
scene = {
    "hole": {
        "diameter_m": 0.0071, "grip_m": 0.006,
        "entry": {"width_m": 0.0016, "tilt_m": 0.00012, "tilt_turn": 0.3},
        "exit": {"width_m": 0.0014, "tilt_m": 0.00007, "tilt_turn": 0.8},
    },
    "motion": {
        "rpm": 1100, "sense": 1,
        "drift": [
            {"share": 0.03, "cycles_per_turn": 0.051, "phase_turn": 0.2},
            {"share": 0.012, "cycles_per_turn": 0.13, "phase_turn": 0.7},
        ],
        "feed": {"kind": "constant", "pitch_m": 0.0003, "leadIn_turn": 6, "leadOut_turn": 5},
    },
    "recorder": {
        "rate_Hz": 9000,
        "index": {"first_turn": 0.37, "datum_turn": 0.11, "width_turn": 0.02, "rise_turn": 0.004, "height": 5,
                  "marks": none},
    },
    "probe": {
        "lobe_spacing_m": 0.0014, "footprint_m": 0.0012, "imbalance": 0.12,
        "air": {"size": 9, "direction_rad": 2.9},
        "liftoff": {"per_m": 12000, "direction_rad": 3.05},
        "flaw": {"full": 2.5, "half_area_m2": 1.1e-6, "direction_rad": 1.5, "turn_rad_per_m": -90, "crack_factor": 0.7},
    },
    "instrument": {"gain": 1.7, "rotation_rad": 0.6, "offset": {"x": 0.31, "y": -0.2}},
    "wall": {
        "pattern": "from the seed",
        "eccentricity_m": 8e-6, "eccentricity_turn": 0.15, "ovality_m": 5e-6, "ovality_turn": 0.4,
        "roughness": {"rms_m": 0, "length_m": 0.0005}, "wobble": {"rms_m": 0, "knot_turn": 0.7},
    },
    "joints": [{"z_m": 0.0025, "width_m": 0.001, "tilt_m": 0.00005, "tilt_turn": 0.6, "size": 0.8, "uneven": 0.3,
                "direction_rad": 0.4, "step": 0.2, "step_direction_rad": 2.2}],
    "flaws": [
        {"kind": "notch", "depth_m": 0.0008, "length_m": 0.0015, "angle_turn": 0.05, "z0_m": 0.0036, "z1_m": 0.0051},
        {"kind": "crack", "depth_m": 0.0005, "length_m": 0.0009, "angle_turn": 0.99, "z0_m": 0, "z1_m": 0.0009},
    ],
    "damage": [
        {"kind": "scratch", "angle_turn": 0.7, "helix_turn_per_m": 11, "width_m": 0.0004, "z0_m": 0.001, "z1_m": 0.005,
         "size": 0.6, "direction_rad": 2.8},
        {"kind": "chatter", "per_turn": 17, "phase_turn": 0.01, "z0_m": 0.0025, "z1_m": 0.006, "size": 0.1,
         "direction_rad": 3.0},
    ],
    "disturbances": {
        "particles": [{"angle_turn": 0.2, "drift_turn_per_turn": 0.013, "wander_rms_turn": 0, "z0_m": 0.004,
                       "z1_m": 0.0045, "size": 0.9, "direction_rad": -2.0}],
        "spikes": {"count": 0, "size": 0},
        "hum": {"frequency_Hz": 60, "size": 0.04, "phase_turn": 0.3, "direction_rad": 1.0},
    },
    "noise": {"inTime": False, "white": 0.01, "band": {"rms": 0.01, "bandwidth_Hz": 900},
              "wall": {"rms": 0, "length_m": 0.0005}},
    "fault": {"kind": "none"},
}

p = brentq(lambda q: q * np.tanh(q) - 1, 1, 2, xtol=1e-15, rtol=1e-15)
bell = lambda u: np.exp(-u * u / 2)
knots = BSpline.basis_element([-2, -1, 0, 1, 2], extrapolate=False)
beta = lambda x: float(np.nan_to_num(knots(x)))
anti = knots.antiderivative()
whole = float(anti(2.0) - anti(-2.0))
cdf = lambda x: 0.0 if x <= -2 else 1.0 if x >= 2 else float(anti(x) - anti(-2.0)) / whole
width = 2 * brentq(lambda x: beta(x) - beta(0) / 2, 0.1, 1.5, xtol=1e-15, rtol=1e-15)

H, M, P, W, R = (scene[k] for k in ("hole", "motion", "probe", "wall", "recorder"))
sigma = P["lobe_spacing_m"] / 2 / p
around = np.pi * H["diameter_m"]
peak = bell(p - 1) - bell(p + 1)
tau = 2 * np.pi


def turns(t):
    speed = lambda s: M["rpm"] / 60 * (1 + sum(
        d["share"] * np.sin(tau * (d["cycles_per_turn"] * s * M["rpm"] / 60 + d["phase_turn"])) for d in M["drift"]))
    return quad(speed, 0, t, epsabs=1e-13, epsrel=1e-13, limit=2000)[0]


def step(u):
    u = np.clip(u + 0.5, 0, 1)
    return 6 * u ** 5 - 15 * u ** 4 + 10 * u ** 3


def profile(z, z0, z1, foot):
    k = foot / width
    if z1 == z0:
        return beta((z - z0) / k) / beta(0)
    most = cdf((z1 - z0) / 2 / k) - cdf(-(z1 - z0) / 2 / k)
    return (cdf((z - z0) / k) - cdf((z - z1) / k)) / most


def arc(w):
    return ((w + 0.5) % 1 - 0.5) * around


def face(f, w):
    return f["tilt_m"] * np.cos(tau * (w - f["tilt_turn"]))


def metal(w, z):
    e, x = H["entry"], H["exit"]
    return step((z - face(e, w)) / e["width_m"]) * step((H["grip_m"] + face(x, w) - z) / x["width_m"])


def single(w, z, turn):
    """One pick-up."""
    A = P["air"]
    m = metal(w, z)
    inside = P["liftoff"]["per_m"] * np.exp(1j * P["liftoff"]["direction_rad"]) * (
        W["eccentricity_m"] * np.cos(tau * (w - W["eccentricity_turn"]))
        + W["ovality_m"] * np.cos(2 * tau * (w - W["ovality_turn"])))
    for j in scene["joints"]:
        at = z - j["z_m"] - face(j, w)
        inside += j["size"] * (1 + j["uneven"] * np.cos(tau * (w - j["tilt_turn"]))) * profile(at, 0, 0, j["width_m"]) \
            * np.exp(1j * j["direction_rad"])
        inside += j["step"] * step(at / j["width_m"]) * np.exp(1j * j["step_direction_rad"])
    for f in scene["flaws"]:
        F = P["flaw"]
        area = f["depth_m"] * f["length_m"]
        size = F["full"] / (1 + F["half_area_m2"] / area) * (F["crack_factor"] if f["kind"] == "crack" else 1)
        inside += size / (2 * peak) * bell(arc(w - f["angle_turn"]) / sigma) \
            * profile(z, f["z0_m"], f["z1_m"], P["footprint_m"]) \
            * np.exp(1j * (F["direction_rad"] + F["turn_rad_per_m"] * f["depth_m"]))
    for d in scene["damage"]:
        if d["kind"] == "scratch":
            wide = np.hypot(sigma, d["width_m"])
            where = d["angle_turn"] + d["helix_turn_per_m"] * (z - d["z0_m"])
            inside += d["size"] / (2 * peak) * bell(arc(w - where) / wide) \
                * profile(z, d["z0_m"], d["z1_m"], P["footprint_m"]) * np.exp(1j * d["direction_rad"])
    out = A["size"] * (1 - m) * np.exp(1j * A["direction_rad"]) + m * inside
    for q in scene["disturbances"]["particles"]:
        where = q["angle_turn"] + q["drift_turn_per_turn"] * turn
        out += q["size"] / (2 * peak) * bell(arc(w - where) / sigma) \
            * profile(z, q["z0_m"], q["z1_m"], P["footprint_m"]) * np.exp(1j * q["direction_rad"])
    return out


def recorded(t):
    turn = turns(t)
    z = M["feed"]["pitch_m"] * (turn - M["feed"]["leadIn_turn"])
    I = R["index"]
    w = I["datum_turn"] + turn - I["first_turn"]
    half = sigma / around
    s = single(w + half, z, turn) - (1 - P["imbalance"]) * single(w - half, z, turn)
    for d in scene["damage"]:
        if d["kind"] == "chatter":
            s += metal(w, z) * d["size"] / 2 * profile(z, d["z0_m"], d["z1_m"], P["footprint_m"]) \
                * np.cos(tau * d["per_turn"] * (w - d["phase_turn"])) * np.exp(1j * d["direction_rad"])
    hum = scene["disturbances"]["hum"]
    s += hum["size"] / 2 * np.cos(tau * (hum["frequency_Hz"] * t + hum["phase_turn"])) * np.exp(1j * hum["direction_rad"])
    G = scene["instrument"]
    v = G["gain"] * np.exp(1j * G["rotation_rad"]) * s + G["offset"]["x"] + 1j * G["offset"]["y"]
    level = 0.0
    for m in range(0, 40):
        if m in I["marks"]["lost"]:
            continue
        starts = [m] + ([m + I["marks"]["doubled_turn"]] if m in I["marks"]["doubled"] else []) \
            + ([m + I["marks"]["bounce_turn"]] if m in I["marks"]["bounced"] else [])
        for a in starts:
            u = turn - I["first_turn"] - a
            r, wd = I["rise_turn"], I["width_turn"]
            level += np.interp(u, [-r / 2, r / 2, wd - r / 2, wd + r / 2], [0, 1, 1, 0])
    return v, I["height"] * level, turn, z


rate = R["rate_Hz"]
total = M["feed"]["leadIn_turn"] + H["grip_m"] / M["feed"]["pitch_m"] + M["feed"]["leadOut_turn"]
end = brentq(lambda t: turns(t) - total, 0, 60, xtol=1e-13)
count = int(np.ceil(end * rate))
numbers = list(range(3, count, 29))
rows = [recorded(i / rate) for i in numbers]
Path(__file__).with_suffix(".json").write_text(json.dumps({
    "source": f"computed by scene.py with NumPy {np.__version__} and SciPy {scipy.__version__}",
    "tolerance": 2e-10,
    "why": "absolute, recorded units; the numerical integral of the speed holds 1e-13 turns, the steepest flank 5/0.004 a turn",
    "scene": scene,
    "samples": count,
    "entry_s": brentq(lambda t: recorded(t)[3], 0, end),
    "exit_s": brentq(lambda t: recorded(t)[3] - H["grip_m"], 0, end),
    "numbers": numbers,
    "x": [float(v.real) for v, *_ in rows],
    "y": [float(v.imag) for v, *_ in rows],
    "index": [float(i) for _, i, *_ in rows],
}) + "\n")
print(count, len(numbers))
