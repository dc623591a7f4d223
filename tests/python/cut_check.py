"""Outside check of the cut files against svgelements (a general SVG reader) and shapely (GEOS).

In:  the terminal program and a folder of plan files. For each plan the program writes its cut files
     (`turnleaf cut`) and its parts as they stand in the table (`turnleaf pose --json`: solid layers of each
     piece, flattened to 0.01 mm).
Out: one line for each kind of check with the number of comparisons and the largest difference.
     Exit status 1 if any difference exceeds its tolerance or a kind was compared too seldom.

Always true: areas and lengths are computed here, by this file's own closed forms for lines and circular arcs,
from what the SVG reader found; nothing is shared with the code under test.

Checks: width, height and view box are the same millimetres; every path is closed; no text in a layer; area and
length of each layer are those of index.csv (1e-6 relative); circles of a part are its round holes; and the solid
that is left when a machine has done all layers has, at every height, the area of the part's own layers
(1e-3 relative, because the program's JSON is flattened; measured differences are printed).

    pip install -r tests/python/cut_requirements.txt -r tests/python/requirements.txt
    python tests/python/cut_check.py PROGRAM demo
"""

import csv
import json
import math
import pathlib
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as ET

from shapely.geometry import Point, Polygon
from shapely.ops import unary_union
from svgelements import Arc, Close, Line, Move, Path

SVG = "{http://www.w3.org/2000/svg}"
SAGITTA = 1e-4  # mm, for the polygons of the solid only
worst, counted, failures = {}, {}, []


def compare(kind, ours, theirs, relative, where):
    off = abs(ours - theirs) / max(1.0, abs(theirs))
    worst[kind] = max(worst.get(kind, 0.0), off)
    counted[kind] = counted.get(kind, 0) + 1
    if not off <= relative:
        failures.append(f"{where}: {kind} {ours} for {theirs}")


def ring(path):
    """Signed area, length and points of one closed ring; SVG's y runs down."""
    area = length = 0.0
    points, closed = [], False
    for s in path:
        if isinstance(s, Move):
            continue
        a, b = complex(s.start), complex(s.end)
        if isinstance(s, (Line, Close)):
            area += (a.real * b.imag - b.real * a.imag) / 2
            length += abs(b - a)
            points.append((a.real, a.imag))
            closed |= isinstance(s, Close)
        elif isinstance(s, Arc):
            c, r, sweep = complex(s.center), s.rx, s.sweep
            assert abs(s.rx - s.ry) < 1e-6, "an arc that is not circular"
            u, w = a - c, b - c
            # The triangle fan from the origin: chord by the corners, then the segment between chord and arc.
            area += (a.real * b.imag - b.real * a.imag) / 2 + r * r * (sweep - math.sin(sweep)) / 2
            length += r * abs(sweep)
            assert abs(abs(u) - r) < 1e-5 and abs(abs(w) - r) < 1e-5, "ends off the arc"
            n = max(2, math.ceil(abs(sweep) / (2 * math.acos(max(0.0, 1 - SAGITTA / r)))))
            start = math.atan2(u.imag, u.real)
            points += [(c.real + r * math.cos(start + sweep * i / n),
                        c.imag + r * math.sin(start + sweep * i / n)) for i in range(n)]
        else:
            raise AssertionError(f"{type(s).__name__} is no line and no arc")
    assert closed, "a path is not closed"
    return area, length, points


