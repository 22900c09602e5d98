#!/usr/bin/env python3
"""Judges 10, 100 and 1,000 made-up plots of 1,000 trees into data sets, and has DuckDB query the last.

Prints time, processor time and peak memory of each call of `leeward proof --many` and of the first
query of docs/many-plots.md, and that query with its answer. Everything lies in one folder that is removed at the end (half a
megabyte a plot).

    tests/bench/many.py                         10, 100 and 1,000 plots, two at a time
    tests/bench/many.py --plots 10,100 --jobs 4
"""

import argparse
import os
import re
import subprocess
import sys
import tempfile
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

sys.dont_write_bytecode = True
HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent / "second-opinion"))

from environment import ROOT, environment, target

SIZE = ["--rows", "20", "--places", "50", "--seasons", "2", "--no-truth"]
PAGE = HERE.parents[1] / "docs" / "many-plots.md"
ASK = "import duckdb, sys; duckdb.sql(sys.argv[1]).show()"


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--plots", default="10,100,1000", help="how many, parted by commas")
    parser.add_argument("--jobs", type=int, default=2)
    options = parser.parse_args()
    python = environment()
    cargo = ["cargo", "build", "--quiet", "--locked", "--release", "-p", "cli"]
    subprocess.run(cargo, cwd=ROOT, check=True)
    leeward = target() / "release" / "leeward"
    counts = sorted(map(int, options.plots.split(",")))
    with tempfile.TemporaryDirectory(dir=target()) as folder:
        folder, made = Path(folder), 0
        print("plots      trees   wall s   processor s   peak MB   data set MB", flush=True)
        for count in counts:
            make(leeward, folder / "plots", range(made, count), options.jobs)
            made, out = count, folder / ("judged" if count == counts[-1] else f"judged-{count}")
            call = [leeward, "proof", "--many", folder / "plots", "--disease", "scab"]
            call += ["--format", "parquet", "--jobs", str(options.jobs), "--out", out]
            wall, processor, peak = measured(call, folder)
            size = sum(file.stat().st_size for file in out.rglob("*.parquet")) / 1e6
            line = f"{count:5} {count * 1000:10,} {wall:8.1f} {processor:13.1f} {peak:9.1f}"
            print(f"{line} {size:13.1f}", flush=True)
        query = re.search("```sql\n(.*?)```", PAGE.read_text(), re.DOTALL)[1]
        print(query)
        wall, processor, peak = measured([python, "-c", ASK, query], folder)
        print(f"DuckDB: {wall:.2f} s, processor {processor:.2f} s, peak {peak:.0f} MB")


def make(leeward, plots, seeds, jobs):
    def one(seed):
        call = [leeward, "simulate", plots / f"{seed:04}", "--seed", str(seed), *SIZE]
        subprocess.run(call, check=True, stderr=subprocess.DEVNULL)

    with ThreadPoolExecutor(jobs) as pool:
        list(pool.map(one, seeds))


def measured(call, folder):
    """Seconds, seconds of processor and peak megabytes of a call that must do what it is asked."""
    began = time.monotonic()
    with open(folder / "said", "wb") as said:
        child = subprocess.Popen(call, cwd=folder, stderr=said)
        _, status, used = os.wait4(child.pid, 0)
    wall = time.monotonic() - began
    child.returncode = os.waitstatus_to_exitcode(status)
    if child.returncode != 0:
        raise OSError((folder / "said").read_text()[-2000:])
    return wall, used.ru_utime + used.ru_stime, used.ru_maxrss / 1024


if __name__ == "__main__":
    try:
        sys.exit(main())
    except (OSError, subprocess.CalledProcessError) as error:
        print(f"nothing could be measured: {error}", file=sys.stderr)
        sys.exit(2)
