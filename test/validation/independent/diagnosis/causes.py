"""Rigid motions of blades from planted causes, composed exactly (no small-angle formulae)."""
import math
import os
import sys

import numpy as np
from scipy.spatial.transform import Rotation

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), '..'))
from plan_and_points import blade_frame, station_angles  # noqa: E402

ERRORS = ['oscillation', 'lateral', 'upset', 'rotOscillation', 'rotLateral', 'rotUpset']
ARCSEC = math.pi / 180 / 3600


class Motion:
    """x ↦ R·x + t."""

    def __init__(self, R=None, t=None):
        self.R = np.eye(3) if R is None else np.asarray(R, float)
        self.t = np.zeros(3) if t is None else np.asarray(t, float)

    @staticmethod
    def of(six):
        """Translation and rotation vector."""
        return Motion(Rotation.from_rotvec(six[3:]).as_matrix(), six[:3])

    def __matmul__(self, other):
        return Motion(self.R @ other.R, self.R @ other.t + self.t)

    def inverse(self):
        return Motion(self.R.T, -self.R.T @ self.t)

    def six(self):
        return np.concatenate([self.t, Rotation.from_matrix(self.R).as_rotvec()])

    def __call__(self, p):
        return self.R @ np.asarray(p, float) + self.t


def frames(plan):
    """Nominal blade frames by station."""
    out = {}
    for k, theta in station_angles(plan['disc']).items():
        seat = {**plan['blade']['seat'], **((plan.get('overrides') or {}).get(str(k), {}).get('seat') or {})}
        N = blade_frame(theta, seat)
        out[k] = (theta, Motion(np.asarray(N['R'], float), np.asarray(N['t'], float)), {c: np.asarray(N[c], float) for c in ('er', 'et', 'ez', 'a', 'u')})
    return out


def weld_table(welds):
    """Station → (place, tool, age): age counts the welds made with that tool before this one."""
    made, out = {}, {}
    for place, (station, _, tool) in enumerate(sorted(welds, key=lambda w: w[1])):
        age = made.get(tool, 0)
        made[tool] = age + 1
        out[station] = (place, tool, age)
    return out


CAUSES = ['ringShift', 'common', 'toolSetup', 'toolChange', 'wear', 'index', 'harmonics', 'outliers', 'scatter']


def station_error(spec, where, axes_of, k, table, scatter, only=None):
    """Six errors of station k from the causes named (all where `only` is None)."""
    theta, N, axes = where
    has = (lambda c: only is None or c in only)
    x, y, z, rx, ry, rz = spec.get('ring', [0] * 6)
    ring = Motion.of([x if has('ringShift') else 0, y if has('ringShift') else 0, z if has('common') else 0,
                      rx if has('ringShift') else 0, ry if has('ringShift') else 0, rz if has('common') else 0])
    turn = 0.0
    if has('index'):
        turn += sum(a * math.cos(h * theta - math.radians(p)) for h, a, p in spec.get('index', []))
        turn += spec.get('indexAt', {}).get(k, 0.0)
    if has('scatter'):
        turn += scatter['index'][k]
    M = ring @ Motion.of([0, 0, 0, 0, 0, turn]) @ N
    if has('harmonics'):
        for channel, h, a, p in spec.get('harmonics', []):
            v = a * math.cos(h * theta - math.radians(p))
            if channel in ('radial', 'axial', 'tangential'):
                M = Motion(None, v * axes[{'radial': 'er', 'axial': 'ez', 'tangential': 'et'}[channel]]) @ M
            else:
                axis = {'lean': axes['a'], 'sweep': -axes['et'], 'stagger': -axes['u']}[channel]
                M = Motion(None, M.t) @ Motion.of([0, 0, 0, *(v * axis)]) @ Motion(M.R)
    E = N.inverse() @ M
    if has('scatter'):
        E = E @ Motion.of(scatter['six'][k])
    if has('outliers') and k in spec.get('slipped', {}):
        E = E @ Motion.of(spec['slipped'][k])
    tools = spec.get('tools', {})
    if table:
        place, tool, age = table[k]
        first = min(table.values())[1]
        base = np.asarray(tools.get(first, [0] * 6), float)
        if has('wear'):
            E = E @ Motion.of(np.asarray(spec.get('wear', [0] * 6), float) * age)
        if has('toolChange'):
            E = Motion.of(np.asarray(tools.get(tool, [0] * 6), float) - base) @ E
        if has('toolSetup'):
            E = Motion.of(base) @ E
    elif has('toolSetup'):
        E = Motion.of(tools.get('', [0] * 6)) @ E
    return E.six()


def displacement(six, p):
    return Motion.of(six)(p) - np.asarray(p, float)


def size_of(plan, sixes):
    """Largest 2·|δ| over stations and check points, where, and the r.m.s. of each station's worst."""
    best, squares = (0.0, None, None), []
    for k, six in sixes.items():
        worst = 0.0
        for cp in plan['blade']['position']['checkPoints']:
            v = 2 * float(np.linalg.norm(displacement(six, cp['at'])))
            worst = max(worst, v)
            if v > best[0]:
                best = (v, k, cp['name'])
        squares.append(worst ** 2)
    return {'value': best[0], 'station': best[1], 'checkPoint': best[2], 'rms': math.sqrt(np.mean(squares))}
