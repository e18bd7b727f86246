#!/usr/bin/env python3
"""Reference results for linear uncertainty propagation.

Prints, as JSON, expressions over shared and correlated variables with the nominal
value, standard deviation and covariances that the independent Python library
`uncertainties` (E. O. Lebigot) finds for them. The tests of package measure
evaluate the same expressions and compare. Needs Python 3, uncertainties and numpy
(Debian: python3-uncertainties, python3-numpy):

    python3 propagate.py > propagate.json

The random expressions are fixed by SEED.
"""

import json
import platform
import random

import numpy
import uncertainties
from uncertainties import correlated_values, covariance_matrix, ufloat, umath

SEED = 20080901
VARIABLES = {"a": (2.5, 0.12), "b": (0.8, 0.03), "c": (1.7, 0.2), "d": (3.1, 0.05), "e": (1.2, 0.09)}
BINARY = ["add", "sub", "mul", "div"]
UNARY = ["exp", "log"]

# name, nominals, covariance matrix; the last is singular: r = p + q.
GROUPS = [
    ("two positive", [2.0, 3.0], [[0.04, 0.015], [0.015, 0.09]]),
    ("two opposed", [1.5, 0.9], [[0.0025, -0.0018], [-0.0018, 0.0036]]),
    ("three", [4.999, 1.9661, 1.04446],
     [[1.03e-5, -1.1e-5, 2.06e-6], [-1.1e-5, 9.0e-5, -4.6e-6], [2.06e-6, -4.6e-6, 5.6e-7]]),
    ("three singular", [1.1, 2.2, 3.3], [[0.01, 0.002, 0.012], [0.002, 0.04, 0.042], [0.012, 0.042, 0.054]]),
]

# Written out, for the shapes that a volume balance has.
BY_HAND = [
    ["sub", "a", "a"],
    ["add", "a", "a"],
    ["mul", "a", "a"],
    ["div", "a", "a"],
    ["sub", ["mul", "a", "b"], ["mul", "c", "b"]],
    ["div", ["sub", "a", "c"], ["add", "a", "c"]],
    ["log", ["exp", "b"]],
    ["exp", ["sub", 0, ["mul", "b", ["add", 1, ["mul", 0.8, "b"]]]]],
    ["add", ["add", ["add", "a", "b"], ["add", "c", "d"]], "e"],
    ["mul", ["div", "d", "b"], ["sub", "e", ["mul", 0.3, "c"]]],
]


def evaluate(tree, variables):
    """The value of a tree: a number, a variable's name or [operation, operands...]."""
    if isinstance(tree, (int, float)):
        return tree
    if isinstance(tree, str):
        return variables[tree]
    args = [evaluate(t, variables) for t in tree[1:]]
    if tree[0] == "add":
        return args[0] + args[1]
    if tree[0] == "sub":
        return args[0] - args[1]
    if tree[0] == "mul":
        return args[0] * args[1]
    if tree[0] == "div":
        return args[0] / args[1]
    if tree[0] == "exp":
        return umath.exp(args[0])
    return umath.log(args[0])


def grow(rng, names, depth):
    """A random tree of at most the given depth."""
    if depth == 0 or rng.random() < 0.15:
        return rng.choice(names) if rng.random() < 0.85 else round(rng.uniform(0.5, 3), 2)
    if rng.random() < 0.25:
        return [rng.choice(UNARY), grow(rng, names, depth - 1)]
    return [rng.choice(BINARY), grow(rng, names, depth - 1), grow(rng, names, depth - 1)]


def sensible(tree, variables):
    """Whether the tree computes something, and its value is uncertain and well-conditioned."""
    try:
        value = evaluate(tree, variables)
    except (ValueError, OverflowError, ZeroDivisionError):
        return False
    return (isinstance(tree, list) and isinstance(value, uncertainties.UFloat)
            and 1e-2 < abs(value.nominal_value) < 1e3
            and 1e-3 < value.std_dev / abs(value.nominal_value) < 2)


def random_trees(rng, variables, count, depth):
    trees = []
    while len(trees) < count:
        tree = grow(rng, sorted(variables), depth)
        if sensible(tree, variables) and tree not in trees:
            trees.append(tree)
    return trees


def digits(x, count):
    """x to that many significant digits; the library adds up in no fixed order."""
    return float("%.*g" % (count, x))


def results(trees, variables):
    """Nominal and standard deviation of each tree; lower triangle of the covariances."""
    values = [evaluate(t, variables) for t in trees]
    return {
        "expressions": [{"tree": t, "nominal": digits(v.nominal_value, 15), "std_dev": digits(v.std_dev, 15)}
                        for t, v in zip(trees, values)],
        "covariance": [[digits(x, 12) for x in row[:i + 1]] for i, row in enumerate(covariance_matrix(values))],
    }


def one_line_each(group):
    """The group as JSON with one line for each input, expression and matrix row."""
    fields = []
    for key, value in group.items():
        if isinstance(value, list):
            fields.append('  "%s": [\n    %s\n  ]' % (key, ",\n    ".join(json.dumps(x) for x in value)))
        else:
            fields.append('  "%s": %s' % (key, json.dumps(value)))
    return "{\n" + ",\n".join(fields) + "\n}"


def main():
    rng = random.Random(SEED)
    independent = {name: ufloat(x, u, name) for name, (x, u) in VARIABLES.items()}
    groups = [{
        "name": "independent",
        "inputs": [{"name": n, "nominal": x, "std_dev": u} for n, (x, u) in VARIABLES.items()],
        **results(BY_HAND + random_trees(rng, independent, 14, 4), independent),
    }]
    for name, nominals, covariance in GROUPS:
        names = "pqr"[:len(nominals)]
        variables = dict(zip(names, correlated_values(nominals, covariance)))
        groups.append({
            "name": name,
            "inputs": [{"name": n, "nominal": x} for n, x in zip(names, nominals)],
            "input_covariance": covariance,
            **results(random_trees(rng, variables, 4, 3), variables),
        })
    made_with = {"python": platform.python_version(), "uncertainties": uncertainties.__version__,
                 "numpy": numpy.__version__}
    print('{"made_with": %s,\n"groups": [' % json.dumps(made_with))
    print(",\n".join(one_line_each(g) for g in groups))
    print("]}")


if __name__ == "__main__":
    main()
