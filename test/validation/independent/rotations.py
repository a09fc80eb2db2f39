"""Directions and rotations in extended precision."""
import numpy as np

L = np.longdouble


def unit(a):
    a = np.asarray(a, dtype=float)
    return a / np.linalg.norm(a)


def lunit(a):
    a = np.asarray(a, dtype=L)
    return a / np.sqrt(a @ a)


def basis(n):
    """Two unit vectors square to n and to each other."""
    n = lunit(n)
    k = int(np.argmin(np.abs(n)))
    e = np.zeros(3, dtype=L)
    e[k] = 1
    e1 = lunit(np.cross(n, e))
    return e1, np.cross(n, e1)


def turn(axis, angle):
    """Rotation matrix about a unit axis (Rodrigues), extended precision."""
    a = lunit(axis)
    K = np.array([[0, -a[2], a[1]], [a[2], 0, -a[0]], [-a[1], a[0], 0]], dtype=L)
    return np.eye(3, dtype=L) + np.sin(L(angle)) * K + (1 - np.cos(L(angle))) * (K @ K)


def shortest(a, b):
    """Rotation matrix that carries unit a to unit b by the shortest way."""
    a, b = lunit(a), lunit(b)
    c, s = np.cross(a, b), a @ b
    n = np.sqrt(c @ c)
    if n < 1e-18:
        if s > 0:
            return np.eye(3, dtype=L)
        return turn(basis(a)[0], np.arctan2(L(0), L(-1)))
    return turn(c / n, np.arctan2(n, s))


def orthonormal(R):
    """One polar step, extended precision: R is already orthonormal to rounding."""
    R = np.asarray(R, dtype=L)
    for _ in range(2):
        R = R @ (np.eye(3, dtype=L) * L(1.5) - (R.T @ R) / 2)
    return R
