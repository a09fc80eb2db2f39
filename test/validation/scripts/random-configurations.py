"""Reference fits of random configurations, by SciPy.

Invented features of random size, arc, noise, place and number of points, with their orientation free, about an axis or fixed;
poses by three datums in order of precedence; poses by best fit to several nominal features. Each fit is solved by
scipy.optimize.least_squares (lm, tolerances 1e-15) in a parametrisation that differs from the product's, then polished
by Gauss-Newton in 80-bit extended precision (associations.py). Datum poses put the fitted features together by vector products;
best-fit poses are solved for a rotation vector and a translation. Coordinates are rounded to 1e-6 mm before the fit.

Run: python3 test/validation/scripts/random-configurations.py
"""
import json
import pathlib
import numpy as np
import scipy
from scipy.optimize import least_squares
from scipy.spatial.transform import Rotation
import associations
from associations import L, fit, solve

SEED = 20_261_126
rng = np.random.default_rng(SEED)
associations.rng = rng  # One stream for everything.


def rounded(xyz):
    return [round(float(v), 6) for v in np.asarray(xyz).ravel()]


def log_uniform(low, high):
    return float(np.exp(rng.uniform(np.log(low), np.log(high))))


# --- single features ------------------------------------------------------------------------------
def feature(kind, orientation):
    """One random feature; its size in mm, the noise 1e-5 to 1e-3 of it."""
    size = log_uniform(2, 200)
    noise = size * log_uniform(1e-5, 1e-3)
    n = int(rng.integers(8, 41))
    distance = log_uniform(10, 2000)
    case = {"type": kind}
    extra = {}
    second = None
    if kind == "point":
        points = noise * rng.normal(size=(n, 3))
    elif kind == "plane":
        points = associations.flat(n, size, size * rng.uniform(0.2, 1), noise)
    elif kind == "line":
        points = associations.flat(n, noise, noise, size)
        points[:, 0] = noise * rng.normal(size=n)
        points[:, 1] = noise * rng.normal(size=n)
        points[:, 2] = size * rng.uniform(-0.5, 0.5, n)
    elif kind == "circle":
        points = associations.revolved(n, size, 0, 0, rng.uniform(60, 360), noise)
        points[:, 2] = noise * rng.normal(size=n)
    elif kind == "sphere":
        cap = np.cos(np.radians(rng.uniform(40, 180)))
        z = rng.uniform(cap, 1, n)
        turn = rng.uniform(0, 2 * np.pi, n)
        across = np.sqrt(1 - z * z)
        points = np.column_stack([across * np.cos(turn), across * np.sin(turn), z])
        points *= (size + noise * rng.normal(size=n))[:, None]
    elif kind == "cylinder":
        points = associations.revolved(n, size, 0, size * rng.uniform(0.3, 3), rng.uniform(60, 360), noise)
    elif kind == "cone":
        taper = float(rng.uniform(0.1, 0.7) * rng.choice([-1, 1]))
        length = size * min(rng.uniform(0.3, 2), 1.5 / abs(np.tan(taper)))
        points = associations.revolved(n, size, taper, length, rng.uniform(90, 360), noise)
        extra["nominal"] = {"halfAngle": round(taper * 1.1, 6), "radius": round(size, 6)}
    elif kind == "midplane":
        gap = size * rng.uniform(0.1, 1)
        split = n // 2
        points = associations.flat(n, size, size, noise)
        points[:split, 2] += gap / 2
        points[split:, 2] -= gap / 2
        second = split
    xyz, matrix = associations.place(points, distance)
    if kind in ("plane", "cylinder", "sphere", "circle", "cone") and rng.uniform() < 0.25:
        extra["weights"] = rounded(rng.uniform(0.2, 3, n))
    if second is None:
        case["xyz"] = rounded(xyz)
    else:
        case["xyz"], case["xyzB"] = rounded(xyz[:second]), rounded(xyz[second:])
    if orientation:
        case["orientation"] = associations.orient(orientation, matrix)
        case["held"] = orientation
    return {**case, **extra}


