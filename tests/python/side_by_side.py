"""Does the work that `tests/examples/measure` timed with other libraries, and prints both times.

In: the folder that the example filled (cases.json). Out: a table in Markdown on the standard output.
Always true: both times come from one run on one machine; each is the median of the runs stated; the results of both are
compared first, and a difference beyond what flattening explains ends with status 1. Clearance and booleans go to shapely
(GEOS), which knows only straight edges: round ones are flattened to 0.01 mm. PDF pages go to reportlab.
"""

import io
import json
import statistics
import sys
import time
from pathlib import Path

import shapely
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from shapely import affinity
from shapely.geometry import Polygon

RUNS = 15
# Both outlines are flattened to 0.01 mm, so distances may differ by twice that.
NEAR = 0.02


def timed(work):
    """Median of RUNS, ms."""
    took = []
    for _ in range(RUNS):
        start = time.perf_counter()
        work()
        took.append((time.perf_counter() - start) * 1e3)
    return statistics.median(took)


def region(rings):
    return Polygon(rings[0], rings[1:])


def clearance(case):
    plate, arm = region(case["plate"]), region(case["arm"])
    placed = [affinity.translate(affinity.rotate(arm, angle, origin=(0, 0), use_radians=True), x, y) for angle, x, y in case["poses"]]
    found = [plate.distance(other) for other in placed]
    worst = max(abs(a - b) for a, b in zip(found, case["found"]))
    if worst > NEAR:
        sys.exit(f"clearances differ by {worst:.4f} mm")
    shapely.prepare(plate)
    return timed(lambda: [plate.distance(other) for other in placed]) / len(placed), f"{worst:.4f} mm apart at most"


def boolean(case):
    disc, pieces = region(case["disc"]), [region(p) for p in case["pieces"]]
    area = disc.difference(shapely.union_all(pieces)).area
    # A chord takes at most 2/3 of its sagitta times its length of a circle: 0.01 mm along some 5 m of outline.
    off = abs(area - case["area"])
    if off > 5000 * 0.01:
        sys.exit(f"areas differ by {off:.2f} mm²")
    return timed(lambda: disc.difference(shapely.union_all(pieces))), f"{off:.2f} mm² of {area:.0f} apart"


def pdf(case):
    def write():
        out = io.BytesIO()
        canvas = Canvas(out, pagesize=(210 * mm, 297 * mm), pageCompression=1)
        for page in case["pages"]:
            canvas.setLineWidth(0.25 * mm)
            for x0, y0, x1, y1 in page["lines"]:
                canvas.line(x0 * mm, (297 - y0) * mm, x1 * mm, (297 - y1) * mm)
            canvas.setFont("Helvetica", 3.5 * mm)
            for x, y, text in page["words"]:
                canvas.drawString(x * mm, (297 - y) * mm, text)
            canvas.showPage()
        canvas.save()
        return out.getvalue()

    size = len(write())
    said = f"{case['bytes'] // 1000} kB with fonts, tags and PDF/A; theirs {size // 1000} kB without"
    return timed(write), said


def main():
    cases = json.loads((Path(sys.argv[1]) / "cases.json").read_text())
    rows = [
        ("clearance of a slotted plate and a bent arm", f"shapely {shapely.__version__}", cases["clearance"], clearance),
        ("a disc less twelve pieces", f"shapely {shapely.__version__}", cases["boolean"], boolean),
        ("forty pages of 500 lines and 60 strings as PDF", "reportlab", cases["pdf"], pdf),
    ]
    print("\n## Side by side\n\n| work | ours, ms | other library | its time, ms | ratio | results |\n|---|---|---|---|---|---|")
    for work, library, case, run in rows:
        theirs, said = run(case)
        ours = case["ms"]
        print(f"| {work} | {ours:.4f} | {library} | {theirs:.4f} | {theirs / ours:.1f} | {said} |")


main()
