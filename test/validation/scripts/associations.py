"""Reference fits for the associations, by SciPy.

Makes points of invented features with a fixed seed and fits each by scipy.optimize.least_squares in a parametrisation that
differs from the product's (angles and slopes of the axis, intercepts in a plane, apex of the cone; numerical
derivatives), then polishes the result by Gauss-Newton in 80-bit extended precision to steps below 1e-14 of the
feature. Writes points, parameters, seed and versions to ../data/associations-scipy.json.

Run: python3 test/validation/scripts/associations.py
"""
import json
import pathlib
import numpy as np
import scipy
from scipy.optimize import least_squares
from scipy.spatial.transform import Rotation

SEED = 20261125
L = np.longdouble
rng = np.random.default_rng(SEED)


# --- directions ---------------------------------------------------------------------------------
def frame_about(direction):
    """Rows: two unit vectors square to the direction, and the direction."""
    d = np.asarray(direction, L)
    d = d / np.sqrt((d * d).sum())
    k = int(np.argmin(np.abs(d)))
    e = np.zeros(3, L)
    e[k] = 1
    u = e - d * (e @ d)
    u = u / np.sqrt((u * u).sum())
    return np.array([u, np.cross(d, u), d], L)


class Free:
    """Slopes against a start direction: direction ~ m1 u + m2 v + d."""

    def __init__(self, start):
        self.size, self.frame = 2, frame_about(start)

    def direction(self, p):
        d = p[0] * self.frame[0] + p[1] * self.frame[1] + self.frame[2]
        return d / np.sqrt((d * d).sum())


class About:
    """Azimuth about an axis, the angle to it as the start has it."""

    def __init__(self, axis, start):
        self.size, self.frame = 1, frame_about(axis)
        s = np.asarray(start, L)
        s = s / np.sqrt((s * s).sum())
        self.along = s @ self.frame[2]
        self.across = np.sqrt(((np.cross(self.frame[2], s)) ** 2).sum())
        self.azimuth = np.arctan2(s @ self.frame[1], s @ self.frame[0])

    def direction(self, p):
        t = self.azimuth + p[0]
        return self.along * self.frame[2] + self.across * (np.cos(t) * self.frame[0] + np.sin(t) * self.frame[1])


class Fixed:
    def __init__(self, direction):
        self.size, self.frame = 0, frame_about(direction)

    def direction(self, p):
        return self.frame[2]


def orientation_of(o):
    if o["kind"] == "free":
        return Free(o["start"])
    if o["kind"] == "about":
        return About(o["axis"], o["start"])
    return Fixed(o["direction"])


# --- solving ------------------------------------------------------------------------------------
def jacobian(f, p, step):
    """Five-point differences: truncation and rounding both near 1e-15."""
    columns = []
    for j in range(len(p)):
        h = np.zeros(len(p), L)
        h[j] = step
        near, far = f(p + h) - f(p - h), f(p + 2 * h) - f(p - 2 * h)
        columns.append((8 * near - far) / (12 * L(step)))
    return np.array(columns, L).T


def solve(f, start):
    """f takes and returns long doubles in units of the feature size."""
    first = least_squares(lambda p: np.asarray(f(np.asarray(p, L)), float), start, method="lm", x_scale="jac",
                          xtol=1e-15, ftol=1e-15, gtol=1e-15, max_nfev=100000)
    p = np.asarray(first.x, L)
    for _ in range(60):
        j = jacobian(f, p, 1e-4)
        r = f(p)
        step = np.linalg.lstsq(j.astype(float), r.astype(float), rcond=None)[0]
        # One refinement keeps the digits that the double factorisation loses.
        rest = r - j @ np.asarray(step, L)
        step = np.asarray(step, L) + np.linalg.lstsq(j.astype(float), rest.astype(float), rcond=None)[0]
        p = p - step
        if np.max(np.abs(step)) < 1e-17:
            break
    else:
        print("  last step", np.max(np.abs(step)))
    return p


