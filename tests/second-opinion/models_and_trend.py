"""Logistic, autologistic and beta-binomial regression, kriging and Papadakis against statsmodels,
scipy and numpy."""

import numpy as np
import statsmodels.api as sm
from scipy.optimize import minimize
from scipy.special import expit
from scipy.stats import betabinom

from cases import models


def compare(tally, case, random):
    design = np.column_stack([np.ones(len(case.values)), np.log(case.values), case.points[:, 0] / 50])
    logistic(tally, design, case, random)
    autologistic(tally, design, case)
    beta_binomial(tally, design[:, :2], random)
    kriging(tally, case, random)
    papadakis(tally, case, random)


def check_fit(tally, what, ours, fit):
    tally.hold(f"{what} converged", ours["converged"])
    tally.close(f"{what}, coefficients", ours["coefficients"], fit.params, 1e-6, 1e-7)
    tally.close(f"{what}, standard errors", ours["standard_errors"], fit.bse, 1e-6)
    tally.close(f"{what}, p", [test["p_two_sided"] for test in ours["tests"]], fit.pvalues, 1e-5, 1e-9)
    tally.close(f"{what}, deviance", ours["deviance"], fit.deviance, 1e-6, 1e-8)
    tally.close(f"{what}, log-likelihood", ours["log_likelihood"], fit.llf, 1e-6)


def logistic(tally, design, case, random):
    trials = random.integers(1, 12, len(case.values))
    yes = random.binomial(trials, expit(design @ [-0.4, 0.6, 0.3]))
    ours = models({"model": "logistic", "rows": design.tolist(), "yes": yes.tolist(), "trials": trials.tolist()})
    counts = np.column_stack([yes, trials - yes])
    model = sm.GLM(counts, design, family=sm.families.Binomial())
    check_fit(tally, "logistic", ours, model.fit(tol=1e-12))
    robust = model.fit(tol=1e-12)
    scores = (yes - trials * robust.mu)[:, None] * design
    bread = robust.cov_params()
    sandwich = np.sqrt(np.diag(bread @ (scores.T @ scores) @ bread))
    tally.close("logistic, robust errors", ours["robust_standard_errors"], sandwich, 1e-6)


def autologistic(tally, design, case):
    case.weights.transform = "O"
    sparse = case.weights.sparse.tocoo()
    links = [[int(i), int(j), float(w)] for i, j, w in zip(sparse.row, sparse.col, sparse.data)]
    total = np.asarray(case.weights.sparse.sum(1)).ravel()
    lag = case.weights.sparse @ case.yes
    for neighbouring, covariate in (
        ("sum", lag),
        ("mean", np.divide(lag, total, out=np.zeros(len(lag)), where=total > 0)),
    ):
        question = {"model": "autologistic", "rows": design.tolist(), "yes": case.yes.tolist()}
        ours = models({**question, "links": links, "neighbouring": neighbouring})
        wide = np.column_stack([design, covariate])
        fit = sm.GLM(case.yes, wide, family=sm.families.Binomial()).fit(tol=1e-12)
        check_fit(tally, f"autologistic, {neighbouring}", ours, fit)


def beta_binomial(tally, design, random):
    trials = random.integers(3, 15, len(design))
    mean, theta = expit(design @ [-0.5, 0.5]), float(random.uniform(0.1, 0.8))
    share = random.beta(mean / theta, (1 - mean) / theta)
    yes = random.binomial(trials, share)
    question = {"model": "beta_binomial", "rows": design.tolist()}
    ours = models({**question, "yes": yes.tolist(), "trials": trials.tolist()})

    def cost(parameters):
        mu, scale = expit(design @ parameters[:-1]), np.exp(-parameters[-1])
        return -betabinom.logpmf(yes, trials, mu * scale, (1 - mu) * scale).sum()

    top = np.array([*ours["coefficients"], np.log(ours["theta"])])
    tally.hold("beta-binomial converged", ours["converged"])
    tally.close("beta-binomial, log-likelihood", ours["log_likelihood"], -cost(top), 1e-8)
    found = minimize(cost, [*(design.shape[1] * [0.1]), -1.0], method="Nelder-Mead",
                     options={"xatol": 1e-9, "fatol": 1e-11, "maxiter": 20000})
    higher = -found.fun - ours["log_likelihood"]
    tally.hold("beta-binomial, highest", higher <= 1e-6, f"scipy climbs {higher} higher")
    tally.close("beta-binomial, parameters", top.tolist(), found.x, 1e-4, 1e-4)


def kriging(tally, case, random):
    nugget, sill, reach = random.uniform(0.1, 1), random.uniform(0.5, 3), random.uniform(5, 40)
    spots = random.uniform(case.points.min(0), case.points.max(0), (5, 2))
    question = {"points": case.points.tolist(), "values": case.values.tolist(), "spots": spots.tolist()}
    model = {"shape": "exponential", "nugget": nugget, "partial_sill": sill, "range_m": reach}
    ours = models({"model": "kriging", **question, "variogram": model})

    def covariance(a, b):
        d = np.sqrt(((a[:, None] - b[None]) ** 2).sum(-1))
        return sill * np.exp(-d / reach) + nugget * (d == 0)

    n = len(case.points)
    left = np.ones((n + 1, n + 1))
    left[:n, :n], left[n, n] = covariance(case.points, case.points), 0
    right = np.ones((n + 1, 5))
    right[:n] = covariance(case.points, spots)
    weight = np.linalg.solve(left, right)
    tally.close("kriging", [g["value"] for g in ours], case.values @ weight[:n], 1e-8)
    variance = nugget + sill - (weight * right).sum(0)
    tally.close("kriging, variance", [g["variance"] for g in ours], variance, 1e-8)


def papadakis(tally, case, random):
    case.weights.transform = "B"
    n, kinds = len(case.values), 6
    treatment = np.arange(n) % kinds
    random.shuffle(treatment)
    links = [[i, int(j), 1.0] for i in range(n) for j in case.weights.neighbors[i]]
    question = {"model": "papadakis", "values": case.values.tolist(), "treatment": treatment.tolist()}
    ours = models({**question, "links": links, "passes": 3})
    dummies = np.eye(kinds)[treatment]
    effect = np.array([case.values[treatment == t].mean() for t in range(kinds)])
    for number, found in enumerate(ours):
        rest = case.values - effect[treatment]
        near = [case.weights.neighbors[i] for i in range(n)]
        covariate = np.array([rest[js].mean() if len(js) else 0.0 for js in near])
        fit = sm.OLS(case.values, np.column_stack([dummies, covariate])).fit()
        effect = fit.params[:kinds]
        what = f"Papadakis, pass {number + 1}"
        tally.close(f"{what}, slope", found["slope"], fit.params[-1], 1e-8, 1e-10)
        tally.close(f"{what}, error", found["slope_standard_error"], fit.bse[-1], 1e-8)
        means = effect + fit.params[-1] * covariate.mean()
        tally.close(f"{what}, means", found["adjusted_means"], means, 1e-8)
    case.weights.transform = "O"
