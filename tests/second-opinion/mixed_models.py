"""Mixed models, the trend of a field and the link of vigour with disease against statsmodels, scipy
and dense algebra with numpy."""

import numpy as np
import statsmodels.api as sm
from scipy.interpolate import BSpline
from scipy.linalg import cho_factor, cho_solve
from scipy.optimize import minimize
from scipy.stats import norm, rankdata, spearmanr

from cases import models


def compare(tally, random):
    tally.case = "one random factor"
    one_factor(tally, random)
    for rows, places, missing in ((6, 14, 0.0), (4, 25, 0.2), (1, 60, 0.1)):
        tally.case = f"field of {rows} × {places}, {missing:.0%} missing"
        trees = field(random, rows, places, missing)
        # In one row each place has one tree: nothing to compare rows or places by.
        for trend in ("none", "rows", "surface", "ar1") if rows > 1 else ("none", "surface", "ar1"):
            adjusted(tally, trend, trees)
    tally.case = "vigour and disease"
    link(tally, random)


def ask(question):
    return models(question, "mixed")


def one_factor(tally, random):
    """statsmodels' MixedLM."""
    groups = random.integers(0, 12, 90)
    covariate = random.normal(size=90)
    values = 5 + 0.7 * covariate + random.normal(size=12)[groups] * 1.5 + random.normal(size=90)
    question = {"ask": "mixed", "values": values.tolist(), "fixed": [{"covariate": covariate.tolist()}]}
    ours = ask({**question, "terms": [{"levels": groups.tolist()}]})
    fit = sm.MixedLM(values, sm.add_constant(covariate), groups).fit(reml=True, method="bfgs", gtol=1e-9)
    tally.close("variance of groups", ours["estimates"][0][0], fit.cov_re[0, 0], 1e-4)
    tally.close("variance of the rest", ours["rest"], fit.scale, 1e-4)
    tally.close("fixed", [e["value"] for e in ours["fixed"]], fit.fe_params, 1e-5)
    # MixedLM takes its errors from a curvature by differences: these are exact.
    design, same = sm.add_constant(covariate), groups[:, None] == groups[None]
    inverse = np.linalg.inv(ours["estimates"][0][0] * same + ours["rest"] * np.eye(90))
    errors = np.sqrt(np.diag(np.linalg.inv(design.T @ inverse @ design)))
    tally.close("errors", [e["standard_error"] for e in ours["fixed"]], errors, 1e-8)
    effects = [float(fit.random_effects[g].iloc[0]) for g in range(12) if g in fit.random_effects]
    found = [e["value"] for g, e in enumerate(ours["effects"][0]) if g in fit.random_effects]
    tally.close("predictions", found, effects, 1e-3, 1e-4)


