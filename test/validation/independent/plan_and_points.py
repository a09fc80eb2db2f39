"""Reads points (contract: CSV) and turns the plan into nominal blade frames."""
import csv
import io
import math
import re

import numpy as np

L = np.longdouble


def station_angles(disc):
    n = disc['stations']
    if disc.get('angles') is not None:
        return {k + 1: math.radians(a) for k, a in enumerate(disc['angles'])}
    s = 1 if disc['sense'] == 'counterclockwise' else -1
    first = disc.get('firstAngle', 0)
    return {k: math.radians(first + s * (k - 1) * 360.0 / n) for k in range(1, n + 1)}


def blade_frame(theta, seat):
    phi, xi = L(math.radians(seat['heightAngle'])), L(math.radians(seat['staggerAngle']))
    t = L(theta)
    er = np.array([np.cos(t), np.sin(t), 0], dtype=L)
    et = np.array([-np.sin(t), np.cos(t), 0], dtype=L)
    ez = np.array([0, 0, 1], dtype=L)
    u = np.cos(phi) * er + np.sin(phi) * ez
    a = -np.sin(phi) * er + np.cos(phi) * ez
    o = np.cos(xi) * a + np.sin(xi) * et
    lat = np.cross(u, o)
    return {
        'R': np.column_stack([o, lat, u]),
        't': L(seat['radius']) * er + L(seat['axial']) * ez,
        'er': er, 'et': et, 'ez': ez, 'a': a, 'u': u,
    }


def features_of(d):
    return list(d['features']) if d['type'] == 'midplane' else [d['feature']]


UNIT = {'mm': 1.0, 'inch': 25.4, 'µm': 1e-3, 'um': 1e-3}
ROLES = ['station', 'feature', 'x', 'y', 'z', 'i', 'j', 'k', 'r', 'sigma', 'seq', 'time', 'temperature', 'run', 'direction']


def decode(raw):
    if raw[:2] in (b'\xff\xfe', b'\xfe\xff'):
        return raw.decode('utf-16')
    try:
        return raw.decode('utf-8-sig')
    except UnicodeDecodeError:
        return raw.decode('latin-1')


def read_points(path, plan):
    text = decode(open(path, 'rb').read())
    imp = plan.get('import') or {}
    first = text.splitlines()[0]
    delimiter = imp.get('delimiter') or max([',', ';', '\t'], key=first.count)
    decimal = imp.get('decimal') or ('.' if delimiter == ',' else (',' if re.search(r'\d,\d', text) else '.'))
    unit_name = imp.get('unit', 'mm')
    rows = [(n + 1, r) for n, r in enumerate(csv.reader(io.StringIO(text), delimiter=delimiter)) if r and any(c.strip() for c in r)]
    columns = imp.get('columns') or {}
    head = [c.strip() for c in rows[0][1]]

    def number(s):
        return float(s.strip().replace(decimal, '.'))

    try:
        number(head[2])
        headless = not columns
    except ValueError:
        headless = False
    if headless:
        where = {r: i for i, r in enumerate(ROLES[:5])}
        body = rows
    else:
        where = {}
        for role in ROLES + ['label']:
            name = columns.get(role, role if role != 'label' and not (columns.get('label') and role in ('station', 'feature')) else None)
            if name in head:
                where[role] = head.index(name)
        body = rows[1:]
    stations = plan['disc']['stations']
    hub_names = {f for d in plan['disc']['datums'] for f in features_of(d)}
    blade_names = {f for d in plan['blade']['datums'] for f in features_of(d)}
    pattern = re.compile('^(?:' + imp['label'].replace('?<', '?P<') + ')$') if 'label' in imp and 'label' in where else None
    mm = UNIT[unit_name]
    blocks, excluded = {}, []
    for line, row in body:
        def cell(role, row=row):
            i = where.get(role)
            return None if i is None or i >= len(row) or row[i].strip() == '' else row[i].strip()

        if pattern:
            label = cell('label')
            m = pattern.match(label)
            st, feature = (int(m['station']), m['feature']) if m else (None, label)
        else:
            st, feature = cell('station'), cell('feature')
            st = None if st is None else int(st)
        known = feature in hub_names if st is None else (feature in blade_names and 1 <= st <= stations)
        if not known:
            excluded.append(line)
            continue
        p = {'x': [number(cell(c)) * mm for c in 'xyz']}
        p['n'] = [number(cell(c)) for c in 'ijk'] if cell('i') is not None else None
        p['r'] = number(cell('r')) * mm if cell('r') is not None else None
        p['sigma'] = number(cell('sigma')) * mm if cell('sigma') is not None else None
        p['T'] = number(cell('temperature')) if cell('temperature') is not None else None
        blocks.setdefault((st, feature), []).append(p)
    out = {}
    for key, pts in blocks.items():
        def col(name, pts=pts):
            return None if any(p[name] is None for p in pts) else np.array([p[name] for p in pts], dtype=L)
        b = {'x': col('x'), 'n': col('n'), 'r': col('r'), 'sigma': col('sigma'), 'T': col('T')}
        b['offset'] = None
        if b['r'] is not None and b['n'] is not None:
            b['x'] = b['x'] - b['r'][:, None] * b['n']
            b['r'] = None
        out[key] = b
    return out, excluded, len(body)
