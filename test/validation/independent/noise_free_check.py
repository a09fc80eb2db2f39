#!/usr/bin/env python3
"""Every disc of the set once more without noise and without form defects: the reduction must give the planted truth."""
import copy
import json
import os
import sys
import tempfile

sys.dont_write_bytecode = True
import numpy as np  # noqa: E402
from scipy.spatial.transform import Rotation  # noqa: E402

import reduction  # noqa: E402
from disc_set import DISCS  # noqa: E402
from measuring import measure_all, write_csv  # noqa: E402

KEYS = ['oscillation', 'lateral', 'upset', 'rotOscillation', 'rotLateral', 'rotUpset']

for i, (name, make) in enumerate(DISCS.items()):
    (plan, patches), opt = make()
    plan, opt = copy.deepcopy(plan), {**opt, 'noise': 0.0, 'digits': None, 'sigma': False}
    opt['roles'] = [r for r in opt.get('roles', ['station', 'feature', 'x', 'y', 'z']) if r != 'sigma']
    rng = np.random.default_rng(40 + i)
    errors = {k: [*rng.normal(0, 0.3, 3), *rng.normal(0, 4e-3, 3)] for k in range(1, plan['disc']['stations'] + 1)}
    machine = {'rotation': Rotation.random(random_state=rng).as_matrix(), 'origin': rng.uniform(-300, 300, 3)}
    rows, rng = measure_all(plan, patches, {'seed': 5 + i, 'machine': machine, 'errors': errors}, opt)
    with tempfile.TemporaryDirectory() as folder:
        paths = [os.path.join(folder, f) for f in ('plan.json', 'points.csv')]
        with open(paths[0], 'w', encoding='utf-8') as f:
            json.dump(plan, f)
        write_csv(paths[1], rows, plan, opt, rng)
        got = reduction.reduce_files(*paths)
    worst = [max(abs(s['error'][k] - errors[s['station']][j]) for s in got['stations'] for j, k in enumerate(KEYS) if j // 3 == h) for h in (0, 1)]
    note = '' if worst[0] < 1e-11 and worst[1] < 1e-13 else '   <<<'
    print(f'{name}: {worst[0]:.1e} mm, {worst[1]:.1e} rad{note}')