def field(random, rows, places, missing):
    """Trees with a patchy trend: number, x, y, row, place, genotype, cross."""
    at = [(r, p) for r in range(rows) for p in range(places) if random.uniform() >= missing]
    row, place = np.array(at).T
    trend = 1.5 * np.sin(place / 5) + np.cos(row) + 0.1 * place
    genotype = random.permutation(len(at)) % (len(at) // 2)
    cross = genotype % 4
    number = 20 + trend + random.normal(size=4)[cross] + random.normal(size=len(at))[genotype]
    number = number + random.normal(size=len(at))
    return [
        (float(n), float(p), 3.0 * float(r), int(r), int(p), int(g), int(c))
        for n, r, p, g, c in zip(number, row, place, genotype, cross)
    ]


def repeated(levels):
    """The design of levels that two trees or more have, and these levels."""
    kept = [level for level in np.unique(levels) if (levels == level).sum() >= 2]
    return np.array([[float(l == k) for k in kept] for l in levels]), kept


def adjusted(tally, trend, trees):
    ours = ask({"ask": "adjust", "trend": trend, "trees": trees})
    if ours["taken"] != trend:
        tally.hold(f"{trend} is fitted", False, str(ours["taken"]))
        return
    y, x, z, row, place, genotype, cross = (np.array(column) for column in zip(*trees))
    parts, names = [], []
    of_cross, crosses = repeated(cross)
    of_genotype, genotypes = repeated(genotype)
    parts += [of_cross @ of_cross.T, of_genotype @ of_genotype.T]
    variances = ours["variances"]
    own = [variances["cross"], variances["genotype"]]
    told = dict(map(tuple, variances["trend"]))
    fixed = np.ones((len(y), 1))
    if trend == "rows":
        for name, levels in (("rows", row), ("places", place)):
            if name in told:
                design = (levels[:, None] == np.unique(levels)[None]).astype(float)
                parts.append(design @ design.T)
                own.append(told[name])
    build = {"surface": surface, "ar1": autoregression}.get(trend)
    field_of = build(x, z, row, place, told) if build else None
    # What ours tells as no variance is the least share of the rest that it tries.
    least = {"surface": np.exp(-10), "ar1": np.exp(-12)}.get(trend, 0) * variances["rest"]
    own += [v if k.startswith("rho") else max(v, least) for k, v in told.items()] if build else []
    fits = Dense(y, fixed, parts, field_of)
    theirs = fits.deviance(np.array([*own, variances["rest"]]))
    tally.close(f"{trend}, −2 log-likelihood", ours["deviance"], theirs, 1e-7)
    best = fits.lowest(np.array([*own, variances["rest"]]))
    tally.hold(f"{trend}, highest", best >= ours["deviance"] - 2e-4, f"scipy finds {best}, ours {ours['deviance']}")
    predictions(tally, trend, ours, fits, np.array([*own, variances["rest"]]), of_cross, of_genotype, crosses, genotypes, cross, genotype)


def predictions(tally, trend, ours, fits, parameters, of_cross, of_genotype, crosses, genotypes, cross, genotype):
    """Best linear unbiased predictions and their errors from covariances, tree by tree."""
    covariance, covered = fits.covariance(parameters)
    middle = np.full((len(fits.y), 1), 1 / len(fits.y))
    centre = np.eye(len(fits.y)) - middle @ np.ones((1, len(fits.y)))
    if trend != "none":
        value, error = fits.predict(covariance, centre @ covered, centre @ covered @ centre.T, np.zeros((len(fits.y), 1)))
        tally.close(f"{trend}, trend", [t["trend"] for t in ours["trees"]], value, 1e-4, 2e-4)
        tally.close(f"{trend}, errors", [t["standard_error"] for t in ours["trees"]], error, 1e-3, 1e-4)
    # A genotype in the middle of the field: mean, cross, genotype and the average place.
    levels = [level for level, _ in ours["genotypes"]]
    pick_g = np.array([[float(level == k) for k in genotypes] for level in levels])
    pick_c = np.array([[float(cross[genotype == level][0] == k) for k in crosses] for level in levels])
    average = np.ones((len(levels), 1)) @ middle.T
    wanted = [(pick_c, of_cross, parameters[0]), (pick_g, of_genotype, parameters[1])]
    with_data = sum(v * pick @ design.T for pick, design, v in wanted) + average @ covered
    itself = sum(v * pick @ pick.T for pick, _, v in wanted) + average @ covered @ average.T
    value, error = fits.predict(covariance, with_data, itself, np.ones((len(levels), 1)))
    predicted = [ranked["predicted"] for _, ranked in ours["genotypes"]]
    tally.close(f"{trend}, genotypes", [p["value"] for p in predicted], value, 1e-5, 1e-4)
    tally.close(f"{trend}, errors of genotypes", [p["standard_error"] for p in predicted], error, 1e-3, 1e-4)


class Dense:
    """The model by its covariance matrix: terms of one variance each, a field, and the rest."""

    def __init__(self, y, fixed, parts, field_of):
        self.y, self.fixed, self.parts, self.field_of = y, fixed, parts, field_of

    def covariance(self, parameters):
        """Of the data, and of the trend within it (terms after cross and genotype)."""
        n = len(self.y)
        trend = np.zeros((n, n))
        for variance, part in zip(parameters[2:], self.parts[2:]):
            trend = trend + variance * part
        if self.field_of is not None:
            trend = trend + self.field_of(parameters[len(self.parts):-1])
        own = sum(v * part for v, part in zip(parameters[:2], self.parts[:2]))
        return own + trend + parameters[-1] * np.eye(n), trend

    def deviance(self, parameters):
        covariance, _ = self.covariance(parameters)
        try:
            factor = cho_factor(covariance, lower=True)
        except np.linalg.LinAlgError:
            return np.inf
        x = self.fixed
        inner = x.T @ cho_solve(factor, x)
        beta = np.linalg.solve(inner, x.T @ cho_solve(factor, self.y))
        rest = self.y - x @ beta
        log = 2 * np.log(np.diag(factor[0])).sum() + np.linalg.slogdet(inner)[1]
        n = len(self.y) - x.shape[1]
        return n * np.log(2 * np.pi) + log + rest @ cho_solve(factor, rest)

    def lowest(self, start):
        """What scipy reaches from our end and from elsewhere."""
        correlations = 0 if self.field_of is None else self.field_of.correlations
        end = len(start) - 1
        kinds = ["r" if end - correlations <= k < end else "v" for k in range(len(start))]
        into = np.array([np.arctanh(v) if k == "r" else np.log(max(v, 1e-6)) for v, k in zip(start, kinds)])

        def cost(free):
            # Correlations within the bounds of ours.
            plain = [np.clip(np.tanh(f), *np.tanh([-1.472, 3.453])) if k == "r" else np.exp(min(f, 30)) for f, k in zip(free, kinds)]
            return min(self.deviance(np.array(plain)), 1e12)

        away = np.array([0.3 if k == "r" else np.log(self.y.var() / 3) for k in kinds])
        options = {"xatol": 1e-5, "fatol": 1e-7, "maxiter": 3000, "maxfev": 3000}
        return min(minimize(cost, s, method="Nelder-Mead", options=options).fun for s in (into, away))

    def predict(self, covariance, with_data, itself, fixed):
        """Predictions of sums whose covariances with the data and among themselves are given."""
        factor = cho_factor(covariance, lower=True)
        x = self.fixed
        inner = x.T @ cho_solve(factor, x)
        beta = np.linalg.solve(inner, x.T @ cho_solve(factor, self.y))
        weights = cho_solve(factor, with_data.T).T
        off = fixed - weights @ x
        value = fixed @ beta + weights @ (self.y - x @ beta)
        spread = itself - weights @ with_data.T + off @ np.linalg.solve(inner, off.T)
        return value, np.sqrt(np.maximum(np.diag(spread), 0))


def autoregression(x, z, row, place, told):
    """σ² ρ^distance along and across; a direction with one line has no correlation."""
    across = np.abs(row[:, None] - row[None])
    along = np.abs(place[:, None] - place[None])
    both = "rho_across" in told

    def covariance(parameters):
        lines = parameters[1] ** across if both else 1.0
        return parameters[0] * lines * parameters[-1] ** along

    covariance.correlations = 2 if both else 1
    return covariance


def surface(x, z, row, place, told):
    """Cubic B-splines by scipy; differences along and across penalised. The penalty leaves the mean
    free, so it is held to have no mean over the coefficients."""
    n = len(x)
    pieces = [min(max(len(np.unique(v)) // 3, 1), 16) if np.ptp(v) > 0 else 0 for v in (x, z)]
    along, across = max(pieces[0], 1), max(pieces[1], 1)
    while (along + 3) * (across + 3) > n / 2 and max(along, across) > 1:
        along, across = (along - 1, across) if along >= across else (along, across - 1)
    bases = [basis(v, s if np.ptp(v) > 0 else 0) for v, s in ((x, along), (z, across))]
    counts = [b.shape[1] for b in bases]
    design = np.einsum("ni,nj->nij", bases[1], bases[0]).reshape(n, -1)
    penalties = [np.diff(np.eye(c), axis=0).T @ np.diff(np.eye(c), axis=0) for c in counts]
    # Both penalties have the same vectors, so that variances far apart cost no digits: those of the
    # sum would be found no better than to a share of its greatest value.
    (along_values, along_vectors), (across_values, across_vectors) = map(np.linalg.eigh, penalties)
    along_values[0] = across_values[0] = 0
    onto = design @ np.kron(across_vectors, along_vectors)

    def covariance(parameters):
        variances = dict(zip(told, np.maximum(parameters, 1e-12)))
        values = np.zeros((counts[1], counts[0]))
        if "across" in variances:
            values = values + across_values[:, None] / variances["across"]
        if "along" in variances:
            values = values + along_values[None] / variances["along"]
        values = values.ravel()
        inverse = np.where(values > 0, 1 / np.where(values > 0, values, 1), 0)
        return onto * inverse @ onto.T

    covariance.correlations = 0
    return covariance


def basis(v, pieces):
    if pieces == 0:
        return np.ones((len(v), 1))
    width = np.ptp(v) / pieces
    knots = v.min() + width * np.arange(-3, pieces + 4)
    inside = np.clip(v, v.min(), v.max() - 1e-12 * np.ptp(v))
    return BSpline.design_matrix(inside, knots, 3).toarray()


def link(tally, random):
    groups = []
    for size in (8, 15, 30):
        strong = np.round(random.normal(size=size) * 3) / 2 + size
        sick = np.maximum(np.round(random.normal(size=size) + 0.4 * (strong - size)) / 5, 0)
        groups.append(np.column_stack([strong, sick]))
    ours = ask({"ask": "link", "groups": [g.tolist() for g in groups]})
    ranks = [np.apply_along_axis(rankdata, 0, g) - (len(g) + 1) / 2 for g in groups]
    pooled = np.vstack(ranks)
    # Ranks centred within groups: a plain correlation of them.
    r = (pooled[:, 0] @ pooled[:, 1]) / np.sqrt((pooled[:, 0] ** 2).sum() * (pooled[:, 1] ** 2).sum())
    found = ours["correlation"]
    tally.close("rank correlation", found["value"], r)
    half = norm.ppf(0.95) * np.sqrt(1.06 / (len(pooled) - len(groups) - 2))
    tally.close("low", found["low"], np.tanh(np.arctanh(r) - half))
    tally.close("high", found["high"], np.tanh(np.arctanh(r) + half))
    counted = 4000
    product = np.zeros(counted)
    for group in ranks:
        product += [random.permutation(group[:, 0]) @ group[:, 1] for _ in range(counted)]
    own = abs(pooled[:, 0] @ pooled[:, 1])
    share = (np.abs(product) >= own - 1e-9).mean()
    allowed = 0.01 + 6 * np.sqrt(max(share * (1 - share), 1e-3) / counted)
    tally.hold("p by permutation", abs(found["p"] - share) < allowed, f"{found['p']} against {share}")
    alone = ask({"ask": "link", "groups": [groups[2].tolist()]})
    theirs = spearmanr(*groups[2].T).statistic
    tally.close("one group, Spearman", alone["correlation"]["value"], theirs)
