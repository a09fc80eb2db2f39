#!/usr/bin/env python3
"""Makes the inputs that must be refused: refused/<name>/plan.json, points.csv, expected.json (words of the message).

One sound disc is spoilt in one way each time.  Usage:  python3 refused_maker.py
"""
import copy
import json
import os
import shutil
import subprocess
import sys

import numpy as np

sys.dont_write_bytecode = True
import measuring  # noqa: E402
import surfaces as dm  # noqa: E402
from disc_set import std_blade  # noqa: E402
from scipy.spatial.transform import Rotation  # noqa: E402

HERE = os.path.dirname(os.path.abspath(__file__))
CASES = {}


def case(name, about, *words):
    """`words`: regular expressions, all of which the message must match (letter case aside)."""
    def register(fn):
        CASES[name] = (about, words, fn)
        return fn
    return register


def base(hub=None, blade=None, **more):
    more.setdefault('stations', 8)
    return dm.make_plan('Spoilt input', hub or [dm.face(n=12), dm.bore(n=12), dm.slot(n=6)], blade or [dm.seat_plane(n=5), dm.side_plane(n=4), dm.end_plane(n=4)], **more)


@case('wrong-sense', 'The plan says clockwise, the stations are numbered counterclockwise', r'sense|clockwise')
def _():
    return {'after': lambda plan: plan['disc'].update(sense='clockwise')}


@case('first-angle-off', 'firstAngle is one pitch off against the clocking datum', r'firstAngle|first angle|clocking|station numbers')
def _():
    return {'after': lambda plan: plan['disc'].update(firstAngle=45)}


@case('first-angle-off-hole', 'firstAngle is one pitch off against a clocking hole', r'firstAngle|first angle|clocking|station numbers')
def _():
    hole = dm.round_('circle', 'C', 'HUB-HOLE', [92, 0, 0], [0, 0, 1], 6, {'n': 12}, side='inside')
    return {'plan': base([dm.face(), dm.bore(), hole], stations=12), 'after': lambda plan: plan['disc'].update(firstAngle=-30)}


@case('shuffled-stations', 'Station numbers are shuffled', r'station')
def _():
    order = {1: 4, 2: 7, 3: 1, 4: 8, 5: 2, 6: 5, 7: 3, 8: 6, None: None}
    return {'rows': lambda rows: [{**r, 'station': order[r['station']]} for r in rows]}


@case('mirrored-points', 'Every point is mirrored: left-handed machine axes', r'mirror|hand|align|sense|fit|reflect')
def _():
    def mirror(rows):
        for r in rows:
            r['x'] = r['x'] * np.array([1, 1, -1])
        return rows
    return {'rows': mirror}


@case('open-clocking', 'No datum sets the clocking', r'rotation about|clocking', r'not fixed|open|free')
def _():
    return {'plan': base([dm.face(), dm.bore()])}


@case('open-axial', 'No datum sets the place along the axis', r'axis|axial|along|translation', r'not fixed|open|free')
def _():
    return {'plan': base([dm.bore('A'), dm.slot('B')])}


@case('open-blade', 'Blade datums leave the oscillation direction open', r'oscillation|translation|along', r'not fixed|open|free')
def _():
    return {'plan': base(blade=[dm.seat_plane(), dm.side_plane()])}


@case('redundant-datum', 'A fourth hub datum adds no freedom', r'\bD\b|HUB-FACE-2', r'add|already|nothing|redundant|no freedom')
def _():
    second = dm.plane('D', 'HUB-FACE-2', [0, 0, -40], [0, 0, -1], {'ring': (80, 110), 'at': [0, 0, -40], 'n': 12})
    return {'plan': base([dm.face(), dm.bore(), dm.slot(), second])}


@case('redundant-second', 'Two parallel faces: the second adds no freedom', r'\bB\b|HUB-FACE-2', r'add|already|nothing|redundant|no freedom')
def _():
    second = dm.plane('B', 'HUB-FACE-2', [0, 0, -40], [0, 0, -1], {'ring': (80, 110), 'at': [0, 0, -40], 'n': 12})
    return {'plan': base([dm.face(), second, dm.bore('C'), dm.slot('D')])}


def along(feature, spread):
    def edit(rows):
        mine = [r for r in rows if r['feature'] == feature and r['station'] is None]
        spread(mine)
        return rows
    return edit