# --- features -----------------------------------------------------------------------------------
def fit(case):
    """Parameters in the product's terms: point, direction, radius, halfAngle, sum of squares."""
    kind = case["type"]
    if kind == "midplane":
        return fit_midplane(case)
    x = np.asarray(case["xyz"], L).reshape(-1, 3)
    n = len(x)
    w = np.asarray(case["weights"], L) if case.get("weights") else np.ones(n, L)
    o = np.asarray(case["offsets"], L) if case.get("offsets") else np.zeros(n, L)
    centroid = (w[:, None] * x).sum(0) / w.sum()
    size = L(np.abs(x - centroid).max())
    y = (x - centroid) / size
    o = o / size
    root = np.sqrt(w)
    at = lambda v: [float(c) for c in centroid + size * v]
    vec = lambda v: [float(c) for c in v]
    turning = orientation_of(case["orientation"]) if "orientation" in case else None
    k = turning.size if turning else 0
    total = lambda f, p: float((f(p) ** 2).sum() * size**2)

    if kind == "point":
        f = lambda p: (root[:, None] * (y - p)).ravel()
        p = solve(f, [0.1, 0.1, 0.1])
        return {"point": at(p), "sumOfSquares": total(f, p)}
    if kind == "plane":
        f = lambda p: root * (y @ turning.direction(p[:k]) - p[k] - o)
        p = solve(f, [0.0] * (k + 1))
        d = turning.direction(p[:k])
        return {"point": at(d * p[k]), "direction": vec(d), "sumOfSquares": total(f, p)}
    if kind == "line":
        def f(p):
            d = turning.direction(p[:k])
            q = y - p[k] * turning.frame[0] - p[k + 1] * turning.frame[1]
            if k == 1:  # intercepts in a plane square to the start of the azimuth
                base = frame_about(turning.direction([L(0)]))
                q = y - p[k] * base[0] - p[k + 1] * base[1]
            return (root[:, None] * np.cross(q, d)).ravel()
        p = solve(f, [0.0] * (k + 2))
        base = frame_about(turning.direction([L(0)])) if k == 1 else turning.frame
        d = turning.direction(p[:k])
        q = p[k] * base[0] + p[k + 1] * base[1]
        return {"point": at(q - d * (q @ d)), "direction": vec(d), "sumOfSquares": total(f, p)}
    if kind == "circle":
        plane = lambda p: root * (y @ turning.direction(p[:k]) - p[k])
        d = turning.direction(solve(plane, [0.0] * (k + 1))[:k])
        u, v, _ = frame_about(d)
        a, b = y @ u, y @ v
        f = lambda p: root * (np.sqrt((a - p[0]) ** 2 + (b - p[1]) ** 2) - p[2] - o)
        p = solve(f, circle_start(a, b))
        return {"point": at(p[0] * u + p[1] * v), "direction": vec(d), "radius": float(p[2] * size),
                "sumOfSquares": total(f, p)}
    if kind == "sphere":
        f = lambda p: root * (np.sqrt(((y - p[:3]) ** 2).sum(1)) - p[3] - o)
        m = np.column_stack([2 * y, np.ones(n)]).astype(float)
        s = np.linalg.lstsq(m, (y * y).sum(1).astype(float), rcond=None)[0]
        p = solve(f, [*s[:3], np.sqrt(s[3] + s[:3] @ s[:3])])
        return {"point": at(p[:3]), "radius": float(p[3] * size), "sumOfSquares": total(f, p)}
    base = frame_about(turning.direction(np.zeros(2, L)))
    u, v, d0 = base
    if kind == "cylinder":
        def f(p):
            d = turning.direction(p[:k])
            q = y - p[k] * u - p[k + 1] * v
            return root * (np.sqrt((np.cross(q, d) ** 2).sum(1)) - p[k + 2] - o)
        p = solve(f, [0.0] * k + circle_start(y @ u, y @ v))
        d = turning.direction(p[:k])
        q = p[k] * u + p[k + 1] * v
        return {"point": at(q - d * (q @ d)), "direction": vec(d), "radius": float(p[k + 2] * size),
                "sumOfSquares": total(f, p)}
    if kind == "cone":
        # Apex and tangent of the half angle.
        def f(p):
            d = turning.direction(p[:k])
            q = y - p[k] * u - p[k + 1] * v - p[k + 2] * d0
            along = q @ d
            across = np.sqrt((np.cross(q, d) ** 2).sum(1))
            return root * ((across - along * p[k + 3]) / np.sqrt(1 + p[k + 3] ** 2) - o)
        tangent = np.tan(case["nominal"]["halfAngle"])
        c = circle_start(y @ u, y @ v)
        p = solve(f, [0.0] * k + [c[0], c[1], -c[2] / tangent, tangent])
        d = turning.direction(p[:k])
        apex = p[k] * u + p[k + 1] * v + p[k + 2] * d0
        along = L(case["nominal"]["radius"]) / size / p[k + 3]
        return {"point": at(apex + along * d), "direction": vec(d), "radius": case["nominal"]["radius"],
                "halfAngle": float(np.arctan(p[k + 3])), "sumOfSquares": total(f, p)}
    raise ValueError(kind)


