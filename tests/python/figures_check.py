"""Outside check of the strength, weight and safety figures against general libraries.

In:  a file of cases written by the Rust example `outside_cases` of the crate turnleaf-figures: inputs
     and our results, for the worked table with either drive.
Out: one line for each kind of check with the number of comparisons and the largest relative
     difference. Exit status 1 if any exceeds its tolerance or a kind was compared too seldom.

Always true: nothing but the cases file is shared with the code under test. Beams are solved by
indeterminatebeam, frames by PyNite, stacks by uncertainties, units by pint, sections, masses and
feet by shapely (arcs turned into points here), bowed bars and ramps by numerical quadrature with
scipy. Moisture is computed by the handbook's other form, in degrees Fahrenheit (from memory; the two
published forms differ by up to 0.006 between themselves).

    pip install -r tests/python/figures_requirements.txt
    cargo run -q -p turnleaf-figures --example outside_cases > cases.json
    python tests/python/figures_check.py cases.json
"""

import json
import math
import sys

import numpy as np
import pint
import shapely
from indeterminatebeam import Beam, PointLoadV, Support
from Pynite import FEModel3D
from scipy.integrate import quad
from scipy.optimize import brentq
from shapely.geometry import LineString, MultiPoint, Polygon
from uncertainties import ufloat

SAGITTA = 1e-4  # mm, of the chords that stand for arcs

# Kind: (largest relative difference allowed, fewest comparisons).
LIMITS = {
    "overhang": (1e-5, 8),
    "frame": (1e-6, 20),
    "arm": (1e-6, 60),
    "section": (1e-4, 60),
    "mass": (1e-4, 100),
    "stack": (1e-9, 12),
    "tip": (1e-9, 4),
    "ramp": (1e-6, 4),
    "bow": (1e-6, 80),
    "moisture": (1e-3, 100),
    "species": (1e-9, 18),
}


def points(ring):
    """The ring as points; a bulge is tan(sweep/4) of the edge that follows."""
    out = []
    for (x0, y0, bulge), (x1, y1, _) in zip(ring, ring[1:] + ring[:1]):
        out.append((x0, y0))
        chord = math.hypot(x1 - x0, y1 - y0)
        if bulge == 0 or chord == 0:
            continue
        sweep = 4 * math.atan(bulge)
        radius = abs(chord / (2 * math.sin(sweep / 2)))
        to_centre = chord / 2 / math.tan(sweep / 2)
        ux, uy = (x1 - x0) / chord, (y1 - y0) / chord
        cx, cy = (x0 + x1) / 2 - uy * to_centre, (y0 + y1) / 2 + ux * to_centre
        steps = max(2, math.ceil(abs(sweep) / (2 * math.acos(1 - SAGITTA / radius))))
        for k in range(1, steps):
            c, s = math.cos(sweep * k / steps), math.sin(sweep * k / steps)
            dx, dy = x0 - cx, y0 - cy
            out.append((cx + c * dx - s * dy, cy + s * dx + c * dy))
    return out


def solid(region):
    """Outer ring less the union of the holes, which may meet one another."""
    outer = shapely.make_valid(Polygon(points(region["outer"])))
    holes = [shapely.make_valid(Polygon(points(h))) for h in region["holes"]]
    return outer.difference(shapely.union_all(holes)) if holes else outer


def overhang(c):
    a, b = c["a"] / 1000, c["b"] / 1000
    beam = Beam(a + b, E=1.0, I=c["ei"] / 1e6)
    beam.add_supports(Support(0, (1, 1, 0)), Support(b, (0, 1, 0)))
    beam.add_loads(PointLoadV(-c["load"], a + b))
    beam.analyse()
    yield -beam.get_deflection(a + b) * 1000, c["deflection"]
    yield -beam.get_reaction(0, "y"), c["inner"]
    yield beam.get_reaction(b, "y"), c["outer"]
    yield abs(beam.get_bending_moment(b)) * 1000, c["moment"]


