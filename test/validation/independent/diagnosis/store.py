#!/usr/bin/env python3
"""Writes evaluation.json of each disc: own fit of the causes and own corrections from the product's result document.

Usage:  hubtrue reduce POINTS --plan PLAN [--welds WELDS] --json > FOLDER/NAME/result.json   for every disc, then
        python3 store.py FOLDER

Only the station errors, their own and shared covariances and the nominal frames are read from the result document;
those are compared with an independent reduction elsewhere.
"""
import csv
import json
import os
import subprocess
import sys

sys.dont_write_bytecode = True
import numpy as np  # noqa: E402
import scipy  # noqa: E402

from minimax import Problem  # noqa: E402
from mixed_model import UNIT, Disc, Fit, find_outliers  # noqa: E402

HERE = os.path.dirname(os.path.abspath(__file__))


def welds_of(folder):
    path = os.path.join(folder, 'welds.csv')
    if not os.path.exists(path):
        return None
    return [(int(r['station']), int(r['sequence']), r['tool']) for r in csv.DictReader(open(path, encoding='utf-8'))]


def short(v, digits=9):
    return float(f'{v:.{digits}g}')


def fitted(fit, plan):
    """What one fit says, as plain numbers."""
    out = {'fullRank': not fit.dropped, 'scatter': [short(np.sqrt(v) / u) for v, u in zip(fit.variances[:6], UNIT)],
           'indexScatter': short(np.sqrt(fit.variances[6]) / 1e3), 'parameters': [], 'tests': {}, 'sizes': {}}
    for name in fit.names:
        p = fit.parameter(name)
        out['parameters'].append({'component': name[0], 'key': name[1], 'of': name[2], 'value': short(p['value']), 'standard': short(p['standard'], 6)})
    for component in ('ringShift', 'toolChange', 'wear'):
        if fit.block(component):
            out['tests'][component] = {k: short(v, 6) if np.isfinite(v) else None for k, v in fit.wald(component).items()}
            s = fit.size(component, plan['blade']['position']['checkPoints'])
            out['sizes'][component] = {'value': short(s['value']), 'standard': short(s['standard'], 6)}
    return out


def evaluate(folder, result):
    truth = json.load(open(os.path.join(folder, 'truth.json'), encoding='utf-8'))
    plan = json.load(open(os.path.join(folder, 'plan.json'), encoding='utf-8'))
    welds = welds_of(folder)
    extra = [(h['channel'], h['order']) for h in truth['parameters']['harmonics']]
    # six or seven stations leave no room for a second harmonic of the index beside the other causes
    orders = (1, 2) if len(result['stations']) > 7 else (1,)
    outliers = find_outliers(result, welds, orders, extra)
    disc = Disc(result, welds, outliers)
    names, X = disc.columns(orders, extra)
    out = {'outliers': outliers, 'dimensions': {c: sum(n[0] == c for n in names) for c in ('index', 'harmonics')}}
    # the index may have a random rest of its own or not: both fits are kept
    out['fits'] = [fitted(Fit(disc, names, X, index_scatter=free), plan) for free in (True, False)]
    tools = {t for _, _, t in welds} if welds else {''}
    out['corrections'] = {}
    for kind in ('tool', 'hub', 'index'):
        if kind == 'tool' and len(tools) > 1:
            continue  # a setting a tool: not this problem
        problem = Problem(plan, result, [kind], outliers)
        c, worst, low = problem.solve()
        out['corrections'][kind] = {'before': short(problem.worst(c * 0)), 'optimum': short(worst), 'bound': short(low)}
    return out


def main():
    results = sys.argv[1]
    for name in sorted(os.listdir(os.path.join(HERE, 'discs'))):
        path = os.path.join(results, name, 'result.json')
        if not os.path.exists(path) or (len(sys.argv) > 2 and name not in sys.argv[2:]):
            continue
        folder = os.path.join(HERE, 'discs', name)
        out = {'libraries': {'python': sys.version.split()[0], 'numpy': np.__version__, 'scipy': scipy.__version__},
               **evaluate(folder, json.load(open(path, encoding='utf-8')))}
        with open(os.path.join(folder, 'evaluation.json'), 'w', encoding='utf-8') as f:
            json.dump(out, f, indent=1, ensure_ascii=False)
            f.write('\n')
        print(name, out['outliers'])
    subprocess.run(['npx', 'biome', 'check', '--write', os.path.join(HERE, 'discs')], cwd=os.path.join(HERE, '../../../..'), check=True, stdout=subprocess.DEVNULL)


if __name__ == '__main__':
    main()
