"""What `leeward export` writes, read by libraries that know nothing of it."""

import csv
import json
import os
import re
import shutil
import subprocess
import tempfile
from pathlib import Path

import duckdb
import geopandas
import numpy as np
import openpyxl
import pandas as pd
import pyarrow.parquet
import pyogrio
from frictionless import Package, system
from pyproj import Transformer
from shapely.geometry import shape

LEEWARD = Path(os.environ["LEEWARD_PROGRAMS"]) / "leeward"
# Words that tables, formulas and markup trip over.
WORDS = ["", "=1+1", "@SUM(A1)", "+31 6", "-2+3", "-7", "007", "'t Zand", "'=1", "a\nb", "\t=1"]
WORDS += ['say "hi", twice', "<&> é 樹 _x0041_", "1;=2", "1e3", " 3", "NULL", "2031-06-14", "true"]
FORMATS = ("geojson", "csv", "xlsx", "datapackage", "brapi", "geopackage", "parquet")
FORMULA = re.compile(r"'*[=+\-@\t\r\n＝＋－＠]")
NUMBER = re.compile(r"-?(0|[1-9]\d*)(\.\d+)?([eE][+-]?\d+)?")


def compare(tally, random):
    with tempfile.TemporaryDirectory() as folder:
        plot = made_up(Path(folder) / "plot", random)
        out = {to: Path(folder) / to for to in FORMATS}
        out["geopackage"] = out["geopackage"].with_suffix(".gpkg")
        for to, path in out.items():
            call = [str(LEEWARD), "export", str(plot), "--to", to, "--out", str(path)]
            subprocess.run(call, check=True, capture_output=True)
        trees, scores = table(plot / "trees.csv"), standing(plot)
        tally.case = "exports"
        points(tally, plot, out["geojson"], trees, scores)
        wide(tally, out["csv"], trees, scores)
        workbook(tally, plot, out["xlsx"])
        package(tally, out["datapackage"])
        answers(tally, out["brapi"], out["geojson"], trees, scores)
        geopackage(tally, plot, out["geopackage"], out["geojson"], trees)
        parquet(tally, plot, out["parquet"], out["geojson"], trees)


def made_up(plot, random):
    """A plot with every file, corrected scores, grafts, and words that are hard to hold."""
    seed = str(random.integers(1, 2**31))
    call = [str(LEEWARD), "simulate", str(plot), "--seed", seed, "--no-truth"]
    size = ["--rows", "4", "--places", "25", "--seasons", "2"]
    subprocess.run([*call, *size], check=True, capture_output=True)
    head = json.loads((plot / "plot.json").read_text())
    lon, lat = random.uniform(-180, 180), random.uniform(-70, 70)
    head["origin"] = {"lon": lon, "lat": lat, "row_bearing_deg": random.uniform(0, 360)}
    (plot / "plot.json").write_text(json.dumps(head))
    trees = table(plot / "trees.csv")
    for column in ("tag", "note", "buyer"):
        trees[column] = random.choice(WORDS, len(trees))
    trees["girth"] = [f"{girth:.2f}" for girth in random.uniform(-1, 30, len(trees))]
    graft = {name: "" for name in trees} | {"tree_id": "G1", "grafted_on": "T0001", "girth": "3"}
    pd.concat([trees, pd.DataFrame([graft])]).to_csv(plot / "trees.csv", index=False)
    scores = table(plot / "scores.csv")
    changed = scores.sample(20, random_state=int(seed)).copy()
    changed["replaces"], changed["score_id"] = changed.score_id, "C" + changed.score_id
    changed["scored_on"] += "T09:31:05.25+02:00"
    changed["value"] = ["" if nth % 4 == 0 else value for nth, value in enumerate(changed.value)]
    pd.concat([scores, changed]).to_csv(plot / "scores.csv", index=False)
    (plot / "decisions.csv").write_text(
        "decision_id,tree_id,decision,decided_on,reason\n"
        "d1,T0001,keep,2031-10-02T11:00:00+02:00,sweet\nd2,T0002,,2031-10-03T11:00:00Z,=sour\n"
    )
    (plot / "events.csv").write_text("date,from,to,kind,rows,note\n2030-05-01,,,spray,1-3,\n")
    hours = "".join(f"2030-05-01T{hour:02}:00,{hour / 2},0,,80\n" for hour in range(24))
    head = "time,temp_c,rain_mm,leaf_wetness,relative_humidity\n"
    (plot / "weather.csv").write_text(head + hours)
    return plot


def table(path, **options):
    return pd.read_csv(path, dtype=str, keep_default_na=False, **options)