def frame(c):
    """Slide below, top piece above, posts between; N and mm throughout."""
    top = c["top"]
    low = sorted({*c["held"], *(p[0] for p in c["posts"])})
    high = sorted({c["load_at"], *(p[0] for p in c["posts"])})
    model = FEModel3D()
    model.add_material("unit", 1, 1, 0.3, 0)
    nodes = {}

    def node(x, y):
        if (x, y) not in nodes:
            nodes[x, y] = f"n{len(nodes)}"
            model.add_node(nodes[x, y], x, y, 0)
        return nodes[x, y]

    def bar(name, p, q, ea, ei):
        model.add_section(name, ea, 1, ei, 1)
        model.add_member(name, node(*p), node(*q), "unit", name)

    ei, ea, z = c["slide"]
    slide = []
    for x, y in zip(low, low[1:]):
        slide.append(f"slide{len(slide)}")
        bar(slide[-1], (x, 0), (y, 0), ea, ei)
    for k, (x, y) in enumerate(zip(high, high[1:])):
        width = top["width"]
        if top["spread"] > 0:
            width = min(width, 2 * top["spread"] * (x - top["from"]))
        t, e = top["thickness"], top["modulus"]
        bar(f"top{k}", (x, c["apart"]), (y, c["apart"]), e * width * t, e * width * t**3 / 12)
    for k, (at, i, _, area) in enumerate(c["posts"]):
        e = c["post_modulus"]
        bar(f"post{k}", (at, 0), (at, c["apart"]), e * area, e * i)
        if not c["glued"]:
            model.def_releases(f"post{k}", Rzj=True)
    held = [node(x, 0) for x in c["held"]]
    for name in nodes.values():
        model.def_support(name, name == held[0], name in held, True, True, True, False)
    tip = node(c["load_at"], c["apart"])
    model.add_node_load(tip, "FY", -c["load"])
    model.analyze()

    def moment(name):
        m = model.members[name]
        return max(abs(m.max_moment("Mz")), abs(m.min_moment("Mz")))

    yield -model.nodes[tip].DY["Combo 1"], c["droop"]
    yield max(moment(m) for m in slide) / z, c["slide_stress"]
    yield max(moment(f"post{k}") / p[2] for k, p in enumerate(c["posts"])), c["post_stress"]
    yield -model.nodes[held[0]].RxnFY["Combo 1"], c["inner"]
    yield model.nodes[held[1]].RxnFY["Combo 1"], c["outer"]


def arm(c):
    a, length, phi = c["pin_radius"], c["length"], c["angle"]

    def pin(angle):
        return np.array([a * math.cos(angle), a * math.sin(angle)])

    def slide(angle):
        x0 = pin(angle)[0]
        return brentq(lambda x: np.hypot(*(np.array([x, 0]) - pin(angle))) - length, x0, x0 + 2 * length, xtol=1e-12)

    x = slide(phi)
    yield x, c["slide"]
    d = np.array([x, 0]) - pin(phi)
    u = d / np.hypot(*d)
    yield abs(u[0] * pin(phi)[1] - u[1] * pin(phi)[0]) + 1, c["leverage"] + 1
    h = 1e-5
    yield (slide(phi + h) - slide(phi - h)) / (2 * h) + 1e3, c["speed"] + 1e3

    def lean(angle):
        v = np.array([slide(angle), 0]) - pin(angle)
        return -math.atan2(v[1], v[0])

    yield abs(lean(phi)) + 1, c["pressure"] + 1
    yield (lean(phi + h) - lean(phi - h)) / (2 * h) + 1, c["swing"] + 1


def section(c):
    nx, ny = c["normal"]
    px, py = nx * c["distance"], ny * c["distance"]
    line = LineString([(px + ny * 5000, py - nx * 5000), (px - ny * 5000, py + nx * 5000)])
    marks = []
    stretches = []
    for region, thickness in c["layers"]:
        cut = line.intersection(solid(region))
        for piece in getattr(cut, "geoms", [cut]):
            if piece.geom_type != "LineString" or piece.is_empty:
                continue
            ends = sorted(line.project(shapely.Point(q)) for q in (piece.coords[0], piece.coords[-1]))
            stretches.append((*ends, thickness))
            marks += ends
    marks.sort()
    total = moment = 0.0
    for x, y in zip(marks, marks[1:]):
        thick = sum(t for a, b, t in stretches if a < (x + y) / 2 < b)
        if thick > 0:
            total += y - x
            moment += (y - x) * thick**3 / 12
    yield total, c["length"]
    yield moment, c["i"]


def mass(c):
    volume = 0.0
    first = np.zeros(3)
    for region, z0, z1 in c["layers"]:
        shape = solid(region)
        v = shape.area * (z1 - z0)
        volume += v
        first += v * np.array([shape.centroid.x, shape.centroid.y, (z0 + z1) / 2])
    yield volume * 1e-9 * c["density"], c["mass"]
    # A thousand added, so that centres near nought are compared in thousandths of a metre.
    for ours, theirs in zip([*c["centre"], c["z"]], first / volume):
        yield theirs + 1000, ours + 1000


