#!/usr/bin/env python3
"""Checks reduction.py on noisy discs by a second road: closed forms in projections, and scipy's own optimisers.

Planes by singular values; features held square to an axis by projection along it and a fit in two dimensions; cylinder by
spherical angles, cone by its apex, best fit by rotation vector; frames by cross products. Of the reduction
only the reader of files and the nominal blade frame are used. Prints the largest difference of each disc.
"""
import json
import math
import os
import sys

import numpy as np
from scipy.optimize import brentq, least_squares
from scipy.spatial.transform import Rotation

sys.dont_write_bytecode = True
from plan_and_points import blade_frame, read_points  # noqa: E402

HERE = os.path.dirname(os.path.abspath(__file__))
TOL = {'xtol': 1e-15, 'ftol': 1e-15, 'gtol': 1e-15, 'jac': '3-point', 'x_scale': 'jac', 'method': 'trf'}
F = np.float64


def unit(v):
    return v / np.linalg.norm(v)


def plane_svd(x, towards):
    c = x.mean(0)
    n = np.linalg.svd(x - c)[2][2]
    return (n if n @ towards > 0 else -n), c


def across(n):
    e1 = unit(np.cross(n, [0.31, -0.52, 0.77]))
    return e1, np.cross(n, e1)


def line2d(x, axis, towards):
    """Plane parallel to an axis: principal axis in the projection. Normal and a point."""
    e1, e2 = across(axis)
    q = np.column_stack([x @ e1, x @ e2])
    c = q.mean(0)
    m = np.linalg.svd(q - c)[2][1]
    n = m[0] * e1 + m[1] * e2
    return (n if n @ towards > 0 else -n), x.mean(0)


def circle2d(x, axis):
    e1, e2 = across(axis)
    c = x.mean(0)
    a, b = (x - c) @ e1, (x - c) @ e2
    s = np.linalg.lstsq(np.column_stack([2 * a, 2 * b, np.ones(len(a))]), a * a + b * b, rcond=None)[0]
    s = least_squares(lambda q: np.hypot(a - q[0], b - q[1]) - q[2], [s[0], s[1], math.sqrt(s[2] + s[0] ** 2 + s[1] ** 2)], **TOL).x
    return c + s[0] * e1 + s[1] * e2


def angles_about(d):
    """Directions by two spherical angles in a basis where d lies on the equator."""
    e1, e2 = across(d)
    return lambda u, v: math.cos(v) * (math.cos(u) * d + math.sin(u) * e1) + math.sin(v) * e2


def cylinder(x, d):
    w = angles_about(d)
    e1, e2 = across(d)
    c = x.mean(0)

    def res(q):
        n = w(q[0], q[1])
        return np.linalg.norm(np.cross(x - (c + q[2] * e1 + q[3] * e2), n), axis=1) - q[4]
    g = circle2d(x, d) - c
    r0 = np.mean(np.linalg.norm(np.cross(x - c - g, d), axis=1))
    q = least_squares(res, [0, 0, g @ e1, g @ e2, r0], **TOL).x
    return w(q[0], q[1]), c + q[2] * e1 + q[3] * e2


def cone(x, d, half, radius, apex0):
    w = angles_about(d)

    def res(q):
        n, v = w(q[0], q[1]), x - q[2:5]
        h, p = v @ n, np.linalg.norm(np.cross(v, w(q[0], q[1])), axis=1)
        return p * math.cos(q[5]) - h * math.sin(q[5])
    q = least_squares(res, [0, 0, *apex0, half], **TOL).x
    n = w(q[0], q[1])
    return n, q[2:5] + n * radius / math.tan(q[5])


def sphere(x):
    s = np.linalg.lstsq(np.column_stack([2 * x, np.ones(len(x))]), np.sum(x * x, 1), rcond=None)[0][:3]
    c = x.mean(0)
    q = least_squares(lambda q: np.linalg.norm(x - c - q[:3], axis=1) - q[3], [*(s - c), np.mean(np.linalg.norm(x - s, axis=1))], **TOL).x
    return c + q[:3]


def three_planes(B, d0, d1, d2, p0, p1, p2):
    """Motion from three plane-like datums in order; nominal directions d, points p (blade, any angles)."""
    n0, c0 = plane_svd(B[0], d0)
    n1, c1 = held(B[1], n0, d0 @ d1, d1)
    A = np.column_stack([d0, unit(np.cross(d0, d1)), np.cross(d0, unit(np.cross(d0, d1)))])
    M = np.column_stack([n0, unit(np.cross(n0, n1)), np.cross(n0, unit(np.cross(n0, n1)))])
    R = M @ A.T
    n2, c2 = R @ d2, B[2].mean(0)
    N = np.vstack([n0, n1, n2])
    rhs = [n0 @ (c0 - R @ p0), n1 @ (c1 - R @ p1), n2 @ (c2 - R @ p2)]
    return R, np.linalg.solve(N, rhs)