def standing(plot):
    """The scores that stand, in time; those of one day in the order of the file."""
    scores = table(plot / "scores.csv")
    scores = scores[~scores.score_id.isin(scores.replaces)]
    scores = scores[(scores.value != "") | (scores.replaces == "")]
    return scores.sort_values("scored_on", kind="stable")


def numbers(column):
    """Numbers, None where there is none."""
    return [None if np.isnan(number) else number for number in pd.to_numeric(column)]


def points(tally, plot, path, trees, scores):
    read = geopandas.read_file(path)
    tally.hold("GeoJSON, WGS 84", read.crs.to_epsg() == 4326, str(read.crs))
    tally.hold("GeoJSON, ids", list(read.tree_id) == list(trees.tree_id))
    for name in ("tag", "note", "buyer"):
        tally.hold(f"GeoJSON, {name}", list(read[name].fillna("")) == list(trees[name]))
    tally.close("GeoJSON, girth", list(read.girth), [float(girth) for girth in trees.girth])
    head = json.loads((plot / "plot.json").read_text())
    layout, origin = head["layout"], head["origin"]
    steps = "+step +proj=cart +step +proj=topocentric +h_0=0"
    local = f"+proj=pipeline {steps} +lon_0={origin['lon']!r} +lat_0={origin['lat']!r}"
    east, north, _ = Transformer.from_pipeline(local).transform(
        list(read.geometry.x), list(read.geometry.y), [0.0] * len(read), radians=False
    )
    # A bearing turns north towards east; y lies to the left.
    back = np.exp(-1j * np.radians(origin["row_bearing_deg"]))
    turned = (np.array(north) + 1j * np.array(east)) * back
    stands = trees.grafted_on.where(trees.grafted_on != "", trees.tree_id)
    place = trees.set_index("tree_id").loc[stands]
    x = (place.place.astype(int) - layout["first_place"]) * layout["place_spacing_m"]
    y = (place.row.astype(int) - layout["first_row"]) * layout["row_spacing_m"]
    tally.close("GeoJSON, x", list(turned.real), list(x), 0, 0.008)
    tally.close("GeoJSON, y", list(-turned.imag), list(y), 0, 0.008)
    filled = scores[scores.value != ""]
    for name, of_trait in filled.groupby("trait"):
        last = of_trait.groupby("tree_id").value.last().astype(float)
        theirs = last.reindex(trees.tree_id)
        tally.close(f"GeoJSON, {name}", numbers(read[name]), list(theirs))


def wide(tally, path, trees, scores):
    guarded = table(path, encoding="utf-8-sig")
    cells = [cell for name in guarded for cell in [name, *guarded[name]]]
    loose = [cell for cell in cells if FORMULA.match(cell) and not cell.startswith("'")]
    tally.hold("CSV, no formula", all(NUMBER.fullmatch(cell) for cell in loose), str(loose[:3]))
    read = guarded.map(lambda cell: re.sub(f"^'(?={FORMULA.pattern})", "", cell))
    tally.hold("CSV, trees", read[list(trees)].equals(trees), "a cell of trees.csv differs")
    filled = scores[scores.value != ""]
    columns = filled.trait + " " + filled.scored_on.str[:4] + " " + filled["round"]
    tally.hold("CSV, columns", set(read) - set(trees) == set(columns), str(set(columns)))
    for name, of_round in filled.groupby(columns):
        last = of_round.groupby("tree_id").value.last().reindex(trees.tree_id).fillna("")
        tally.close(f"CSV, {name}", numbers(read[name]), pd.to_numeric(last).to_list())


def workbook(tally, plot, path):
    named = path.with_suffix(".xlsx")
    shutil.copy(path, named)
    read = openpyxl.load_workbook(named)
    names = ["trees", "scores", "decisions", "events", "weather"]
    tally.hold("workbook, sheets", read.sheetnames == names, str(read.sheetnames))
    for sheet in read:
        with open(plot / f"{sheet.title}.csv", newline="", encoding="utf-8") as file:
            own = list(csv.reader(file))
        cells = [cell for row in sheet.iter_rows() for cell in row]
        tally.hold(f"workbook, {sheet.title}, no formula", all(c.data_type in "ns" for c in cells))
        found = [["" if cell.value is None else cell.value for cell in row] for row in sheet.rows]
        pairs = [pair for rows in zip(found, own, strict=True) for pair in zip(*rows, strict=True)]
        meant = [text if isinstance(cell, str) else float(text) for cell, text in pairs]
        other = [(cell, own) for (cell, _), own in zip(pairs, meant) if cell != own]
        tally.hold(f"workbook, {sheet.title}", not other, str(other[:3]))
        for column in sheet.columns:
            if column[0].value in {"row", "place", "value", "temp_c"}:
                tally.hold(
                    f"workbook, {sheet.title}, {column[0].value} in numbers",
                    all(cell.data_type == "n" for cell in column[1:]),
                )


