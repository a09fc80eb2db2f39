#!/usr/bin/env python3
"""Independent reduction of a bladed disc: plan + points in, six errors, position and verdicts out.

Written from the published file contract and the published method only, without sight of the product's
mathematics, as something to compare the product with. It therefore takes other roads on purpose:

* every association is one generic least-squares problem whose derivatives come from forward-mode
  automatic differentiation in extended precision (80-bit), so no Jacobian is derived by hand;
* directions are stereographic coordinates on the sphere about a start direction; a direction that earlier
  datums hold is written as a function of the turn of the *frame* that they still leave free;
* the datum system is a sequence of group reductions (which rotations and translations are still free, about
  which pivot), not a linearised freedom count;
* the residuals are refined in extended precision, so the results are good to well below 1e-10 mm.

Usage:  python3 reduction.py PLAN.json POINTS.csv          prints the expected result as JSON
"""
import csv
import io
import json
import math
import re
import sys

import numpy as np
import scipy
import scipy.linalg
from scipy.spatial.transform import Rotation

L = np.longdouble


# ---------------------------------------------------------------- forward-mode differentiation
class Dual:
    """Value with its gradient; `v` has any shape S, `g` has shape S + (parameters,)."""

    __array_priority__ = 100

    def __init__(self, v, g):
        self.v, self.g = v, g

    @staticmethod
    def of(x, like):
        if isinstance(x, Dual):
            return x
        x = np.asarray(x, dtype=L)
        return Dual(x, np.zeros(x.shape + (like.g.shape[-1],), dtype=L))

    def __add__(self, o):
        o = Dual.of(o, self)
        return Dual(self.v + o.v, self.g + o.g)

    __radd__ = __add__

    def __neg__(self):
        return Dual(-self.v, -self.g)

    def __sub__(self, o):
        return self + (-Dual.of(o, self))

    def __rsub__(self, o):
        return Dual.of(o, self) - self

    def __mul__(self, o):
        o = Dual.of(o, self)
        return Dual(self.v * o.v, self.g * o.v[..., None] + o.g * self.v[..., None])

    __rmul__ = __mul__

    def __truediv__(self, o):
        o = Dual.of(o, self)
        q = self.v / o.v
        return Dual(q, (self.g - q[..., None] * o.g) / o.v[..., None])

    def __rtruediv__(self, o):
        return Dual.of(o, self) / self

    def sqrt(self):
        s = np.sqrt(self.v)
        return Dual(s, self.g / (2 * s)[..., None])

    def cos(self):
        return Dual(np.cos(self.v), -np.sin(self.v)[..., None] * self.g)

    def sin(self):
        return Dual(np.sin(self.v), np.cos(self.v)[..., None] * self.g)


def seed(x):
    x = np.asarray(x, dtype=L)
    eye = np.eye(len(x), dtype=L)
    return [Dual(x[i], eye[i]) for i in range(len(x))]


def vec(point):
    """Columns of an n×3 array (or the three numbers of one vector) as extended-precision components."""
    a = np.asarray(point, dtype=L)
    return [a[..., 0], a[..., 1], a[..., 2]]


def dot3(a, b):
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross3(a, b):
    return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]


def axpy(p, s, n):
    return [p[i] + s * n[i] for i in range(3)]


def flat(items):
    """Stack residual components (each shape (n,) duals) into one residual vector and Jacobian."""
    n = max(np.size(i.v) for i in items)
    v = np.concatenate([np.broadcast_to(i.v, (n,)) for i in items])
    g = np.concatenate([np.broadcast_to(i.g, (n, i.g.shape[-1])) for i in items])
    return v, g


class NotConverged(Exception):
    pass


