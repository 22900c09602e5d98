"""What `leeward print` makes, printed by a browser and read from the paper: sizes in millimetres,
and every square code by a decoder that knows nothing of Leeward."""

import os
import shutil
import subprocess
import tempfile
from pathlib import Path

import numpy as np
import pypdfium2 as pdfium
import zxingcpp

LEEWARD = Path(os.environ["LEEWARD_PROGRAMS"]) / "leeward"
CHROMIUM = os.environ.get("CHROMIUM", "chromium")
FLAGS = ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"]
FLAGS += ["--disable-background-networking", "--disable-component-update", "--disable-sync"]
POINTS_PER_MM = 72 / 25.4
# Columns x rows, then label, margin and pitch in mm, and the first label.
LABELS = ["5x12", "35x20", "10x12", "38.5x21.2", "14"]
RULER_MM = 100


def compare(tally, random):
    with tempfile.TemporaryDirectory() as folder:
        folder = Path(folder)
        plot = made_up(folder / "plot", random)
        for page, size_mm in (("a4", (210, 297)), ("letter", (215.9, 279.4))):
            tally.case = f"tags on {page}"
            tags(tally, folder, plot, page, size_mm)
        tally.case = "field sheets and map"
        for what in ("field-sheets", "map"):
            lying = printed(folder, plot, what, "--landscape")
            for sheet in lying:
                near_mm(tally, f"{what} lies", sheet.get_size(), (297, 210))
                ruler(tally, sheet)


def tags(tally, folder, plot, page, size_mm):
    """Each tree once, on labels that were begun, and on one paper in three sizes that are cut."""
    trees = sorted(line.split(",")[0] for line in (plot / "trees.csv").read_text().split("\n")[1:-1])
    sizes = ("small", "medium", "large") if page == "a4" else ()
    asked = [["--size", size] for size in sizes]
    names = ("--labels", "--label", "--margin", "--pitch", "--start")
    asked.append([word for pair in zip(names, LABELS) for word in pair])
    for options in asked:
        pages = printed(folder, plot, "tags", "--page", page, *options)
        read = []
        for sheet in pages:
            near_mm(tally, "the page", sheet.get_size(), size_mm)
            # 200 dots for an inch, as a plain printer and a telephone give at least.
            grey = np.array(sheet.render(scale=200 / 72, grayscale=True).to_pil())
            read += [code.text for code in zxingcpp.read_barcodes(grey)]
        ids = sorted(text.rsplit("-", 1)[0] for text in read)
        tally.hold(f"codes of {options}", ids == trees, f"{len(ids)} of {len(trees)} read")
        if options[0] == "--size":
            ruler(tally, pages[0])


def ruler(tally, sheet):
    """The printed ruler, measured as a dark line of the picture: ten dots a millimetre."""
    dots = 10
    grey = np.array(sheet.render(scale=dots / POINTS_PER_MM, grayscale=True).to_pil())
    foot = grey[-20 * dots :, : 130 * dots] < 128
    longest = max(longest_run(line) for line in foot)
    tally.hold("the ruler", abs(longest / dots - RULER_MM) <= 0.5, f"{longest / dots} mm")


def longest_run(line):
    edges = np.flatnonzero(np.diff(np.concatenate(([0], line.astype(int), [0]))))
    return max((edges[1::2] - edges[::2]), default=0)


def near_mm(tally, what, points, size_mm):
    # A browser rounds pages to its own pixels, a quarter of a millimetre.
    found = [length / POINTS_PER_MM for length in points]
    apart = max(abs(a - b) for a, b in zip(found, size_mm))
    tally.hold(what, apart <= 0.3, f"{found} against {size_mm}")


def printed(folder, plot, what, *options):
    """The pages of a PDF that the browser prints."""
    html, pdf = folder / "print.html", folder / "print.pdf"
    html.unlink(missing_ok=True)
    call = [str(LEEWARD), "print", str(plot), "--what", what, "--out", str(html), *options]
    told = subprocess.run(call, check=True, capture_output=True, text=True).stderr
    if shutil.which(CHROMIUM) is None:
        raise OSError(f"found no browser, expected {CHROMIUM}")
    home = [f"--user-data-dir={folder / 'browser'}", f"--print-to-pdf={pdf}", html.as_uri()]
    subprocess.run([CHROMIUM, *FLAGS, "--no-pdf-header-footer", *home], check=True, capture_output=True, timeout=120)
    pages = list(pdfium.PdfDocument(pdf.read_bytes()))
    # As many sheets as pages: none is blank, none is cut in two.
    if not told.strip().endswith(f": {len(pages)} page{'s' if len(pages) > 1 else ''}"):
        raise AssertionError(f"{len(pages)} sheets, and leeward said {told}")
    return pages


def made_up(folder, random):
    """A folder with tags that are hard to set, and ids of random letters and digits."""
    folder.mkdir()
    (folder / "plot.json").write_text(
        """{"format": "leeward-plot", "version": 1, "name": "Paper <trial> & co",
        "layout": {"row_spacing_m": 3, "place_spacing_m": 0.75},
        "traits": [{"id": "scab", "disease": "scab", "label": "Scab", "kind": "ordinal",
        "scale": [{"value": 0, "label": "none", "severity": 0},
                  {"value": 1, "label": "some", "severity": 0.1}]}]}"""
    )
    words = ["", "Q-1", "<script>alert(1)</script>", "a very long tag that no label has room for", "樹 é"]
    letters = "ABCDEFGHJKLMNPQRSTUVWXYZ0123456789"
    lines = ["tree_id,row,place,tag"]
    for nth in range(70):
        # The number keeps ids apart; the letters move the pattern of every code.
        own = "".join(random.choice(list(letters), int(random.integers(1, 6))))
        lines.append(f"X{own}{nth:03},{nth // 35 + 1},{nth % 35 + 1},{words[nth % len(words)]}")
    (folder / "trees.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")
    return folder