def read(file):
    """Root attributes and layers: id -> (attributes, area, length, number of shapes, circles, polygons)."""
    root = ET.parse(file).getroot()
    w, h = root.get("width"), root.get("height")
    assert w.endswith("mm") and h.endswith("mm"), f"{file}: no millimetres"
    assert root.get("viewBox") == f"0 0 {w[:-2]} {h[:-2]}", f"{file}: view box and size differ"
    layers = {}
    for g in root.findall(SVG + "g"):
        assert g.get("id") not in layers, f"{file}: layer {g.get('id')} twice"
        assert g.get("transform") is None
        area = length = 0.0
        shapes = circles = 0
        polygons = []
        for e in g:
            assert e.tag in (SVG + "path", SVG + "circle"), f"{file}: {e.tag} in a layer"
            shapes += 1
            if e.tag == SVG + "circle":
                circles += 1
                x, y, r = (float(e.get(k)) for k in ("cx", "cy", "r"))
                area, length = area + math.pi * r * r, length + 2 * math.pi * r
                n = max(16, math.ceil(math.pi / math.acos(max(0.0, 1 - SAGITTA / r))))
                polygons.append(Point(x, y).buffer(r, quad_segs=max(8, n // 4)))
                continue
            rings = [ring(Path(sub)) for sub in Path(e.get("d")).as_subpaths()]
            outer = max(rings, key=lambda q: abs(q[0]))
            area += abs(outer[0]) - sum(abs(q[0]) for q in rings if q is not outer)
            length += sum(q[1] for q in rings)
            polygons.append(Polygon(outer[2], [q[2] for q in rings if q is not outer]))
        layers[g.get("id")] = (g.attrib, area, length, shapes, circles, polygons)
    return root, layers


def solid_area(files, z, thickness):
    """Area left at a height above the lower face when all layers are done."""
    outline, gone = None, []
    for root, layers in files:
        top = root.get("data-face") == "top"
        for name, (attributes, *_, polygons) in layers.items():
            kind, depth = attributes["data-operation"], attributes.get("data-depth-mm")
            if kind == "outside-cut":
                outline = (unary_union(polygons), root)
                continue
            if kind == "mark":
                continue
            if depth is not None:
                reached = z > thickness - float(depth) if top else z < float(depth)
                if not reached:
                    continue
            gone += [(p, root) for p in polygons]

    def home(p, root):
        """Into the part's frame: origin of the file, y up; turned over for the lower face."""
        ox, oy = float(root.get("data-origin-x-mm")), float(root.get("data-origin-y-mm"))
        flip = 1 if root.get("data-face") == "bottom" else -1
        move = lambda ring: [(x - ox, flip * (y - oy)) for x, y in ring.coords]
        return Polygon(move(p.exterior), [move(q) for q in p.interiors])

    body = home(*outline)
    return body.difference(unary_union([home(p, r) for p, r in gone])).area if gone else body.area


def plan(program, file, folder):
    subprocess.run([program, "cut", str(file), "-o", folder], check=True)
    posed = json.loads(subprocess.run([program, "pose", str(file), "--turn", "0", "--json"],
                                      check=True, capture_output=True, text=True).stdout)
    rows = list(csv.DictReader(open(pathlib.Path(folder) / "index.csv", newline="")))
    by_part = {}
    for row in rows:
        by_part.setdefault(row["part"], {}).setdefault(row["file"], []).append(row)
    for part, files in by_part.items():
        read_files = []
        for name, lines in files.items():
            where = f"{file.name} {name}"
            root, layers = read(pathlib.Path(folder) / name)
            read_files.append((root, layers))
            assert list(layers) == [l["layer"] for l in lines], f"{where}: layers differ from the index"
            for line in lines:
                attributes, area, length, shapes, circles, _ = layers[line["layer"]]
                compare("area", area, float(line["area_mm2"]), 1e-6, f"{where} {line['layer']}")
                compare("length", length, float(line["length_mm"]), 1e-6, f"{where} {line['layer']}")
                compare("shapes", shapes, int(line["shapes"]), 0, f"{where} {line['layer']}")
                if line["operation"] == "drill":
                    compare("circles", circles, shapes, 0, where)
                    d = float(line["diameter_mm"])
                    compare("drilled", area, shapes * math.pi * d * d / 4, 1e-4, where)
        piece = next(p for p in posed if p["part"] == part)
        thickness = float(rows[[r["part"] for r in rows].index(part)]["thickness_mm"])
        # Grooves are not cut from the face: heights that they reach are left out.
        grooved = any(l["layer"] == "mark" for n, ls in files.items() for l in ls
                      if read_files[list(files).index(n)][1].get("outside-cut"))
        for slab in piece["layers"]:
            low, high = slab["z_min"] - piece["z_min"], slab["z_max"] - piece["z_min"]
            middle = (low + high) / 2
            openings = unary_union([Polygon(q) for q in slab["outline"]["holes"]])
            theirs = Polygon(slab["outline"]["outer"]).difference(openings).area
            left = solid_area(read_files, middle, thickness)
            if grooved and theirs < left * (1 - 1e-4):
                marked = sum(l[1] for r, ls in read_files if "outside-cut" in ls
                             for n, l in ls.items() if n == "mark")
                left -= marked
            compare("solid", left, theirs, 1e-3, f"{file.name} {part} at {middle:.2f} mm")


def main():
    program, folder = sys.argv[1], pathlib.Path(sys.argv[2])
    plans = sorted(folder.glob("*.json"))
    for file in plans:
        with tempfile.TemporaryDirectory() as out:
            plan(program, file, out)
    for kind in sorted(counted):
        print(f"{kind:10} {counted[kind]:5} compared, largest difference {worst[kind]:.2e}")
    for kind, least in [("area", 100), ("length", 100), ("circles", 30), ("solid", 60)]:
        if counted.get(kind, 0) < least:
            failures.append(f"only {counted.get(kind, 0)} comparisons of {kind}")
    for line in failures[:40]:
        print(line)
    print(f"{len(plans)} plans, {len(failures)} failures")
    sys.exit(1 if failures else 0)


if __name__ == "__main__":
    main()