# --- poses ----------------------------------------------------------------------------------------
def unit(v):
    v = np.asarray(v, L)
    return v / np.sqrt((v * v).sum())


def rotation_matrix(rho):
    """Rodrigues' formula in extended precision; the angles here are not small against 1e-9."""
    rho = np.asarray(rho, L)
    angle = np.sqrt((rho * rho).sum())
    k = np.array([[0, -rho[2], rho[1]], [rho[2], 0, -rho[0]], [-rho[1], rho[0], 0]], L)
    if angle == 0:
        return np.eye(3, dtype=L) + k
    return np.eye(3, dtype=L) + k * (np.sin(angle) / angle) + k @ k * (2 * np.sin(angle / 2) ** 2 / angle**2)


def on_nominal(kind, nominal, n, spread, noise):
    """Points on the nominal feature with normal noise across it."""
    p = np.asarray(nominal["point"], float)
    if kind == "sphere":
        v = rng.normal(size=(n, 3))
        v /= np.linalg.norm(v, axis=1)[:, None]
        return p + v * (nominal["radius"] + noise * rng.normal(size=n))[:, None]
    u, v, d = [np.asarray(r, float) for r in associations.frame_about(nominal["direction"])]
    if kind == "plane":
        return p + np.outer(spread * rng.uniform(-0.5, 0.5, n), u) + np.outer(spread * rng.uniform(-0.5, 0.5, n), v) \
            + np.outer(noise * rng.normal(size=n), d)
    turn = 2 * np.pi * (np.arange(n) + rng.uniform(0, 0.5, n)) / n
    rho = nominal["radius"] + noise * rng.normal(size=n)
    return p + np.outer(rho * np.cos(turn), u) + np.outer(rho * np.sin(turn), v) \
        + np.outer(spread * rng.uniform(-0.5, 0.5, n), d)


def somewhere():
    return [round(float(c), 3) for c in rng.uniform(-40, 40, 3)]


def plane(direction):
    return {"type": "plane", "nominal": {"point": somewhere(), "direction": direction, "radius": None, "halfAngle": None}}


def round_feature(kind, direction, radius):
    return {"type": kind,
            "nominal": {"point": somewhere(), "direction": direction, "radius": round(radius, 3), "halfAngle": None}}


X, Y, Z = [1, 0, 0], [0, 1, 0], [0, 0, 1]


def moved(datums):
    """Measured points of each datum under one small random motion."""
    turn = Rotation.from_rotvec(0.01 * rng.normal(size=3)).as_matrix()
    shift = 0.2 * rng.normal(size=3)
    for datum in datums:
        n = int(rng.integers(8, 25))
        points = on_nominal(datum["type"], datum["nominal"], n, rng.uniform(20, 60), log_uniform(1e-4, 1e-2))
        datum["xyz"] = rounded(points @ turn.T + shift)
    return datums


def associated(datum, orientation):
    found = fit({"type": datum["type"], "xyz": datum["xyz"], "orientation": orientation})
    return np.asarray(found["point"], L), np.asarray(found["direction"], L)


def by_datums(kind):
    free = lambda d: {"kind": "free", "start": d}
    fixed = lambda d: {"kind": "fixed", "direction": [float(c) for c in d]}
    about = lambda axis, start: {"kind": "about", "axis": [float(c) for c in axis], "start": [float(c) for c in start]}
    square = lambda v, d: np.asarray(v, L) - unit(d) * (np.asarray(v, L) @ unit(d))
    if kind == "three planes":
        datums = moved([plane(Z), plane(Y), plane(X)])
        q1, z = associated(datums[0], free(Z))
        q2, y = associated(datums[1], about(z, square(Y, z)))
        x = np.cross(y, z)
        q3, _ = associated(datums[2], fixed(x))
        equations = [(z, q1, 0), (y, q2, 1), (x, q3, 2)]
    else:
        bore, face, side = round_feature("cylinder", Z, rng.uniform(10, 80)), plane(Z), plane(Y)
        if kind == "face, bore, side":
            datums = moved([face, bore, side])
            q1, z = associated(face, free(Z))
            q2, _ = associated(bore, fixed(z))
            at_face, at_bore = (q1, 0), (q2, 1)
        else:
            datums = moved([bore, face, side])
            q1, z = associated(bore, free(Z))
            q2, _ = associated(face, fixed(z))
            at_face, at_bore = (q2, 1), (q1, 0)
        _, y = associated(side, about(z, square(Y, z)))
        x = np.cross(y, z)
        equations = [(z, *at_face), (x, *at_bore), (y, *at_bore)]
    rotation = np.column_stack([unit(x), unit(y), unit(z)])
    # In the measured axes, n·(R p + t) = n·q for each direction n that a datum fixes.
    t = np.zeros(3, L)
    for n, q, i in equations:
        t = t + n * (n @ (q - rotation @ np.asarray(datums[i]["nominal"]["point"], L)))
    return {"kind": kind, "datums": datums, "expected": motion(rotation, t)}


