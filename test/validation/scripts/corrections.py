"""Best settings by SciPy, for test/validation/corrections-scipy.test.ts.

    python3 test/validation/scripts/corrections.py > test/validation/data/corrections-scipy.json

Another way than the product's: the exact motions (scipy.spatial.transform.Rotation), not linearised, minimised by SLSQP with the
largest share of the tolerance as an extra unknown, from several starts, within the limits. E_new = N^-1 H N C E.
"""

import json

import numpy as np
from scipy.optimize import minimize
from scipy.spatial.transform import Rotation

random = np.random.default_rng(71993)
BLADE_REACH = 160.0
DISC_REACH = 400.0


def motion(six):
    m = np.eye(4)
    m[:3, :3] = Rotation.from_rotvec(six[3:]).as_matrix()
    m[:3, 3] = six[:3]
    return m


def frame(angle, seat):
    radial = np.array([np.cos(angle), np.sin(angle), 0.0])
    axial = np.array([0.0, 0.0, 1.0])
    tangential = np.cross(axial, radial)
    upset = np.cos(seat["heightAngle"]) * radial + np.sin(seat["heightAngle"]) * axial
    raised = -np.sin(seat["heightAngle"]) * radial + np.cos(seat["heightAngle"]) * axial
    oscillation = np.cos(seat["staggerAngle"]) * raised + np.sin(seat["staggerAngle"]) * tangential
    m = np.eye(4)
    m[:3, :3] = np.column_stack([oscillation, np.cross(upset, oscillation), upset])
    m[:3, 3] = seat["radius"] * radial + seat["axial"] * axial
    return m


def motions(six):
    m = np.tile(np.eye(4), (len(six), 1, 1))
    m[:, :3, :3] = Rotation.from_rotvec(six[:, 3:]).as_matrix()
    m[:, :3, 3] = six[:, :3]
    return m


def prepared(case):
    frames = np.array([frame(b["angle"], case["seat"]) for b in case["blades"]])
    return frames, np.linalg.inv(frames), motions(np.array([b["error"] for b in case["blades"]]))


def shares(case, x, parts=None):
    frames, back, errors = parts or prepared(case)
    tool, hub = np.zeros(6), np.zeros(6)
    for value, u in zip(x, case["unknowns"]):
        (tool if u["kind"] == "tool" else hub)[u["axis"]] += value
    e = back @ motion(hub) @ frames @ motion(tool) @ errors
    result = []
    for point in case["points"]:
        p = np.array(point["at"])
        delta = e[:, :3, :3] @ p + e[:, :3, 3] - p
        if point["zone"] == "cylindrical":
            size = np.hypot(delta[:, 0], delta[:, 1])
        elif point["zone"] == "spherical":
            size = np.linalg.norm(delta, axis=1)
        else:
            size = np.abs(delta @ np.array(point["direction"]))
        result.append(2 * size / point["tolerance"])
    return np.concatenate(result)


def solve(case):
    scale = np.array([0.02 if u["axis"] < 3 else 0.02 / (BLADE_REACH if u["kind"] == "tool" else DISC_REACH) for u in case["unknowns"]])
    limits = [(None, None) if u["limit"] is None else (-u["limit"] / s, u["limit"] / s) for u, s in zip(case["unknowns"], scale)]
    best = None
    parts = prepared(case)

    def room(z):
        return z[-1] - shares(case, z[:-1] * scale, parts) ** 2

    # Squares of shares are nearly quadratic: central differences with wide steps lose nothing.
    def slopes(z):
        steps = 1e-3 * np.eye(len(z))
        return np.column_stack([(room(z + s) - room(z - s)) / 2e-3 for s in steps])

    for start in range(4):
        q = random.normal(size=len(scale)) * (0 if start == 0 else 0.5)
        q = np.clip(q, [-np.inf if a is None else a for a, _ in limits], [np.inf if b is None else b for _, b in limits])
        z = np.append(q, shares(case, q * scale, parts).max() ** 2)
        # Again from where it stopped, until it gets no further.
        for _ in range(15):
            before = z[-1]
            found = minimize(
                lambda z: z[-1],
                z,
                jac=lambda z: np.append(np.zeros(len(scale)), 1.0),
                constraints={"type": "ineq", "fun": room, "jac": slopes},
                bounds=limits + [(0, None)],
                method="SLSQP",
                options={"ftol": 1e-16, "maxiter": 400},
            )
            z = found.x
            if abs(z[-1] - before) < 1e-12:
                break
        value = shares(case, z[:-1] * scale, parts).max()
        if best is None or value < best[0]:
            best = (value, z[:-1] * scale)
    return best


