"""Own evaluation of the causes from a result document: restricted maximum likelihood and generalised least squares.

Dense matrices, general-purpose optimisers, derivatives by differences: slow and simple on purpose. Inside, lengths are
micrometres and rotations micrometres at a lever of 100 mm, so that one tolerance fits all.
"""
import itertools
import math

import numpy as np
from scipy import stats
from scipy.optimize import minimize

from causes import ERRORS, Motion, weld_table

LEVER = 100.0
UNIT = np.array([1e3] * 3 + [1e3 * LEVER] * 3)  # mm, rad → µm


class Disc:
    """Errors, own covariances and frames of the reduced stations of a result document."""

    def __init__(self, result, welds=None, without=()):
        self.k, self.e, self.C, self.theta, self.N, self.shared = [], [], [], [], [], []
        for s in result['stations']:
            if s['station'] in without or any(s['error'][n] is None for n in ERRORS):
                continue
            self.k.append(s['station'])
            self.e.append(np.array([s['error'][n] for n in ERRORS]) * UNIT)
            self.C.append(np.array(s['covarianceOwn']) * np.outer(UNIT, UNIT))
            self.shared.append(np.array(s['covarianceShared']) * np.outer(UNIT, UNIT))
            self.theta.append(math.radians(s['angle']))
            self.N.append(Motion(np.array(s['nominal']['axes']).T, s['nominal']['origin']))
        self.table = weld_table(welds) if welds else None
        self.n = len(self.k)

    def twist(self, i):
        """6×6: motion (v, ω) of the disc frame about its origin → six errors of blade i, first order."""
        R, t = self.N[i].R, self.N[i].t
        out = np.zeros((6, 6))
        for j in range(3):
            v = np.eye(3)[j]
            out[:3, j] = R.T @ v
            out[:3, 3 + j] = R.T @ np.cross(v, t)
            out[3:, 3 + j] = R.T @ v
        return out * UNIT[:, None]

    def index_column(self, i):
        return self.twist(i)[:, 5]

    def hub_covariance(self):
        """The hub's 6×6 and the relative scale variance that explain the shared parts, by least squares."""
        pairs = list(itertools.combinations_with_replacement(range(6), 2))
        rows, rhs = [], []
        for i in range(self.n):
            G, g = self.twist(i), self.scale_column(i)
            for a, b in pairs:
                row = [G[a, p] * G[b, q] + (G[a, q] * G[b, p] if p != q else 0) for p, q in pairs]
                rows.append(row + [g[a] * g[b]])
                rhs.append(self.shared[i][a, b])
        A, y = np.array(rows), np.array(rhs)
        size = np.linalg.norm(A, axis=0)
        x = np.linalg.lstsq(A / size, y, rcond=1e-13)[0] / size
        S = np.zeros((6, 6))
        for (p, q), v in zip(pairs, x):
            S[p, q] = S[q, p] = v
        return S, max(0.0, x[-1])

    def scale_column(self, i):
        return np.concatenate([self.N[i].R.T @ self.N[i].t, np.zeros(3)]) * UNIT

    def columns(self, orders=(1, 2), extra=(), hub_constants=None, outlier_shift=()):
        """Design by stacked stations with (component, key, of) names."""
        names, cols = [], []

        def add(name, fn):
            names.append(name)
            cols.append(np.concatenate([fn(i) for i in range(self.n)]))
        for j, key in ((0, 'x'), (1, 'y'), (3, 'tiltX'), (4, 'tiltY')):
            add(('ringShift', key, None), lambda i, j=j: self.twist(i)[:, j])
        if hub_constants is None:
            hub_constants = self.seats_differ()
        if hub_constants:
            add(('common', 'axial', None), lambda i: self.twist(i)[:, 2])
            add(('common', 'clocking', None), lambda i: self.twist(i)[:, 5])
        for j, key in enumerate(ERRORS):
            add(('toolSetup', key, None), lambda i, j=j: np.eye(6)[j] * UNIT[j])
        if self.table:
            tools = []
            for place, tool, age in sorted(self.table.values()):
                if tool not in tools:
                    tools.append(tool)
            for a, tool in enumerate(tools[1:], 1):
                for j, key in enumerate(ERRORS):
                    add(('toolChange', key, tool), lambda i, j=j, a=a: np.eye(6)[j] * UNIT[j] * (tools.index(self.table[self.k[i]][1]) >= a))
            for j, key in enumerate(ERRORS):
                add(('wear', key, None), lambda i, j=j: np.eye(6)[j] * UNIT[j] * self.table[self.k[i]][2])
        for h in orders:
            if 2 * h == self.n and np.ptp(np.diff(sorted(self.theta))) < 1e-9:
                add(('index', f'cos{h}', None), lambda i, h=h: self.index_column(i) * math.cos(h * (self.theta[i] - self.theta[0])))
                continue
            add(('index', f'cos{h}', None), lambda i, h=h: self.index_column(i) * math.cos(h * self.theta[i]))
            add(('index', f'sin{h}', None), lambda i, h=h: self.index_column(i) * math.sin(h * self.theta[i]))
        for channel, h in extra:
            def shape(i, channel=channel):
                th = self.theta[i]
                er, et, ez = np.array([math.cos(th), math.sin(th), 0]), np.array([-math.sin(th), math.cos(th), 0]), np.array([0, 0, 1.0])
                R = self.N[i].R
                u = R[:, 2]
                a = np.cross(et, u) * -1  # a = −sin φ e_r + cos φ e_z
                if channel in ('radial', 'tangential', 'axial'):
                    return np.concatenate([R.T @ {'radial': er, 'tangential': et, 'axial': ez}[channel], np.zeros(3)]) * UNIT
                return np.concatenate([np.zeros(3), R.T @ {'lean': a, 'sweep': -et, 'stagger': -u}[channel]]) * UNIT
            add(('harmonics', f'{channel} cos{h}', None), lambda i, h=h, s=shape: s(i) * math.cos(h * self.theta[i]))
            add(('harmonics', f'{channel} sin{h}', None), lambda i, h=h, s=shape: s(i) * math.sin(h * self.theta[i]))
        return names, np.array(cols).T

    def seats_differ(self):
        first = np.linalg.norm(self.N[0].t), self.N[0].t[2], self.N[0].R[2]
        return any(abs(np.linalg.norm(N.t) - first[0]) > 1e-6 or abs(N.t[2] - first[1]) > 1e-6 or np.max(np.abs(N.R[2] - first[2])) > 1e-9 for N in self.N)


