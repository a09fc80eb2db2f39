"""Reference values of normal, Student t, chi-squared and F distributions, from mpmath at 60 digits.

Run: python3 test/validation/scripts/uncertainty-distributions.py > test/validation/data/uncertainty-distributions.json
(mpmath 1.3.0). SciPy's values were not taken: at a million degrees of freedom they are right to 1e-11 only.
"""
import json

import mpmath as mp

mp.mp.dps = 60


def normal_cdf(x):
    return mp.erfc(-x / mp.sqrt(2)) / 2


def student_cdf(t, nu):
    tail = mp.betainc(nu / 2, mp.mpf(1) / 2, 0, nu / (nu + t * t), regularized=True) / 2
    return tail if t < 0 else 1 - tail


def chi_squared(x, nu):
    lower = mp.gammainc(nu / 2, 0, x / 2, regularized=True)
    upper = mp.gammainc(nu / 2, x / 2, mp.inf, regularized=True)
    return lower, upper


def f_distribution(x, n1, n2):
    lower = mp.betainc(n1 / 2, n2 / 2, 0, n1 * x / (n1 * x + n2), regularized=True)
    upper = mp.betainc(n2 / 2, n1 / 2, 0, n2 / (n1 * x + n2), regularized=True)
    return lower, upper


def quantile(cdf, p, start):
    """Newton by mpmath's secant on the logarithm of the probability."""
    return mp.findroot(lambda x: mp.log(cdf(x)) - mp.log(p), start)


def number(x):
    return float(mp.nstr(x, 20))


out = {"source": "mpmath 1.3.0, 60 digits", "normal": [], "normalQuantile": [], "t": [], "tQuantile": [],
       "chiSquared": [], "chiSquaredQuantile": [], "f": []}
for x in [-37.0, -20.0, -8.5, -5.0, -3.0, -1.96, -1.0, -0.5, -0.01, 0.0, 0.3, 1.0, 2.0, 5.0]:
    out["normal"].append([x, number(normal_cdf(mp.mpf(x)))])
for p in [1e-300, 1e-100, 1e-20, 1e-8, 1e-3, 0.025, 0.05, 0.25, 0.5, 0.7, 0.925, 0.95, 0.975, 0.995, 0.9999]:
    x = mp.findroot(lambda v: mp.log(normal_cdf(v)) - mp.log(mp.mpf(p)),
                    mp.mpf(-0.5) if p < 0.5 else mp.mpf(0.5)) if 1e-3 < p else None
    if x is None:
        start = -mp.sqrt(-2 * mp.log(mp.mpf(p)))
        x = mp.findroot(lambda v: mp.log(normal_cdf(v)) - mp.log(mp.mpf(p)), start)
    out["normalQuantile"].append([p, 0.0 if p == 0.5 else number(x)])
for nu in [0.5, 1.0, 2.0, 3.7, 5.0, 16.7, 50.0, 1000.0, 1e6]:
    for t in [-1000.0, -40.0, -8.0, -3.0, -2.0, -1.0, -0.3, -0.001, 0.7, 4.0]:
        value = student_cdf(mp.mpf(t), mp.mpf(nu))
        if value > mp.mpf("1e-290"):
            out["t"].append([t, nu, number(value)])
for nu in [1.0, 2.0, 3.0, 4.4, 10.0, 18.0, 57.3, 1000.0]:
    for p in [0.6, 0.8, 0.95, 0.975, 0.995, 0.9995]:
        tail = 1 - mp.mpf(p)
        low, high = mp.mpf("1e-6"), mp.mpf("1e8")
        while high / low > 1 + mp.mpf("1e-3"):
            middle = mp.sqrt(low * high)
            low, high = (middle, high) if student_cdf(-middle, mp.mpf(nu)) > tail else (low, middle)
        out["tQuantile"].append([p, nu, number(-quantile(lambda x: student_cdf(x, mp.mpf(nu)), tail, -low))])
for nu in [0.5, 1.0, 2.0, 3.7, 10.0, 100.0, 1e4]:
    for factor in [0.01, 0.3, 0.8, 1.0, 1.2, 2.0, 5.0]:
        lower, upper = chi_squared(mp.mpf(nu * factor), mp.mpf(nu))
        if lower > mp.mpf("1e-290") and upper > mp.mpf("1e-290"):
            out["chiSquared"].append([nu * factor, nu, number(lower), number(upper)])
    for p in [1e-6, 0.025, 0.05, 0.5, 0.95, 0.975, 0.999]:
        low, high = mp.mpf("1e-40"), mp.mpf("1e8")
        while high / low > 1 + mp.mpf("1e-3"):
            middle = mp.sqrt(low * high)
            low, high = (middle, high) if chi_squared(middle, mp.mpf(nu))[0] < mp.mpf(p) else (low, middle)
        x = mp.exp(mp.findroot(lambda v: chi_squared(mp.exp(v), mp.mpf(nu))[0] - mp.mpf(p), (mp.log(low), mp.log(high))))
        out["chiSquaredQuantile"].append([p, nu, number(x)])
for n1 in [1.0, 2.0, 5.5, 40.0, 500.0]:
    for n2 in [1.0, 4.0, 30.5, 1000.0]:
        for x in [0.01, 0.5, 1.0, 3.0, 20.0]:
            lower, upper = f_distribution(mp.mpf(x), mp.mpf(n1), mp.mpf(n2))
            if lower > mp.mpf("1e-290") and upper > mp.mpf("1e-290"):
                out["f"].append([x, n1, n2, number(lower), number(upper)])
print("{")
print(",\n".join(f"{json.dumps(k)}: " + (json.dumps(v) if isinstance(v, str) else
      "[\n" + ",\n".join(json.dumps(row) for row in v) + "\n]") for k, v in out.items()))
print("}")
