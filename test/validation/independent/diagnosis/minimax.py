"""Own six-freedom corrections: cutting planes with linear programs, which bound the optimum from both sides."""
import numpy as np
from scipy.optimize import linprog

from causes import ERRORS, Motion

HUB = ['x', 'y', 'z', 'rotX', 'rotY', 'rotZ']


def zones(plan, station):
    spec = {**plan['blade']['position'], **((plan.get('overrides') or {}).get(str(station), {}).get('position') or {})}
    for cp in spec['checkPoints']:
        yield cp['name'], np.asarray(cp['at'], float), cp.get('zone', spec['zone']), cp.get('direction', spec.get('direction'))


def projected(delta, zone, direction):
    if zone == 'cylindrical':
        return delta[..., :2]
    if zone == 'spherical':
        return delta
    d = np.asarray(direction, float)
    return (delta @ (d / np.linalg.norm(d)))[..., None]


class Problem:
    """Freedoms: tool (six), hub (six), index (one a station), on top of each other in that order of nearness to the blade."""

    def __init__(self, plan, result, kinds, left_out=(), freedoms=None):
        self.rows, self.names = [], []
        stations = [s for s in result['stations'] if s['station'] not in left_out]
        if 'tool' in kinds:
            self.names += [('tool', n) for n in ERRORS]
        if 'hub' in kinds:
            self.names += [('hub', n) for n in HUB]
        if 'index' in kinds:
            self.names += [('index', s['station']) for s in stations]
        if freedoms is not None:
            self.names = [n for n in self.names if n in freedoms]
        self.unit = np.array([1e-3 if n[1] in ('oscillation', 'lateral', 'upset', 'x', 'y', 'z') else 1e-5 for n in self.names])
        for s in stations:
            N = Motion(np.array(s['nominal']['axes']).T, s['nominal']['origin'])
            E = Motion.of([s['error'][n] for n in ERRORS])
            for cp in zones(plan, s['station']):
                self.rows.append((s['station'], N, E, *cp))

    def split(self, c, station):
        tool, hub, turn = np.zeros(6), np.zeros(6), 0.0
        for (kind, n), v in zip(self.names, c):
            if kind == 'tool':
                tool[ERRORS.index(n)] = v
            elif kind == 'hub':
                hub[HUB.index(n)] = v
            elif n == station:
                turn = v
        return tool, hub, turn

    def displacements(self, c):
        """Exact: E_new = N⁻¹·hub·index·N·tool·E."""
        out = []
        for station, N, E, _, p, zone, direction in self.rows:
            tool, hub, turn = self.split(c, station)
            new = N.inverse() @ Motion.of(hub) @ Motion.of([0, 0, 0, 0, 0, turn]) @ N @ Motion.of(tool) @ E
            out.append(projected(new(p) - p, zone, direction))
        return out

    def worst(self, c):
        return 2 * max(float(np.linalg.norm(d)) for d in self.displacements(c))

    def jacobians(self, c):
        """Central differences, exact to rounding for such small motions."""
        cols = []
        for j, h in enumerate(self.unit):
            up, down = c.copy(), c.copy()
            up[j] += h
            down[j] -= h
            cols.append([(a - b) / 2 for a, b in zip(self.displacements(up), self.displacements(down))])
        return [np.array([cols[j][i] for j in range(len(c))]).T for i in range(len(self.rows))]  # per `unit`

    def solve(self, bounds=None, gap=1e-7, box=300.0):
        """c, largest position (exact), proven lower bound of the linearised problem."""
        c = np.zeros(len(self.names))
        low = 0.0
        for _ in range(3):
            d0, J = self.displacements(c), self.jacobians(c)
            limits = [(-box, box) if b is None else ((-b - c[j]) / self.unit[j], (b - c[j]) / self.unit[j])
                      for j, b in enumerate(bounds or [None] * len(c))]
            cuts, rhs = [], []

            def cut(i, u):
                cuts.append(np.concatenate([u @ J[i], [-1.0]]))
                rhs.append(-float(u @ d0[i]) * 1e3)
            for i in range(len(d0)):
                m = len(d0[i])
                for j in range(m):
                    for sign in (1, -1):
                        cut(i, sign * np.eye(m)[j])
            cuts = [np.concatenate([row[:-1] * 1e3, row[-1:]]) for row in cuts]
            step, best = np.zeros(len(c)), np.inf
            for _ in range(200):
                got = linprog([0.0] * len(c) + [1.0], A_ub=np.array(cuts), b_ub=np.array(rhs), bounds=limits + [(0, None)], method='highs')
                low = got.x[-1] / 1e3
                values = [d0[i] + J[i] @ got.x[:-1] for i in range(len(d0))]
                norms = [np.linalg.norm(v) for v in values]
                if max(norms) < best:
                    best, step = max(norms), got.x[:-1]
                if best - low < gap / 4:
                    break
                for i, (v, r) in enumerate(zip(values, norms)):
                    if r > low:
                        u = v / r
                        cuts.append(np.concatenate([(u @ J[i]) * 1e3, [-1.0]]))
                        rhs.append(-float(u @ d0[i]) * 1e3)
            c = c + self.smallest(d0, J, cuts, rhs, limits, best + gap / 4, gap / 4, step) * self.unit
        return c, self.worst(c), 2 * low

    def smallest(self, d0, J, cuts, rhs, limits, level, gap, fallback):
        """Of all steps that reach the level, the one with the least sum of absolute values (several may reach it alike)."""
        m = len(self.names)
        for _ in range(100):
            A = np.array(cuts)[:, :m]
            b = np.array(rhs) + level * 1e3
            both = np.vstack([np.hstack([A, np.zeros((len(A), m))]), np.hstack([np.eye(m), -np.eye(m)]), np.hstack([-np.eye(m), -np.eye(m)])])
            got = linprog([0.0] * m + [1.0] * m, A_ub=both, b_ub=np.concatenate([b, np.zeros(2 * m)]), bounds=limits + [(0, None)] * m, method='highs')
            if got.status != 0:
                return fallback
            step = got.x[:m]
            values = [d0[i] + J[i] @ step for i in range(len(d0))]
            over = [(i, v / np.linalg.norm(v)) for i, v in enumerate(values) if np.linalg.norm(v) > level + gap]
            if not over:
                return step
            for i, u in over:
                cuts.append(np.concatenate([(u @ J[i]) * 1e3, [-1.0]]))
                rhs.append(-float(u @ d0[i]) * 1e3)
        return fallback