def held(x, n0, cosine, d1):
    """Plane held at the nominal angle (its cosine) to the measured direction n0; d1 is its rough direction."""
    k = n0 * cosine
    e1 = unit(d1 - (d1 @ n0) * n0)
    e2 = np.cross(n0, e1)
    s = math.sqrt(1 - cosine ** 2)
    c = x.mean(0)

    def slope(t):
        n = k + s * (math.cos(t) * e1 + math.sin(t) * e2)
        m = s * (-math.sin(t) * e1 + math.cos(t) * e2)
        return np.sum(((x - c) @ n) * ((x - c) @ m))
    t = brentq(slope, -0.15, 0.15, xtol=1e-16)
    return k + s * (math.cos(t) * e1 + math.sin(t) * e2), c


def hub_frame(name, X, approx):
    """Rotation (columns are the disc axes in the machine) and origin. `approx` supplies rough directions only."""
    z, y = approx[:, 2], approx[:, 1]
    if name in ('02', '17b', '26b'):
        n, p = cylinder(X['HUB-BORE'], z)
        s, q = line2d(X['HUB-SLOT'], n, y)
        f = X['HUB-FACE'].mean(0)
        return frame(n, s), p + n * (n @ (f - p))
    if name == '13':
        ap = approx @ np.array([0, 0, -12 - 70 / math.tan(math.radians(8))])
        n, p = cone(X['HUB-CONE'], z, math.radians(8), 70, ap + X['origin'])
        s, _ = line2d(X['HUB-SLOT'], n, y)
        return frame(n, s), p + 12 * n
    if name == '15':
        m = [sphere(X[f'BALL-{i}']) for i in (1, 2, 3)]
        a = [np.array(v, F) for v in ([100, 0, 10], [-60, 85, 12], [-55, -80, -4])]

        def triad(p):
            e = unit(p[1] - p[0])
            g = unit(np.cross(e, p[2] - p[0]))
            return np.column_stack([e, g, np.cross(e, g)])
        R = triad(m) @ triad(a).T
        return R, m[0] - R @ a[0]
    n, c = plane_svd(X['HUB-FACE'], z)
    if name == '21':
        s, q = line2d(X['HUB-SLOT'], n, y)
        p = circle2d(X['HUB-BORE'], n)
        return frame(n, s), p + n * (n @ (c - p)) + s * (s @ (q - p))
    p = circle2d(X['HUB-BORE'], n)
    p = p + n * (n @ (c - p))
    if name == '11':
        e1, e2 = across(n)
        a, b = X['SLOT-L'], X['SLOT-R']
        qa, qb = np.column_stack([a @ e1, a @ e2]), np.column_stack([b @ e1, b @ e2])
        m = np.linalg.svd(np.vstack([qa - qa.mean(0), qb - qb.mean(0)]))[2][1]
        s = m[0] * e1 + m[1] * e2
        s = s if s @ y > 0 else -s
        off = (s @ a.mean(0) + s @ b.mean(0)) / 2
        t0 = unit(np.cross(s, n))

        def gap(t):
            return s @ (p + 95 * (math.cos(t) * t0 + math.sin(t) * s)) - off
        t = brentq(gap, -0.1, 0.1, xtol=1e-16)
        x = math.cos(t) * t0 + math.sin(t) * s
        return np.column_stack([x, np.cross(n, x), n]), p
    if name == '12':
        h = circle2d(X['HUB-HOLE'], n) - p
        x = unit(h - n * (n @ h))
        return np.column_stack([x, np.cross(n, x), n]), p
    if name == '16b':
        lean = unit(np.array([0, 1, 0.3]))
        s, _ = held(X['HUB-SLOT'], n, lean[2], approx @ lean)
        return frame(n, unit(s - n * (n @ s))), p
    s, _ = line2d(X['HUB-SLOT'], n, y)
    return frame(n, s), p - (15 * n if name == '17d' else 0)


def frame(z, y):
    return np.column_stack([np.cross(y, z), y, z])


