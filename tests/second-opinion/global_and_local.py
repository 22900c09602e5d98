"""Moran, Geary, local Moran, Gi, Gi*, join counts and adjusted p-values against esda."""

import esda
import libpysal
import numpy as np
from esda.join_counts import Join_Counts
from scipy import stats
from statsmodels.stats.multitest import multipletests

from cases import Case, leeward

DRAWS = 1999
STATS = ["moran", "geary", "local-moran", "gi", "gi-star"]


def compare(tally, case, style, random):
    seed = int(random.integers(1, 2**31))
    np.random.seed(seed)
    options = ["--style", style, "--permutations", DRAWS, "--seed", seed]
    answer = leeward(case, "value", STATS, *options)
    transform = {"binary": "O", "row": "R"}[style]
    case.weights.transform = transform
    tally.close("sum of weights", answer["weights"]["sum"], case.weights.s0)
    moran(tally, answer["moran"], case, transform)
    geary(tally, answer["geary"], case, transform)
    local_moran(tally, answer["local_moran"], case, transform, seed)
    getis_ord(tally, answer, case, seed)
    if style == "binary":
        join_counts(tally, case, seed)


def moran(tally, ours, case, transform):
    theirs = esda.Moran(case.values, case.weights, transformation=transform, permutations=DRAWS)
    tally.close("I", ours["value"], theirs.I)
    tally.close("E(I)", ours["expected"], theirs.EI)
    for under, variance, z, p in (
        ("normality", theirs.VI_norm, theirs.z_norm, theirs.p_norm),
        ("randomisation", theirs.VI_rand, theirs.z_rand, theirs.p_rand),
    ):
        tally.close(f"Var(I) under {under}", ours[f"variance_{under}"], variance)
        tally.close(f"z(I) under {under}", ours[f"z_{under}"], z, 1e-8)
        tally.close(f"p(I) under {under}", ours[f"p_{under}"], p, 1e-7)
    tally.same_share("p(I)", [ours["p_permutation_folded"]], DRAWS, [theirs.p_sim], DRAWS)


def geary(tally, ours, case, transform):
    theirs = esda.Geary(case.values, case.weights, transformation=transform, permutations=DRAWS)
    tally.close("c", ours["value"], theirs.C)
    for under, variance, z in (
        ("normality", theirs.VC_norm, theirs.z_norm),
        ("randomisation", theirs.VC_rand, theirs.z_rand),
    ):
        tally.close(f"Var(c) under {under}", ours[f"variance_{under}"], variance)
        tally.close(f"z(c) under {under}", ours[f"z_{under}"], z, 1e-8)
    tally.same_share("p(c)", [ours["p_permutation_folded"]], DRAWS, [theirs.p_sim], DRAWS)


def column(sites, key):
    return [site[key] for site in sites]


def local_moran(tally, ours, case, transform, seed):
    theirs = esda.Moran_Local(
        case.values, case.weights, transformation=transform, permutations=DRAWS, seed=seed
    )
    n = len(case.values)
    tally.close("I_i with n − 1", column(ours, "value_n_minus_1"), theirs.Is)
    tally.close("I_i with n", column(ours, "value"), theirs.Is * n / (n - 1))
    tally.close("E(I_i), conditional", column(ours, "expected_conditional"), theirs.EIc)
    tally.close("Var(I_i), conditional", column(ours, "variance_conditional"), theirs.VIc)
    tally.close("E(I_i), total", column(ours, "expected_total"), theirs.EI)
    tally.close("Var(I_i), total", column(ours, "variance_total"), theirs.VI)
    names = ["high_high", "low_high", "low_low", "high_low"]
    tally.hold("quadrants", column(ours, "quadrant") == [names[q - 1] for q in theirs.q.astype(int)])
    p = column(ours, "p_conditional")
    known = [x for x in p if x is not None]
    for key, method in (("hochberg", "fdr_bh"), ("yekutieli", "fdr_by")):
        adjusted = [x for x in column(ours, f"p_adjusted_benjamini_{key}") if x is not None]
        tally.close(f"adjusted p, {method}", adjusted, multipletests(known, method=method)[1])
    linked = [i for i, x in enumerate(p) if x is not None]
    # The single neighbour of a site is itself drawn in one of n − 1 draws. We count that tie on
    # either side, the library on the upper one alone: there all draws are counted instead.
    alone = [i for i in linked if case.weights.cardinalities[case.weights.id_order[i]] == 1]
    many = [i for i in linked if i not in alone]
    share = lambda sites: [ours[i]["p_permutation_folded"] for i in sites]
    tally.same_share("p(I_i)", share(many), DRAWS, theirs.p_sim[many], DRAWS)
    exact = [folded_share(case, i) for i in alone]
    tally.same_share("p(I_i), one neighbour", share(alone), DRAWS, exact, 10**9)


