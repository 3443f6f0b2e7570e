"""The scan of TEAM 15, problem 1, as an engineer would compute it with NumPy and SciPy; one JSON line.

Usage: peer_crack.py REFERENCE.py REPEATS. The functions are those of the reference script of the fields: its matrix by
np.linalg.solve, all places at once. Times of the first scan and the middle of the repeats; without the start of Python.
"""
import importlib.util
import json
import sys
import time

import numpy as np

spec = importlib.util.spec_from_file_location("crack", sys.argv[1])
crack = importlib.util.module_from_spec(spec)
spec.loader.exec_module(crack)

PLACES = [(0, 0.75e-3 * i) for i in range(37)]
spent = {"field": 0.0}
plain_field = crack.field


def timed_field(*args):
    start = time.perf_counter()
    out = plain_field(*args)
    spent["field"] = time.perf_counter() - start
    return out


crack.field = timed_field


def once():
    start = time.perf_counter()
    closed, opening = crack.scan(crack.T1, 900, 30.6e6, 1, crack.SLOT, (40, 20), PLACES)
    scan = time.perf_counter() - start
    return closed + opening, scan, scan - spent["field"]


runs = [once() for _ in range(1 + int(sys.argv[2]))]
change = runs[0][0]
warm = np.median([run[1:] for run in runs[1:]], axis=0)
print(json.dumps({
    "change": [[z.real, z.imag] for z in change],
    "scan_s": runs[0][1], "system_s": runs[0][2], "warmScan_s": warm[0], "warmSystem_s": warm[1],
}))
