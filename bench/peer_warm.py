"""The peer pipeline gone through its scans once before the clock runs: times of the second time, as one JSON line.

Usage: peer_warm.py PEER.py REF.wav SCAN.wav [SCAN.wav ...]
The peer's own program goes through its scans once; its functions are called and timed here as its main does.
"""
import importlib.util
import json
import sys
import time

spec = importlib.util.spec_from_file_location("peer", sys.argv[1])
peer = importlib.util.module_from_spec(spec)
spec.loader.exec_module(peer)

_, signal, index = peer.read(sys.argv[2])
setup = peer.standardise(peer.condition(peer.sheet(signal, index)))


def through(scans):
    start = time.perf_counter()
    samples = candidates = 0
    compute = 0.0
    for path in scans:
        _, signal, index = peer.read(path)
        began = time.perf_counter()
        candidates += len(peer.examine(peer.condition(peer.sheet(signal, index)), *setup))
        compute += time.perf_counter() - began
        samples += len(signal)
    seconds = time.perf_counter() - start
    return {"samples": samples, "seconds": seconds, "compute_seconds": compute, "candidates": candidates}


through(sys.argv[3:])
print(json.dumps(through(sys.argv[3:])))
