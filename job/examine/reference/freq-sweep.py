"""Farthest pair of points of each file of freq_sweep_flaw_scan, from every pair (scipy.spatial.distance).

usage: freq-sweep.py FOLDER_OF_OUTSIDE_DATA > freq-sweep.json
The folder's README prints span (3 decimals) and angle of later less earlier (1 decimal) for every file in its section 2.1;
the printed values are carried here and have to agree to their last digit.
"""
import json
import math
import sys

import numpy as np
import scipy
from scipy.spatial.distance import pdist, squareform

PRINTED = [
    (0.443, -16.8), (0.831, -29.6), (1.165, -41.5), (1.447, -52.8), (1.658, -63.2), (1.834, -73.0), (1.937, -82.3),
    (2.057, -90.6), (2.094, -98.6), (2.106, -106.0), (2.105, -115.4), (2.099, -121.8), (2.051, -127.9), (2.033, -133.6),
    (1.962, -139.0), (1.914, -144.2), (1.873, -148.7), (1.821, -154.1), (1.765, -158.4), (1.719, -161.9),
    (1.672, -165.9), (1.614, -170.5), (1.546, -175.0), (1.515, -177.9), (1.475, 178.8)]

rows = []
for number, (span, angle) in enumerate(PRINTED, 1):
    table = np.loadtxt(f"{sys.argv[1]}/freq_sweep_flaw_scan/var_peq_{number}.csv", delimiter=",")
    plane = table[:, 1:3]
    far = squareform(pdist(plane))
    i, j = sorted(np.unravel_index(np.argmax(far), far.shape))
    dx, dy = plane[j] - plane[i]
    exact = math.degrees(math.atan2(dy, dx))
    assert abs(far[i, j] - span) <= 5.001e-4 and abs((exact - angle + 90) % 180 - 90) <= 0.05001, number
    rows.append({"file": f"var_peq_{number}.csv", "span": span, "angle_deg": angle,
                 "span_computed": float(far[i, j]), "angle_computed_deg": exact})

json.dump({
    "source": f"computed by freq-sweep.py with scipy.spatial.distance, SciPy {scipy.__version__}, NumPy {np.__version__}",
    "printed": "span and angle_deg: README of the outside data, section 2.1 (RobertFernandes1/Data-Analysis-in-Eddy-Current-Testing, MIT)",
    "tolerance": {"span": 0.001, "angle_deg": 0.1, "why": "one in the last printed digit"},
    "files": rows}, sys.stdout, indent=1)
print()
