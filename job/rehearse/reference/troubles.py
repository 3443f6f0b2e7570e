"""One scene with all that belongs to part, probe and instrument beyond the plain hole, simulated again, independently:
NumPy and SciPy (B-splines of scipy.interpolate, roots by brentq, butter with lfilter). Even speed, nothing random.
Run: python3 troubles.py (writes troubles.json beside it).
"""
import json
from pathlib import Path

import numpy as np
import scipy
from scipy.interpolate import BSpline
from scipy.optimize import brentq, minimize_scalar
from scipy.signal import butter, lfilter, lfilter_zi

scene = json.loads((Path(__file__).parent / "scene.json").read_text())["scene"]
scene["motion"]["drift"] = []
scene["hole"]["gap"] = {"oversize_m": 4e-5, "countersink": {"depth_m": 0.0009, "half_angle_rad": 0.8}, "decay_m": 0.0011}
scene["probe"]["axial_lobes_m"] = 0.0013
scene["probe"]["tilt"] = {"liftoff_m": 2e-5, "wall_turn": 0.35, "imbalance": 0.05}
scene["instrument"]["filters"] = [
    {"kind": "high-pass", "order": 1, "corner_Hz": 6.0},
    {"kind": "high-pass", "order": 2, "corner_Hz": 3.0},
    {"kind": "low-pass", "order": 2, "corner_Hz": 900.0},
    {"kind": "low-pass", "order": 1, "corner_Hz": 1500.0},
]
scene["flaws"] = [
    {"kind": "notch", "depth_m": 0.0008, "length_m": 0.0006, "angle_turn": 0.05, "z0_m": 0.0041, "z1_m": 0.0047,
     "scatter": 1.08},
    {"kind": "crack", "depth_m": 0.0005, "length_m": 0.0009, "angle_turn": 0.99, "z0_m": 0, "z1_m": 0.0009},
    {"kind": "crack", "depth_m": 0.0006, "length_m": 0.0007, "angle_turn": 0.5, "z0_m": 0.0018, "z1_m": 0.0025,
     "corner": {"z_m": 0.0025, "width_m": 0.0016, "side": -1}},
]
scene["damage"] = [
    {"kind": "pit", "angle_turn": 0.3, "width_m": 0.0003, "z0_m": 0.0034, "z1_m": 0.0038, "size": 0.9, "roundness": 0.4,
     "direction_rad": 1.7},
    {"kind": "burr", "angle_turn": 0.62, "tail_m": 0.0006, "z0_m": 0.006, "z1_m": 0.0063, "size": 0.7,
     "direction_rad": 2.4},
]
scene["features"] = [
    {"kind": "split line", "angle_turn": 0.15, "z0_m": 0.0025, "z1_m": 0.006, "size": 0.8, "direction_rad": 1.4},
    {"kind": "bushing", "z0_m": 0.0025, "z1_m": 0.006, "width_m": 0.001, "uneven": 0.1, "uneven_turn": 0.2, "size": 3,
     "direction_rad": 0.9},
    {"kind": "conductivity patch", "angle_turn": 0.8, "width_m": 0.002, "z0_m": 0.002, "z1_m": 0.005, "size": 0.6,
     "direction_rad": 2.2},
    {"kind": "permeability patch", "angle_turn": 0.4, "width_m": 0.0018, "z0_m": 0.001, "z1_m": 0.003, "size": 0.5,
     "direction_rad": 1.1},
    {"kind": "cladding", "z0_m": 0.0025, "z1_m": 0.0026, "size": 0.5, "direction_rad": 2.5},
    {"kind": "sealant", "z_m": 0.0025, "thickness_m": 0.0003, "angle_turn": 0.9, "width_m": 0.002, "size": 0.7,
     "direction_rad": 3.1},
    {"kind": "neighbor metal", "z_m": 0.0025, "side": 1, "width_m": 0.001, "reach_m": 0.0007, "size": 1.5,
     "direction_rad": -0.4},
]

p = brentq(lambda q: q * np.tanh(q) - 1, 1, 2, xtol=1e-15, rtol=1e-15)
bell = lambda u: np.exp(-u * u / 2)
knots = BSpline.basis_element([-2, -1, 0, 1, 2], extrapolate=False)
beta = lambda x: np.nan_to_num(knots(x))
anti = knots.antiderivative()
whole = float(anti(2.0) - anti(-2.0))
cdf = lambda x: (anti(np.clip(x, -2, 2)) - anti(-2.0)) / whole
width = 2 * brentq(lambda x: float(beta(x) - beta(0.0) / 2), 0.1, 1.5, xtol=1e-15, rtol=1e-15)

