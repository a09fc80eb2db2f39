#!/usr/bin/env python3
"""Makes discs with planted causes: points.csv, plan.json, welds.csv where there is one, and truth.json.

Usage:  python3 maker.py            writes every disc of blind_set.py below discs/
        python3 maker.py NAME …     only those
Everything is invented; seeds are fixed, the same bytes come again.
"""
import json
import math
import os
import subprocess
import sys

sys.dont_write_bytecode = True
import numpy as np  # noqa: E402
from scipy.spatial.transform import Rotation  # noqa: E402

from causes import CAUSES, Motion, frames, size_of, station_error, weld_table  # noqa: E402  (also opens the folder above)
from measuring import tidy, write_csv  # noqa: E402
from surfaces import bore, end_plane, face, make_plan, round_, sample, seat_plane, side_plane, slot  # noqa: E402

HERE = os.path.dirname(os.path.abspath(__file__))

HUBS = {
    'face-first': lambda: [face(n=12), bore(n=12), slot(n=20)],
    'bore-first': lambda: [bore('A', n=24), face('B', n=9), slot('C', n=20)],
    'turned-slot': lambda: [face(n=12), bore(n=12), slot(n=20, azimuth=-30)],
}
BLADES = {
    'planes': lambda: [seat_plane(n=5), side_plane(n=4), end_plane(n=3)],
    'pin': lambda: [seat_plane(n=5), round_('cylinder', 'E', 'PIN', [6, -2, 14], [0, 0, 1], 6, {'len': (1, 12), 'n': 8}, side='outside'), side_plane('F', n=4)],
}


def plan_of(spec):
    more = {k: spec[k] for k in ('seat', 'sense', 'firstAngle', 'angles', 'pose', 'position', 'overrides', 'budget', 'adjustments') if k in spec}
    more.setdefault('position', {'tolerance': 0.06, 'zone': 'cylindrical',
                                 'checkPoints': [{'name': 'root', 'at': [0, 0, 0]}, {'name': 'tip', 'at': [0, 0, 120]}]})
    plan, patches = make_plan(spec['about'], HUBS[spec.get('hub', 'face-first')](), BLADES[spec.get('blade', 'planes')](),
                              stations=spec['N'], limits={}, **more)
    del plan['blade']['limits']
    plan['uncertainty'] = {'probing': spec.get('noise', 0.0008), 'scale': spec.get('scale', 1e-6), 'coverage': spec.get('coverage', 0.95)}
    plan['decision'] = {'rule': spec.get('rule', 'simple')}
    return plan, patches


def measure(spec, plan, patches, errors, rng):
    """Rows in the machine frame; normal noise along the surface normal."""
    machine = Motion(Rotation.random(random_state=rng).as_matrix(), rng.uniform(-300, 300, 3))
    rows = []

    def emit(station, datum, noise, carry):
        for feature, q, n in sample(datum, patches[datum['label']], rng):
            q = q + rng.normal(0, 1, len(q))[:, None] * noise * n
            for p in q:
                rows.append({'station': station, 'feature': feature, 'x': machine(carry(p)), 'n': None, 'r': None, 'sigma': noise, 'temperature': None})
    blade_noise = spec.get('noise', 0.0008)
    for d in plan['disc']['datums']:
        emit(None, d, spec.get('hubNoise', blade_noise), lambda p: p)
    for k, (_, N, _) in frames(plan).items():
        if k in spec.get('missing', []):
            continue
        M = N @ Motion.of(errors[k])
        for d in plan['blade']['datums']:
            emit(k, d, blade_noise, M)
    return rows


def welds_of(spec, rng):
    """(station, sequence, tool) rows, or None."""
    w = spec.get('welds')
    if w is None:
        return None
    n = spec['N']
    order = list(range(1, n + 1)) if w.get('order') == 'ascending' else w['order'] if isinstance(w.get('order'), list) else (rng.permutation(n) + 1).tolist()
    tools = [name for name, count in w['tools'] for _ in range(count)]
    assert len(order) == len(tools) == n
    return [(s, w.get('first', 1) + w.get('every', 1) * i, t) for i, (s, t) in enumerate(zip(order, tools))]


