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
import json
import math
import sys

sys.dont_write_bytecode = True
import numpy as np  # noqa: E402
import scipy  # noqa: E402

from associations import ALTERNATIVES, TooFew  # noqa: E402
from datum_system import datum_frame  # noqa: E402
from plan_and_points import blade_frame, features_of, read_points, station_angles  # noqa: E402
from pose import bestfit, kabsch, position_of, views  # noqa: E402

L = np.longdouble


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
        c['r'] = None if b['r'] is None else b['r'] * (1 if 'ball-radius-unscaled' in ALTERNATIVES else s)
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
        for _ in range(0 if 'blades-scaled-alone' in ALTERNATIVES else 8):
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