H, M, P, W, R = (scene[k] for k in ("hole", "motion", "probe", "wall", "recorder"))
sigma = P["lobe_spacing_m"] / 2 / p
around = np.pi * H["diameter_m"]
peak = bell(p - 1) - bell(p + 1)
unit = 1 / (2 * peak)
tau = 2 * np.pi
e = lambda d: np.exp(1j * d)


def step(u):
    u = np.clip(u + 0.5, 0, 1)
    return 6 * u ** 5 - 15 * u ** 4 + 10 * u ** 3


def single(z, z0, z1, foot):
    k = foot / width
    if z1 == z0:
        return beta((z - z0) / k) / beta(0.0)
    most = cdf((z1 - z0) / 2 / k) - cdf(-(z1 - z0) / 2 / k)
    return (cdf((z - z0) / k) - cdf((z - z1) / k)) / most


def touches(z0, z1):
    return any(abs(f - a) < 1e-6 for f in (0, 0.0025, H["grip_m"]) for a in (z0, z1))


def answer(z, z0, z1):
    a = P["axial_lobes_m"] / 2
    foot = P["footprint_m"]
    if touches(z0, z1):
        return single(z, z0, z1, foot)
    both = lambda q: single(q - a, z0, z1, foot) + single(q + a, z0, z1, foot)
    grid = np.linspace(z0 - 2 * a, z1 + 2 * a, 4001)
    best = grid[np.argmax(both(grid))]
    found = minimize_scalar(lambda q: -float(both(q)), bounds=(best - 2e-6, best + 2e-6), method="bounded",
                            options={"xatol": 1e-14})
    return both(z) / max(-found.fun, float(np.max(both(grid))))


def arc(w):
    return (w - np.round(w)) * around


def angular(w, widen):
    return bell(arc(w) / np.hypot(sigma, widen))


def face(f, w):
    return f["tilt_m"] * np.cos(tau * (w - f["tilt_turn"]))


def metal(w, z):
    n, x, g = H["entry"], H["exit"], H["gap"]
    cone = np.clip(g["countersink"]["depth_m"] - z, 0, g["countersink"]["depth_m"]) * np.tan(g["countersink"]["half_angle_rad"])
    return step((z - face(n, w)) / n["width_m"]) * step((H["grip_m"] + face(x, w) - z) / x["width_m"]) \
        * np.exp(-(g["oversize_m"] + cone) / g["decay_m"])


def feature(f, w, z):
    k, foot = f["kind"], P["footprint_m"]
    if k == "split line":
        return f["size"] * unit * answer(z, f["z0_m"], f["z1_m"]) * angular(w - f["angle_turn"], 0)
    if k == "bushing":
        return f["size"] * step((z - f["z0_m"]) / f["width_m"]) * step((f["z1_m"] - z) / f["width_m"]) \
            * (1 + f["uneven"] * np.cos(tau * (w - f["uneven_turn"])))
    if k == "cladding":
        return f["size"] * single(z, f["z0_m"], f["z1_m"], foot)
    if k == "sealant":
        h = f["thickness_m"] / 2
        return f["size"] * single(z, f["z_m"] - h, f["z_m"] + h, foot) * angular(w - f["angle_turn"], f["width_m"])
    if k == "neighbor metal":
        u = f["side"] * (z - f["z_m"])
        return f["size"] * step(u / f["width_m"]) * np.exp(-np.maximum(0, u) / f["reach_m"])
    return f["size"] * single(z, f["z0_m"], f["z1_m"], foot + f["width_m"]) * angular(w - f["angle_turn"], f["width_m"])