def build(spec, folder, seed):
    """Writes one disc. Returns the truth."""
    rng = np.random.default_rng(seed)
    plan, patches = plan_of(spec)
    welds = welds_of(spec, rng)
    table = weld_table(welds) if welds else None
    t, r = spec.get('scatter', (0.0025, 2e-5))
    where = frames(plan)
    scatter = {'six': {k: np.concatenate([rng.normal(0, 1, 3) * t, rng.normal(0, 1, 3) * r]) for k in where},
               'index': {k: rng.normal(0, 1) * spec.get('tau', 0.0) for k in where}}
    errors = {k: station_error(spec, w, None, k, table, scatter) for k, w in where.items()}
    rows = measure(spec, plan, patches, errors, rng)
    os.makedirs(folder, exist_ok=True)
    with open(os.path.join(folder, 'plan.json'), 'w', encoding='utf-8') as f:
        json.dump(tidy(plan), f, indent=2)
        f.write('\n')
    roles = ['station', 'feature', 'x', 'y', 'z'] + (['sigma'] if 'hubNoise' in spec else [])
    write_csv(os.path.join(folder, 'points.csv'), rows, plan, {'roles': roles, 'digits': 6}, rng)
    if welds:
        with open(os.path.join(folder, 'welds.csv'), 'w', encoding='utf-8') as f:
            f.write('station,sequence,tool,date\n' + ''.join(f'{s},{q},{tool},2031-03-{1 + q % 28:02d}\n' for s, q, tool in welds))
    truth = truth_of(spec, plan, where, table, scatter, errors)
    with open(os.path.join(folder, 'truth.json'), 'w', encoding='utf-8') as f:
        json.dump(tidy(truth), f, indent=1)
        f.write('\n')
    return truth


def truth_of(spec, plan, where, table, scatter, errors):
    measured = [k for k in where if k not in spec.get('missing', [])]
    sizes = {}
    for cause in CAUSES:
        sixes = {k: station_error(spec, where[k], None, k, table, scatter, {cause}) for k in measured}
        size = size_of(plan, sixes)
        if size['value'] > 1e-9:
            sizes[cause] = size
    x, y, z, rx, ry, rz = spec.get('ring', [0] * 6)
    tools = spec.get('tools', {})
    first = min(table.values())[1] if table else ''
    base = np.asarray(tools.get(first, [0] * 6), float)
    order = []
    for _, tool, _ in sorted((table or {}).values()):
        if tool not in order:
            order.append(tool)
    # what a constant offset of the tool would have to be to hold the common axial shift and clocking as well (equal seats)
    k0 = measured[0]
    common = station_error(spec, where[k0], None, k0, table, scatter, {'common'}) + station_error(spec, where[k0], None, k0, table, scatter, {'toolSetup'})
    steps = {b: (np.asarray(tools.get(b, [0] * 6), float) - np.asarray(tools.get(a, [0] * 6), float)).tolist() for a, b in zip(order, order[1:])}
    return {
        'about': spec['about'],
        'parameters': {
            'ringShift': {'x': x, 'y': y, 'tiltX': rx, 'tiltY': ry},
            'common': {'axial': z, 'clocking': rz},
            'constantAsTool': None if 'overrides' in spec else common.tolist(),
            'toolSetup': base.tolist(),
            'toolChange': steps,
            'wear': list(spec.get('wear', [0] * 6)) if table else None,
            'index': [{'order': h, 'amplitude': a, 'phase': np.radians(p)} for h, a, p in spec.get('index', [])],
            'indexAt': {str(k): v for k, v in spec.get('indexAt', {}).items()},
            'harmonics': [{'channel': c, 'order': h, 'amplitude': a, 'phase': np.radians(p)} for c, h, a, p in spec.get('harmonics', [])],
            'slipped': {str(k): list(v) for k, v in spec.get('slipped', {}).items()},
            'scatter': {'translation': spec.get('scatter', (0.0025, 2e-5))[0], 'rotation': spec.get('scatter', (0.0025, 2e-5))[1], 'index': spec.get('tau', 0.0)},
        },
        'planted': [c for c in CAUSES if c in sizes and c != 'scatter'],
        'leading': spec['leading'],
        'mustFind': spec.get('mustFind', [c for c in (spec['leading'] or []) if len(spec['leading']) == 1]),
        'outliers': sorted([*spec.get('slipped', {}), *spec.get('standsApart', [])]),
        'sizes': sizes,
        'missing': spec.get('missing', []),
        'index': {str(k): sum(a * math.cos(h * where[k][0] - math.radians(p)) for h, a, p in spec.get('index', []))
                  + spec.get('indexAt', {}).get(k, 0.0) + scatter['index'][k] for k in measured},
        'errors': {str(k): errors[k].tolist() for k in measured},
    }


def main():
    from blind_set import SET
    wanted = sys.argv[1:]
    for i, spec in enumerate(SET):
        if wanted and not any(spec['name'].startswith(w) for w in wanted):
            continue
        folder = os.path.join(HERE, 'discs', spec['name'])
        if os.path.isdir(folder):
            for old in ('points.csv', 'plan.json', 'welds.csv', 'truth.json'):
                if os.path.exists(os.path.join(folder, old)):
                    os.remove(os.path.join(folder, old))
        truth = build(spec, folder, 9000 + 17 * i + spec.get('seed', 0))
        print(spec['name'], {c: round(s['value'] * 1000, 1) for c, s in truth['sizes'].items()})
    # the repository's formatter has the last word on the layout of JSON
    subprocess.run(['npx', 'biome', 'check', '--write', os.path.join(HERE, 'discs')], cwd=os.path.join(HERE, '../../../..'), check=True, stdout=subprocess.DEVNULL)


if __name__ == '__main__':
    main()
