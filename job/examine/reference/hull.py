"""Convex hulls and farthest pairs of fixed point sets: scipy.spatial.ConvexHull and every pair of points.

usage: hull.py > hull.json
"""
import json
import sys

import numpy as np
import scipy
from scipy.spatial import ConvexHull
from scipy.spatial.distance import pdist


def points(count, a, b):
    """x[k] = (a k^2 + 3 k) mod 101, y[k] = (b k^2 + 11 k) mod 97: whole numbers, so that nothing is rounded."""
    k = np.arange(count)
    return np.stack([(a * k * k + 3 * k) % 101, (b * k * k + 11 * k) % 97], axis=1).astype(float)


cases = []
for count, a, b in [(3, 7, 5), (40, 7, 5), (500, 7, 5), (9000, 13, 29), (1000, 0, 0)]:
    cloud = points(count, a, b)
    hull = ConvexHull(cloud)
    corners = sorted(map(tuple, cloud[hull.vertices].tolist()))
    cases.append({"count": count, "a": a, "b": b, "corners": sorted(set(corners)), "farthest": float(pdist(cloud).max())})
json.dump({"source": f"computed by hull.py with scipy.spatial.ConvexHull, SciPy {scipy.__version__}, NumPy {np.__version__}",
           "cases": cases}, sys.stdout)
print()