class Fit:
    """REML variances and generalised least squares, with Satterthwaite degrees of freedom."""

    def __init__(self, disc, names, X, shared=True, thorough=True, index_scatter=True):
        self.disc, self.names = disc, names
        keep = independent_columns(X)
        self.dropped = [names[j] for j in range(X.shape[1]) if j not in keep]
        self.names = [names[j] for j in keep]
        self.X = X[:, keep]
        self.y = np.concatenate(disc.e)
        self.d = [disc.index_column(i) / 1e3 for i in range(disc.n)]
        self.variances = self.reml(thorough, index_scatter)
        W = self.weights(self.variances)
        self.W = W
        self.information = self.X.T @ W @ self.X
        self.own = np.linalg.inv(self.information)
        P = self.own @ self.X.T @ W
        self.P = P
        self.beta = P @ self.y
        self.cov = self.own.copy()
        if shared:
            S, scale = disc.hub_covariance()
            G = np.vstack([disc.twist(i) for i in range(disc.n)])
            g = np.concatenate([disc.scale_column(i) for i in range(disc.n)])
            self.cov = self.cov + P @ (G @ S @ G.T + scale * np.outer(g, g)) @ P.T

    def weights(self, v):
        n = self.disc.n
        W = np.zeros((6 * n, 6 * n))
        for i in range(n):
            W[6 * i:6 * i + 6, 6 * i:6 * i + 6] = np.linalg.inv(self.disc.C[i] + np.diag(v[:6]) + v[6] * np.outer(self.d[i], self.d[i]))
        return W

    def minus_two_restricted(self, v):
        n, p = self.disc.n, self.X.shape[1]
        V = self.stack + np.diag(v[:6]) + v[6] * self.dd
        Li = np.linalg.inv(np.linalg.cholesky(V))
        Xw = (Li @ self.X.reshape(n, 6, p)).reshape(-1, p)
        yw = (Li @ self.y.reshape(n, 6, 1)).reshape(-1)
        A, b = Xw.T @ Xw, Xw.T @ yw
        return (-2 * np.log(np.diagonal(Li, axis1=1, axis2=2)).sum() + np.linalg.slogdet(A)[1] + yw @ yw - b @ np.linalg.solve(A, b))

    def reml(self, thorough, index_scatter):
        self.stack = np.array(self.disc.C)
        self.dd = np.array([np.outer(d, d) for d in self.d])
        full, self.X = self.X, self.X / np.linalg.norm(self.X, axis=0)
        resid = self.y - self.X @ np.linalg.lstsq(self.X, self.y, rcond=None)[0]
        start = np.sqrt(np.maximum(np.array([np.var(resid[j::6]) for j in range(6)]), 1e-6))
        best = None
        for factor, turn in ((1, 0.01), (0.7, 0.05), (0.3, 0.2))[: 3 if thorough else 1]:
            x = np.concatenate([start * factor, [turn if index_scatter else 0]])
            for _ in range(2 if thorough else 1):
                got = minimize(lambda s: self.minus_two_restricted(s ** 2), x, method='L-BFGS-B', bounds=[(0, None)] * 6 + [(0, None if index_scatter else 0)],
                               options={'ftol': 1e-14 if thorough else 1e-8, 'gtol': 1e-9 if thorough else 1e-4, 'maxiter': 500})
                x = np.maximum(got.x, 0)
            if best is None or got.fun < best.fun:
                best = got
        self.X, self.minimum = full, best.fun
        return np.where(best.x < np.array([1e-3] * 6 + [1e-5]), 0, best.x) ** 2

    def information_of_variances(self):
        """Expected REML information of the seven variances: ½·tr(P Z_i P Z_j)."""
        n = self.disc.n
        W = self.W
        Q = W - W @ self.X @ self.own @ self.X.T @ W
        Z = []
        for j in range(7):
            z = np.zeros((6 * n, 6 * n))
            for i in range(n):
                b = slice(6 * i, 6 * i + 6)
                z[b, b] = np.outer(self.d[i], self.d[i]) if j == 6 else np.diag(np.eye(6)[j])
            Z.append(z)
        QZ = [Q @ z for z in Z]
        info = np.array([[0.5 * np.sum(QZ[a] * QZ[b].T) for b in range(7)] for a in range(7)])
        return info, Z

    def degrees_of_freedom(self, contrast):
        """Satterthwaite: 2·v² / (gᵀ·A·g), with the variances that are not zero."""
        info, Z = self.information_of_variances()
        active = [j for j in range(7) if self.variances[j] > 0]
        w = self.P.T @ contrast
        g = np.array([w @ Z[j] @ w for j in active])
        v = contrast @ self.own @ contrast
        if not active:
            return math.inf
        A = np.linalg.inv(info[np.ix_(active, active)])
        down = g @ A @ g
        return math.inf if down <= 0 else 2 * v * v / down

    def block(self, component):
        return [j for j, n in enumerate(self.names) if n[0] == component]

    def wald(self, component):
        """F statistic with the covariance that holds the hub's part, its degrees of freedom (Fai and Cornelius), probability."""
        idx = self.block(component)
        if not idx:
            return None
        b, V = self.beta[idx], self.cov[np.ix_(idx, idx)]
        q = len(idx)
        F = float(b @ np.linalg.solve(V, b)) / q
        lam, U = np.linalg.eigh(V)
        dofs = []
        for m in range(q):
            c = np.zeros(len(self.beta))
            c[idx] = U[:, m]
            own = c @ self.own @ c
            nu = self.degrees_of_freedom(c)
            # the hub's part has no variance to be estimated: its share widens the degrees of freedom
            dofs.append(nu * (lam[m] / own) ** 2)
        if q == 1:
            nu = dofs[0]
        else:
            E = sum((v / (v - 2) if math.isfinite(v) else 1) for v in dofs if v > 2)
            nu = 2 * E / (E - q) if E > q * (1 + 1e-12) else math.inf
        p = float(stats.chi2.sf(F * q, q)) if not math.isfinite(nu) else float(stats.f.sf(F, q, nu))
        return {'statistic': F, 'numerator': q, 'denominator': nu, 'probability': p}

    def parameter(self, name):
        j = self.names.index(name)
        c = np.eye(len(self.beta))[j]
        return {'value': float(self.beta[j]), 'standard': float(math.sqrt(self.cov[j, j])), 'degreesOfFreedom': float(self.degrees_of_freedom(c) * (self.cov[j, j] / self.own[j, j]) ** 2)}

    def contribution(self, component, i):
        idx = self.block(component)
        return self.X[6 * i:6 * i + 6, idx] @ self.beta[idx] / UNIT

    def size(self, component, check_points):
        """Largest 2·|δ|, first order, with its standard uncertainty along δ."""
        best = None
        idx = self.block(component)
        if not idx:
            return None
        for i in range(self.disc.n):
            for cp in check_points:
                A = lever(cp['at'])
                J = A @ (self.X[6 * i:6 * i + 6, idx] / UNIT[:, None])
                delta = J @ self.beta[idx]
                r = np.linalg.norm(delta)
                if best is None or 2 * r > best['value']:
                    u = delta / r if r > 0 else np.array([1.0, 0, 0])
                    c = np.zeros(len(self.beta))
                    c[idx] = J.T @ u
                    best = {'value': 2 * float(r), 'standard': 2 * math.sqrt(c @ self.cov @ c), 'station': self.disc.k[i], 'checkPoint': cp['name']}
        return best

    def residuals(self):
        return (self.y - self.X @ self.beta).reshape(-1, 6)