@case('collinear-face', 'All points of the hub face lie on one line', r'HUB-FACE', r'line|collinear')
def _():
    def spread(mine):
        a, b = mine[0]['x'].copy(), mine[9]['x'].copy()
        for i, r in enumerate(mine):
            r['x'] = a + (b - a) * i / (len(mine) - 1)
    return {'rows': along('HUB-FACE', spread), 'digits': 9}


@case('coincident-slot', 'All points of the slot wall coincide', r'HUB-SLOT', r'coincid|same (place|point)|one (place|point)|identical|line')
def _():
    def spread(mine):
        a = mine[0]['x'].copy()
        for r in mine:
            r['x'] = a.copy()
    return {'rows': along('HUB-SLOT', spread)}


@case('one-generator', 'All points of the bore lie on one generator', r'HUB-BORE', r'line|generator|collinear|degenerate|determine')
def _():
    def spread(mine):
        a, b = mine[0]['x'].copy(), mine[0]['x'] + 30 * mine[0]['axis']
        for i, r in enumerate(mine):
            r['x'] = a + (b - a) * i / (len(mine) - 1)
    return {'rows': along('HUB-BORE', spread), 'digits': 9}


@case('bore-one-section', 'A primary bore whose points lie in one section: its axis direction is not determined', r'HUB-BORE', r'plane|section|length|degenerate|determine|circle|axis')
def _():
    b = dm.round_('cylinder', 'A', 'HUB-BORE', [0, 0, 0], [0, 0, 1], 70, {'len': (-20, -20), 'n': 24}, side='inside')
    return {'plan': base([b, dm.face('B'), dm.slot('C')]), 'noise': 0.0, 'digits': 10}


@case('too-few-hub-points', 'The hub face has two points', r'HUB-FACE', r'\b2\b|two|few|at least')
def _():
    def edit(rows):
        n = 0
        out = []
        for r in rows:
            if r['feature'] == 'HUB-FACE':
                n += 1
                if n > 2:
                    continue
            out.append(r)
        return out
    return {'rows': edit}


@case('missing-hub-feature', 'The slot was not measured', r'HUB-SLOT')
def _():
    return {'rows': lambda rows: [r for r in rows if r['feature'] != 'HUB-SLOT']}


@case('missing-side', 'Tip centres without normals and a bore whose side is not stated, on a cone whose place depends on it', r'side|normal|i,\s*j,\s*k')
def _():
    cone = dm.round_('cone', 'A', 'HUB-CONE', [0, 0, -12], [0, 0, 1], 70, {'len': (-14, 10), 'n': 30}, halfAngle=8.0, side='inside')

    def after(plan):
        del plan['disc']['datums'][0]['side']
    return {'plan': base([cone, dm.slot('B')]), 'after': after, 'roles': ['station', 'feature', 'x', 'y', 'z', 'r'], 'tip': lambda f: 2.0}


def text_edit(find, replace):
    return lambda text: text.replace(find, replace, 1)


def spoil_cell(column, value, line):
    """Puts a value in the given column (0 …) of the given line (1 = header)."""
    def edit(text):
        lines = text.split('\n')
        cells = lines[line - 1].split(',')
        cells[column] = value
        lines[line - 1] = ','.join(cells)
        return '\n'.join(lines)
    return edit


@case('nan', 'NaN in x of line 5', r'line 5\b', r'nan', r'\bx\b')
def _():
    return {'text': spoil_cell(2, 'NaN', 5)}


@case('infinite', 'Infinity in z of line 12', r'line 12\b', r'inf', r'\bz\b')
def _():
    return {'text': spoil_cell(4, 'Infinity', 12)}


@case('text-in-number', 'A word in y of line 7', r'line 7\b', r'7o\.25', r'\by\b')
def _():
    return {'text': spoil_cell(3, '7o.25', 7)}


@case('wrong-decimal', 'The plan says decimal comma, the file has points', r'decimal', r'line')
def _():
    return {'after': lambda plan: plan.update({'import': {'delimiter': ',', 'decimal': ','}})}


@case('missing-column', 'The header has no z', r'\bz\b', r'column')
def _():
    return {'text': text_edit('station,feature,x,y,z', 'station,feature,x,y,height')}


@case('empty-file', 'The point file is empty', r'empty|no (data|rows|points)')
def _():
    return {'text': lambda text: ''}


@case('header-only', 'The point file holds a header alone', r'empty|no (data|rows|points)|only')
def _():
    return {'text': lambda text: text.split('\n')[0] + '\n'}


