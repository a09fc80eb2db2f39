#!/usr/bin/env python3
"""Best-fit poses of two stations once more in 40-digit arithmetic (mpmath): how far reduction.py is from the exact minimum."""
import json
import math
import os
import sys

sys.dont_write_bytecode = True
import mpmath as mp  # noqa: E402
import numpy as np  # noqa: E402

from associations import gather  # noqa: E402
from plan_and_points import blade_frame, read_points  # noqa: E402
from pose import bestfit, rotation_vector  # noqa: E402

HERE = os.path.dirname(os.path.abspath(__file__))
mp.mp.dps = 40


def exact(v):
    """An 80-bit number as two doubles, without rounding."""
    return mp.mpf(float(v)) + mp.mpf(float(v - np.longdouble(float(v))))


def residuals(sets, q):
    t, w = q[:3], [-c for c in q[3:]]
    angle = mp.sqrt(sum(c * c for c in w))
    k = [c / angle for c in w]
    out = []
    for datum, x, weight, offset in sets:
        nom = datum['nominal']
        v = [x[i] - t[i] for i in range(3)]
        kv = sum(a * c for a, c in zip(k, v))
        turned = [k[1] * v[2] - k[2] * v[1], k[2] * v[0] - k[0] * v[2], k[0] * v[1] - k[1] * v[0]]
        y = [v[i] * mp.cos(angle) + turned[i] * mp.sin(angle) + k[i] * kv * (1 - mp.cos(angle)) - mp.mpf(nom['point'][i]) for i in range(3)]
        if datum['type'] == 'sphere':
            r = mp.sqrt(sum(c * c for c in y)) - nom['radius']
        else:
            n = nom['direction']
            h = sum(a * c for a, c in zip(n, y))
            rho = mp.sqrt(sum((y[i] - h * n[i]) ** 2 for i in range(3)))
            if datum['type'] == 'plane':
                r = h
            else:
                half = mp.mpf(nom.get('halfAngle', 0)) * mp.pi / 180
                r = (rho - nom['radius']) * mp.cos(half) - h * mp.sin(half)
        out.append(mp.sqrt(weight) * (r - offset))
    return out


def run(disc, station):
    folder = os.path.join(HERE, 'discs', disc)
    with open(os.path.join(folder, 'plan.json'), encoding='utf-8') as f:
        plan = json.load(f)
    with open(os.path.join(folder, 'expected.json'), encoding='utf-8') as f:
        expected = json.load(f)
    blocks = read_points(os.path.join(folder, 'points.csv'), plan)[0]
    R = np.array(expected['frame']['rotation'], dtype=np.longdouble)
    o = np.array(expected['frame']['origin'], dtype=np.longdouble)
    angle = next(s['angle'] for s in expected['stations'] if s['station'] == station)
    N = blade_frame(math.radians(angle), plan['blade']['seat'])
    local = {k: dict(b, x=((b['x'] - o) @ R.T - N['t']) @ N['R']) for k, b in blocks.items() if k[0] == station}
    E = bestfit(plan['blade']['datums'], local, station)
    mine = [exact(c) for c in [*E[1], *rotation_vector(E[0])]]
    sets = []
    for datum in plan['blade']['datums']:
        for b in gather(datum, local, station):
            for i, x in enumerate(b['x']):
                weight = 1 if b['w'] is None else exact(b['w'][i])
                offset = 0 if b['offset'] is None else exact(b['offset'][i])
                sets.append((datum, [exact(c) for c in x], weight, offset))
    q = list(mine)
    h = mp.mpf(10) ** -18
    for _ in range(6):
        r = residuals(sets, q)
        J = mp.matrix(len(r), 6)
        for j in range(6):
            up, down = list(q), list(q)
            up[j] += h
            down[j] -= h
            for i, (a, b) in enumerate(zip(residuals(sets, up), residuals(sets, down))):
                J[i, j] = (a - b) / (2 * h)
        step = mp.lu_solve(J.T * J, -(J.T * mp.matrix(r)))
        q = [q[i] + step[i] for i in range(6)]
    print(disc, station, [mp.nstr(mine[i] - q[i], 2) for i in range(6)], '(mm, mm, mm, rad, rad, rad)')


if __name__ == '__main__':
    run('14c-bestfit-tip-centres', 7)
    run('20b-bad-station-bestfit', 4)