def package(tally, folder):
    with system.use_context(trusted=True):
        report = Package(str(folder / "datapackage.json")).validate()
        tally.hold("package", report.valid and len(report.tasks) == 6, str(report.flatten()[:3]))
        rows = Package(str(folder / "datapackage.json")).get_resource("weather").read_rows()
        tally.hold("package, hours", len(rows) == 24 and rows[3]["time"].hour == 3)
        # What the schemas forbid is found.
        for name, line, error in [
            ("trees", "T0001" + "," * 16, "primary-key"),
            ("scores", "X1,T9999,scab_leaf,1,2030-05-01,1,,,", "foreign-key"),
            ("decisions", "d9,T0001,perhaps,2031-10-02T11:00:00Z,", "constraint-error"),
        ]:
            path = folder / f"{name}.csv"
            before = path.read_bytes()
            path.write_bytes(before + line.encode() + b"\n")
            errors = Package(str(folder / "datapackage.json")).validate().flatten(["type"])
            tally.hold(f"package, {error}", [error] in errors, str(errors[:3]))
            path.write_bytes(before)


def answers(tally, folder, points, trees, scores):
    def data(name):
        answer = json.loads((folder / f"{name}.json").read_text())
        return pd.json_normalize(answer["result"]["data"], max_level=0)

    units, variables, taken = data("observationunits"), data("variables"), data("observations")
    tally.hold("BrAPI, units", list(units.observationUnitDbId) == list(trees.tree_id))
    tally.hold("BrAPI, variables", set(scores.trait) <= set(variables.observationVariableDbId))
    ours = taken.set_index("observationDbId").sort_index()
    theirs = scores.set_index("score_id").sort_index()
    tally.hold("BrAPI, observations", list(ours.index) == list(theirs.index))
    tally.hold("BrAPI, of units", list(ours.observationUnitDbId) == list(theirs.tree_id))
    tally.hold("BrAPI, of variables", list(ours.observationVariableDbId) == list(theirs.trait))
    tally.close("BrAPI, values", numbers(ours.value), pd.to_numeric(theirs.value).to_list())
    geometry = [shape(one["geoCoordinates"]["geometry"]) for one in units.observationUnitPosition]
    tally.hold("BrAPI, points", all(one.geom_type == "Point" for one in geometry))
    places = geopandas.read_file(points).geometry
    tally.close("BrAPI, lon", [one.x for one in geometry], list(places.x))
    tally.close("BrAPI, lat", [one.y for one in geometry], list(places.y))


def geopackage(tally, plot, path, points, trees):
    layers = {name: kind for name, kind in pyogrio.list_layers(path)}
    tally.hold("GeoPackage, layers", layers == {"trees": "Point", "scores": None}, str(layers))
    theirs, read = geopandas.read_file(points), geopandas.read_file(path, layer="trees")
    tally.hold("GeoPackage, WGS 84", read.crs.to_epsg() == 4326, str(read.crs))
    tally.close("GeoPackage, lon", list(read.geometry.x), list(theirs.geometry.x), 0, 1e-7)
    tally.close("GeoPackage, lat", list(read.geometry.y), list(theirs.geometry.y), 0, 1e-7)
    bounds = pyogrio.read_info(path, layer="trees", force_total_bounds=True)["total_bounds"]
    tally.close("GeoPackage, bounds", list(bounds), list(read.total_bounds))
    columns = columns_of(plot, trees)
    tally.hold("GeoPackage, columns", list(read)[:-1] == columns, str(list(read)))
    alike(tally, "GeoPackage", read, theirs, trees, columns)
    dtypes = pyogrio.read_info(path, layer="scores")["dtypes"]
    lines(tally, "GeoPackage", plot, geopandas.read_file(path, layer="scores"))
    tally.hold("GeoPackage, day", [t for t in dtypes if "datetime" in t][:1] == ["datetime64[D]"])
    # Without an origin: metres along and across the rows.
    head = json.loads((plot / "plot.json").read_text())
    origin = head.pop("origin")
    (plot / "plot.json").write_text(json.dumps(head))
    flat = path.with_name("flat.gpkg")
    call = [str(LEEWARD), "export", str(plot), "--to", "geopackage", "--out", str(flat)]
    subprocess.run(call, check=True, capture_output=True)
    (plot / "plot.json").write_text(json.dumps(head | {"origin": origin}))
    read = geopandas.read_file(flat, layer="trees").set_index("tree_id")
    tally.hold("GeoPackage, no place on earth", read.crs is None or not read.crs.is_geographic)
    stands = trees.grafted_on.where(trees.grafted_on != "", trees.tree_id)
    place = trees.set_index("tree_id").loc[stands]
    layout = head["layout"]
    x = (place.place.astype(int) - layout["first_place"]) * layout["place_spacing_m"]
    y = (place.row.astype(int) - layout["first_row"]) * layout["row_spacing_m"]
    tally.close("GeoPackage, x", list(read.geometry.x), list(x))
    tally.close("GeoPackage, y", list(read.geometry.y), list(y))


