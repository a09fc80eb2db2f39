"""Least squares with derivatives by forward-mode automatic differentiation in extended precision (80-bit)."""
import numpy as np

L = np.longdouble


class Dual:
    """Value with its gradient; `v` has any shape S, `g` has shape S + (parameters,)."""

    __array_priority__ = 100

    def __init__(self, v, g):
        self.v, self.g = v, g

    @staticmethod
    def of(x, like):
        if isinstance(x, Dual):
            return x
        x = np.asarray(x, dtype=L)
        return Dual(x, np.zeros(x.shape + (like.g.shape[-1],), dtype=L))

    def __add__(self, o):
        o = Dual.of(o, self)
        return Dual(self.v + o.v, self.g + o.g)

    __radd__ = __add__

    def __neg__(self):
        return Dual(-self.v, -self.g)

    def __sub__(self, o):
        return self + (-Dual.of(o, self))

    def __rsub__(self, o):
        return Dual.of(o, self) - self

    def __mul__(self, o):
        o = Dual.of(o, self)
        return Dual(self.v * o.v, self.g * o.v[..., None] + o.g * self.v[..., None])

    __rmul__ = __mul__

    def __truediv__(self, o):
        o = Dual.of(o, self)
        q = self.v / o.v
        return Dual(q, (self.g - q[..., None] * o.g) / o.v[..., None])

    def __rtruediv__(self, o):
        return Dual.of(o, self) / self

    def sqrt(self):
        s = np.sqrt(self.v)
        return Dual(s, self.g / (2 * s)[..., None])

    def cos(self):
        return Dual(np.cos(self.v), -np.sin(self.v)[..., None] * self.g)

    def sin(self):
        return Dual(np.sin(self.v), np.cos(self.v)[..., None] * self.g)


def seed(x):
    x = np.asarray(x, dtype=L)
    eye = np.eye(len(x), dtype=L)
    return [Dual(x[i], eye[i]) for i in range(len(x))]


def vec(point):
    """Columns of an n×3 array (or the three numbers of one vector) as extended-precision components."""
    a = np.asarray(point, dtype=L)
    return [a[..., 0], a[..., 1], a[..., 2]]


def dot3(a, b):
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross3(a, b):
    return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]


def flat(items):
    """Stack residual components (each shape (n,) duals) into one residual vector and Jacobian."""
    n = max(np.size(i.v) for i in items)
    v = np.concatenate([np.broadcast_to(i.v, (n,)) for i in items])
    g = np.concatenate([np.broadcast_to(i.g, (n, i.g.shape[-1])) for i in items])
    return v, g


class NotConverged(Exception):
    pass


def least_squares(residuals, x0, scale, weights=None):
    """Levenberg-Marquardt to the gradient's rounding level; `scale` are natural sizes of the parameters."""
    x = np.asarray(x0, dtype=L)
    scale = np.asarray(scale, dtype=L)
    root = None

    def evaluate(x):
        nonlocal root
        v, g = flat(residuals(seed(x)))
        if weights is not None:
            if root is None:
                w = np.sqrt(np.asarray(weights, dtype=L))
                root = np.tile(w, len(v) // len(w))
            v, g = v * root, g * root[:, None]
        return v, g * scale

    v, g = evaluate(x)
    cost, damping = v @ v, 0.0
    for _ in range(300):
        J = np.asarray(g, dtype=float)
        U, s, Vt = np.linalg.svd(J, full_matrices=False)
        if s[-1] <= 1e-11 * s[0]:
            raise NotConverged(f'rank deficient {s}')
        f = s / (s * s + damping * s[0] ** 2)
        # the projection of the residual is taken in extended precision: the fixed point is JᵀWr = 0 itself
        grad = g.T @ v
        if damping == 0:
            step = -(Vt.T @ ((Vt @ np.asarray(grad, dtype=float)) / (s * s)))
        else:
            step = -(Vt.T @ (f * (U.T @ np.asarray(v, dtype=float))))
        xn = x + np.asarray(step, dtype=L) * scale
        vn, gn = evaluate(xn)
        cn = vn @ vn
        small = np.max(np.abs(step)) < 1e-16
        if cn <= cost or small or np.max(np.abs(step)) < 1e-12:
            x, v, g, cost = xn, vn, gn, cn
            damping = 0.0 if damping < 1e-12 else damping / 10
            if small:
                break
        else:
            damping = max(damping * 10, 1e-8)
            if damping > 1e8:
                break
    v, g = evaluate(x)
    grad = np.asarray(g.T @ v, dtype=float)
    H = np.asarray(g, dtype=float).T @ np.asarray(g, dtype=float)
    left = np.linalg.solve(H, grad)
    if np.max(np.abs(left)) > 1e-14:
        raise NotConverged(f'step left {left}')
    return x
