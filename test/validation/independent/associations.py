"""Substitute features by least squares, with the direction free, free about an axis, or held."""
import math

import numpy as np

from dual_least_squares import Dual, dot3, least_squares, seed, vec
from plan_and_points import features_of
from rotations import basis, lunit

L = np.longdouble


class TooFew(Exception):
    pass


# Readings of the method that were not taken; alternatives.py switches them on to measure how much they matter.
ALTERNATIVES = set()


MINIMUM = {'plane': 3, 'line': 2, 'circle': 3, 'sphere': 4, 'cylinder': 5, 'cone': 6, 'point': 1, 'midplane': 3}


def gather(datum, blocks, station):
    """The blocks of a datum, with weights and the signed distance of the tip centre from the surface."""
    out = []
    for f in features_of(datum):
        b = blocks.get((station, f))
        if b is None:
            raise TooFew(f'no points of {f}')
        b = dict(b)
        b['w'] = 1 / b['sigma'] ** 2 if datum.get('weights') == 'sigma' else None
        if b['r'] is not None:
            if datum['type'] in ('plane', 'midplane'):
                # a midplane's two faces are compensated symmetrically: its middle does not move
                s = 0 if datum['type'] == 'midplane' else (1 if datum.get('material', 'negative') == 'negative' else -1)
            elif datum['type'] in ('circle', 'sphere', 'cylinder', 'cone'):
                s = -1 if datum['side'] == 'inside' else 1
            else:
                raise ValueError('tip radius on a ' + datum['type'])
            b['offset'] = s * b['r']
        out.append(b)
    return out


def scale_of(x, c):
    return max(float(np.sqrt(np.max(np.sum((x - c) ** 2, axis=1)))), 1.0)


