"""Fresh random data: points or lattices, weights of every kind, values with and without pattern."""

import csv
import json
import os
import subprocess
import tempfile
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from libpysal.weights import KNN, W, DistanceBand, lat2W

PROGRAMS = Path(os.environ["LEEWARD_PROGRAMS"])


@dataclass
class Case:
    """A table with its weights, for `leeward` as options and for libpysal as a W."""

    name: str
    points: np.ndarray
    values: np.ndarray
    yes: np.ndarray
    options: list
    weights: W
    pairs: list | None = None
    places: list | None = None


def cases(random):
    """Twelve data sets: three of each kind of neighbourhood."""
    for at in range(3):
        n = int(random.integers(40, 160))
        points = scattered(random, n)
        k = int(random.integers(2, 9))
        yield from_points(random, f"knn:{k} of {n}", points, ["--weights", f"knn:{k}"], KNN(points, k))
        points = scattered(random, n)
        radius = float(np.round(random.uniform(8, 20), 3))
        band = DistanceBand(points, radius, binary=True, silence_warnings=True)
        yield from_points(random, f"band:{radius} of {n}", points, ["--weights", f"band:{radius}"], band)
        rows, places = (int(x) for x in random.integers(5, 14, 2))
        kind = ["rook", "queen", "rook"][at]
        yield lattice(random, kind, rows, places)
        points = scattered(random, n)
        yield listed(random, n, points)


def scattered(random, n):
    """Points that may clump, all at different distances."""
    centres = random.uniform(0, 100, (5, 2))
    clumped = centres[random.integers(0, 5, n)] + random.normal(0, 6, (n, 2))
    anywhere = random.uniform(0, 100, (n, 2))
    return np.round(np.where(random.random((n, 1)) < 0.5, clumped, anywhere), 6)


def valued(random, points):
    """A smooth field with noise, skewed and above 0; and a yes-or-no value that follows it."""
    field = np.sin(points[:, 0] / 15) + np.cos(points[:, 1] / 20)
    values = np.round(np.exp(0.7 * field + random.normal(0, 0.8, len(points))), 6)
    yes = (field + random.normal(0, 1, len(points)) > 0.4).astype(int)
    yes[:2] = [0, 1]
    return values, yes


def from_points(random, name, points, options, weights):
    return Case(name, points, *valued(random, points), [*options, "--x", "x", "--y", "y"], weights)


def lattice(random, kind, rows, places):
    at = [(row, place) for row in range(rows) for place in range(places)]
    points = np.array([(place * 0.75, row * 3.0) for row, place in at])
    weights = lat2W(rows, places, rook=kind == "rook")
    options = ["--weights", kind, "--row", "row", "--place", "place"]
    values, yes = valued(random, points * 4)
    name = f"{kind} {rows} × {places}"
    return Case(name, points, values, yes, options, weights, places=at)


def listed(random, n, points):
    """Uneven one-sided weights from a file."""
    neighbours, weights, pairs = {}, {}, []
    for i in range(n):
        others = [j for j in range(n) if j != i]
        chosen = sorted(random.choice(others, int(random.integers(1, 7)), replace=False).tolist())
        neighbours[i] = chosen
        weights[i] = np.round(random.uniform(0.1, 3, len(chosen)), 4).tolist()
        pairs += [(i, j, w) for j, w in zip(chosen, weights[i])]
    w = W(neighbours, weights, id_order=list(range(n)), silence_warnings=True)
    values, yes = valued(random, points)
    return Case(f"listed pairs of {n}", points, values, yes, [], w, pairs=pairs)


def leeward(case, column, stats, *more):
    """The answer of `leeward spatial` to a case."""
    with tempfile.TemporaryDirectory() as folder:
        table = Path(folder) / "points.csv"
        places = case.places or [("", "")] * len(case.points)
        with table.open("w", newline="") as file:
            writer = csv.writer(file)
            writer.writerow(["id", "x", "y", "row", "place", "value", "yes"])
            for i, (point, place) in enumerate(zip(case.points.tolist(), places)):
                writer.writerow([f"p{i:05}", *point, *place, repr(float(case.values[i])), int(case.yes[i])])
        options = list(case.options)
        if case.pairs is not None:
            listed = Path(folder) / "pairs.csv"
            with listed.open("w", newline="") as file:
                writer = csv.writer(file)
                writer.writerow(["from", "to", "weight"])
                writer.writerows((f"p{i:05}", f"p{j:05}", w) for i, j, w in case.pairs)
            options += ["--weights", f"file:{listed}"]
        call = [PROGRAMS / "leeward", "spatial", table, "--id", "id", "--value", column]
        call += [*options, "--stat", ",".join(stats), *more]
        done = subprocess.run([str(x) for x in call], capture_output=True, text=True)
        if done.returncode == 2:
            raise RuntimeError(f"{case.name}: {done.stderr}")
        return json.loads(done.stdout)


def models(question, name="models"):
    """The answer of the models without a command, asked as JSON of one of the examples."""
    program = PROGRAMS / "examples" / name
    done = subprocess.run([program], input=json.dumps(question), capture_output=True, text=True)
    if done.returncode != 0:
        raise RuntimeError(done.stderr)
    return json.loads(done.stdout)
