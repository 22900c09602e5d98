"""Clark–Evans, variograms and runs against scipy, numpy and statsmodels."""

import numpy as np
from scipy.optimize import least_squares
from scipy.spatial import cKDTree
from scipy.spatial.distance import pdist
from scipy.stats import norm
from statsmodels.sandbox.stats.runs import Runs

from cases import leeward


def compare(tally, case, random):
    case = plain(case)
    clark_evans(tally, case)
    variogram(tally, case, random)
    if case.places is not None:
        runs(tally, case)


def plain(case):
    """The same with coordinates beside whatever its weights need."""
    options = [o for o in case.options]
    if "--x" not in options:
        options += ["--x", "x", "--y", "y"]
    return type(case)(**{**case.__dict__, "options": options, "pairs": None})


def clark_evans(tally, case):
    low, high = case.points.min(0) - 1, case.points.max(0) + 1
    window = ",".join(repr(float(side)) for side in (*low, *high))
    ours = leeward(case, "value", ["clark-evans"], "--window", window)["clark_evans"]
    n, (width, height) = len(case.points), high - low
    area, perimeter = width * height, 2 * (width + height)
    nearest = cKDTree(case.points).query(case.points, 2)[0][:, 1].mean()
    tally.close("mean nearest", ours["mean_nearest_m"], nearest)
    expected, error = 0.5 * np.sqrt(area / n), np.sqrt((4 - np.pi) / (4 * np.pi) * area) / n
    tally.close("R", ours["value"], nearest / expected)
    tally.close("z(R)", ours["z"], (nearest - expected) / error, 1e-8, 1e-9)
    tally.close("p(R)", ours["p"], 2 * norm.sf(abs((nearest - expected) / error)), 1e-7)
    expected += (0.0514 + 0.0412 / np.sqrt(n)) * perimeter / n
    tally.close("R, Donnelly", ours["donnelly"]["value"], nearest / expected)


def variogram(tally, case, random):
    shape = str(random.choice(["spherical", "exponential", "gaussian"]))
    cutoff, classes = float(np.round(0.6 * np.ptp(case.points), 3)), 12
    options = ["--cutoff", cutoff, "--classes", classes, "--model", shape]
    ours = leeward(case, "value", ["variogram"], *options)["variogram"]
    distance = pdist(case.points)
    square = pdist(case.values[:, None], "sqeuclidean")
    edges = cutoff * np.arange(1, classes + 1) / classes * (1 + 1e-9)
    which = np.searchsorted(edges, distance)
    found = [k for k in range(classes) if (which == k).any()]
    pairs = np.array([(which == k).sum() for k in found])
    h = np.array([distance[which == k].mean() for k in found])
    g = np.array([square[which == k].mean() / 2 for k in found])
    theirs = {"pairs": pairs, "mean_distance_m": h, "semivariance": g}
    for key, values in theirs.items():
        tally.close(f"variogram, {key}", [one[key] for one in ours["classes"]], values)
    fit(tally, ours["model"], shape, pairs, h, g)


SHAPES = {
    "spherical": lambda x: np.where(x < 1, 1.5 * x - 0.5 * x**3, 1.0),
    "exponential": lambda x: -np.expm1(-x),
    "gaussian": lambda x: -np.expm1(-(x**2)),
}


def fit(tally, ours, shape, pairs, h, g):
    """Nobody finds a lower sum of squares, whatever the start."""
    share, weight = SHAPES[shape], np.sqrt(pairs) / h

    def off(parameters):
        nugget, sill, log_range = parameters
        return weight * (g - nugget - sill * share(h / np.exp(log_range)))

    own = off([ours["nugget"], ours["partial_sill"], np.log(ours["range_m"])])
    tally.close("fit, sum of squares", ours["sum_of_squares"], (own**2).sum(), 1e-8)
    span = ([0, 0, np.log(h.min() / 100)], [np.inf, np.inf, np.log(h.max() * 100)])
    best = min(
        least_squares(off, [g.min(), g.max(), np.log(start)], bounds=span, xtol=1e-12).cost * 2
        for start in np.geomspace(h.min(), h.max() * 3, 12)
    )
    detail = f"{ours['sum_of_squares']} against {best}"
    tally.hold("fit, lowest", ours["sum_of_squares"] <= best * (1 + 1e-6), detail)


def runs(tally, case):
    ours = leeward(case, "yes", ["runs"], "--permutations", 0)["runs"]
    rows = {}
    for (row, _), yes in zip(case.places, case.yes):
        rows.setdefault(row, []).append(int(yes))
    mixed = [np.array(row) for row in rows.values() if 0 < sum(row) < len(row)]
    count = expected = variance = 0.0
    for row in mixed:
        one = Runs(row)
        n, m = len(row), row.sum()
        count += one.n_runs
        expected += 1 + 2 * m * (n - m) / n
        variance += 2 * m * (n - m) * (2 * m * (n - m) - n) / (n**2 * (n - 1))
        if n > 2:
            # statsmodels' z without correction for continuity.
            z = one.runs_test(correction=False)[0]
            own = (one.n_runs - 1 - 2 * m * (n - m) / n) / np.sqrt(
                2 * m * (n - m) * (2 * m * (n - m) - n) / (n**2 * (n - 1))
            )
            tally.close("z of one row by formula", own, z, 1e-9)
    tally.close("runs", ours["value"], count)
    tally.close("E(runs)", ours["expected"], expected)
    tally.close("Var(runs)", ours["variance"], variance)
    tally.close("z(runs)", ours["z"], (count + 0.5 - expected) / np.sqrt(variance))
