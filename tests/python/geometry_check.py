"""Outside check of plane geometry with arcs against shapely (GEOS).

In:  a file of cases written by the Rust example `dump_cases` of the crate turnleaf-geom: pairs of
     regions (rings of [x, y, bulge], bulge = tan(sweep/4)) with our areas, moments, distances,
     booleans, insets and worst disagreements.
Out: one line for each kind of check with the number of comparisons and the largest difference.
     Exit status 1 if any difference exceeds its tolerance or a kind was compared too seldom.

Always true: arcs are turned into points here, by this file's own formulas; nothing but the cases file
is shared with the code under test.

Tolerances: chords stray from their arcs by at most SAGITTA. So areas may differ by SAGITTA times the
length of the outlines, distances by 2 * SAGITTA, moments by the area error times the squared size.

    pip install -r tests/python/requirements.txt
    cargo run -q -p turnleaf-geom --example dump_cases > cases.json
    python tests/python/geometry_check.py cases.json
"""

import json
import math
import sys

import shapely
import shapely.affinity
from shapely.geometry import LineString, MultiLineString, Point, Polygon
from shapely.ops import unary_union

SAGITTA = 1e-5  # mm; finer makes the check slow, coarser makes it weak
# For insets: with finer chords the library's own buffer was seen to lose a twelfth of a shape.
COARSE = 1e-4


def points(ring, sagitta=SAGITTA):
    """The ring as points; arcs by rotating the start about the centre in equal steps."""
    out = []
    for (x0, y0, bulge), (x1, y1, _) in zip(ring, ring[1:] + ring[:1]):
        out.append((x0, y0))
        chord = math.hypot(x1 - x0, y1 - y0)
        if bulge == 0 or chord == 0:
            continue
        sweep = 4 * math.atan(bulge)
        radius = chord / (2 * math.sin(abs(sweep) / 2))
        # The centre, seen from the chord's middle: to the left for short counter-clockwise arcs.
        height = math.copysign(1, bulge) * radius * math.cos(abs(sweep) / 2)
        cx = (x0 + x1) / 2 - (y1 - y0) / chord * height
        cy = (y0 + y1) / 2 + (x1 - x0) / chord * height
        start = math.atan2(y0 - cy, x0 - cx)
        steps = math.ceil(abs(sweep) / (2 * math.acos(1 - sagitta / radius)))
        for i in range(1, steps):
            a = start + sweep * i / steps
            out.append((cx + radius * math.cos(a), cy + radius * math.sin(a)))
    return out


def polygon(region, sagitta=SAGITTA):
    rings = [points(r, sagitta) for r in region]
    return Polygon(rings[0], rings[1:])


def second_moments(poly):
    """Area, centroid and central second moments of a polygon with holes (sums over its corners)."""
    a = sx = sy = xx = yy = xy = 0.0
    for ring, sign in [(poly.exterior, 1)] + [(r, -1) for r in poly.interiors]:
        c = list(ring.coords)
        s = [0.0] * 6
        for (x0, y0), (x1, y1) in zip(c, c[1:]):
            k = x0 * y1 - x1 * y0
            s[0] += k / 2
            s[1] += k * (x0 + x1) / 6
            s[2] += k * (y0 + y1) / 6
            s[3] += k * (x0 * x0 + x0 * x1 + x1 * x1) / 12
            s[4] += k * (y0 * y0 + y0 * y1 + y1 * y1) / 12
            s[5] += k * (2 * x0 * y0 + x0 * y1 + x1 * y0 + 2 * x1 * y1) / 24
        w = sign * math.copysign(1, s[0])
        a, sx, sy = a + w * s[0], sx + w * s[1], sy + w * s[2]
        xx, yy, xy = xx + w * s[3], yy + w * s[4], xy + w * s[5]
    gx, gy = sx / a, sy / a
    return a, gx, gy, yy - a * gy * gy, xx - a * gx * gx, xy - a * gx * gy