def folded_share(case, i):
    """Share of all draws of a single neighbour at least as far to the rarer side as the real one."""
    z = case.values - case.values.mean()
    (j,) = np.flatnonzero(case.weights.full()[0][i])
    draws = np.delete(z, i) * z[i]
    seen, rounding = z[j] * z[i], 1e-12 * abs(z).max() ** 2
    return min((draws >= seen - rounding).mean(), (draws <= seen + rounding).mean())


def getis_ord(tally, answer, case, seed):
    """Against the formulas of Ord & Getis 1995 in numpy, and esda where weights are equal."""
    x, n = case.values, len(case.values)
    w = case.weights.full()[0]
    total, squares = w.sum(1), (w**2).sum(1)
    mean = (x.sum() - x) / (n - 1)
    spread = ((x**2).sum() - x**2) / (n - 1) - mean**2
    with np.errstate(divide="ignore", invalid="ignore"):
        z = (w @ x - total * mean) / np.sqrt(spread * ((n - 1) * squares - total**2) / (n - 2))
    tally.close("z(Gi)", column(answer["gi"], "z"), z, 1e-8, 1e-9)
    own = np.where(w.max(1) > 0, w.max(1), 1.0)
    total, squares = total + own, squares + own**2
    z = (w @ x + own * x - total * x.mean()) / (
        x.std() * np.sqrt((n * squares - total**2) / (n - 1))
    )
    tally.close("z(Gi*)", column(answer["gi_star"], "z"), z, 1e-8, 1e-9)
    p = [2 * stats.norm.sf(abs(z)) for z in column(answer["gi_star"], "z")]
    tally.close("p(Gi*)", column(answer["gi_star"], "p"), p, 1e-8)
    if case.pairs is None and case.weights.transform == "O" and not case.weights.islands:
        theirs = esda.G_Local(
            x, case.weights, transform="B", star=False, permutations=DRAWS, seed=seed, n_jobs=1
        )
        tally.close("z(Gi), esda", column(answer["gi"], "z"), theirs.Zs, 1e-8, 1e-9)
        shares = column(answer["gi"], "p_permutation_folded")
        tally.same_share("p(Gi)", shares, DRAWS, theirs.p_sim, DRAWS)
        theirs = esda.G_Local(x, case.weights, transform="B", star=True, permutations=0)
        tally.close("z(Gi*), esda", column(answer["gi_star"], "z"), theirs.Zs, 1e-8, 1e-9)
        case.weights.transform = "O"


def join_counts(tally, case, seed):
    if case.pairs is not None:
        # esda counts joins with weight 1 whatever the weight.
        return
    options = ["--permutations", DRAWS, "--seed", seed]
    ours = leeward(case, "yes", ["join-count"], *options)["join_count"]
    theirs = Join_Counts(case.yes, case.weights, permutations=DRAWS)
    for key, count in (("both", theirs.bb), ("neither", theirs.ww), ("one", theirs.bw)):
        tally.close(f"joins, {key}", ours[key]["value"], count)
    p = [ours["both"]["p_permutation_greater"]]
    tally.same_share("p(joins, both)", p, DRAWS, [theirs.p_sim_bb], DRAWS)
    simulated = np.asarray(theirs.sim_bb, dtype=float)
    error = np.sqrt(ours["both"]["variance_non_free"] / DRAWS)
    off = abs(simulated.mean() - ours["both"]["expected_non_free"])
    tally.hold("E(joins, both)", off <= 6 * error, f"off by {off / error} standard errors")
    ratio = simulated.var() / ours["both"]["variance_non_free"]
    tally.hold("Var(joins, both)", 0.7 < ratio < 1.4, f"ratio {ratio}")
    case.weights.transform = "O"


def columbus(tally):
    """49 areas that ship with libpysal, with its list of 236 links. (The often printed I of crime,
    0.510951264, rests on an older list of 232 links.)"""
    weights = libpysal.io.open(libpysal.examples.get_path("columbus.gal")).read()
    crime = np.array(libpysal.io.open(libpysal.examples.get_path("columbus.dbf")).by_col("CRIME"))
    order = {area: i for i, area in enumerate(weights.id_order)}
    links = [(i, j) for i in weights.id_order for j in weights.neighbors[i]]
    pairs = [(order[i], order[j], 1.0) for i, j in links]
    high = (crime > 35).astype(int)
    case = Case("Columbus", np.zeros((49, 2)), crime, high, [], weights, pairs)
    options = ["--style", "row", "--permutations", DRAWS]
    moran(tally, leeward(case, "value", ["moran"], *options)["moran"], case, "R")
    ours = leeward(case, "yes", ["join-count"], "--permutations", DRAWS)["join_count"]["both"]
    theirs = Join_Counts(high, weights, permutations=DRAWS)
    tally.close("joins of high", ours["value"], theirs.bb)
    p = [ours["p_permutation_greater"]]
    tally.same_share("p(joins of high)", p, DRAWS, [theirs.p_sim_bb], DRAWS)