def associate(datum, parts, direction):
    """Least-squares substitute feature.

    `direction` is a dict: {'free': start} | {'about': axis, 'start': d} | {'fixed': d} | {} for sphere, point.
    Returns direction, a point of the feature and the residuals.
    """
    kind, nom = datum['type'], datum['nominal']
    for b in parts:
        if len(b['x']) < (MINIMUM[kind] if kind != 'midplane' else 1):
            raise TooFew(f"{datum.get('feature')}: {len(b['x'])} points")
    x = parts[0]['x']
    off = parts[0]['offset'] if parts[0]['offset'] is not None else np.zeros(len(x), dtype=L)
    w = parts[0]['w']
    c0 = x.mean(axis=0)
    size = scale_of(x, c0)
    X = vec(x - c0)
    start = direction.get('free', direction.get('start', direction.get('fixed')))

    # the direction as a function of the leading parameters
    if 'free' in direction:
        n0 = lunit(start)
        e1, e2 = basis(n0)
        nd = 2

        def dirn(q):
            s = q[0] * q[0] + q[1] * q[1]
            return [((1 - s) * n0[i] + 2 * q[0] * e1[i] + 2 * q[1] * e2[i]) / (1 + s) for i in range(3)]
        if kind in ('plane', 'midplane', 'line'):
            centred = np.vstack([b['x'] - b['x'].mean(axis=0) for b in parts]).astype(float)
            sv = np.linalg.svd(centred)
            if sv[1][1] < 1e-6 * sv[1][0] and kind != 'line' or sv[1][0] < 1e-9:
                raise TooFew('points on a line')
            guess = sv[2][0] if kind == 'line' else sv[2][2]
            guess = guess if guess @ np.asarray(n0, dtype=float) > 0 else -guess
            # stereographic coordinates of the guess
            d = 1 + float(guess @ np.asarray(n0, dtype=float))
            q0 = [float(guess @ np.asarray(e1, dtype=float)) / d, float(guess @ np.asarray(e2, dtype=float)) / d]
        else:
            q0 = [0.0, 0.0]
    elif 'about' in direction:
        ax = lunit(direction['about'])
        d0 = lunit(start)
        para = (ax @ d0) * ax
        perp = d0 - para
        side = np.cross(ax, perp)
        nd = 1

        def dirn(q):
            c, s = q[0].cos(), q[0].sin()
            return [para[i] + c * perp[i] + s * side[i] for i in range(3)]
        q0 = [0.0]
        if kind in ('plane', 'midplane'):
            # best of a coarse turn, so a start that is some degrees off cannot matter
            best = None
            for t in np.linspace(-0.6, 0.6, 121):
                n = np.asarray(para + math.cos(t) * perp + math.sin(t) * side, dtype=float)
                cost = sum(float(np.var(np.asarray(b['x'] - c0, dtype=float) @ n)) * len(b['x']) for b in parts)
                if best is None or cost < best[0]:
                    best = (cost, t)
            q0 = [best[1]]
    elif 'fixed' in direction:
        f = lunit(start)
        nd = 0

        def dirn(q):
            return [f[0], f[1], f[2]]
        q0 = []
    else:
        nd, q0, dirn = 0, [], None

    ds = [1.0] * nd
    n_start = None if dirn is None else np.array([L(c.v if isinstance(c, Dual) else c) for c in dirn(seed(q0) if q0 else [])], dtype=L)

    def numbers(d):
        return np.array([L(c.v if isinstance(c, Dual) else c) for c in d], dtype=L)

    if kind == 'plane':
        def res(q):
            return [dot3(X, dirn(q)) - q[nd] - off]
        q = least_squares(res, q0 + [0.0], ds + [size], w)
        n = numbers(dirn(seed(q)))
        p = c0 + q[nd] * n
        d = (x - p) @ n - off
    elif kind == 'midplane':
        other = parts[1]['x']
        Y = vec(other - c0)
        # two faces with one normal: stack as one residual vector with two offsets
        def res(q):
            n = dirn(q)
            a, b = dot3(X, n) - q[nd], dot3(Y, n) - q[nd + 1]
            return [Dual(np.concatenate([a.v, b.v]), np.concatenate([a.g, b.g]))]
        w2 = None if w is None else np.concatenate([w, parts[1]['w']])
        h = float((other.mean(axis=0) - c0) @ n_start)
        q = least_squares(res, q0 + [0.0, h], ds + [max(size, abs(h))] * 2, w2)
        n = numbers(dirn(seed(q)))
        p = (c0 + other.mean(axis=0)) / 2
        p = p + ((q[nd] + q[nd + 1]) / 2 - (p - c0) @ n) * n
        d = np.concatenate([(x - c0) @ n - q[nd], (other - c0) @ n - q[nd + 1]])
    elif kind in ('line', 'cylinder', 'cone'):
        f1, f2 = basis(n_start)

        def foot(q):
            return [q[nd] * f1[i] + q[nd + 1] * f2[i] for i in range(3)]

        def split(q):
            n, p = dirn(q), foot(q)
            v = [X[i] - p[i] for i in range(3)]
            h = dot3(v, n)
            return [v[i] - h * n[i] for i in range(3)], h
        if kind == 'line':
            def res(q):
                return split(q)[0]
            q = least_squares(res, q0 + [0.0, 0.0], ds + [size] * 2, w)
            n = numbers(dirn(seed(q)))
            p = c0 + q[nd] * f1 + q[nd + 1] * f2
            v = x - p
            d = np.sqrt(np.sum((v - np.outer(v @ n, n)) ** 2, axis=1))
        else:
            # algebraic circle in the projection along the start direction
            A = np.column_stack([2 * np.asarray((x - c0) @ f1, dtype=float), 2 * np.asarray((x - c0) @ f2, dtype=float), np.ones(len(x))])
            rhs = np.asarray(((x - c0) @ f1) ** 2 + ((x - c0) @ f2) ** 2, dtype=float)
            if kind == 'cone':
                A = np.column_stack([A, np.asarray((x - c0) @ n_start, dtype=float)])
            s = np.linalg.lstsq(A, rhs, rcond=None)[0]
            r0 = math.sqrt(max(s[2] + s[0] ** 2 + s[1] ** 2, 1e-12))
            if kind == 'cylinder':
                def res(q):
                    v, _ = split(q)
                    return [dot3(v, v).sqrt() - q[nd + 2] - off]
                q = least_squares(res, q0 + [s[0], s[1], r0], ds + [size] * 3, w)
                n = numbers(dirn(seed(q)))
                p = c0 + q[nd] * f1 + q[nd + 1] * f2
                v = x - p
                d = np.sqrt(np.sum((v - np.outer(v @ n, n)) ** 2, axis=1)) - q[nd + 2] - off
            else:
                beta0 = math.radians(nom['halfAngle'])

                held = 'cone-half-angle-held' in ALTERNATIVES

                def res(q):
                    v, h = split(q)
                    cb, sb = (q[nd + 3].cos(), q[nd + 3].sin()) if not held else (np.cos(L(beta0)), np.sin(L(beta0)))
                    return [(dot3(v, v).sqrt() - q[nd + 2]) * cb - h * sb - off]
                free = [] if held else [beta0]
                q = least_squares(res, q0 + [s[0], s[1], r0] + free, ds + [size] * 3 + [1.0] * len(free), w)
                q = np.append(q, [L(beta0)] if held else [])
                n = numbers(dirn(seed(q)))
                p = c0 + q[nd] * f1 + q[nd + 1] * f2
                v = x - p
                h = v @ n
                d = (np.sqrt(np.sum((v - np.outer(h, n)) ** 2, axis=1)) - q[nd + 2]) * np.cos(q[nd + 3]) - h * np.sin(q[nd + 3]) - off
                p = p + n * (L(nom['radius']) - q[nd + 2]) / np.tan(q[nd + 3])
    elif kind == 'sphere':
        A = np.column_stack([2 * np.asarray(x - c0, dtype=float), np.ones(len(x))])
        s = np.linalg.lstsq(A, np.asarray(np.sum((x - c0) ** 2, axis=1), dtype=float), rcond=None)[0]
        r0 = math.sqrt(s[3] + s[:3] @ s[:3])

        def res(q):
            v = [X[i] - q[i] for i in range(3)]
            return [dot3(v, v).sqrt() - q[3] - off]
        q = least_squares(res, [s[0], s[1], s[2], r0], [size] * 4, w)
        n, p = None, c0 + q[:3]
        d = np.sqrt(np.sum((x - p) ** 2, axis=1)) - q[3] - off
    elif kind == 'circle':
        if 'free' in direction:
            n = np.linalg.svd(np.asarray(x - c0, dtype=float))[2][2]
            n = lunit(n if n @ np.asarray(start, dtype=float) > 0 else -n)
        else:
            n = lunit(start)
        e1, e2 = basis(n)
        a, b = (x - c0) @ e1, (x - c0) @ e2
        A = np.column_stack([2 * np.asarray(a, dtype=float), 2 * np.asarray(b, dtype=float), np.ones(len(x))])
        s = np.linalg.lstsq(A, np.asarray(a * a + b * b, dtype=float), rcond=None)[0]

        def res(q):
            u, v = a - q[0], b - q[1]
            return [(u * u + v * v).sqrt() - q[2] - off]
        q = least_squares(res, [s[0], s[1], math.sqrt(s[2] + s[0] ** 2 + s[1] ** 2)], [size] * 3, w)
        p = c0 + q[0] * e1 + q[1] * e2
        d = np.sqrt((a - q[0]) ** 2 + (b - q[1]) ** 2) - q[2] - off
    elif kind == 'point':
        ww = np.ones(len(x), dtype=L) if w is None else w
        n, p = None, (x * ww[:, None]).sum(axis=0) / ww.sum()
        d = np.sqrt(np.sum((x - p) ** 2, axis=1))
    else:
        raise ValueError(kind)
    return {'direction': n, 'point': p, 'residuals': d, 'rms': float(np.sqrt(np.mean(d * d))), 'n': len(d)}
