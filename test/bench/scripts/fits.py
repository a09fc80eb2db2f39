"""The fits of fits-against-scipy.bench.ts by NumPy and SciPy: vectorised residuals and analytic Jacobians.

Reads a JSON list of cases on standard input ({type, file, n, repeats, direction, point, radius, halfAngle}; the files hold
float64 coordinates) and prints a JSON list of {name, milliseconds, ...parameters}. Times are medians inside this process,
after one run that is not counted.
"""
import json
import statistics
import sys
import time

import numpy as np
import scipy
from scipy.optimize import least_squares

TOLERANCE = 1e-13


def frame_about(direction):
    d = np.asarray(direction, float)
    d = d / np.linalg.norm(d)
    e = np.eye(3)[int(np.argmin(np.abs(d)))]
    u = e - d * (e @ d)
    u /= np.linalg.norm(u)
    return np.array([u, np.cross(d, u), d])


def solve(residuals, jacobian, start):
    """The parameters, and what every fit reports beside them."""
    found = least_squares(residuals, start, jac=jacobian, method="lm", xtol=TOLERANCE, ftol=TOLERANCE, gtol=TOLERANCE)
    return found.x, summary(found.fun, np.linalg.inv(found.jac.T @ found.jac))


def summary(distances, cofactor):
    rms = np.sqrt(distances @ distances / len(distances))
    return {"rms": rms, "form": distances.max() - distances.min(), "cofactor": cofactor}


def flat(y, centre, squares, directions):
    """A plane from its principal axes, smallest spread last."""
    cofactor = np.diag([1 / len(y), 1 / squares[0], 1 / squares[1]])
    return {"point": centre, "direction": directions[2]} | summary(y @ directions[2], cofactor)


def straight(y, centre, squares, directions):
    cofactor = np.diag([1 / len(y), 1 / len(y), 1 / squares[0], 1 / squares[0]])
    distances = np.hypot(y @ directions[1], y @ directions[2])
    return {"point": centre, "direction": directions[0]} | summary(distances, cofactor)


def by_singular_values(x, use):
    centre = x.mean(0)
    y = x - centre
    _, s, directions = np.linalg.svd(y, full_matrices=False)
    return use(y, centre, s * s, directions)


def by_scatter_matrix(x, use):
    centre = x.mean(0)
    y = x - centre
    squares, vectors = np.linalg.eigh(y.T @ y)
    return use(y, centre, squares[::-1], vectors.T[::-1])


def circle(x, case):
    """In the plane square to the stated direction."""
    frame = frame_about(case["direction"])
    centre = x.mean(0)
    y = (x - centre) @ frame[:2].T

    def residuals(p):
        return np.hypot(y[:, 0] - p[0], y[:, 1] - p[1]) - p[2]

    def jacobian(p):
        j = np.empty((len(y), 3))
        v = y - p[:2]
        j[:, :2] = -v / np.hypot(v[:, 0], v[:, 1])[:, None]
        j[:, 2] = -1
        return j

    start = np.append((np.asarray(case["point"]) - centre) @ frame[:2].T, case["radius"])
    p, rest = solve(residuals, jacobian, start)
    return {"point": centre + p[:2] @ frame[:2], "radius": p[2]} | rest


def sphere(x, case):
    centre = x.mean(0)
    y = x - centre

    def residuals(p):
        v = y - p[:3]
        return np.sqrt((v * v).sum(1)) - p[3]

    def jacobian(p):
        j = np.empty((len(y), 4))
        v = y - p[:3]
        j[:, :3] = -v / np.sqrt((v * v).sum(1))[:, None]
        j[:, 3] = -1
        return j

    p, rest = solve(residuals, jacobian, np.append(np.asarray(case["point"]) - centre, case["radius"]))
    return {"point": centre + p[:3], "radius": p[3]} | rest


def revolution(x, case, tapered):
    """Cylinder or cone: slopes of the axis, its place in the middle plane, radius there, half angle."""
    frame = frame_about(case["direction"])
    centre = x.mean(0)
    y = (x - centre) @ frame.T

    def state(p):
        norm = np.sqrt(1 + p[0] ** 2 + p[1] ** 2)
        d = np.array([p[0], p[1], 1.0]) / norm
        v = y - np.array([p[2], p[3], 0.0])
        h = v @ d
        across = v - h[:, None] * d
        rho = np.sqrt((across * across).sum(1))
        return norm, d, v, h, across, rho

    def residuals(p):
        _, _, _, h, _, rho = state(p)
        if not tapered:
            return rho - p[4]
        return np.cos(p[5]) * (rho - p[4]) - np.sin(p[5]) * h

    def jacobian(p):
        norm, d, v, h, across, rho = state(p)
        n = across / rho[:, None]
        c, s = (np.cos(p[5]), np.sin(p[5])) if tapered else (1.0, 0.0)
        j = np.empty((len(y), 6 if tapered else 5))
        for k in range(2):
            turn = (np.eye(3)[k] - d * d[k]) / norm
            j[:, k] = -c * h * (n @ turn)
            j[:, 2 + k] = -c * n[:, k]
            if tapered:
                j[:, k] -= s * (v @ turn)
                j[:, 2 + k] += s * d[k]
        j[:, 4] = -c
        if tapered:
            j[:, 5] = -s * (rho - p[4]) - c * h
        return j

    at = (np.asarray(case["point"]) - centre) @ frame.T
    start = [0.0, 0.0, at[0], at[1], case["radius"]]
    if tapered:
        # The stated radius holds at the stated point; the middle plane lies elsewhere.
        start[4] -= at[2] * np.tan(case["halfAngle"])
        start.append(case["halfAngle"])
    p, rest = solve(residuals, jacobian, np.array(start))
    d = state(p)[1]
    point = np.array([p[2], p[3], 0.0])
    if not tapered:
        point = point - d * (point @ d)
        return {"point": centre + point @ frame, "direction": d @ frame, "radius": p[4]} | rest
    point = point + d * ((case["radius"] - p[4]) / np.tan(p[5]))
    return {"point": centre + point @ frame, "direction": d @ frame, "halfAngle": p[5]} | rest


FITS = {
    "plane": [
        ("SVD", lambda x, case: by_singular_values(x, flat)),
        ("scatter matrix", lambda x, case: by_scatter_matrix(x, flat)),
    ],
    "line": [
        ("SVD", lambda x, case: by_singular_values(x, straight)),
        ("scatter matrix", lambda x, case: by_scatter_matrix(x, straight)),
    ],
    "circle": [("least_squares", circle)],
    "sphere": [("least_squares", sphere)],
    "cylinder": [("least_squares", lambda x, case: revolution(x, case, False))],
    "cone": [("least_squares", lambda x, case: revolution(x, case, True))],
}

results = []
for case in json.load(sys.stdin):
    x = np.fromfile(case["file"]).reshape(-1, 3)
    for method, fit in FITS[case["type"]]:
        found = fit(x, case)
        times = []
        for _ in range(case["repeats"]):
            begin = time.perf_counter()
            fit(x, case)
            times.append(1000 * (time.perf_counter() - begin))
        results.append(
            {"type": case["type"], "n": case["n"], "method": method, "milliseconds": statistics.median(times)}
            | {k: np.asarray(v).tolist() for k, v in found.items()}
        )
print(json.dumps({"numpy": np.__version__, "scipy": scipy.__version__, "results": results}))