def circle_start(a, b):
    m = np.column_stack([2 * a, 2 * b, np.ones(len(a))]).astype(float)
    s = np.linalg.lstsq(m, (a * a + b * b).astype(float), rcond=None)[0]
    return [s[0], s[1], float(np.sqrt(s[2] + s[0] ** 2 + s[1] ** 2))]


def fit_midplane(case):
    turning = orientation_of(case["orientation"])
    k = turning.size
    faces = [np.asarray(case[name], L).reshape(-1, 3) for name in ("xyz", "xyzB")]
    centroid = np.concatenate(faces).mean(0)
    size = L(np.abs(np.concatenate(faces) - centroid).max())
    a, b = [(face - centroid) / size for face in faces]

    def f(p):
        d = turning.direction(p[:k])
        return np.concatenate([a @ d - p[k], b @ d - p[k + 1]])

    p = solve(f, [0.0] * k + [float((a @ turning.direction(np.zeros(2, L))).mean()),
                              float((b @ turning.direction(np.zeros(2, L))).mean())])
    d = turning.direction(p[:k])
    return {"point": [float(c) for c in centroid + size * d * (p[k] + p[k + 1]) / 2], "direction": [float(c) for c in d],
            "faceOffset": float(size * (p[k] - p[k + 1]) / 2), "sumOfSquares": float((f(p) ** 2).sum() * size**2)}


# --- invented points ----------------------------------------------------------------------------
def place(points, distance):
    """A random pose: points, rotation and the pose itself."""
    turn = Rotation.random(random_state=rng.integers(2**31))
    shift = rng.normal(size=3)
    shift *= distance / np.linalg.norm(shift)
    return points @ turn.as_matrix().T + shift, turn.as_matrix()


def tilted(direction, angle):
    """A start that is off by `angle`, in a random sense."""
    side = np.cross(direction, rng.normal(size=3))
    side /= np.linalg.norm(side)
    return (np.cos(angle) * np.asarray(direction) + np.sin(angle) * side).tolist()


def revolved(n, radius, taper, length, arc, noise):
    theta = np.radians(arc) * rng.uniform(-0.5, 0.5, n)
    z = length * rng.uniform(-0.5, 0.5, n)
    rho = radius + z * np.tan(taper) + noise * rng.normal(size=n)
    return np.column_stack([rho * np.cos(theta), rho * np.sin(theta), z])


def flat(n, a, b, noise):
    return np.column_stack([a * rng.uniform(-0.5, 0.5, n), b * rng.uniform(-0.5, 0.5, n), noise * rng.normal(size=n)])


def orient(kind, matrix, held=(0.3, -0.5, 0.8)):
    """Free with a start 3 degrees off; about an axis with the azimuth 3 degrees off; fixed near the true direction."""
    d = matrix @ [0, 0, 1]
    if kind == "free":
        return {"kind": "free", "start": tilted(d, 0.05)}
    if kind == "fixed":
        return {"kind": "fixed", "direction": tilted(d, 1e-3)}
    axis = np.cross(d, matrix @ held)
    axis = axis / np.linalg.norm(axis) + (0.3 * d if kind == "about-slanted" else 0)
    start = Rotation.from_rotvec(0.05 * axis / np.linalg.norm(axis)).apply(d)
    return {"kind": "about", "axis": axis.tolist(), "start": start.tolist()}