def tool(axes, limits=None):
    return [{"kind": "tool", "axis": a, "limit": None if limits is None else limits[a]} for a in axes]


def hub(axes, limits=None):
    return [{"kind": "hub", "axis": a, "limit": None if limits is None else limits[a]} for a in axes]


def disc(name, stations, size, points, unknowns, spread=0.02):
    seat = {"radius": 240.0, "axial": 15.0, "heightAngle": 0.11, "staggerAngle": 0.62}
    common = random.normal(size=6) * np.array([size] * 3 + [size / 100] * 3)
    blades = []
    for k in range(stations):
        scatter = random.normal(size=6) * np.array([size] * 3 + [size / 100] * 3) * 0.7
        angle = 2 * np.pi * k / stations + random.uniform(-spread, spread)
        blades.append({"angle": angle, "error": list(common + scatter)})
    case = {"name": name, "seat": seat, "points": points, "blades": blades, "unknowns": unknowns}
    value, x = solve(case)
    case["expected"] = {"before": shares(case, np.zeros(len(unknowns))).max(), "value": value, "settings": list(x)}
    return case


def point(at, zone="cylindrical", tolerance=0.05, direction=None):
    return {"at": at, "zone": zone, "tolerance": tolerance, "direction": direction}


ROOT_TIP = [point([0, 0, 0]), point([0, 0, 160])]
BALLS = [point([0, 0, 0], "spherical"), point([20, 0, 80], "spherical"), point([0, 5, 160], "spherical")]
MIXED = [
    point([0, 0, 0], tolerance=0.04),
    point([25, 0, 90], "planar", 0.03, [0, 1, 0]),
    point([0, 0, 160], "spherical", 0.08),
]
SIX = range(6)
LIMITS = [0.004, 0.004, 0.004, 2e-5, 2e-5, 2e-5]

CASES = [
    disc("tool, two freedoms, root and tip", 18, 0.01, ROOT_TIP, tool([0, 1])),
    disc("tool, six freedoms, spherical zones", 18, 0.01, BALLS, tool(SIX)),
    disc("tool, six freedoms, mixed zones and tolerances", 20, 0.008, MIXED, tool(SIX)),
    disc("tool, six freedoms, within limits", 16, 0.01, BALLS, tool(SIX, LIMITS)),
    disc("hub, six freedoms, spherical zones", 18, 0.01, BALLS, hub(SIX)),
    disc("hub, centre alone", 20, 0.01, ROOT_TIP, hub([0, 1])),
    disc("hub, six freedoms, within limits, mixed zones", 12, 0.012, MIXED, hub(SIX, LIMITS)),
    disc("tool and hub together, spherical zones", 12, 0.01, BALLS, tool(SIX) + hub([0, 1, 3, 4])),
    disc("tool and hub within limits, mixed zones", 14, 0.01, MIXED, tool(SIX, LIMITS) + hub([0, 1, 3, 4], LIMITS)),
    disc("three stations", 3, 0.02, BALLS, tool(SIX)),
]

print(json.dumps({"source": "SciPy, scripts/corrections.py", "cases": CASES}, indent=1))