def stack(c):
    yield sum(ufloat(0, h) for h in c["halves"] if h > 0).s, c["rss"]
    yield sum(c["halves"]), c["worst"]


def tip(c):
    hull = np.array(MultiPoint(c["feet"]).convex_hull.exterior.coords)
    centre = np.array(c["centre"])
    loads = []
    for p, q in zip(hull, hull[1:]):
        u = (q - p) / np.hypot(*(q - p))
        inside = abs(u[0] * (centre - p)[1] - u[1] * (centre - p)[0])
        origin = abs(u[0] * -p[1] + u[1] * p[0])
        if c["reach"] > origin:
            loads.append(c["weight"] * inside / (c["reach"] - origin))
    yield min(loads), c["load"]


def ramp(c):
    """The speed of the eased lift integrates to one step; its steepest part is what was used."""
    b, sweep, step = c["blend"], c["sweep"], c["step"]
    top = step / sweep / (1 - b)

    def rate(x):
        u = x / sweep
        return top * min(1, u / b, (1 - u) / b)

    yield quad(rate, 0, sweep, points=[b * sweep, (1 - b) * sweep])[0], step
    yield top, c["rate"]


def bow(c):
    """Curved bar: strain varies as (s + k·y)/r; force and moment balance fix s and k."""
    r, h, t = c["r"], c["h"], c["t"]
    low, high = r - h / 2, r + h / 2

    def integral(f):
        return quad(f, low, high)[0] * t

    # σ = p + q/ρ, ρ from the centre of curvature.
    rows = [[integral(lambda x: 1), integral(lambda x: 1 / x)],
            [integral(lambda x: r - x), integral(lambda x: (r - x) / x)]]
    p, q = np.linalg.solve(rows, [c["force"], c["force"] * c["e"]])
    yield p + q / low, c["inner"]
    yield -(p + q / high), c["outer"]


def moisture(c):
    t, h = c["fahrenheit"], c["humidity"] / 100
    w = 330 + 0.452 * t + 0.00415 * t * t
    k = 0.791 + 4.63e-4 * t - 8.44e-7 * t * t
    k1 = 6.34 + 7.75e-4 * t - 9.35e-5 * t * t
    k2 = 1.09 + 2.84e-2 * t - 9.04e-5 * t * t
    kh = k * h
    m = 1800 / w * (kh / (1 - kh) + (k1 * kh + 2 * k1 * k2 * kh**2) / (1 + k1 * kh + k1 * k2 * kh**2))
    yield m + 10, c["ours"] + 10


PSI = {
    "birch-yellow": (2.01, 16600),
    "birch-paper": (1.59, 12300),
    "birch-sweet": (2.17, 16900),
    "oak-white": (1.78, 15200),
    "oak-red": (1.82, 14300),
    "maple-sugar": (1.83, 15800),
    "walnut-black": (1.68, 14600),
    "cherry-black": (1.49, 12300),
    "beech-american": (1.72, 14900),
}


def species(c):
    """Wood Handbook table 5-3, at 12 % moisture, converted by pint."""
    units = pint.UnitRegistry()
    e, rupture = PSI[c["id"]]
    yield (e * 1e6 * units.psi).to("MPa").magnitude, c["modulus"]
    yield (rupture * units.psi).to("MPa").magnitude, c["rupture"]


def main():
    with open(sys.argv[1], encoding="utf-8") as file:
        cases = json.load(file)
    worst = {kind: 0.0 for kind in LIMITS}
    count = {kind: 0 for kind in LIMITS}
    for case in cases:
        if case["kind"] not in LIMITS:
            continue
        for theirs, ours in globals()[case["kind"]](case):
            count[case["kind"]] += 1
            size = max(abs(theirs), abs(ours), 1e-12)
            off = abs(theirs - ours) / size
            if not off <= worst[case["kind"]]:
                worst[case["kind"]] = off
    failed = False
    for kind, (limit, fewest) in LIMITS.items():
        bad = not worst[kind] <= limit or count[kind] < fewest
        failed |= bad
        print(f"{kind:10} {count[kind]:5} compared, largest difference {worst[kind]:.1e}{'  FAILED' if bad else ''}")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
