"""What the peer pipeline finds, as one JSON line: samples and the angles of its calls, file by file.

Usage: peer_found.py PEER.py REF.wav SCAN.wav [SCAN.wav ...]
The peer's own program prints only how many; its functions are called here in the order of its main. Not timed.
"""
import importlib.util
import json
import sys

spec = importlib.util.spec_from_file_location("peer", sys.argv[1])
peer = importlib.util.module_from_spec(spec)
spec.loader.exec_module(peer)

_, signal, index = peer.read(sys.argv[2])
setup = peer.standardise(peer.condition(peer.sheet(signal, index)))
files = []
for path in sys.argv[3:]:
    _, signal, index = peer.read(path)
    found = peer.examine(peer.condition(peer.sheet(signal, index)), *setup)
    files.append({"samples": len(signal), "angles_deg": [c * 360 / peer.N for _, c, _, _ in found]})
print(json.dumps({"files": files}))