def cases():
    def one(name, kind, points, orientation=None, distance=500.0, **more):
        xyz, matrix = place(points, distance)
        case = {"name": name, "type": kind, "xyz": xyz.ravel().tolist(), **more}
        if orientation:
            case["orientation"] = orient(orientation, matrix)
        return case

    yield one("point", "point", 0.01 * rng.normal(size=(12, 3)))
    yield one("point, weighted", "point", 0.01 * rng.normal(size=(9, 3)), weights=rng.uniform(0.2, 3, 9).tolist())
    for orientation in ("free", "about", "about-slanted", "fixed"):
        yield one(f"plane, {orientation}", "plane", flat(30, 80, 25, 0.01), orientation)
        yield one(f"line, {orientation}", "line", flat(20, 0.01, 0.01, 40) @ np.eye(3), orientation)
        yield one(f"cylinder, {orientation}", "cylinder", revolved(40, 70, 0, 40, 360, 0.01), orientation)
        yield one(f"cone, {orientation}", "cone", revolved(40, 30, 0.35, 50, 360, 0.01), orientation,
                  nominal={"halfAngle": 0.3, "radius": 25.0})
    for orientation in ("free", "about", "fixed"):
        yield one(f"circle, {orientation}", "circle", revolved(24, 35, 0, 0.02, 360, 0.01), orientation)
        a, b = flat(12, 30, 20, 0.01) + [1, 2, 6], flat(17, 25, 30, 0.01) - [3, 0, 6]
        both, matrix = place(np.concatenate([a, b]), 400)
        yield {"name": f"midplane, {orientation}", "type": "midplane", "xyz": both[:12].ravel().tolist(),
               "xyzB": both[12:].ravel().tolist(), "orientation": orient(orientation, matrix)}
    sphere = rng.normal(size=(40, 3))
    sphere *= (20 + 0.01 * rng.normal(size=40))[:, None] / np.linalg.norm(sphere, axis=1)[:, None]
    yield one("sphere", "sphere", sphere)
    yield one("sphere, weighted, tip radius", "sphere", sphere[:15], weights=rng.uniform(0.2, 3, 15).tolist(),
              offsets=[1.5] * 15)
    cap = rng.normal(size=(400, 3))
    cap /= np.linalg.norm(cap, axis=1)[:, None]
    cap = cap[cap[:, 2] > np.cos(np.radians(25))][:12]
    yield one("sphere, cap", "sphere", cap * (50 + 1e-3 * rng.normal(size=len(cap)))[:, None])
    yield one("plane, weighted, unequal offsets", "plane", flat(25, 60, 40, 0.01), "free",
              weights=rng.uniform(0.2, 3, 25).tolist(), offsets=rng.uniform(-1, 1, 25).tolist())
    yield one("plane, 10 m from the origin", "plane", flat(4, 30, 20, 0.002), "free", distance=10_000.0)
    yield one("circle, arc of 20 degrees", "circle", revolved(9, 100, 0, 0, 20, 1e-3), "free")
    yield one("circle, weighted, tip radius", "circle", revolved(16, 12, 0, 0.01, 200, 0.01), "fixed",
              weights=rng.uniform(0.2, 3, 16).tolist(), offsets=[-1.0] * 16)
    yield one("cylinder, arc of 20 degrees", "cylinder", revolved(30, 100, 0, 60, 20, 1e-3), "free")
    yield one("cylinder, weighted, tip radius", "cylinder", revolved(25, 15, 0, 30, 270, 0.01), "free",
              weights=rng.uniform(0.2, 3, 25).tolist(), offsets=[-0.75] * 25)
    yield one("cylinder, six points", "cylinder", revolved(6, 40, 0, 50, 300, 0.002), "free")
    yield one("cylinder, radius 0.5 mm, 10 m from the origin", "cylinder", revolved(20, 0.5, 0, 8, 360, 0.0005), "free",
              distance=10_000.0)
    yield one("cylinder, radius 5 m", "cylinder", revolved(30, 5000, 0, 2000, 90, 0.02), "free")
    yield one("cone, arc of 60 degrees, tip radius", "cone", revolved(40, 80, -0.6, 60, 60, 1e-3), "free",
              nominal={"halfAngle": -0.55, "radius": 80.0}, offsets=[1.0] * 40)
    yield one("cone, seven points", "cone", revolved(7, 40, 0.8, 30, 330, 0.002), "free",
              nominal={"halfAngle": 0.8, "radius": 40.0})


def main():
    out = {
        "source": "scipy.optimize.least_squares (lm), polished by Gauss-Newton in 80-bit extended precision; "
                  "invented points; made by test/validation/scripts/associations.py",
        "versions": {"scipy": scipy.__version__, "numpy": np.__version__},
        "seed": SEED,
        "cases": [],
    }
    for case in cases():
        print(case["name"])
        out["cases"].append({**case, "expected": fit(case)})
    target = pathlib.Path(__file__).parent.parent / "data" / "associations-scipy.json"
    target.write_text(json.dumps(out, separators=(",", ":")).replace('{"name"', '\n{"name"') + "\n")
    print(len(out["cases"]), "cases,", target.stat().st_size, "bytes")


if __name__ == "__main__":
    main()
