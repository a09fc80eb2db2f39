"""Second-level position of a pattern by SciPy, for test/validation/pattern-position-scipy.test.ts.

    python3 test/validation/scripts/pattern-position.py > test/validation/data/pattern-position-scipy.json

Another way than the product's: the exact, not the linearised motion (scipy.spatial.transform.Rotation), minimised by SLSQP from
several starts with the largest position as an extra unknown; then the optimality conditions of the contacts found are solved as
equations by scipy.optimize.least_squares. Positions are twice the length of the displacement seen from the moved zone.
"""

import json

import numpy as np
from scipy.optimize import least_squares, minimize
from scipy.spatial.transform import Rotation

random = np.random.default_rng(54581)
NAMES = ["x", "y", "z", "rotX", "rotY", "rotZ"]
REACH = 240.0


def ring(stations, size, shapes, turned):
    points = []
    for k in range(stations):
        angle = 2 * np.pi * k / stations + random.uniform(-0.05, 0.05)
        radial = np.array([np.cos(angle), np.sin(angle), 0.0])
        frame = Rotation.from_rotvec(random.normal(size=3) * 0.4).as_matrix() @ np.column_stack(
            [[0, 0, 1], np.cross(radial, [0, 0, 1]), radial]
        )
        for at in (0.0, 160.0):
            centre = radial * REACH + np.array([0, 0, 15.0]) + frame[:, 2] * at
            shape = shapes[len(points) % len(shapes)]
            count = {"planar": 1, "cylindrical": 2, "spherical": 3}[shape]
            measured = centre + random.normal(size=3) * size
            points.append((centre, measured, frame[:, :count].T))
    motion = Rotation.from_rotvec(turned * random.normal(size=3))
    shift = turned * REACH * random.normal(size=3)
    return [(c, motion.apply(m) + shift, d) for c, m, d in points]


def displacements(points, p):
    back = Rotation.from_rotvec(p[3:]).inv()
    return [d @ (back.apply(m - p[:3]) - c) for c, m, d in points]


def positions(points, p):
    return np.array([2 * np.linalg.norm(r) for r in displacements(points, p)])


def solve(points, free, tolerance):
    index = [NAMES.index(f) for f in free]
    scale = np.array([tolerance] * 3 + [tolerance / REACH] * 3)

    def full(q):
        p = np.zeros(6)
        p[index] = q * scale[index]
        return p

    def squares(q):
        return (positions(points, full(q)) / tolerance) ** 2

    def slope(f, q):
        columns = []
        for k in range(len(q)):
            h = np.zeros(len(q))
            h[k] = 1e-4
            columns.append((8 * (f(q + h) - f(q - h)) - (f(q + 2 * h) - f(q - 2 * h))) / 12e-4)
        return np.column_stack(columns)

    first = least_squares(
        lambda q: np.concatenate(displacements(points, full(q))) / tolerance, np.zeros(len(index))
    ).x
    best = None
    for trial in range(3):
        q = first + 0.3 * trial * random.normal(size=len(index))
        t = np.sqrt(squares(q).max())
        found = minimize(
            lambda v: v[-1],
            np.append(q, t),
            jac=lambda v: np.append(np.zeros(len(q)), 1.0),
            constraints={
                "type": "ineq",
                "fun": lambda v: v[-1] ** 2 - squares(v[:-1]),
                "jac": lambda v: np.column_stack(
                    [-slope(squares, v[:-1]), np.full(len(points), 2 * v[-1])]
                ),
            },
            method="SLSQP",
            options={"ftol": 1e-15, "maxiter": 500},
        )
        value = np.sqrt(squares(found.x[:-1]).max())
        if best is None or value < best[0]:
            best = (value, found.x[:-1])
    value, q = best
    active = [j for j, s in enumerate(squares(q)) if np.sqrt(s) > value - 1e-5]
    n, m = len(q), len(active)

    def conditions(v):
        gradient = slope(squares, v[:n])[active]
        return np.concatenate(
            [gradient.T @ v[n + 1 :], squares(v[:n])[active] - v[n] ** 2, [v[n + 1 :].sum() - 1]]
        )

    weights = np.linalg.lstsq(
        np.vstack([slope(squares, q)[active].T, np.ones(m)]), np.append(np.zeros(n), 1.0), rcond=None
    )[0]
    exact = least_squares(conditions, np.concatenate([q, [value], weights]), xtol=1e-15, ftol=1e-15, gtol=1e-15)
    solved = np.sqrt(squares(exact.x[:n]).max())
    if np.abs(exact.fun).max() < 1e-9 and exact.x[n + 1 :].min() > -1e-7 and solved < value + 1e-7:
        value, q = solved, exact.x[:n]
    return {
        "value": tolerance * value,
        "levelOne": float(positions(points, np.zeros(6)).max()),
        "contacts": m,
        "motion": dict(zip(NAMES, full(q).tolist())),
    }


cases = []
SETS = [NAMES, ["x", "y", "z"], ["rotX", "rotY", "rotZ"], ["x", "y", "rotZ"], ["z", "rotX", "rotY"], ["rotZ"]]
SHAPES = [["cylindrical"], ["spherical"], ["planar"], ["cylindrical", "planar"], ["spherical", "cylindrical"]]
for number in range(30):
    stations = int(random.integers(4, 20))
    shapes = SHAPES[number % len(SHAPES)]
    size = [0.02, 0.1, 0.5][number % 3]
    points = ring(stations, size, shapes, [0.0, 1e-4, 1e-3][(number // 3) % 3])
    free = SETS[number % len(SETS)]
    expected = solve(points, free, size)
    cases.append(
        {
            "name": f"{number + 1}: {stations} blades, {' and '.join(shapes)}, free {' '.join(free)}",
            "free": free,
            "tolerance": size,
            "points": [
                {"centre": c.tolist(), "measured": m.tolist(), "directions": d.tolist()} for c, m, d in points
            ],
            "expected": expected,
        }
    )
print(json.dumps({"source": "SciPy, test/validation/scripts/pattern-position.py", "cases": cases}))
