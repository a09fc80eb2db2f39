"""Reference values of P(|delta| <= r) for normal and multivariate t vectors.

Isotropic normal cases: Rice and noncentral chi-squared distribution of SciPy. All others: the density in polar or spherical
coordinates about the centre of the zone, integrated with Gauss-Legendre nodes in the radius and the polar angle and the
trapezoidal rule in the azimuth; nodes are added until two values agree to 3e-14.

Run: python3 test/validation/scripts/uncertainty-position.py > test/validation/data/uncertainty-position.json
(numpy 2.4.6, SciPy 1.17.1)
"""
import json

import numpy as np
from scipy import stats
from scipy.special import gammaln


AGREEMENT = 3e-14


def density(x, mean, cov, nu):
    """Density at the rows of x."""
    n = len(mean)
    inverse = np.linalg.inv(cov)
    d = x - mean
    q = np.einsum("ij,jk,ik->i", d, inverse, d)
    norm = np.sqrt(np.linalg.det(cov))
    if nu is None:
        return np.exp(-q / 2) / ((2 * np.pi) ** (n / 2) * norm)
    constant = np.exp(gammaln((nu + n) / 2) - gammaln(nu / 2)) / ((nu * np.pi) ** (n / 2) * norm)
    return constant * (1 + q / nu) ** (-(nu + n) / 2)


def ball(r, mean, cov, nu, nodes):
    x, w = np.polynomial.legendre.leggauss(nodes)
    radius, wr = r * (x + 1) / 2, r * w / 2
    angle = 2 * np.pi * np.arange(2 * nodes) / (2 * nodes)
    total = 0.0
    if len(mean) == 2:
        for rho, weight in zip(radius, wr):
            points = rho * np.column_stack([np.cos(angle), np.sin(angle)])
            total += weight * rho * density(points, mean, cov, nu).mean() * 2 * np.pi
        return total
    for rho, weight in zip(radius, wr):
        z = np.repeat(x, len(angle))
        phi = np.tile(angle, len(x))
        s = np.sqrt(1 - z * z)
        points = rho * np.column_stack([s * np.cos(phi), s * np.sin(phi), z])
        values = density(points, mean, cov, nu).reshape(len(x), len(angle)).mean(axis=1)
        total += weight * rho**2 * 2 * np.pi * float(w @ values)
    return total


def checked(r, mean, cov, nu, nodes):
    before = ball(r, np.array(mean), np.array(cov), nu, nodes)
    while nodes < 2000:
        nodes = int(1.4 * nodes)
        value = ball(r, np.array(mean), np.array(cov), nu, nodes)
        if abs(value - before) < AGREEMENT:
            return value
        before = value
    raise AssertionError((r, mean, cov, nu))


isotropic = []
for dimension in (1, 2, 3):
    for sigma in (1.0, 0.004):
        for offset in (0.0, 0.1, 1.0, 3.0, 12.0):
            for score in (-1.5, 0.0, 1.0, 1.7, 3.0):
                r = offset + score + (1.0 if offset < 3 else 0.0)
                if r <= 0:
                    continue
                if dimension == 2:
                    p = stats.rice.cdf(r, offset)
                else:
                    p = stats.ncx2.cdf(r * r, dimension, offset * offset) if offset else stats.chi2.cdf(r * r, dimension)
                isotropic.append([dimension, sigma, offset * sigma, r * sigma, float(p)])
quantiles = [[sigma, offset * sigma, p, float(stats.rice.ppf(p, offset) * sigma) if offset else
              float(stats.rayleigh.ppf(p) * sigma)]
             for sigma in (1.0, 0.006) for offset in (0.0, 0.5, 2.0, 10.0) for p in (0.05, 0.5, 0.95, 0.99)]

cov2 = [[1.0, 0.3], [0.3, 0.2]]
thin = [[1.0, 0.18], [0.18, 0.04]]
cov3 = [[1.0, 0.2, 0.1], [0.2, 0.5, 0.0], [0.1, 0.0, 0.15]]
general = []
for mean, cov, nodes in [([0.0, 0.0], cov2, 60), ([0.3, 0.4], cov2, 60), ([-1.0, 1.5], cov2, 60), ([4.0, 1.0], cov2, 80),
                         ([0.1, 0.2], thin, 200), ([0.8, -0.9], thin, 240), ([5.0, 5.0], thin, 400)]:
    # Far along a thin ellipse the tails of t ask for more nodes than this rule can give.
    for nu in (None,) if mean == [5.0, 5.0] else (None, 1.0, 4.5, 30.0):
        for score in (0.4, 1.1, 2.4):
            r = float(np.hypot(*mean)) + score - (0.6 if np.hypot(*mean) > 1 else 0.0)
            general.append({"mean": mean, "covariance": cov, "degreesOfFreedom": nu, "radius": r,
                            "probability": checked(r, mean, cov, nu, nodes)})
for mean, cov, nodes in [([0.0, 0.0, 0.0], cov3, 50), ([0.3, -0.4, 0.2], cov3, 50), ([1.0, 2.0, 0.5], cov3, 60)]:
    for nu in (None, 3.0, 12.0):
        for score in (0.3, 1.8):
            r = float(np.linalg.norm(mean)) + score
            general.append({"mean": mean, "covariance": cov, "degreesOfFreedom": nu, "radius": r,
                            "probability": checked(r, mean, cov, nu, nodes)})
rows = {"isotropic": isotropic, "riceQuantiles": quantiles, "general": general}
print('{\n"source": "SciPy 1.17.1, numpy 2.4.6",')
print('"columns": {"isotropic": "components, deviation, mean, radius, probability", "riceQuantiles": "deviation, mean, p, radius"},')
print(",\n".join(f"{json.dumps(k)}: [\n" + ",\n".join(json.dumps(row) for row in v) + "\n]" for k, v in rows.items()))
print("}")
