#!/usr/bin/env python3
"""Reference results for the adjustment by conditions.

Prints, as JSON, random nets: conditions A·ξ + m = 0 on sources ξ of mean 0 and
variance 1, and values c·ξ + n; and what the values are after the conditions, by
other ways than the package goes. The mean is a stacked least-squares solution,

    [I; B] ξ = [0; r]     B, r: the conditions divided by their own noise

where each condition has noise of its own, else the shortest ξ that meets the
conditions; the covariance is c (I - A⁺A) cᵀ with the pseudo-inverse A⁺, and χ² is
the square of the shortest ξ. Needs Python 3 and numpy (Debian: python3-numpy):

    python3 nets.py > nets.json

The nets are fixed by SEED.
"""

import json
import platform

import numpy

SEED = 19760901
# conditions, shared sources, of the conditions: without noise of their own, given twice
SIZES = [(1, 2, 0, 0), (2, 3, 2, 0), (3, 4, 0, 2), (6, 5, 3, 3), (10, 8, 0, 0), (20, 10, 4, 5), (40, 12, 0, 0), (40, 15, 8, 8)]


def net(rng, size):
    conditions, shared, exact, twice = size
    a = numpy.zeros((conditions, shared + conditions))
    m = numpy.zeros(conditions)
    truth = rng.normal(size=shared)
    for i in range(conditions):
        for j in rng.choice(shared, min(shared, 4), replace=False):
            a[i, j] = round(rng.normal(0, 30), 1)
        m[i] = -a[i, :shared] @ truth
        if i >= exact:
            a[i, shared + i] = round(rng.uniform(0.3, 12), 1)
            m[i] = round(m[i] + rng.normal(0, 1.5) * a[i, shared + i], 1)
    a, m = numpy.vstack([a, a[conditions - twice :]]), numpy.concatenate([m, m[conditions - twice :]])
    order = rng.permutation(len(m))
    a, m = a[order], m[order]
    c = numpy.round(rng.normal(0, 30, (4, a.shape[1])) * (rng.random((4, a.shape[1])) < 0.3), 1)
    c[0] = a[0]  # a condition itself: nothing may be left of it
    c, n = c + 0.0, numpy.round(rng.normal(0, 500, 4), 1)  # no -0

    # Rows are compared in units of their uncertainty, as conditions given twice
    # make no difference to the shortest solution.
    scale = numpy.sqrt((a * a).sum(axis=1))
    inverse = numpy.linalg.pinv(a / scale[:, None], rcond=1e-10)
    shortest = inverse @ (-m / scale)
    if exact == 0 and twice == 0:
        noise = a[:, shared:].sum(axis=1)
        stacked = numpy.vstack([numpy.eye(shared), a[:, :shared] / noise[:, None]])
        solution = numpy.linalg.lstsq(stacked, numpy.concatenate([numpy.zeros(shared), -m / noise]), rcond=None)[0]
        residual = (-m - a[:, :shared] @ solution) / noise
        xi = numpy.concatenate([solution, numpy.zeros(conditions)])
        for i in range(conditions):
            xi[shared + numpy.flatnonzero(a[i, shared:])[0]] = residual[i]
    else:
        xi = shortest
    left = numpy.eye(a.shape[1]) - inverse @ (a / scale[:, None])
    return {
        "a": a.tolist(), "m": m.tolist(), "c": c.tolist(), "n": n.tolist(),
        "mean": (n + c @ xi).tolist(), "cov": (c @ left @ c.T).tolist(), "chi2": float(shortest @ shortest),
        "dof": int(numpy.linalg.matrix_rank(a / scale[:, None], tol=1e-5)),
    }


def main():
    rng = numpy.random.default_rng(SEED)
    print('{"made_by": %s, "nets": [' % json.dumps("numpy %s, Python %s" % (numpy.__version__, platform.python_version())))
    print(",\n".join(json.dumps(net(rng, size), separators=(",", ":")).replace(".0,", ",").replace(".0]", "]") for size in SIZES))
    print("]}")


main()
