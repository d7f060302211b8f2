"""Expected values for tests/core/statistics from SciPy, an independent general-purpose library.

Run:  python3 tests/reference/statistics/generate.py > tests/reference/statistics/distributions.json
"""
import json
import sys

import numpy as np
import scipy
from scipy import special, stats


def rows(function, *lists):
    grid = np.array(np.meshgrid(*lists, indexing="ij")).reshape(len(lists), -1).T
    return [[*map(float, args), float(function(*map(float, args)))] for args in grid]


p = [1e-6, 0.005, 0.05, 0.3, 0.5, 0.9, 0.975, 0.9995]
out = {
    "made with": f"scipy {scipy.__version__}, numpy {np.__version__}, python {sys.version.split()[0]}",
    "logGamma": rows(special.gammaln, [1e-3, 0.5, 1.5, 3.7, 14.9, 15.0, 123.4, 1e5]),
    "erf": rows(special.erf, [-3, -0.5, 1e-8, 0.3, 1, 2.5, 5]),
    "erfc": rows(special.erfc, [-2, 0.1, 1, 3, 6, 10, 25]),
    "normalQuantile": rows(stats.norm.ppf, [1e-12, *p]),
    "normalCdf": rows(stats.norm.cdf, [-9, -3, -1, 0, 0.5, 2, 6]),
    "studentTCdf": rows(stats.t.cdf, [-40, -2.5, -0.1, 0.7, 3], [1, 2, 4.5, 9, 30, 1000]),
    "studentTQuantile": rows(stats.t.ppf, p, [1, 2, 4.5, 9, 30, 1000]),
    "chiSquareUpper": rows(stats.chi2.sf, [0.01, 1, 9.5, 60, 300], [1, 4, 9, 50]),
    "chiSquareQuantile": rows(stats.chi2.ppf, p, [1, 4, 9, 50]),
    "fUpper": rows(stats.f.sf, [0.2, 1, 3.5, 20], [1, 3, 8], [2, 11, 200]),
    "betaCdf": rows(stats.beta.cdf, [1e-4, 0.2, 0.5, 0.93], [0.5, 2, 40], [0.5, 3, 100]),
    "betaQuantile": rows(stats.beta.ppf, [0.005, 0.05, 0.5, 0.975], [0.5, 2, 40], [0.5, 3, 100]),
    "binomialPmf": rows(stats.binom.pmf, [0, 3, 17], [17, 40], [0.05, 0.4, 0.97]),
    "binomialCdf": rows(stats.binom.cdf, [0, 3, 17], [17, 40], [0.05, 0.4, 0.97]),
    "poissonPmf": rows(stats.poisson.pmf, [0, 4, 60], [0.3, 5, 70]),
    "poissonCdf": rows(stats.poisson.cdf, [0, 4, 60], [0.3, 5, 70]),
    "negativeBinomialPmf": rows(lambda x, m, k: stats.nbinom.pmf(x, k, k / (k + m)), [0, 4, 60], [0.3, 5, 70], [0.4, 3, 50]),
    "negativeBinomialCdf": rows(lambda x, m, k: stats.nbinom.cdf(x, k, k / (k + m)), [0, 4, 60], [0.3, 5, 70], [0.4, 3, 50]),
    "wilson": [
        [k, n, level, *map(float, stats.binomtest(k, n).proportion_ci(level, method="wilson"))]
        for k, n, level in [(85, 100, 0.95), (20, 25, 0.95), (0, 7, 0.9), (7, 7, 0.9), (1, 250, 0.99)]
    ],
    "poissonInterval": [
        [k, level, float(stats.chi2.ppf((1 - level) / 2, 2 * k) / 2) if k else 0.0, float(stats.chi2.ppf(1 - (1 - level) / 2, 2 * k + 2) / 2)]
        for k in [0, 1, 12, 75, 400]
        for level in [0.9, 0.95]
    ],
}
json.dump(out, sys.stdout, indent=1)
print()
