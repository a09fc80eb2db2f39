"""The trials of monte-carlo-against-scipy.bench.ts by NumPy and SciPy, vectorised.

Reads {mean, turn, covariance, checkPoints, coverage, trials, repeats} on standard input. Times are medians inside this process,
after one run that is not counted.
"""
import json
import statistics
import sys
import time

import numpy as np
import scipy
from scipy.spatial.transform import Rotation

case = json.load(sys.stdin)
factor = np.linalg.cholesky(np.array(case["covariance"]))
shift, turn = np.array(case["shift"]), np.array(case["turn"])
points = np.array(case["checkPoints"], float)
deltas = Rotation.from_rotvec(turn).apply(points) + shift - points
rng = np.random.default_rng(7)


def positions(exact):
    errors = rng.standard_normal((case["trials"], 6)) @ factor.T
    largest = np.zeros(case["trials"])
    if exact:
        rotations = Rotation.from_rotvec(turn + errors[:, 3:])
    for p, delta in zip(points, deltas):
        if exact:
            moved = rotations.apply(p) + shift + errors[:, :3] - p
            x, y = moved[:, 0], moved[:, 1]
        else:
            x = delta[0] + errors[:, 0] + errors[:, 4] * p[2] - errors[:, 5] * p[1]
            y = delta[1] + errors[:, 1] + errors[:, 5] * p[0] - errors[:, 3] * p[2]
        np.maximum(largest, 2 * np.hypot(x, y), out=largest)
    largest.sort()
    place = int(case["coverage"] * case["trials"] + 0.5) - 1
    return {"estimate": largest.mean(), "standardUncertainty": largest.std(ddof=1), "high": largest[place]}


results = {}
for name, exact in (("linear", False), ("exact", True)):
    found = positions(exact)
    times = []
    for _ in range(case["repeats"]):
        begin = time.perf_counter()
        positions(exact)
        times.append(1000 * (time.perf_counter() - begin))
    results[name] = {"milliseconds": statistics.median(times)} | {k: float(v) for k, v in found.items()}
print(json.dumps({"numpy": np.__version__, "scipy": scipy.__version__, "results": results}))
