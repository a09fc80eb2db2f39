"""Invented measurement of a disc from stated truth, and its point file."""
import numpy as np
from scipy.spatial.transform import Rotation

from plan_and_points import UNIT, blade_frame, station_angles
from surfaces import sample


def small_motion(rng, move, tilt):
    return Rotation.from_rotvec(rng.normal(0, tilt, 3)).as_matrix(), rng.normal(0, move, 3)


def measure_all(plan, patches, truth, opt):
    """Rows (station, feature, centre or surface point, normal, extras) in the machine frame."""
    rng = np.random.default_rng(truth['seed'])
    noise = opt.get('noise', 0.0015)
    rows = []
    machine_R = np.asarray(truth['machine']['rotation'])
    machine_t = np.asarray(truth['machine']['origin'])
    exp = plan.get('temperature')

    def emit(station, datum, carry, defects):
        G = small_motion(rng, *defects) if defects else (np.eye(3), np.zeros(3))
        for f, q, nrm in sample(datum, patches[datum['label']], rng):
            c = q.mean(axis=0)
            q = c + (q - c) @ G[0].T + G[1]
            nrm = None if nrm is None else nrm @ G[0].T
            sig = np.full(len(q), noise)
            if opt.get('sigma'):
                sig = noise * rng.choice([0.5, 1.0, 3.0], len(q))
            e = rng.normal(0, 1, len(q)) * sig
            if nrm is None:
                q = q + rng.normal(0, 1, (len(q), 3)) * sig[:, None]
            else:
                q = q + e[:, None] * nrm
            q, nrm = carry(q, nrm)
            T = None
            if exp is not None and not exp['applied']:
                T = opt['temperatures'](station, f) if 'temperatures' in opt else exp['part']
                Ts = np.full(len(q), T) + (rng.normal(0, 0.05, len(q)) if 'temperatures' in opt else 0)
                q = q * (1 + exp['expansion'] * (Ts.mean() - 20))
            tip = opt['tip'](f) if 'tip' in opt else None
            if tip is not None:
                q = q + tip * nrm
            q = q @ machine_R.T + machine_t
            nrm = None if nrm is None else nrm @ machine_R.T
            for i in range(len(q)):
                rows.append({'station': station, 'feature': f, 'x': q[i], 'n': None if nrm is None else nrm[i], 'r': tip,
                             'sigma': sig[i] if opt.get('sigma') else None,
                             'temperature': Ts[i] if 'temperatures' in opt and T is not None else None})

    for d in plan['disc']['datums']:
        emit(None, d, lambda q, n: (q, n), opt.get('hubDefects', (0.006, 1e-4)) if noise else None)
    angles = station_angles(plan['disc'])
    for k, th in angles.items():
        o = (plan.get('overrides') or {}).get(str(k), {})
        N = blade_frame(th, o.get('seat', plan['blade']['seat']))
        NR, Nt = np.asarray(N['R'], float), np.asarray(N['t'], float)
        e = truth['errors'][k]
        ER, Et = Rotation.from_rotvec(e[3:]).as_matrix(), np.asarray(e[:3])

        def carry(q, n, NR=NR, Nt=Nt, ER=ER, Et=Et):
            return (q @ ER.T + Et) @ NR.T + Nt, None if n is None else n @ ER.T @ NR.T
        for d in plan['blade']['datums']:
            emit(k, d, carry, opt.get('bladeDefects', (0.004, 2e-4)) if noise else None)
    return rows, rng


def write_csv(path, rows, plan, opt, rng):
    imp = plan.get('import') or {}
    delim, dec = opt.get('delimiter', ','), opt.get('decimal', '.')
    to_unit = 1 / UNIT[imp.get('unit', 'mm')]
    digits = opt.get('digits', 7)

    def num(v, d=digits):
        s = repr(float(v)) if d is None else f'{v:.{d}f}'
        return s.replace('.', dec)
    roles = opt.get('roles', ['station', 'feature', 'x', 'y', 'z'])
    names = {r: (imp.get('columns') or {}).get(r, r) for r in roles}
    if opt.get('shuffle'):
        rows = [rows[i] for i in rng.permutation(len(rows))]
    lines = [] if opt.get('headless') else [delim.join(names[r] for r in roles)]
    for seq, row in enumerate(rows):
        cells = []
        for r in roles:
            if r == 'station':
                c = '' if row['station'] is None else str(row['station'])
            elif r == 'feature':
                c = row['feature']
            elif r == 'label':
                c = row['feature'] if row['station'] is None else f"B{row['station']:02d}_{row['feature']}"
            elif r in 'xyz':
                c = num(row['x']['xyz'.index(r)] * to_unit)
            elif r in 'ijk':
                c = '' if row['n'] is None else num(row['n']['ijk'.index(r)], 15)
            elif r == 'r':
                c = '' if row['r'] is None else num(row['r'] * to_unit, 8)
            elif r == 'sigma':
                c = num(row['sigma'] * to_unit, 8)
            elif r == 'temperature':
                c = num(row['temperature'], 3)
            elif r == 'seq':
                c = str(seq + 1)
            elif r == 'time':
                c = f'2031-05-04T10:{seq // 60 % 60:02d}:{seq % 60:02d}'
            cells.append(c)
        lines.append(delim.join(cells))
    text = opt.get('newline', '\n').join(lines) + opt.get('newline', '\n')
    encoding = opt.get('encoding', 'utf-8')
    raw = text.encode(encoding)
    if encoding == 'utf-16-le':
        raw = b'\xff\xfe' + raw
    with open(path, 'wb') as f:
        f.write(raw)


def tidy(x):
    """Plain JSON numbers without numpy types."""
    if isinstance(x, dict):
        return {k: tidy(v) for k, v in x.items()}
    if isinstance(x, (list, tuple)):
        return [tidy(v) for v in x]
    if isinstance(x, (np.floating, np.integer)):
        return x.item()
    return x
