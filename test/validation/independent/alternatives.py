#!/usr/bin/env python3
"""How much the readings that were not taken would change the six errors (README, choices). Prints the largest change."""
import copy
import json
import os
import sys

sys.dont_write_bytecode = True
import reduction  # noqa: E402
from associations import ALTERNATIVES  # noqa: E402

HERE = os.path.dirname(os.path.abspath(__file__))


def load(name):
    folder = os.path.join(HERE, 'discs', name)
    plan = json.load(open(os.path.join(folder, 'plan.json'), encoding='utf-8'))
    return plan, reduction.read_points(os.path.join(folder, 'points.csv'), plan)[0]


def compare(name, what, flag=None, edit=None):
    plan, blocks = load(name)
    a = reduction.reduce(plan, blocks)
    other = copy.deepcopy(plan)
    if edit:
        edit(other)
    ALTERNATIVES.update({flag} if flag else set())
    b = reduction.reduce(other, blocks)
    ALTERNATIVES.clear()
    mm = max(abs(x['error'][k] - y['error'][k]) for x, y in zip(a['stations'], b['stations']) for k in ('oscillation', 'lateral', 'upset'))
    rad = max(abs(x['error'][k] - y['error'][k]) for x, y in zip(a['stations'], b['stations']) for k in ('rotOscillation', 'rotLateral', 'rotUpset'))
    print(f'{what} ({name}): {mm:.1e} mm, {rad:.1e} rad')


def clocking(value):
    return lambda plan: plan['disc']['datums'][2].update(clocking=value)


def equal_weights(plan):
    for d in plan['disc']['datums'] + plan['blade']['datums']:
        d.pop('weights')


compare('13-cone-first', 'cone half angle held at nominal', 'cone-half-angle-held')
compare('13b-cone-second', 'cone half angle held at nominal', 'cone-half-angle-held')
compare('13c-cone-tip-centres', 'cone half angle held at nominal', 'cone-half-angle-held')
compare('17-temperature', 'blades scaled alone, hub at the origin', 'blades-scaled-alone')
compare('17d-temperature-offset-hub-tips', 'blades scaled alone, hub off the origin', 'blades-scaled-alone')
compare('17d-temperature-offset-hub-tips', 'tip centres scaled before the radius is taken off', 'ball-radius-unscaled')
compare('11-midplane-clocking', 'mid-plane clocked by direction', edit=clocking('direction'))
compare('11c-plane-location', 'slot wall clocked by direction', edit=clocking('direction'))
compare('12-hole-clocking', 'circle in its own plane', 'circle-own-plane')
compare('26d-blade-seat-side-hole', 'circle in its own plane', 'circle-own-plane')
compare('19-sigma-weights', 'equal weights', edit=equal_weights)