def least_squares(residuals, x0, scale, weights=None):
    """Levenberg-Marquardt to the gradient's rounding level; `scale` are natural sizes of the parameters."""
    x = np.asarray(x0, dtype=L)
    scale = np.asarray(scale, dtype=L)
    root = None

    def evaluate(x):
        nonlocal root
        v, g = flat(residuals(seed(x)))
        if weights is not None:
            if root is None:
                w = np.sqrt(np.asarray(weights, dtype=L))
                root = np.tile(w, len(v) // len(w))
            v, g = v * root, g * root[:, None]
        return v, g * scale

    v, g = evaluate(x)
    cost, damping = v @ v, 0.0
    for _ in range(300):
        J = np.asarray(g, dtype=float)
        U, s, Vt = np.linalg.svd(J, full_matrices=False)
        if s[-1] <= 1e-11 * s[0]:
            raise NotConverged(f'rank deficient {s}')
        f = s / (s * s + damping * s[0] ** 2)
        # the projection of the residual is taken in extended precision: the fixed point is JᵀWr = 0 itself
        grad = g.T @ v
        if damping == 0:
            step = -(Vt.T @ ((Vt @ np.asarray(grad, dtype=float)) / (s * s)))
        else:
            step = -(Vt.T @ (f * (U.T @ np.asarray(v, dtype=float))))
        xn = x + np.asarray(step, dtype=L) * scale
        vn, gn = evaluate(xn)
        cn = vn @ vn
        small = np.max(np.abs(step)) < 1e-16
        if cn <= cost or small or np.max(np.abs(step)) < 1e-12:
            x, v, g, cost = xn, vn, gn, cn
            damping = 0.0 if damping < 1e-12 else damping / 10
            if small:
                break
        else:
            damping = max(damping * 10, 1e-8)
            if damping > 1e8:
                break
    v, g = evaluate(x)
    grad = np.asarray(g.T @ v, dtype=float)
    H = np.asarray(g, dtype=float).T @ np.asarray(g, dtype=float)
    left = np.linalg.solve(H, grad)
    if np.max(np.abs(left)) > 1e-14:
        raise NotConverged(f'step left {left}')
    return x


# ---------------------------------------------------------------- vectors and rotations
def unit(a):
    a = np.asarray(a, dtype=float)
    return a / np.linalg.norm(a)


def lunit(a):
    a = np.asarray(a, dtype=L)
    return a / np.sqrt(a @ a)


def basis(n):
    """Two unit vectors square to n and to each other."""
    n = lunit(n)
    k = int(np.argmin(np.abs(n)))
    e = np.zeros(3, dtype=L)
    e[k] = 1
    e1 = lunit(np.cross(n, e))
    return e1, np.cross(n, e1)


def turn(axis, angle):
    """Rotation matrix about a unit axis (Rodrigues), extended precision."""
    a = lunit(axis)
    K = np.array([[0, -a[2], a[1]], [a[2], 0, -a[0]], [-a[1], a[0], 0]], dtype=L)
    return np.eye(3, dtype=L) + np.sin(L(angle)) * K + (1 - np.cos(L(angle))) * (K @ K)


def shortest(a, b):
    """Rotation matrix that carries unit a to unit b by the shortest way."""
    a, b = lunit(a), lunit(b)
    c, s = np.cross(a, b), a @ b
    n = np.sqrt(c @ c)
    if n < 1e-18:
        if s > 0:
            return np.eye(3, dtype=L)
        return turn(basis(a)[0], np.arctan2(L(0), L(-1)))
    return turn(c / n, np.arctan2(n, s))


def orthonormal(R):
    """One polar step, extended precision: R is already orthonormal to rounding."""
    R = np.asarray(R, dtype=L)
    for _ in range(2):
        R = R @ (np.eye(3, dtype=L) * L(1.5) - (R.T @ R) / 2)
    return R


# ---------------------------------------------------------------- plan
def station_angles(disc):
    n = disc['stations']
    if disc.get('angles') is not None:
        return {k + 1: math.radians(a) for k, a in enumerate(disc['angles'])}
    s = 1 if disc['sense'] == 'counterclockwise' else -1
    first = disc.get('firstAngle', 0)
    return {k: math.radians(first + s * (k - 1) * 360.0 / n) for k in range(1, n + 1)}


def blade_frame(theta, seat):
    phi, xi = L(math.radians(seat['heightAngle'])), L(math.radians(seat['staggerAngle']))
    t = L(theta)
    er = np.array([np.cos(t), np.sin(t), 0], dtype=L)
    et = np.array([-np.sin(t), np.cos(t), 0], dtype=L)
    ez = np.array([0, 0, 1], dtype=L)
    u = np.cos(phi) * er + np.sin(phi) * ez
    a = -np.sin(phi) * er + np.cos(phi) * ez
    o = np.cos(xi) * a + np.sin(xi) * et
    lat = np.cross(u, o)
    return {
        'R': np.column_stack([o, lat, u]),
        't': L(seat['radius']) * er + L(seat['axial']) * ez,
        'er': er, 'et': et, 'ez': ez, 'a': a, 'u': u,
    }


def features_of(d):
    return list(d['features']) if d['type'] == 'midplane' else [d['feature']]


# ---------------------------------------------------------------- points
UNIT = {'mm': 1.0, 'inch': 25.4, 'µm': 1e-3, 'um': 1e-3}
ROLES = ['station', 'feature', 'x', 'y', 'z', 'i', 'j', 'k', 'r', 'sigma', 'seq', 'time', 'temperature', 'run', 'direction']


def decode(raw):
    if raw[:2] in (b'\xff\xfe', b'\xfe\xff'):
        return raw.decode('utf-16')
    try:
        return raw.decode('utf-8-sig')
    except UnicodeDecodeError:
        return raw.decode('latin-1')


def read_points(path, plan):
    text = decode(open(path, 'rb').read())
    imp = plan.get('import') or {}
    first = text.splitlines()[0]
    delimiter = imp.get('delimiter') or max([',', ';', '\t'], key=first.count)
    decimal = imp.get('decimal') or ('.' if delimiter == ',' else (',' if re.search(r'\d,\d', text) else '.'))
    unit_name = imp.get('unit', 'mm')
    rows = [(n + 1, r) for n, r in enumerate(csv.reader(io.StringIO(text), delimiter=delimiter)) if r and any(c.strip() for c in r)]
    columns = imp.get('columns') or {}
    head = [c.strip() for c in rows[0][1]]

    def number(s):
        return float(s.strip().replace(decimal, '.'))

    try:
        number(head[2])
        headless = not columns
    except ValueError:
        headless = False
    if headless:
        where = {r: i for i, r in enumerate(ROLES[:5])}
        body = rows
    else:
        where = {}
        for role in ROLES + ['label']:
            name = columns.get(role, role if role != 'label' and not (columns.get('label') and role in ('station', 'feature')) else None)
            if name in head:
                where[role] = head.index(name)
        body = rows[1:]
    stations = plan['disc']['stations']
    hub_names = {f for d in plan['disc']['datums'] for f in features_of(d)}
    blade_names = {f for d in plan['blade']['datums'] for f in features_of(d)}
    pattern = re.compile('^(?:' + imp['label'].replace('?<', '?P<') + ')$') if 'label' in imp and 'label' in where else None
    mm = UNIT[unit_name]
    blocks, excluded = {}, []
    for line, row in body:
        def cell(role, row=row):
            i = where.get(role)
            return None if i is None or i >= len(row) or row[i].strip() == '' else row[i].strip()

        if pattern:
            label = cell('label')
            m = pattern.match(label)
            st, feature = (int(m['station']), m['feature']) if m else (None, label)
        else:
            st, feature = cell('station'), cell('feature')
            st = None if st is None else int(st)
        known = feature in hub_names if st is None else (feature in blade_names and 1 <= st <= stations)
        if not known:
            excluded.append(line)
            continue
        p = {'x': [number(cell(c)) * mm for c in 'xyz']}
        p['n'] = [number(cell(c)) for c in 'ijk'] if cell('i') is not None else None
        p['r'] = number(cell('r')) * mm if cell('r') is not None else None
        p['sigma'] = number(cell('sigma')) * mm if cell('sigma') is not None else None
        p['T'] = number(cell('temperature')) if cell('temperature') is not None else None
        blocks.setdefault((st, feature), []).append(p)
    out = {}
    for key, pts in blocks.items():
        def col(name, pts=pts):
            return None if any(p[name] is None for p in pts) else np.array([p[name] for p in pts], dtype=L)
        b = {'x': col('x'), 'n': col('n'), 'r': col('r'), 'sigma': col('sigma'), 'T': col('T')}
        b['offset'] = None
        if b['r'] is not None and b['n'] is not None:
            b['x'] = b['x'] - b['r'][:, None] * b['n']
            b['r'] = None
        out[key] = b
    return out, excluded, len(body)


# ---------------------------------------------------------------- associations
class TooFew(Exception):
    pass


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
        e1, e2 = basis(n_start)

        def foot(q):
            return [q[nd] * e1[i] + q[nd + 1] * e2[i] for i in range(3)]

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
            p = c0 + q[nd] * e1 + q[nd + 1] * e2
            v = x - p
            d = np.sqrt(np.sum((v - np.outer(v @ n, n)) ** 2, axis=1))
        else:
            # algebraic circle in the projection along the start direction
            A = np.column_stack([2 * np.asarray((x - c0) @ e1, dtype=float), 2 * np.asarray((x - c0) @ e2, dtype=float), np.ones(len(x))])
            rhs = np.asarray(((x - c0) @ e1) ** 2 + ((x - c0) @ e2) ** 2, dtype=float)
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
                p = c0 + q[nd] * e1 + q[nd + 1] * e2
                v = x - p
                d = np.sqrt(np.sum((v - np.outer(v @ n, n)) ** 2, axis=1)) - q[nd + 2] - off
            else:
                beta0 = math.radians(nom['halfAngle'])

                def res(q):
                    v, h = split(q)
                    cb, sb = q[nd + 3].cos(), q[nd + 3].sin()
                    return [(dot3(v, v).sqrt() - q[nd + 2]) * cb - h * sb - off]
                q = least_squares(res, q0 + [s[0], s[1], r0, beta0], ds + [size] * 3 + [1.0], w)
                n = numbers(dirn(seed(q)))
                p = c0 + q[nd] * e1 + q[nd + 1] * e2
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


# ---------------------------------------------------------------- datum system by group reduction
class DatumFault(Exception):
    pass


DEFAULT_CLOCKING = {'plane': 'direction', 'line': 'direction'}


def datum_frame(datums, blocks, station, rough):
    """Rigid motion (R, t), measured = R·nominal + t, that carries the nominal datums onto the measured ones.

    State: `turns` is 'all' (any rotation), a unit axis (rotation about it), or None; `slides` spans the free
    translations; `pivot` is the point about which the free rotations turn once it is determined.
    """
    R, t = (np.asarray(rough[0], dtype=L), np.asarray(rough[1], dtype=L))
    turns, slides, pivot = 'all', np.eye(3, dtype=L), None
    report = []

    def rotate(Q, about):
        nonlocal R, t
        c = about if about is not None else np.zeros(3, dtype=L)
        R, t = orthonormal(Q @ R), Q @ (t - c) + c

    for datum in datums:
        nom = datum['nominal']
        d = None if nom.get('direction') is None else lunit(nom['direction'])
        if datum['type'] in ('sphere', 'point'):
            d = None
        p = np.asarray(nom['point'], dtype=L)
        clock = datum.get('clocking') or DEFAULT_CLOCKING.get(datum['type'], 'location')
        if d is None:
            spec = {}
        elif isinstance(turns, str):
            spec = {'free': R @ d}
        elif turns is None or np.sqrt(np.sum(np.cross(turns, R @ d) ** 2)) < 1e-9:
            spec = {'fixed': R @ d}
        else:
            spec = {'about': turns, 'start': R @ d}
        parts = gather(datum, blocks, station)
        fit = associate(datum, parts, spec)
        report.append(fit)
        n, m = fit['direction'], fit['point']
        added = False

        # 1. directions
        if d is not None and datum['type'] != 'circle':
            if isinstance(turns, str):
                rotate(shortest(R @ d, n), pivot)
                turns, added = n, True
            elif turns is not None and 'about' in spec and (clock == 'direction' or (pivot is None and datum['type'] != 'midplane')):
                before = R @ d
                a = lunit(turns)
                pa, pb = before - (a @ before) * a, n - (a @ n) * a
                rotate(turn(a, np.arctan2(a @ np.cross(pa, pb), pa @ pb)), pivot)
                turns, added = None, True
        elif datum['type'] == 'circle' and isinstance(turns, str):
            rotate(shortest(R @ d, n), pivot)
            turns, added = n, True

        # 2. translations that the feature can see and that are still free
        if datum['type'] in ('plane', 'midplane'):
            P = np.outer(n, n)
        elif datum['type'] in ('line', 'cylinder', 'circle'):
            P = np.eye(3, dtype=L) - np.outer(n, n)
        else:
            P = np.eye(3, dtype=L)
        location_clock = turns is not None and not isinstance(turns, str) and pivot is not None
        if slides.shape[1] > 0:
            A = np.asarray(P @ slides, dtype=float)
            U, s, Vt = np.linalg.svd(A)
            rank = int(np.sum(s > 1e-9)) if len(s) else 0
            if rank:
                e = P @ (m - (R @ p + t))
                tau = Vt[:rank].T @ ((U[:, :rank].T @ np.asarray(e, dtype=float)) / s[:rank])
                t = t + slides @ tau
                # once more for the last digits
                e = P @ (m - (R @ p + t))
                tau = Vt[:rank].T @ ((U[:, :rank].T @ np.asarray(e, dtype=float)) / s[:rank])
                t = t + slides @ tau
                slides = slides @ np.asarray(Vt[rank:].T, dtype=L)
                added = True
                # the pivot is known as soon as no free translation moves it off its axis
                if turns is not None and pivot is None:
                    if isinstance(turns, str):
                        if slides.shape[1] == 0:
                            pivot = m
                    else:
                        across = slides - np.outer(turns, turns @ slides)
                        if slides.shape[1] == 0 or np.max(np.abs(across)) < 1e-9:
                            pivot = m

        # 3. a rotation that is still free, set by the place of the feature about the pivot
        if turns is not None and pivot is not None and (isinstance(turns, str) or location_clock or datum['type'] in ('sphere', 'point')):
            arm = R @ p + t - pivot
            if isinstance(turns, str):
                if datum['type'] in ('sphere', 'point') and np.sqrt(arm @ arm) > 1e-6:
                    rotate(shortest(lunit(arm), lunit(m - pivot)), pivot)
                    turns, added = lunit(m - pivot), True
            else:
                a = lunit(turns)
                flat_arm = arm - (a @ arm) * a
                if clock == 'location' and np.sqrt(flat_arm @ flat_arm) > 1e-6:
                    if datum['type'] in ('plane', 'midplane'):
                        # the carried nominal point must lie on the measured plane: n·(Q(ψ)·arm) = n·(m − pivot)
                        A0, B0 = n @ flat_arm, n @ np.cross(a, flat_arm)
                        C0 = n @ (m - pivot) - (a @ arm) * (n @ a)
                        base, amp = np.arctan2(B0, A0), np.hypot(A0, B0)
                        roots = [base + k * np.arccos(C0 / amp) for k in (1, -1)]
                        pi = 4 * np.arctan(L(1))
                        roots = [r - 2 * pi * np.round(r / (2 * pi)) for r in roots]
                        angle = min(roots, key=abs)
                        rotate(turn(a, angle), pivot)
                        turns, added = None, True
                    else:
                        g = m - pivot
                        g = g - (a @ g) * a
                        rotate(turn(a, np.arctan2(a @ np.cross(flat_arm, g), flat_arm @ g)), pivot)
                        turns, added = None, True
        if not added:
            raise DatumFault(f"datum {datum['label']} adds no freedom")
    if turns is not None or slides.shape[1]:
        raise DatumFault(f'freedom left open: turns {turns}, slides {slides.shape[1]}')
    return R, t, report


# ---------------------------------------------------------------- best-fit pose
def bestfit(datums, blocks, station):
    """Motion E (nominal → measured, nominal blade frame) with least squared distances to the nominal features."""
    sets = []
    for datum in datums:
        for b in gather(datum, blocks, station):
            if len(b['x']) < MINIMUM[datum['type']]:
                raise TooFew(datum['feature'])
            sets.append((datum, b, b['offset'] if b['offset'] is not None else L(0)))

    def carried(q, x):
        """E⁻¹ x with E from a unit quaternion (1, q0, q1, q2)/|…| and a translation."""
        v = [x[:, i] - q[3 + i] for i in range(3)]
        w = [-1 * q[0], -1 * q[1], -1 * q[2]]
        s = 1 + w[0] * w[0] + w[1] * w[1] + w[2] * w[2]
        c = cross3(w, v)
        cc = cross3(w, c)
        return [v[i] + 2 * (c[i] + cc[i]) / s for i in range(3)]

    def res(q):
        out = []
        for datum, b, off in sets:
            nom, kind = datum['nominal'], datum['type']
            p = np.asarray(nom['point'], dtype=L)
            y = carried(q, b['x'])
            v = [y[i] - p[i] for i in range(3)]
            if kind == 'point':
                r = v
            elif kind == 'sphere':
                r = [dot3(v, v).sqrt() - L(nom['radius']) - off]
            else:
                n = lunit(nom['direction'])
                h = dot3(v, n)
                f = [v[i] - h * n[i] for i in range(3)]
                if kind == 'plane':
                    r = [h - off]
                elif kind == 'line':
                    e1, e2 = basis(n)
                    r = [dot3(v, e1), dot3(v, e2)]
                elif kind == 'circle':
                    r = [dot3(f, f).sqrt() - L(nom['radius']) - off, h]
                elif kind == 'cylinder':
                    r = [dot3(f, f).sqrt() - L(nom['radius']) - off]
                elif kind == 'cone':
                    be = L(math.radians(nom['halfAngle']))
                    r = [(dot3(f, f).sqrt() - L(nom['radius'])) * np.cos(be) - h * np.sin(be) - off]
                else:
                    raise ValueError(kind)
            if b['w'] is not None:
                r = [c * np.sqrt(b['w']) for c in r]
            out += r
        return [Dual(np.concatenate([c.v for c in out]), np.concatenate([c.g for c in out]))]

    q = least_squares(res, [0.0] * 6, [1, 1, 1, 50, 50, 50])
    v = q[:3]
    s = 1 + v @ v
    K = np.array([[0, -v[2], v[1]], [v[2], 0, -v[0]], [-v[1], v[0], 0]], dtype=L)
    return np.eye(3, dtype=L) + (2 * K + 2 * K @ K) / s, q[3:]


# ---------------------------------------------------------------- errors, views, verdicts
def quaternion(R):
    """Unit quaternion (w, x, y, z), w ≥ 0, extended precision, good for rotations well below π."""
    w = np.sqrt(1 + R[0, 0] + R[1, 1] + R[2, 2]) / 2
    return np.array([w, (R[2, 1] - R[1, 2]) / (4 * w), (R[0, 2] - R[2, 0]) / (4 * w), (R[1, 0] - R[0, 1]) / (4 * w)], dtype=L)


def rotation_vector(R):
    q = quaternion(R)
    s = np.sqrt(q[1:] @ q[1:])
    return q[1:] * 2 if s == 0 else q[1:] / s * 2 * np.arctan2(s, q[0])


def views(E, N):
    RE, tE = E
    rho = rotation_vector(RE)
    move = N['R'] @ tE
    u1 = N['R'] @ RE[:, 2]
    q = quaternion(RE)
    twist = 2 * np.arctan2(q[3], q[0])
    error = dict(zip(['oscillation', 'lateral', 'upset', 'rotOscillation', 'rotLateral', 'rotUpset'], [*tE, *rho]))
    disc = {
        'radial': move @ N['er'], 'tangential': move @ N['et'], 'axial': move @ N['ez'],
        'lean': np.arctan2(u1 @ N['et'], u1 @ N['u']), 'sweep': np.arctan2(u1 @ N['a'], u1 @ N['u']), 'stagger': -twist,
    }
    return {k: float(v) for k, v in error.items()}, {k: float(v) for k, v in disc.items()}


def position_of(E, spec):
    out = []
    for cp in spec['checkPoints']:
        p = np.asarray(cp['at'], dtype=L)
        delta = E[0] @ p + E[1] - p
        zone = cp.get('zone', spec['zone'])
        if zone == 'cylindrical':
            v = 2 * np.hypot(delta[0], delta[1])
        elif zone == 'spherical':
            v = 2 * np.sqrt(delta @ delta)
        else:
            v = 2 * abs(delta @ lunit(cp.get('direction', spec.get('direction'))))
        tol = cp.get('tolerance', spec['tolerance'])
        out.append({'name': cp['name'], 'value': float(v), 'displacement': [float(c) for c in delta], 'tolerance': tol,
                    'verdict': 'conforming' if float(v) <= tol else 'nonconforming'})
    worst = max(out, key=lambda c: c['value'])
    return {'value': worst['value'], 'at': worst['name'], 'checkPoints': out,
            'verdict': 'conforming' if all(c['verdict'] == 'conforming' for c in out) else 'nonconforming'}


def kabsch(nominal, measured):
    a, b = np.asarray(nominal, dtype=float), np.asarray(measured, dtype=float)
    ca, cb = a.mean(axis=0), b.mean(axis=0)
    R = Rotation.align_vectors(b - cb, a - ca)[0].as_matrix()
    return R, cb - R @ ca


def transform(blocks, R, t, keep=lambda key: True):
    """Points through x ↦ R·x + t."""
    out = {}
    for key, b in blocks.items():
        if keep(key):
            c = dict(b)
            c['x'] = b['x'] @ np.asarray(R, dtype=L).T + np.asarray(t, dtype=L)
            out[key] = c
    return out


def factor(plan, block):
    temp = plan.get('temperature')
    if not temp or temp['applied']:
        return L(1)
    T = block['T'].mean() if block['T'] is not None else L(temp['part'])
    return 1 + L(temp['expansion']) * (20 - T)


def shrink(plan, blocks, origin):
    """Bring the points to 20 °C about the origin: x → origin + s·(x − origin).

    It is the surface that scales. With a tip centre c = surface + r·n the scaled surface is
    origin + s·(c − origin) − s·r·n, so the radius that is still to be taken off is multiplied by s as well.
    """
    out = {}
    for key, b in blocks.items():
        s = factor(plan, b)
        c = dict(b)
        c['x'] = origin + s * (b['x'] - origin)
        c['r'] = None if b['r'] is None else b['r'] * s
        out[key] = c
    return out


def reduce(plan, blocks):
    disc, blade = plan['disc'], plan['blade']
    overrides = plan.get('overrides') or {}
    angles = station_angles(disc)
    frames, specs = {}, {}
    for k, th in angles.items():
        o = overrides.get(str(k), {})
        frames[k] = blade_frame(th, o.get('seat', blade['seat']))
        specs[k] = (o.get('position', blade['position']), o.get('limits', blade.get('limits') or {}))

    nominal, measured = [], []
    for (st, f), b in blocks.items():
        if st is None:
            continue
        for d in blade['datums']:
            if f in features_of(d):
                N = frames[st]
                nominal.append(N['R'] @ np.asarray(d['nominal']['point'], dtype=L) + N['t'])
                measured.append(b['x'].mean(axis=0))
    rough = kabsch(nominal, measured)

    # hub frame; where the temperature is to be applied, scaling about the frame origin is repeated to a standstill
    R, t, hub = datum_frame(disc['datums'], blocks, None, rough)
    scaled = blocks
    if any(factor(plan, b) != 1 for b in blocks.values()):
        for _ in range(8):
            scaled = shrink(plan, blocks, t)
            R, t, hub = datum_frame(disc['datums'], scaled, None, rough)
        scaled = shrink(plan, blocks, t)
    in_disc = transform(scaled, R.T, -R.T @ t)

    stations, missing = [], []
    for k, th in angles.items():
        N = frames[k]
        local = transform(in_disc, N['R'].T, -N['R'].T @ N['t'], lambda key: key[0] == k)
        try:
            if blade.get('pose', 'datum') == 'bestfit':
                E = bestfit(blade['datums'], local, k)
            else:
                for d in blade['datums']:
                    for f in features_of(d):
                        if (k, f) not in local:
                            raise TooFew(f'no points of {f}')
                E = datum_frame(blade['datums'], local, k, (np.eye(3), np.zeros(3)))[:2]
        except TooFew as e:
            missing.append({'station': k, 'reason': str(e)})
            continue
        error, view = views(E, N)
        pos = position_of(E, specs[k][0])
        limits = []
        for name, limit in specs[k][1].items():
            v = error[name] if name in error else view[name]
            limits.append({'name': name, 'value': v, 'limit': limit, 'verdict': 'conforming' if abs(v) <= limit else 'nonconforming'})
        ok = pos['verdict'] == 'conforming' and all(c['verdict'] == 'conforming' for c in limits)
        stations.append({'station': k, 'angle': math.degrees(th), 'error': error, 'disc': view, 'position': pos,
                         'limits': limits, 'verdict': 'conforming' if ok else 'nonconforming'})
    good = sum(s['verdict'] == 'conforming' for s in stations)
    worst = max(stations, key=lambda s: s['position']['value']) if stations else None
    return {
        'frame': {'rotation': np.asarray(R.T, dtype=float).tolist(), 'origin': np.asarray(t, dtype=float).tolist(),
                  'datums': [{'label': d['label'], 'points': f['n'], 'rms': f['rms']} for d, f in zip(disc['datums'], hub)]},
        'stations': stations,
        'summary': {'stations': len(angles), 'conforming': good, 'nonconforming': len(stations) - good, 'unproven': 0,
                    'missing': missing, 'worst': {'station': worst['station'], 'position': worst['position']['value']} if worst else None},
    }


def reduce_files(plan_path, points_path):
    plan = json.load(open(plan_path, encoding='utf-8'))
    blocks, excluded, rows = read_points(points_path, plan)
    out = reduce(plan, blocks)
    out['source'] = {'rows': rows, 'excluded': excluded}
    out['libraries'] = {'python': sys.version.split()[0], 'numpy': np.__version__, 'scipy': scipy.__version__}
    return out


if __name__ == '__main__':
    json.dump(reduce_files(sys.argv[1], sys.argv[2]), sys.stdout, indent=1, ensure_ascii=False)