def pick_up(w, z, turn):
    A, F = P["air"], P["flaw"]
    m = metal(w, z)
    inside = P["liftoff"]["per_m"] * e(P["liftoff"]["direction_rad"]) * (
        W["eccentricity_m"] * np.cos(tau * (w - W["eccentricity_turn"]))
        + W["ovality_m"] * np.cos(2 * tau * (w - W["ovality_turn"])))
    for j in scene["joints"]:
        at = z - j["z_m"] - face(j, w)
        inside = inside + j["size"] * (1 + j["uneven"] * np.cos(tau * (w - j["tilt_turn"]))) \
            * single(at, 0, 0, j["width_m"]) * e(j["direction_rad"])
        inside = inside + j["step"] * step(at / j["width_m"]) * e(j["step_direction_rad"])
    for f in scene["flaws"]:
        area = f["depth_m"] * f["length_m"]
        size = F["full"] / (1 + F["half_area_m2"] / area) * (F["crack_factor"] if f["kind"] == "crack" else 1) \
            * f.get("scatter", 1)
        part = size * unit * angular(w - f["angle_turn"], 0) * answer(z, f["z0_m"], f["z1_m"])
        if "corner" in f:
            c = f["corner"]
            part = part * step(c["side"] * (z - c["z_m"]) / c["width_m"])
        inside = inside + part * e(F["direction_rad"] + F["turn_rad_per_m"] * f["depth_m"])
    for f in scene["features"]:
        inside = inside + feature(f, w, z) * e(f["direction_rad"])
    pit, burr = scene["damage"]
    at = answer(z, pit["z0_m"], pit["z1_m"]) * pit["size"] * unit
    aside = sigma / 2 / around
    inside = inside + at * angular(w - pit["angle_turn"], pit["width_m"]) * e(pit["direction_rad"]) \
        + at * pit["roundness"] * angular(w - pit["angle_turn"] - aside, pit["width_m"]) * 1j * e(pit["direction_rad"])
    out = A["size"] * (1 - m) * e(A["direction_rad"]) + m * inside
    where = w - burr["angle_turn"]
    out = out + burr["size"] * unit * answer(z, burr["z0_m"], burr["z1_m"]) * e(burr["direction_rad"]) \
        * (angular(where, 0) + 0.5 * angular(where - burr["tail_m"] / around, burr["tail_m"]))
    for q in scene["disturbances"]["particles"]:
        where = q["angle_turn"] + q["drift_turn_per_turn"] * turn
        out = out + q["size"] * unit * angular(w - where, 0) * answer(z, q["z0_m"], q["z1_m"]) * e(q["direction_rad"])
    return out


rate, feed = R["rate_Hz"], M["feed"]
turns = feed["leadIn_turn"] + H["grip_m"] / feed["pitch_m"] + feed["leadOut_turn"]
samples = int(np.ceil(turns * 60 / M["rpm"] * rate))
t = np.arange(samples) / rate
turn = t * M["rpm"] / 60
z = feed["pitch_m"] * (turn - feed["leadIn_turn"])
w = R["index"]["datum_turn"] + turn - R["index"]["first_turn"]
half = sigma / around
T = P["tilt"]
s = pick_up(w + half, z, turn) - (1 - P["imbalance"] - T["imbalance"]) * pick_up(w - half, z, turn)
s = s + metal(w, z) * P["liftoff"]["per_m"] * T["liftoff_m"] * np.cos(tau * (w - T["wall_turn"])) \
    * e(P["liftoff"]["direction_rad"])
hum = scene["disturbances"]["hum"]
s = s + hum["size"] / 2 * np.cos(tau * (hum["frequency_Hz"] * t + hum["phase_turn"])) * e(hum["direction_rad"])
G = scene["instrument"]
v = G["gain"] * e(G["rotation_rad"]) * s
for f in G["filters"]:
    b, a = butter(f["order"], f["corner_Hz"], "highpass" if f["kind"] == "high-pass" else "lowpass", fs=rate)
    v = lfilter(b, a, v, zi=lfilter_zi(b, a) * v[0])[0]
v = v + G["offset"]["x"] + 1j * G["offset"]["y"]

numbers = list(range(0, samples, 61))
out = {
    "source": f"computed by troubles.py with NumPy {np.__version__} and SciPy {scipy.__version__}",
    "tolerance": 1e-9,
    "why": "absolute, recorded units; the largest value of a double maximum is found by minimize_scalar, good to 1e-11",
    "scene": scene,
    "samples": samples,
    "numbers": numbers,
    "x": [float(v[i].real) for i in numbers],
    "y": [float(v[i].imag) for i in numbers],
}
(Path(__file__).parent / "troubles.json").write_text(json.dumps(out) + "\n")
