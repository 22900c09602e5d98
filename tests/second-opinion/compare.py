"""Compares the answers of `leeward spatial`, of mixed models, of exports and of what is printed with general-purpose libraries on fresh data."""

import argparse
import os
import sys
import warnings

import numpy as np

import data_set
import exports
import global_and_local
import mixed_models
import models_and_trend
import paper
import positions
from cases import cases
from tally import Tally


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    fresh = int.from_bytes(os.urandom(4), "big")
    parser.add_argument("--seed", type=int, default=fresh, help="data of an earlier run")
    seed = parser.parse_args().seed
    print(f"seed {seed}")
    warnings.simplefilter("ignore")
    tally = Tally()
    random = np.random.default_rng(seed)
    for case in cases(random):
        for style in ("binary", "row"):
            tally.case = f"{case.name}, {style}"
            global_and_local.compare(tally, case, style, random)
        tally.case = case.name
        positions.compare(tally, case, random)
        models_and_trend.compare(tally, case, random)
    mixed_models.compare(tally, random)
    exports.compare(tally, random)
    data_set.compare(tally, random)
    paper.compare(tally, random)
    tally.case = "Columbus"
    global_and_local.columbus(tally)
    print(f"{tally.passed} passed, {tally.failed} failed")
    return 1 if tally.failed else 0


if __name__ == "__main__":
    sys.exit(main())