@case('binary-file', 'The point file is not text', r'binary|not (a )?text|not a text|characters')
def _():
    return {'bytes': bytes(np.random.default_rng(5).integers(0, 256, 4000, dtype=np.uint8))}


@case('misspelt-key', 'tolerence instead of tolerance', r'tolerence', r'tolerance', r'blade\.position')
def _():
    def after(plan):
        p = plan['blade']['position']
        p['tolerence'] = p.pop('tolerance')
    return {'after': after}


@case('temperature-without-applied', 'A temperature block that does not say whether it is applied', r'applied', r'temperature')
def _():
    return {'after': lambda plan: plan.update(temperature={'part': 24, 'expansion': 8.6e-6})}


@case('angles-count', 'The list of angles is one short', r'angles', r'\b7\b|seven', r'\b8\b|eight')
def _():
    return {'after': lambda plan: plan['disc'].update(angles=[0, 45, 90, 135, 180, 225, 270])}


@case('planar-without-direction', 'A planar zone without its direction', r'direction', r'planar')
def _():
    return {'after': lambda plan: plan['blade']['position'].update(zone='planar')}


@case('broken-json', 'The plan is cut off in the middle', r'JSON|plan\.json')
def _():
    return {'plan_text': lambda text: text[: len(text) // 2]}


@case('label-mismatch', 'A packed label that neither matches the pattern nor names a hub feature', r'line 20\b', r'X99-SEAT')
def _():
    def after(plan):
        plan['import'] = {'columns': {'label': 'Label', 'x': 'x', 'y': 'y', 'z': 'z'}, 'label': 'B(?<station>\\d+)_(?<feature>.+)'}
    return {'before': after, 'roles': ['label', 'x', 'y', 'z'], 'text': spoil_cell(0, 'X99-SEAT', 20)}


@case('all-points-unknown', 'Feature names differ from those of the plan', r'feature')
def _():
    return {'rows': lambda rows: [{**r, 'feature': r['feature'].lower() + '_1'} for r in rows]}


def main():
    root = os.path.join(HERE, 'refused')
    shutil.rmtree(root, ignore_errors=True)
    for i, (name, (about, words, fn)) in enumerate(CASES.items()):
        o = fn()
        plan, patches = copy.deepcopy(o.get('plan') or base())
        if 'before' in o:
            o['before'](plan)
        seed = 900 + i
        machine = {'rotation': Rotation.random(random_state=np.random.default_rng(seed)).as_matrix(), 'origin': np.array([120.0, -80.0, 45.0])}
        n = plan['disc']['stations']
        rng = np.random.default_rng([seed, 1])
        truth = {'seed': seed, 'machine': machine, 'errors': {k: np.concatenate([rng.normal(0, 0.01, 3), rng.normal(0, 2e-4, 3)]) for k in range(1, n + 1)}}
        rows, rng = measuring.measure_all(plan, patches, truth, o)
        for r in rows:
            r['axis'] = machine['rotation'][:, 2]
        if 'rows' in o:
            rows = o['rows'](rows)
        plan['title'] = about
        if 'after' in o:
            o['after'](plan)
        folder = os.path.join(root, name)
        os.makedirs(folder)
        path = os.path.join(folder, 'points.csv')
        measuring.write_csv(path, rows, {}, o, rng) if 'before' not in o else measuring.write_csv(path, rows, plan, o, rng)
        if 'text' in o:
            text = open(path, encoding='utf-8').read()
            open(path, 'w', encoding='utf-8').write(o['text'](text))
        if 'bytes' in o:
            open(path, 'wb').write(o['bytes'])
        text = json.dumps(measuring.tidy(plan), indent=2, ensure_ascii=False) + '\n'
        # a cut-off plan must not meet the formatter, so it does not end in .json
        cut = 'plan_text' in o
        with open(os.path.join(folder, 'plan.json.txt' if cut else 'plan.json'), 'w', encoding='utf-8') as f:
            f.write(o['plan_text'](text) if cut else text)
        with open(os.path.join(folder, 'expected.json'), 'w', encoding='utf-8') as f:
            json.dump({'about': about, 'plan': 'plan.json.txt' if cut else 'plan.json', 'words': list(words)}, f, indent=2, ensure_ascii=False)
    subprocess.run(['npx', 'biome', 'check', '--write', root], cwd=os.path.join(HERE, '../../..'), check=True)
    print(len(CASES), 'refused inputs')


if __name__ == '__main__':
    main()
