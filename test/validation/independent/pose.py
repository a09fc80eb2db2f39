"""Best-fit pose, six errors, disc-frame view, position and verdicts."""
import math

import numpy as np
from scipy.spatial.transform import Rotation

from associations import MINIMUM, TooFew, gather
from dual_least_squares import Dual, cross3, dot3, least_squares
from rotations import basis, lunit

L = np.longdouble


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
