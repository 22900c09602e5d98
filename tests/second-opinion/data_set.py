"""The data set of `leeward proof --many`, queried by engines that know nothing of it."""

import io
import json
import os
import re
import subprocess
import tempfile
from pathlib import Path

import duckdb
import pandas as pd
import pyarrow.dataset

PAGE = Path(__file__).resolve().parents[2] / "docs" / "many-plots.md"
LEEWARD = Path(os.environ["LEEWARD_PROGRAMS"]) / "leeward"
# Names that paths, partitions and engines trip over.
NAMES = ['a/b = "50 %25" [x]?', "..", "007 é 樹"]
ADDED = ["seed_parent", "pollen_parent", "row", "place"]


def compare(tally, random):
    tally.case = "many plots"
    with tempfile.TemporaryDirectory() as folder:
        plots, out = Path(folder) / "plots", Path(folder) / "out"
        for nth, name in enumerate(NAMES):
            made_up(plots / str(nth), name, str(random.integers(1, 2**31)))
        leeward("proof", "--many", plots, "--disease", "scab", "--each-season", "--out", out)
        files = f"read_parquet('{out}/*/*/*.parquet', hive_partitioning = true)"
        counts = duckdb.sql(f"SELECT plot, season, count(*) FROM {files} GROUP BY ALL").fetchall()
        tally.hold("names", {plot for plot, *_ in counts} == set(NAMES), str(counts))
        tally.hold("partitions", len(counts) == 2 * len(NAMES), str(counts))
        queries = re.findall("```sql\n(.*?)```", PAGE.read_text(), re.DOTALL)
        queries = [query.replace("'judged/", f"'{out}/").split("LIMIT")[0] for query in queries]
        answers = [duckdb.sql(query).df() for query in queries]
        trees = [int(answer["trees"].sum()) for answer in answers]
        lines = sum(count for *_, count in counts)
        tally.hold("queries of the page", trees == [lines, lines], f"{trees} of {lines}")
        arrow = pyarrow.dataset.dataset(out, partitioning="hive").to_table().to_pandas()
        for nth, name in enumerate(NAMES):
            trees = pd.read_csv(plots / str(nth) / "trees.csv", dtype=str, keep_default_na=False)
            for upto in ([2029], [2029, 2030]):
                tally.case = f"many plots, {name}, {upto}"
                years = ",".join(map(str, upto))
                csv = leeward("proof", plots / str(nth), "--disease", "scab", "--season", years)
                alone = pd.read_csv(io.StringIO(csv), keep_default_na=False)
                one = "plot = ? AND season = ?"
                asked = f"SELECT * FROM {files} WHERE {one} ORDER BY file_row_number"
                asked = asked.replace("= true)", "= true, file_row_number = true)")
                found = duckdb.execute(asked, [name, upto[-1]]).df()
                same(tally, "DuckDB", found, alone, trees)
                of_one = (arrow["plot"].astype(str) == name) & (arrow["season"] == upto[-1])
                same(tally, "pyarrow", arrow[of_one], alone, trees)


def made_up(plot, name, seed):
    size = ["--rows", "4", "--places", "25", "--seasons", "2", "--no-truth"]
    leeward("simulate", plot, "--seed", seed, *size)
    head = json.loads((plot / "plot.json").read_text())
    (plot / "plot.json").write_text(json.dumps(head | {"name": name}))


def leeward(*call):
    """Standard output; 1, nobody could be judged, is an answer, too."""
    done = subprocess.run([LEEWARD, *call], capture_output=True, text=True)
    if done.returncode not in (0, 1):
        raise OSError(done.stderr)
    return done.stdout


def same(tally, engine, found, alone, trees):
    columns = [*alone, *ADDED]
    tally.hold(f"{engine}, columns", list(found)[: len(columns)] == columns, str(list(found)))
    for name in alone:
        if pd.api.types.is_numeric_dtype(found[name]):
            theirs = pd.to_numeric(alone[name])
            ours = [None if pd.isna(cell) else float(cell) for cell in found[name]]
            tally.close(f"{engine}, {name}", ours, list(theirs), 0, 0)
        else:
            tally.hold(f"{engine}, {name}", list(found[name]) == list(alone[name]))
    of = trees.set_index("tree_id").loc[list(alone.tree_id)]
    for name in ADDED:
        cells = ["" if pd.isna(cell) else str(cell) for cell in found[name]]
        tally.hold(f"{engine}, {name}", cells == list(of[name]), str(cells[:3]))