def run(name):
    folder = next(f for f in sorted(os.listdir(os.path.join(HERE, 'discs'))) if f.startswith(name + '-'))
    folder = os.path.join(HERE, 'discs', folder)
    plan = json.load(open(os.path.join(folder, 'plan.json'), encoding='utf-8'))
    exp = json.load(open(os.path.join(folder, 'expected.json'), encoding='utf-8'))
    blocks, _, _ = read_points(os.path.join(folder, 'points.csv'), plan)
    approx = np.array(exp['truth']['machine']['rotation'])
    # the file's tip centres without normals: by hand, along the true normals' side
    X, T = {}, {}
    origin0 = np.array(exp['truth']['machine']['origin'])
    for (st, f), b in blocks.items():
        x = np.asarray(b['x'], F)
        temp = plan.get('temperature')
        if temp and not temp['applied']:
            k = 1 + temp['expansion'] * (20 - (float(b['T'].mean()) if b['T'] is not None else temp['part']))
            # equal temperatures everywhere: any fixed centre will do; else the origin of the unscaled frame is needed
            x = origin0 + k * (x - origin0) if name != '17b' else x
            T[(st, f)] = k
        X[(st, f)] = x
    if name == '17d':
        # tip centres: planes back by r along their normal, the bore's axis is not moved; the ball does not shrink
        k = T[(None, 'HUB-FACE')]
        r = 2.0 * k
        hub = {f: X[(None, f)] for f in ('HUB-FACE', 'HUB-BORE', 'HUB-SLOT')}
        R, o = hub_frame('17d', hub, approx)
        o = o - r * R[:, 2]
    else:
        hub = {f: x for (st, f), x in X.items() if st is None}
        hub['origin'] = origin0
        R, o = hub_frame(name, hub, approx)
        r = 0.0
    if name == '17b':
        for key, x in X.items():
            X[key] = o + T[key] * (x - o)
        hub = {f: x for (st, f), x in X.items() if st is None}
        R, o2 = hub_frame(name, hub, approx)
        assert np.max(np.abs(o2 - o)) < 1e-9
    worst = [0.0, 0.0]
    D = plan['blade']['datums']
    nom = [(np.array(d['nominal'].get('direction') or [0, 0, 0], F), np.array(d['nominal']['point'], F)) for d in D]
    for s in exp['stations']:
        k = s['station']
        N = blade_frame(math.radians(s['angle']), plan['blade']['seat'])
        NR, Nt = np.asarray(N['R'], F), np.asarray(N['t'], F)
        B = [((X[(k, d['feature'])] - o) @ R - Nt) @ NR for d in D]
        if plan['blade']['pose'] == 'bestfit':
            def res(q, B=B):
                Rb = Rotation.from_rotvec(q[3:]).as_matrix()
                out = []
                for x, d, (n, p) in zip(B, D, nom):
                    y = (x - q[:3]) @ Rb - p
                    if d['type'] == 'plane':
                        out.append(y @ n)
                    elif d['type'] == 'sphere':
                        out.append(np.sqrt(np.sum(y * y, 1)) - d['nominal']['radius'])
                    else:
                        out.append(np.linalg.norm(np.cross(y, n), axis=1) - d['nominal']['radius'])
                return np.concatenate(out)
            q = least_squares(res, np.zeros(6), **TOL).x
            Et, ER = q[:3], Rotation.from_rotvec(q[3:]).as_matrix()
        elif D[0]['type'] == 'cylinder':
            n0, p0 = cylinder(B[0], np.array([0, 0, 1.0]))
            n2, _ = line2d(B[2], n0, np.array([0, 1.0, 0]))
            ER = frame(n0, n2)
            Et = p0 + n0 * (n0 @ (B[1].mean(0) - p0)) - ER @ nom[1][1]
        else:
            ER, Et = three_planes(B, nom[0][0], nom[1][0], nom[2][0], nom[0][1], nom[1][1], nom[2][1])
            Et = Et - ER @ (np.linalg.solve(np.vstack([n for n, _ in nom]), np.full(3, r)))
        q = [*Et, *Rotation.from_matrix(ER).as_rotvec()]
        for i, key in enumerate(['oscillation', 'lateral', 'upset', 'rotOscillation', 'rotLateral', 'rotUpset']):
            worst[i // 3] = max(worst[i // 3], abs(q[i] - s['error'][key]))
    print(f'{os.path.basename(folder)}: {worst[0]:.1e} mm {worst[1]:.1e} rad')
    return worst


if __name__ == '__main__':
    for name in ['01', '02', '04', '11', '12', '13', '14', '15', '16', '16b', '17', '17b', '17d', '20', '21', '23', '26b']:
        run(name)