class Tally:
    def __init__(self):
        self.kinds = {}
        self.failed = []

    def same(self, kind, name, ours, theirs, tolerance):
        n, worst, allowed = self.kinds.get(kind, (0, 0.0, 0.0))
        gap = abs(ours - theirs)
        self.kinds[kind] = (n + 1, max(worst, gap), max(allowed, tolerance))
        if not gap <= tolerance:
            self.failed.append(f"{kind}, {name}: {ours} against {theirs} (allowed {tolerance:.3g})")

    def true(self, kind, name, value, words):
        n, worst, allowed = self.kinds.get(kind, (0, 0.0, 0.0))
        self.kinds[kind] = (n + 1, worst, allowed)
        if not value:
            self.failed.append(f"{kind}, {name}: {words}")


def measures(t, c, a):
    name, length = c["name"], a.length
    area, gx, gy, ix, iy, ixy = second_moments(a)
    size = math.hypot(*c["box"]["size"])
    slack = SAGITTA * length
    t.same("area", name, c["area"], a.area, slack)
    t.same("area, own sums", name, c["area"], area, slack)
    # An arc of sagitta s over a chord is longer by about 8/3 s²/chord: far below this.
    t.same("perimeter", name, c["perimeter"], length, 1e-3)
    for i, g in enumerate([a.centroid.x, a.centroid.y]):
        t.same("centroid", name, c["centroid"][i], g, slack * size / area)
    for key, value in [("ix", ix), ("iy", iy), ("ixy", ixy)]:
        t.same("second moments", name, c[key], value, slack * size * size)
    mean, spread = (ix + iy) / 2, math.hypot((ix - iy) / 2, ixy)
    t.same("principal moments", name, c["largest"], mean + spread, 2 * slack * size * size)
    t.same("principal moments", name, c["smallest"], mean - spread, 2 * slack * size * size)
    turned = shapely.affinity.rotate(a, -c["box"]["angle"], origin=(0, 0), use_radians=True)
    x0, y0, x1, y1 = turned.bounds
    t.same("box", name, c["box"]["size"][0], x1 - x0, 3 * SAGITTA)
    t.same("box", name, c["box"]["size"][1], y1 - y0, 3 * SAGITTA)


def distances(t, c, a, b):
    name, shared = c["name"], a.intersection(b).area
    slack = 2 * SAGITTA * (a.length + b.length)
    # Near touching, chords cannot tell; the Rust tests do that with exact shapes.
    if shared > slack:
        t.true("penetrates", name, c["penetrates"], f"they share {shared} mm²")
    elif a.distance(b) > 4 * SAGITTA:
        t.true("keeps clear", name, not c["penetrates"], "they keep clear")
    if c["penetrates"]:
        t.same("distance", name, c["distance"], 0.0, 0.0)
        p = Point(c["nearest"][0])
        t.same("penetration point in both", name, max(a.distance(p), b.distance(p)), 0.0, 2 * SAGITTA)
    else:
        t.same("distance", name, c["distance"], a.distance(b), 2 * SAGITTA)
        p, q = (Point(x) for x in c["nearest"])
        t.same("nearest points", name, p.distance(q), c["distance"], 1e-9)
        t.same("nearest points on outlines", name, a.boundary.distance(p), 0.0, 2 * SAGITTA)
        t.same("nearest points on outlines", name, b.boundary.distance(q), 0.0, 2 * SAGITTA)


