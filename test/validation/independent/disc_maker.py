#!/usr/bin/env python3
"""Makes the discs of this folder from stated truth with fixed seeds, and reduces them with reduction.py.

Everything is invented. Each disc is a folder under discs/ with plan.json, points.csv and expected.json; inputs that must
be refused are written by refused_maker.py.  Usage:  python3 disc_maker.py [name …]
"""
import copy
import json
import os
import shutil
import subprocess
import sys

sys.dont_write_bytecode = True
import numpy as np  # noqa: E402
from scipy.spatial.transform import Rotation  # noqa: E402

import reduction  # noqa: E402
from disc_set import DISCS  # noqa: E402
from measuring import measure_all, tidy, write_csv  # noqa: E402

HERE = os.path.dirname(os.path.abspath(__file__))


class OnTheLimit(Exception):
    """A value so near its limit that a verdict would hang on rounding: another seed is taken."""


def build(name, plan, patches, opt, seed):
    seed += opt.get('seedShift', 0)
    rng = np.random.default_rng([seed, 1])
    n = plan['disc']['stations']
    machine = opt.get('machine') or {
        'rotation': Rotation.random(random_state=np.random.default_rng([seed, 2])).as_matrix().tolist(),
        'origin': (rng.uniform(-400, 400, 3)).tolist(),
    }
    spread = opt.get('spread', ([0.014, 0.014, 0.02], [2.2e-4, 2.2e-4, 4e-4]))
    errors = {k: np.concatenate([rng.normal(0, spread[0]), rng.normal(0, spread[1])]).tolist() for k in range(1, n + 1)}
    for k, e in opt.get('bad', {}).items():
        errors[k] = list(e)
    if 'pattern' in opt:
        for k in errors:
            errors[k] = [a + b for a, b in zip(errors[k], opt['pattern'](k))]
    truth = {'seed': seed, 'noise': opt.get('noise', 0.0015), 'machine': machine, 'errors': errors}
    rows, rng2 = measure_all(plan, patches, truth, opt)
    if 'edit' in opt:
        rows = opt['edit'](rows)
    folder = os.path.join(HERE, 'discs', name)
    shutil.rmtree(folder, ignore_errors=True)
    os.makedirs(folder)
    with open(os.path.join(folder, 'plan.json'), 'w', encoding='utf-8') as f:
        json.dump(tidy(plan), f, indent=2, ensure_ascii=False)
        f.write('\n')
    write_csv(os.path.join(folder, 'points.csv'), rows, plan, opt, rng2)
    got = reduction.reduce_files(os.path.join(folder, 'plan.json'), os.path.join(folder, 'points.csv'))
    expected = {'disc': name, 'about': plan['title'], 'generator': 'disc_maker.py and reduction.py', 'truth': truth, **got}
    expected['truth']['exact'] = bool(opt.get('exact'))
    if opt.get('exact'):
        worst = [0.0, 0.0]
        for s in got['stations']:
            e = errors[s['station']]
            for i, key in enumerate(['oscillation', 'lateral', 'upset', 'rotOscillation', 'rotLateral', 'rotUpset']):
                worst[i // 3] = max(worst[i // 3], abs(e[i] - s['error'][key]))
                s['error'][key] = e[i]  # the truth itself is what is expected
        print(f'   {name}: reduction against planted truth {worst[0]:.1e} mm {worst[1]:.1e} rad')
    # a verdict must never hang on the last digits
    for s in got['stations']:
        for c in s['position']['checkPoints']:
            if abs(c['value'] - c['tolerance']) < 1e-5:
                raise OnTheLimit(name, s['station'], c)
        for c in s['limits']:
            if abs(abs(c['value']) - c['limit']) < (1e-5 if c['limit'] > 0.002 else 1e-7):
                raise OnTheLimit(name, s['station'], c)
        values = sorted((c['value'] for c in s['position']['checkPoints']), reverse=True)
        if len(values) > 1 and values[0] - values[1] < 1e-6:
            raise OnTheLimit(name, s['station'], values)
        # kept short: the values of limits are those of the errors
        s['limits'] = {c['name']: [c['limit'], c['verdict']] for c in s['limits']}
        s['position']['checkPoints'] = {c['name']: [c['value'], c['verdict'], c['displacement']] for c in s['position']['checkPoints']}
    with open(os.path.join(folder, 'expected.json'), 'w', encoding='utf-8') as f:
        json.dump(tidy(expected), f, indent=1, ensure_ascii=False)
        f.write('\n')
    sm = expected['summary']
    print(f"{name}: {expected['source']['rows']} rows, {sm['conforming']} conforming, {sm['nonconforming']} not, missing "
          f"{[m['station'] for m in sm['missing']]}, excluded {len(expected['source']['excluded'])}, worst {sm['worst']}")


def main():
    wanted = sys.argv[1:]
    for i, (name, fn) in enumerate(DISCS.items()):
        seed = 7100 + 13 * i
        if wanted and not any(name.startswith(w) for w in wanted):
            continue
        (plan, patches), opt = fn()
        plan, opt = copy.deepcopy(plan), dict(opt)
        if opt.get('weights'):
            for d in plan['disc']['datums'] + plan['blade']['datums']:
                d['weights'] = 'sigma'
        while True:
            try:
                build(name, plan, patches, opt, seed)
                break
            except OnTheLimit:
                seed += 1
    # the repository's formatter has the last word on the layout of JSON
    subprocess.run(['npx', 'biome', 'check', '--write', os.path.join(HERE, 'discs')], cwd=os.path.join(HERE, '../../..'), check=True)


if __name__ == '__main__':
    main()
