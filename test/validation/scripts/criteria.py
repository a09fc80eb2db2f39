"""Minimum-zone, inscribed and circumscribed features by SciPy, for test/validation/criteria-scipy.test.ts.

    python3 test/validation/scripts/criteria.py > test/validation/data/criteria-scipy.json

Another way than the product's: linear programs of HiGHS (scipy.optimize.linprog) on complex-step derivatives of plainly
written distances in a trust region, from many starts; the contacts found are then solved as equations
(scipy.optimize.fsolve). Where there are fewer contacts than unknowns, curvature holds the feature: SLSQP minimises the
objective instead, and only the objective is to be compared.
"""

import json

import numpy as np
from scipy.optimize import fsolve, linprog, minimize
from scipy.spatial.transform import Rotation

random = np.random.default_rng(20261)


def length(v):
    return np.sqrt((v * v).sum(axis=1))


def plane(x, offsets, frame):
    def distance(p):
        n = frame @ np.array([p[0], p[1], 1.0])
        return (x @ n) / np.sqrt((n * n).sum()) - offsets

    return distance, 2


def plane_about(x, offsets, axis, start):
    across = np.cross(axis, start)
    along = axis * (axis @ start)

    def distance(p):
        n = along + np.cos(p[0]) * (start - along) + np.sin(p[0]) * across
        return x @ n - offsets

    return distance, 1


def axis_free(x, offsets, frame):
    def distance(p):
        a = frame @ np.array([p[2], p[3], 1.0])
        a = a / np.sqrt((a * a).sum())
        y = x - (frame @ np.array([p[0], p[1], 0.0]))
        return length(np.cross(y, a)) - offsets

    return distance, 4


def axis_fixed(x, offsets, frame):
    y = x @ frame[:, :2]

    def distance(p):
        return length(y - np.array([p[0], p[1]])) - offsets

    return distance, 2


def centre(x, offsets):
    def distance(p):
        return length(x - np.array([p[0], p[1], p[2]])) - offsets

    return distance, 3


def jacobian(distance, p):
    columns = []
    for d in range(len(p)):
        q = p.astype(complex)
        q[d] += 1e-30j
        columns.append(distance(q).imag / 1e-30)
    return np.array(columns).T


def functions(g, sides, level):
    if sides == "outer":
        return g
    if sides == "inner":
        return -g
    return np.concatenate([g - level, level - g])


def objective(g, sides):
    if sides == "both":
        return 0.5 * (g.max() - g.min())
    return g.max() if sides == "outer" else -g.min()


def descend(distance, p, sides, n):
    p = p.copy()
    g = distance(p)
    best = objective(g, sides)
    region = g.max() - g.min()
    for _ in range(200):
        if region < 1e-14:
            break
        j = jacobian(distance, p)
        level = 0.5 * (g.max() + g.min()) if sides == "both" else 0.0
        f = functions(g, sides, level) - best
        rows = j if sides == "outer" else -j if sides == "inner" else np.concatenate([j, -j])
        shift = np.concatenate([-np.ones(n), np.ones(n)]) if sides == "both" else np.zeros(len(f))
        unit = region
        a = np.column_stack([rows, shift, -np.ones(len(f))])
        bounds = [(-1, 1)] * len(p) + [(-8, 8) if sides == "both" else (0, 0), (None, None)]
        cost = np.zeros(len(p) + 2)
        cost[-1] = 1
        lp = linprog(cost, A_ub=a, b_ub=-f / unit, bounds=bounds, method="highs")
        if lp.status != 0:
            break
        promised = -lp.x[-1] * unit
        q = p + unit * lp.x[: len(p)]
        h = distance(q)
        gained = best - objective(h, sides)
        if gained > 0.1 * promised and gained > 0:
            if gained > 0.7 * promised:
                region *= 2
            p, g, best = q, h, best - gained
        else:
            region *= 0.25
    return p, best


def contacts_of(distance, p, sides, n, tolerance):
    g = distance(p)
    level = 0.5 * (g.max() + g.min()) if sides == "both" else 0.0
    f = functions(g, sides, level)
    return np.flatnonzero(f > f.max() - tolerance)


def solve(distance, size, sides, n, starts, scale):
    found = []
    for trial in range(starts):
        p0 = np.zeros(size) if trial == 0 else scale * random.uniform(-1, 1, size)
        found.append(descend(distance, p0, sides, n))
    p, best = min(found, key=lambda pair: pair[1])
    unknowns = size + (2 if sides == "both" else 1)
    contacts = contacts_of(distance, p, sides, n, 1e-7)
    if len(contacts) != unknowns:
        tight = minimize(
            lambda z: 1e3 * z[-1],
            np.append(p, best),
            method="SLSQP",
            constraints={
                "type": "ineq",
                "fun": lambda z: 1e3 * (z[-1] - functions(distance(z[:-1]), sides, 0.0)),
            },
            options={"ftol": 1e-16, "maxiter": 1000},
        ) if sides != "both" else None
        if tight is not None:
            best = min(best, objective(distance(tight.x[:-1]), sides))
        return p, best, None

    def equations(z):
        g = distance(z[:size])
        level = z[size] if sides == "both" else 0.0
        return functions(g, sides, level)[contacts] - z[-1]

    g = distance(p)
    level = [0.5 * (g.max() + g.min())] if sides == "both" else []
    z = fsolve(equations, np.concatenate([p, level, [best]]), xtol=1e-15)
    p = z[:size]
    return p, objective(distance(p), sides), contacts