def booleans(t, c, a, b):
    name = c["name"]
    slack = SAGITTA * (a.length + b.length)
    for kind, theirs in [
        ("union", a.union(b)),
        ("intersection", a.intersection(b)),
        ("difference", a.difference(b)),
    ]:
        t.true("combined at all", name, isinstance(c[kind], list), c[kind])
        if not isinstance(c[kind], list):
            continue
        pieces = [polygon(r) for r in c[kind]]
        for r in c[kind]:
            t.true("outer ccw", name, shapely.is_ccw(shapely.LinearRing(points(r[0]))), kind)
            for hole in r[1:]:
                t.true("holes cw", name, not shapely.is_ccw(shapely.LinearRing(points(hole))), kind)
        t.same(f"area of {kind}", name, sum(p.area for p in pieces), theirs.area, slack)
        ours = unary_union([p.buffer(0) for p in pieces])
        t.same(f"{kind}, stray area", name, ours.symmetric_difference(theirs).area, 0.0, 2 * slack)
        for i, p in enumerate(pieces):
            for q in pieces[i + 1 :]:
                t.same(f"{kind}, pieces apart", name, p.intersection(q).area, 0.0, slack)


def insets(t, c):
    name, d, a = c["name"], c["inset_by"], polygon(c["a"], COARSE)
    straight = all(q[2] == 0 for r in c["a"] for q in r)
    mitred = a.buffer(-d, join_style="mitre", mitre_limit=1e6)
    if c["inset"] is None:
        # Refused: the library must see the shape break, vanish or lose an edge at that distance.
        if straight:
            left = 0
            if mitred.geom_type == "Polygon" and not mitred.is_empty:
                left = sum(len(r.coords) - 1 for r in [mitred.exterior, *mitred.interiors])
            corners = sum(len(r) for r in c["a"])
            t.true("inset refused for cause", name, left != corners, f"all {corners} edges are kept")
        return
    ours, rounded = polygon(c["inset"], COARSE), a.buffer(-d, quad_segs=64)
    slack = 2 * COARSE * a.length
    # Every point at least d inside, whatever the corners do.
    t.same("inset keeps its distance", name, min(0.0, ours.boundary.distance(a.boundary) - d), 0.0, 4 * COARSE)
    t.same("inset within the rounded one", name, ours.difference(rounded.buffer(1e-3)).area, 0.0, slack)
    if straight:
        t.same("inset of straight outlines", name, ours.area, mitred.area, 1e-6 * a.length)
    elif abs(mitred.area - rounded.area) < slack:
        # No corner points inwards, so mitred and rounded insets are one and the same.
        t.same("inset with arcs", name, ours.area, rounded.area, slack)


def worst(t, c):
    """Discrete Hausdorff distance of outlines cut into steps of at most 0.25 mm."""
    step = 0.25
    rings = [[LineString(points(r, 1e-3) + points(r, 1e-3)[:1]) for r in c[k]] for k in "ab"]
    a, b = (MultiLineString(r).segmentize(step) for r in rings)
    t.same("worst disagreement", c["name"], c["hausdorff"], a.hausdorff_distance(b), step / 2 + 2e-3)


def main():
    source = open(sys.argv[1], encoding="utf-8") if len(sys.argv) > 1 else sys.stdin
    cases = json.load(source)["cases"]
    t = Tally()
    for i, c in enumerate(cases):
        a, b = polygon(c["a"]), polygon(c["b"])
        measures(t, c, a)
        distances(t, c, a, b)
        booleans(t, c, a, b)
        insets(t, c)
        if i % 8 == 0:
            worst(t, c)
    for kind, (n, gap, allowed) in t.kinds.items():
        print(f"{kind:32} {n:5} compared, largest difference {gap:.3g} (largest allowed {allowed:.3g})")
    for kind, least in [("distance", 200), ("union, stray area", 200), ("inset with arcs", 10),
                        ("inset of straight outlines", 30), ("keeps clear", 30), ("penetrates", 30),
                        ("inset refused for cause", 3)]:
        if t.kinds.get(kind, (0,))[0] < least:
            t.failed.append(f"{kind}: fewer than {least} compared")
    for line in t.failed[:40]:
        print("DIFFERS:", line)
    print(f"{len(cases)} cases, {len(t.failed)} differences")
    return 1 if t.failed else 0


if __name__ == "__main__":
    sys.exit(main())
