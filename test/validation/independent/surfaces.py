"""Plans from pieces, and points sampled on their nominal surfaces."""
import math

import numpy as np

from rotations import unit

DEG = math.pi / 180


def plane(label, feature, point, direction, patch, **extra):
    return {'label': label, 'feature': feature, 'type': 'plane', 'nominal': {'point': point, 'direction': direction}, **extra}, patch


def round_(kind, label, feature, point, direction, radius, patch, **extra):
    nom = {'point': point, 'radius': radius}
    if direction is not None:
        nom['direction'] = direction
    if 'halfAngle' in extra:
        nom['halfAngle'] = extra.pop('halfAngle')
    return {'label': label, 'feature': feature, 'type': kind, 'nominal': nom, **extra}, patch


def face(label='A', z=0.0, n=24, ring=(80, 110), point=None, **extra):
    return plane(label, 'HUB-FACE', point or [0, 0, z], [0, 0, 1], {'ring': ring, 'at': [0, 0, z], 'n': n}, **extra)


def bore(label='B', n=24, radius=70, length=(-38, -2), point=None, **extra):
    return round_('cylinder', label, 'HUB-BORE', point or [0, 0, 0], [0, 0, 1], radius, {'len': length, 'n': n}, side='inside', **extra)


def slot(label='C', n=12, azimuth=0.0, point=None, **extra):
    """One wall of a radial slot at the azimuth (degrees): plane through the axis, its direction 90° further on."""
    c, s = math.cos(azimuth * DEG), math.sin(azimuth * DEG)
    direction = [0, 1, 0] if azimuth == 0 else [-s, c, 0]
    return plane(label, 'HUB-SLOT', point or [0, 0, 0], direction, {'at': [95 * c, 95 * s, -8], 'half': (12, 5), 'u': [c, s, 0], 'n': n}, **extra)


def seat_plane(label='D', n=9, point=(0, 0, 12), at=(0, 0, 12), **extra):
    return plane(label, 'SEAT', list(point), [0, 0, 1], {'at': at, 'half': (26, 8), 'u': [1, 0, 0], 'n': n}, **extra)


def side_plane(label='E', n=8, point=(0, 9, 6), at=(0, 9, 6), direction=(0, 1, 0), **extra):
    return plane(label, 'SIDE', list(point), list(direction), {'at': at, 'half': (25, 4), 'u': [1, 0, 0], 'n': n}, **extra)


def end_plane(label='F', n=6, point=(30, 0, 6), at=(30, 0, 6), **extra):
    return plane(label, 'END', list(point), [1, 0, 0], {'at': at, 'half': (7, 4), 'u': [0, 1, 0], 'n': n}, **extra)


LIMITS = {'oscillation': 0.025, 'lateral': 0.025, 'upset': 0.05, 'rotOscillation': 0.0005, 'rotLateral': 0.0005, 'rotUpset': 0.001}


def make_plan(title, hub, blade, stations=12, seat=None, sense='counterclockwise', firstAngle=0.0, **more):
    plan = {
        'format': 'hubtrue-plan/1', 'title': title, 'units': 'mm',
        'part': {'name': 'Invented disc', 'number': title.split()[0], 'revision': '', 'serial': '', 'material': ''},
        'disc': {'stations': stations, 'firstAngle': firstAngle, 'sense': sense, 'datums': [d for d, _ in hub]},
        'blade': {
            'seat': seat or {'radius': 240, 'axial': 15, 'heightAngle': 6, 'staggerAngle': 38},
            'datums': [d for d, _ in blade],
            'pose': more.pop('pose', 'datum'),
            'position': more.pop('position', {'tolerance': 0.12, 'zone': 'cylindrical',
                                              'checkPoints': [{'name': 'root', 'at': [0, 0, 0]}, {'name': 'tip', 'at': [0, 0, 160]}]}),
            'limits': more.pop('limits', dict(LIMITS)),
        },
        'decision': {'rule': 'simple', 'probability': 0.95},
    }
    if 'angles' in more:
        plan['disc']['angles'] = more.pop('angles')
    plan.update(more)
    patches = {}
    for d, p in hub + blade:
        patches[d['label']] = p
    return plan, patches