def parquet(tally, plot, folder, points, trees):
    theirs = geopandas.read_file(points)
    columns = columns_of(plot, trees)
    read = pyarrow.parquet.read_table(folder / "trees.parquet")
    tally.hold("Parquet, columns", read.column_names == columns, str(read.column_names))
    types = {field.name: str(field.type) for field in read.schema}
    meant = {"tree_id": "string", "row": "int64", "girth": "double", "scab_leaf": "double"}
    meant |= {"scab_leaf_on": "date32[day]", "planted_on": "date32[day]"}
    found = {name: types[name] for name in meant}
    tally.hold("Parquet, types", found == meant, str(found))
    alike(tally, "Parquet", read.to_pandas(), theirs, trees, columns)
    scores = pyarrow.parquet.read_table(folder / "scores.parquet")
    types = [str(scores.schema.field(name).type) for name in ("scored_on", "scored_at", "stands")]
    meant = ["date32[day]", "timestamp[us, tz=UTC]", "bool"]
    tally.hold("Parquet, types of scores", types == meant, str(types))
    lines(tally, "Parquet", plot, scores.to_pandas())
    files = f"'{folder}/trees.parquet' t JOIN '{folder}/scores.parquet' s USING (tree_id)"
    joined = duckdb.sql(f"SELECT count(*), sum(s.value) FROM {files} WHERE s.stands").fetchall()[0]
    stand = standing(plot)
    ours = [len(stand), pd.to_numeric(stand.value).sum()]
    tally.close("Parquet, joined by DuckDB", list(map(float, joined)), ours)


def columns_of(plot, trees):
    """The columns of trees.csv, then two for each trait."""
    traits = json.loads((plot / "plot.json").read_text())["traits"]
    return list(trees) + [name for one in traits for name in (one["id"], one["id"] + "_on")]


def alike(tally, format, read, theirs, trees, columns):
    """The cells of two tables of trees, days and missing ones too."""
    tally.hold(f"{format}, ids", list(read.tree_id) == list(trees.tree_id))
    for name in ("tag", "note", "buyer"):
        tally.hold(f"{format}, {name}", list(read[name].fillna("")) == list(trees[name]))
    for name in set(columns) - {"tag", "note", "buyer"}:
        if pd.api.types.is_numeric_dtype(theirs[name]):
            tally.close(f"{format}, {name}", numbers(read[name]), list(theirs[name]))
        else:
            # GDAL takes the id T0001 in GeoJSON for a time of day.
            other = trees[name] if name in trees else theirs[name]
            text = [["" if pd.isna(cell) else str(cell)[:10] for cell in column]
                    for column in (read[name], other)]
            tally.hold(f"{format}, {name}", text[0] == text[1], str(text[0][:3]))


def lines(tally, format, plot, read):
    """Every line of scores.csv, with the moment where there is one."""
    own = table(plot / "scores.csv")
    tally.hold(f"{format}, scores", list(read.score_id) == list(own.score_id))
    tally.hold(f"{format}, replaced", list(read.replaces.fillna("")) == list(own.replaces))
    tally.close(f"{format}, values", numbers(read.value), list(pd.to_numeric(own.value)))
    days = [str(day)[:10] for day in read.scored_on]
    tally.hold(f"{format}, days", days == list(own.scored_on.str[:10]), str(days[:3]))
    clock = own.scored_on.where(own.scored_on.str.len() > 10)
    meant = pd.to_datetime(clock, utc=True, format="ISO8601").dt.round("ms")
    found = pd.to_datetime(read.scored_at, utc=True).dt.round("ms")
    same = (found == meant) | (found.isna() & meant.isna())
    tally.hold(f"{format}, moments", bool(same.all()) and bool(found.notna().any()))
    stands = set(read.score_id[read.stands.astype(bool)])
    tally.hold(f"{format}, standing", stands == set(standing(plot).score_id))