def case(name, kind, criterion, x, offsets, orientation, distance, size, scale, place, starts=40):
    n = len(x)
    sides = {"maximum-inscribed": "inner", "minimum-circumscribed": "outer", "minimax": "both"}[criterion]
    if kind == "line":
        sides = "outer"
    p, best, contacts = solve(distance, size, sides, n, starts, scale)
    expected = {"size": 2 * best if criterion == "minimax" else abs(best)}
    if contacts is not None:
        expected["contacts"] = sorted({int(i) % n for i in contacts})
        expected.update(place(p))
    return {
        "name": name,
        "type": kind,
        "criterion": criterion,
        "xyz": np.asarray(x).ravel().tolist(),
        **({"offsets": offsets.tolist()} if np.any(offsets) else {}),
        "orientation": orientation,
        "expected": expected,
    }


def frame_of(rotation):
    return rotation.as_matrix()


def cases():
    for n, noise in ((8, 0.02), (40, 0.005), (120, 0.01)):
        for tips in (False, True):
            r = Rotation.random(random_state=random.integers(1 << 30))
            frame = frame_of(r)
            offsets = random.uniform(0.5, 1.5, n).round(3) if tips else np.zeros(n)
            flat = np.column_stack([random.uniform(-40, 40, n), random.uniform(-25, 25, n), noise * random.normal(size=n) + offsets])
            x = flat @ frame.T
            x = x.round(6)
            normal = frame[:, 2]
            distance, size = plane(x, offsets, frame)
            tilted = lambda p: {"direction": unit(frame @ np.array([p[0], p[1], 1.0]))}
            name = f"{n} points{', tip radii' if tips else ''}"
            yield case(f"plane, {name}", "plane", "minimax", x, offsets, free(normal), distance, size, 1e-4, tilted)
            axis = unit(frame @ np.array([0.6, 0.0, 0.8]))
            distance, size = plane_about(x, offsets, np.array(axis), normal)
            yield case(f"plane about an axis, {name}", "plane", "minimax", x, offsets, {"kind": "about", "axis": axis, "start": normal.tolist()}, distance, size, 1e-4, lambda p: {})

            radius, inside = 12.5, -1 if tips else 1
            angle = 2 * np.pi * (np.arange(n) + random.uniform(-0.3, 0.3, n)) / n
            rho = radius + noise * random.normal(size=n) - (offsets if tips else 0)
            across = np.column_stack([rho * np.cos(angle), rho * np.sin(angle)])
            s = random.permutation(np.linspace(-15, 15, n))
            radial = -offsets
            centre3 = random.uniform(-3, 3, 3)
            x = (np.column_stack([across, s]) @ frame.T).round(6)
            disc = np.column_stack([across, np.zeros(n)]) @ frame.T
            disc = disc.round(6)
            turn = np.pi * (3 - np.sqrt(5)) * np.arange(n)
            z = (np.arange(n) + 0.5) * 2 / n - 1
            d = np.column_stack([np.cos(turn) * np.sqrt(1 - z * z), np.sin(turn) * np.sqrt(1 - z * z), z])
            ball = d / length(d)[:, None] * rho[:, None] + centre3
            ball = ball.round(6)
            for criterion in ("minimax", "minimum-circumscribed", "maximum-inscribed"):
                distance, size = axis_free(x, radial, frame)
                along = lambda p: {"direction": unit(frame @ np.array([p[2], p[3], 1.0])), "through": (frame @ np.array([p[0], p[1], 0.0])).tolist()}
                yield case(f"cylinder, {name}", "cylinder", criterion, x, radial, free(normal), distance, size, 4 * noise * np.array([1, 1, 0.1, 0.1]), along)
                distance, size = axis_fixed(x, radial, frame)
                through = lambda p: {"through": (frame @ np.array([p[0], p[1], 0.0])).tolist()}
                fixed = {"kind": "fixed", "direction": normal.tolist()}
                yield case(f"cylinder of fixed direction, {name}", "cylinder", criterion, x, radial, fixed, distance, size, 4 * noise, through)
                distance, size = axis_fixed(disc, radial, frame)
                yield case(f"circle, {name}", "circle", criterion, disc, radial, fixed, distance, size, 4 * noise, through)
                inner = lambda y: centre(y - centre3, radial)
                distance, size = inner(ball)
                at = lambda p: {"through": (p + centre3).tolist()}
                yield case(f"sphere, {name}", "sphere", criterion, ball, radial, free(None), distance, size, 4 * noise, at)
            if not tips:
                rod = np.column_stack([noise * random.normal(size=n), noise * random.normal(size=n), 30 * random.uniform(-1, 1, n)])
                x = (rod @ frame.T).round(6)
                distance, size = axis_free(x, offsets, frame)
                yield case(f"line, {name}", "line", "minimax", x, offsets, free(normal), distance, size, noise * np.array([1, 1, 0.05, 0.05]), along)
    # A fifth more than half a turn.
    n, frame = 60, np.eye(3)
    angle = random.uniform(0, 1.2 * np.pi, n)
    rho = 20 + 0.003 * random.normal(size=n)
    x = np.column_stack([rho * np.cos(angle), rho * np.sin(angle), random.uniform(-8, 8, n)]).round(6)
    for criterion in ("minimax", "minimum-circumscribed", "maximum-inscribed"):
        distance, size = axis_free(x, np.zeros(n), frame)
        along = lambda p: {"direction": unit(np.array([p[2], p[3], 1.0])), "through": [p[0], p[1], 0.0]}
        yield case("cylinder over 216 degrees, 60 points", "cylinder", criterion, x, np.zeros(n), free([0, 0, 1]), distance, size, 0.01 * np.array([1, 1, 0.1, 0.1]), along)


def unit(v):
    return (v / np.sqrt(v @ v)).tolist()


def free(start):
    return {"kind": "free", "start": None if start is None else np.asarray(start).tolist()}


print(json.dumps({"source": "SciPy " + __import__("scipy").__version__, "cases": list(cases())}))