def frame_of(d, u=None):
    d = unit(d)
    if u is None:
        k = int(np.argmin(np.abs(d)))
        u = np.eye(3)[k]
    u = np.asarray(u, float) - (np.asarray(u, float) @ d) * d
    u = unit(u)
    return d, u, np.cross(d, u)


def jittered(n, lo, hi, rng):
    """n values spread over an interval, jittered inside their cells."""
    return lo + (hi - lo) * (np.arange(n) + 0.15 + 0.7 * rng.random(n)) / n


def sample(datum, patch, rng):
    """[(feature name, surface points n×3, normals out of the material n×3 or None)] in nominal coordinates."""
    nom, kind = datum['nominal'], datum['type']
    n = patch['n']
    p0 = np.asarray(nom['point'], float)
    outward = -1 if datum.get('side') == 'inside' else 1
    if kind in ('plane', 'midplane'):
        d, u, v = frame_of(nom['direction'], patch.get('u'))
        mat = 1 if datum.get('material', 'negative') == 'negative' else -1

        def patch_points():
            at = np.asarray(patch['at'], float)
            if 'ring' in patch:
                a = jittered(n, 0, 2 * math.pi, rng)
                r = patch['ring'][0] + (patch['ring'][1] - patch['ring'][0]) * rng.random(n)
                q = at + np.outer(r * np.cos(a), u) + np.outer(r * np.sin(a), v)
            else:
                a = jittered(n, -1, 1, rng)
                b = rng.permutation(jittered(n, -1, 1, rng))
                q = at + np.outer(a * patch['half'][0], u) + np.outer(b * patch['half'][1], v)
            return q - np.outer((q - p0) @ d, d)
        if kind == 'plane':
            q = patch_points()
            return [(datum['feature'], q, np.tile(mat * d, (n, 1)))]
        out = []
        for f, s in zip(datum['features'], (1, -1)):
            q = patch_points() + s * patch['width'] / 2 * d
            # walls of a slot look at each other; the flanks of a tongue look away from each other
            look = -s if patch.get('slot', True) else s
            out.append((f, q, np.tile(look * d, (n, 1))))
        return out
    if kind == 'point':
        return [(datum['feature'], np.tile(p0, (n, 1)), None)]
    if kind == 'sphere':
        d, u, v = frame_of(patch.get('towards', [0, 0, 1]))
        z = 1 - (1 - math.cos(patch.get('cap', 110) * DEG)) * (np.arange(n) + 0.5) / n
        a = jittered(n, 0, 2 * math.pi * 5, rng)
        s = np.sqrt(1 - z * z)
        m = np.outer(z, d) + np.outer(s * np.cos(a), u) + np.outer(s * np.sin(a), v)
        return [(datum['feature'], p0 + nom['radius'] * m, outward * m)]
    d, u, v = frame_of(nom['direction'], patch.get('u'))
    if kind == 'line':
        h = jittered(n, *patch['len'], rng)
        return [(datum['feature'], p0 + np.outer(h, d), None)]
    lo, hi = patch.get('arc', (0, 360))
    a = jittered(n, lo * DEG, hi * DEG, rng)
    m = np.outer(np.cos(a), u) + np.outer(np.sin(a), v)
    if kind == 'circle':
        return [(datum['feature'], p0 + nom['radius'] * m, outward * m)]
    h = rng.permutation(jittered(n, *patch['len'], rng))
    if kind == 'cylinder':
        return [(datum['feature'], p0 + nom['radius'] * m + np.outer(h, d), outward * m)]
    be = nom['halfAngle'] * DEG
    r = nom['radius'] + h * math.tan(be)
    normal = math.cos(be) * m - math.sin(be) * d
    return [(datum['feature'], p0 + r[:, None] * m + np.outer(h, d), outward * normal)]
