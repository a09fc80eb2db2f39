"""The reduction of reduction-against-scipy.bench.ts by NumPy and SciPy: six errors and position, and its upper bound.

Face, bore and slot of the hub; flank, edge and seat of each blade, by precedence. Planes by singular values, the bore by
least_squares with an analytic Jacobian. The upper bound of the position comes from that many trials that its probability
has the stated standard error; the covariances of the six errors are handed in and cost nothing here. Reads {file, blocks: [{station, feature, from, to}], repeats, ...} on standard input.
Times are medians inside this process, after one run that is not counted.
"""
import json
import statistics
import sys
import time

import numpy as np
import scipy
from scipy.optimize import least_squares
from scipy.spatial.transform import Rotation


def smallest(y):
    return np.linalg.svd(y, full_matrices=False)[2][-1]


def towards(v, reference):
    return v if v @ reference > 0 else -v


def axes_of(case, angle):
    """Nominal blade frame: rows o, l, u, and the origin."""
    s = case["seat"]
    r = np.array([np.cos(angle), np.sin(angle), 0.0])
    z = np.array([0.0, 0.0, 1.0])
    t = np.cross(z, r)
    c, h = np.cos(s["heightAngle"]), np.sin(s["heightAngle"])
    u, a = c * r + h * z, -h * r + c * z
    o = np.cos(s["staggerAngle"]) * a + np.sin(s["staggerAngle"]) * t
    return np.array([o, np.cross(u, o), u]), s["radius"] * r + s["axial"] * z


def rough_rotation(case, blocks):
    """Kabsch on the centroids of the blades' features: rotation from disc to machine."""
    measured, nominal = [], []
    for station, angle in enumerate(case["angles"], 1):
        axes, origin = axes_of(case, angle)
        for feature, point in case["nominal"].items():
            measured.append(blocks[station, feature].mean(0))
            nominal.append(origin + np.asarray(point) @ axes)
    m, n = np.array(measured), np.array(nominal)
    u, _, vt = np.linalg.svd((n - n.mean(0)).T @ (m - m.mean(0)))
    d = np.sign(np.linalg.det(vt.T @ u.T))
    return vt.T @ np.diag([1, 1, d]) @ u.T


def circle(y, start):
    def residuals(p):
        return np.hypot(y[:, 0] - p[0], y[:, 1] - p[1]) - p[2]

    def jacobian(p):
        v = y - p[:2]
        j = np.full((len(y), 3), -1.0)
        j[:, :2] = -v / np.hypot(v[:, 0], v[:, 1])[:, None]
        return j

    return least_squares(residuals, start, jac=jacobian, method="lm", xtol=1e-13, ftol=1e-13, gtol=1e-13).x


def disc_frame(case, blocks):
    """Rows: disc axes in the machine; origin."""
    rough = rough_rotation(case, blocks)
    face = blocks[None, "HUB-FACE"]
    centre = face.mean(0)
    z = towards(smallest(face - centre), rough[:, 2])
    x = rough[:, 0] - z * (rough[:, 0] @ z)
    x /= np.linalg.norm(x)
    y = np.cross(z, x)
    plane = np.array([x, y])
    bore = blocks[None, "HUB-BORE"]
    middle = bore.mean(0)
    found = circle((bore - middle) @ plane.T, [0.0, 0.0, case["bore"]])
    origin = middle + found[:2] @ plane
    origin = origin + z * ((centre - origin) @ z)
    left, right = (blocks[None, f] @ plane.T for f in ("HUB-SLOT-LEFT", "HUB-SLOT-RIGHT"))
    faces = np.vstack([left - left.mean(0), right - right.mean(0)])
    n = towards(smallest(faces), np.array([0.0, 1.0]))
    middle_offset = ((left @ n).mean() + (right @ n).mean()) / 2 - (origin @ plane.T) @ n
    # The nominal place of the slot, turned about the axis, lies in its middle plane.
    turn = np.arctan2(n[1], n[0]) - np.arccos(middle_offset / case["slot"])
    ex = np.cos(turn) * x + np.sin(turn) * y
    return np.array([ex, np.cross(z, ex), z]), origin


def blade_error(case, blocks, station, angle, disc, origin):
    axes, seat = axes_of(case, angle)
    points = {f: ((blocks[station, f] - origin) @ disc.T - seat) @ axes.T for f in ("FLANK", "EDGE", "SEAT")}
    centres = {f: p.mean(0) for f, p in points.items()}
    flank = towards(smallest(points["FLANK"] - centres["FLANK"]), np.array([0.0, 1.0, 0.0]))
    one = np.array([1.0, 0.0, 0.0]) - flank * flank[0]
    one /= np.linalg.norm(one)
    basis = np.array([one, np.cross(one, flank)])
    edge = smallest((points["EDGE"] - centres["EDGE"]) @ basis.T) @ basis
    edge = towards(edge, np.array([1.0, 0.0, 0.0]))
    rotation = np.array([edge, flank, np.cross(edge, flank)]).T
    at = [
        edge @ centres["EDGE"] - case["nominal"]["EDGE"][0],
        flank @ centres["FLANK"] - case["nominal"]["FLANK"][1],
        rotation[:, 2] @ centres["SEAT"] - case["nominal"]["SEAT"][2],
    ]
    shift = rotation @ at
    deltas = [rotation @ p + shift - p for p in case["checkPoints"]]
    position = max(2 * np.hypot(d[0], d[1]) for d in deltas)
    return deltas, [*shift, *Rotation.from_matrix(rotation).as_rotvec(), position]


def upper_bound(case, deltas, covariance, rng):
    coverage = case["coverage"]
    trials = int(np.ceil(coverage * (1 - coverage) / case["standardError"] ** 2))
    errors = rng.standard_normal((trials, 6)) @ np.linalg.cholesky(covariance).T
    largest = np.zeros(trials)
    for p, d in zip(case["checkPoints"], deltas):
        x = d[0] + errors[:, 0] + errors[:, 4] * p[2] - errors[:, 5] * p[1]
        y = d[1] + errors[:, 1] + errors[:, 5] * p[0] - errors[:, 3] * p[2]
        np.maximum(largest, np.hypot(x, y), out=largest)
    place = int(coverage * trials + 0.5) - 1
    return 2 * np.partition(largest, place)[place]


def reduce(case, x, with_bound):
    blocks = {(b["station"], b["feature"]): x[b["from"] : b["to"]] for b in case["blocks"]}
    disc, origin = disc_frame(case, blocks)
    rng = np.random.default_rng(1)
    stations = []
    for k, angle in enumerate(case["angles"], 1):
        deltas, values = blade_error(case, blocks, k, angle, disc, origin)
        bound = [upper_bound(case, deltas, case["covariances"][k - 1], rng)] if with_bound else []
        stations.append(values + bound)
    return stations


def median_time(run, repeats):
    times = []
    for _ in range(repeats):
        begin = time.perf_counter()
        run()
        times.append(1000 * (time.perf_counter() - begin))
    return statistics.median(times)


results = []
for case in json.load(sys.stdin):
    case["checkPoints"] = np.array(case["checkPoints"], float)
    x = np.fromfile(case["file"]).reshape(-1, 3)
    case["covariances"] = np.array(case["covariances"])
    stations = reduce(case, x, True)
    results.append(
        {
            "valuesOnly": median_time(lambda: reduce(case, x, False), case["repeats"]),
            "withBound": median_time(lambda: reduce(case, x, True), case["repeats"]),
            "stations": np.array(stations).tolist(),
        }
    )
print(json.dumps({"numpy": np.__version__, "scipy": scipy.__version__, "results": results}))