def motion(rotation, translation):
    return {"rotation": [[float(c) for c in row] for row in rotation], "translation": [float(c) for c in translation]}


def by_best_fit():
    choices = [plane(Z), plane(Y), plane(X), round_feature("cylinder", Z, rng.uniform(10, 50)),
               round_feature("sphere", None, rng.uniform(5, 20)), plane([0, 0.6, 0.8])]
    datums = moved(choices[:3] + [choices[i] for i in 3 + rng.permutation(3)[: int(rng.integers(0, 3))]])
    sets = [(d["type"], d["nominal"], np.asarray(d["xyz"], L).reshape(-1, 3)) for d in datums]

    def distances(p):
        r, t = rotation_matrix(p[:3]), p[3:] * 10
        out = []
        for kind, nominal, x in sets:
            y = (x - t) @ r - np.asarray(nominal["point"], L)
            if kind == "sphere":
                out.append(np.sqrt((y * y).sum(1)) - L(nominal["radius"]))
                continue
            d = unit(nominal["direction"])
            if kind == "plane":
                out.append(y @ d)
            else:
                out.append(np.sqrt((np.cross(y, d) ** 2).sum(1)) - L(nominal["radius"]))
        return np.concatenate(out)

    p = solve(distances, [1e-3] * 6)
    return {"kind": f"best fit to {len(datums)} features", "datums": datums, "expected": motion(rotation_matrix(p[:3]), p[3:] * 10)}


def main():
    features = []
    for kind, orientations, count in [
        ("point", [None], 10), ("sphere", [None], 25),
        ("plane", ["free", "about", "about-slanted", "fixed"], 28), ("line", ["free", "about", "fixed"], 24),
        ("circle", ["free", "about", "fixed"], 24), ("midplane", ["free", "about", "fixed"], 24),
        ("cylinder", ["free", "free", "about", "about-slanted", "fixed"], 40),
        ("cone", ["free", "free", "about", "about-slanted", "fixed"], 40),
    ]:
        for k in range(count):
            case = feature(kind, orientations[k % len(orientations)])
            features.append({**case, "expected": fit(case)})
        print(kind, len(features))
    poses = [by_datums(kind) for _ in range(12) for kind in ("three planes", "face, bore, side", "bore, face, side")]
    poses += [by_best_fit() for _ in range(36)]
    out = {
        "source": "invented random configurations, fitted by scipy.optimize.least_squares (lm) and polished by Gauss-Newton in "
                  "80-bit extended precision; made by test/validation/scripts/random-configurations.py",
        "versions": {"scipy": scipy.__version__, "numpy": np.__version__},
        "seed": SEED,
        "features": features,
        "poses": poses,
    }
    target = pathlib.Path(__file__).parent.parent / "data" / "random-configurations.json"
    target.write_text(json.dumps(out, separators=(",", ":")).replace('{"type"', '\n{"type"').replace('{"kind":"three', '\n{"kind":"three') + "\n")
    print(len(features), "features,", len(poses), "poses,", target.stat().st_size, "bytes")


if __name__ == "__main__":
    main()