def lever(p):
    """δ = t + ρ × p as 3×6."""
    x, y, z = p
    return np.hstack([np.eye(3), -np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])])


def independent_columns(X, tolerance=1e-9):
    """Indices of columns that add a dimension, taken in order (modified Gram–Schmidt, twice)."""
    basis, keep = [], []
    for j in range(X.shape[1]):
        v = X[:, j] / np.linalg.norm(X[:, j]) if np.linalg.norm(X[:, j]) > 0 else X[:, j]
        for _ in range(2):
            for b in basis:
                v = v - (b @ v) * b
        if np.linalg.norm(v) > tolerance ** 0.5:
            basis.append(v / np.linalg.norm(v))
            keep.append(j)
    return keep


def find_outliers(result, welds, orders=(1, 2), extra=(), level=0.001):
    """Stations taken out one after the other while the worst of them is beyond scatter (six mean shifts, Bonferroni)."""
    out = []
    while True:
        disc = Disc(result, welds, out)
        if disc.n < 4:
            return out
        worst = None
        for k in disc.k:
            rest = Disc(result, welds, [*out, k])
            names, X = rest.columns(orders, extra)
            fit = Fit(rest, names, X, shared=False, thorough=False)
            i = disc.k.index(k)
            all_names, all_X = disc.columns(orders, extra, rest.seats_differ())
            cols = [all_names.index(n) for n in fit.names]
            Xi = all_X[6 * i:6 * i + 6, cols]
            gone = [all_names.index(n) for n in fit.dropped]
            free = all_X[6 * i:6 * i + 6, gone] if gone else np.zeros((6, 0))
            if gone and np.linalg.matrix_rank(free, tol=1e-6) == 6:
                continue  # this station alone decides some columns: it cannot be judged
            r = disc.e[i] - Xi @ fit.beta
            V = disc.C[i] + np.diag(fit.variances[:6]) + fit.variances[6] * np.outer(disc.index_column(i), disc.index_column(i)) / 1e6 + Xi @ fit.own @ Xi.T
            d2 = float(r @ np.linalg.solve(V, r))
            nu = max(3.0, rest.n - len(fit.names) / 6)
            p = float(stats.f.sf(d2 / 6, 6, nu))
            if worst is None or p < worst[0]:
                worst = (p, k, d2)
        if worst is None or worst[0] * disc.n > level:
            return sorted(out)
        out.append(worst[1])
