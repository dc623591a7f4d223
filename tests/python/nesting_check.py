"""Cutting layouts, judged by shapely.

In: the JSON of the example `cutting` (parts as outlines in their own frame with bulges, and where they were put).
Out: a line a case; exit code 1 when parts overlap or come nearer than the kerf, leave the sheet less its margin, are
turned against their grain, are missing or doubled, or when the fill printed is not the fill measured.
Always true: outlines are placed and arcs are drawn out here, by plain trigonometry; shapely measures the distances.
"""

import json
import math
import sys

from shapely.geometry import Polygon, box
from shapely.strtree import STRtree

# Arcs are drawn out with no more sag than this, mm; distances may err by twice as much.
SAG = 1e-4


def placed(part):
    turn = math.radians(part["turned"])
    cos, sin = math.cos(turn), math.sin(turn)
    points = []
    corners = part["outline"]
    for (x, y, bulge), (u, w, _) in zip(corners, corners[1:] + corners[:1]):
        points.append((x, y))
        if bulge == 0:
            continue
        sweep = 4 * math.atan(bulge)
        half = math.hypot(u - x, w - y) / 2
        radius = half / abs(math.sin(sweep / 2))
        off = half / math.tan(sweep / 2)
        cx = (x + u) / 2 - (w - y) / (2 * half) * off
        cy = (y + w) / 2 + (u - x) / (2 * half) * off
        start = math.atan2(y - cy, x - cx)
        count = math.ceil(abs(sweep) / (2 * math.acos(1 - SAG / radius))) if radius > SAG else 2
        points += [
            (cx + radius * math.cos(start + sweep * i / count), cy + radius * math.sin(start + sweep * i / count))
            for i in range(1, count)
        ]
    ax, ay = part["at"]
    return Polygon([(cos * x - sin * y + ax, sin * x + cos * y + ay) for x, y in points])


def judge(case):
    faults = []
    seen = {}
    least = math.inf
    for number, sheet in enumerate(case["sheets"], 1):
        shapes = [placed(part) for part in sheet["parts"]]
        names = [f'{part["id"]}/{part["instance"]}' for part in sheet["parts"]]
        margin = case["margin"]
        usable = box(margin, margin, sheet["length"] - margin, sheet["width"] - margin).buffer(3 * SAG)
        for part, shape, name in zip(sheet["parts"], shapes, names):
            seen.setdefault(part["id"], set()).add(part["instance"])
            if not shape.is_valid:
                faults.append(f"sheet {number}: the outline of {name} is not a polygon")
            if not usable.contains(shape):
                faults.append(f"sheet {number}: {name} leaves the sheet less its margin")
            if part["grain"] is not None and abs((part["turned"] - part["grain"]) % 180) > 1e-9:
                faults.append(f"sheet {number}: {name} is turned by {part['turned']}° against its grain")
        tree = STRtree(shapes)
        for i, shape in enumerate(shapes):
            for j in tree.query(shape.buffer(case["kerf"] + 1)):
                if j <= i:
                    continue
                distance = shape.distance(shapes[j])
                least = min(least, distance)
                if distance < case["kerf"] - 3 * SAG:
                    faults.append(f"sheet {number}: {names[i]} and {names[j]} are only {distance:.4f} mm apart")
                if case["kerf"] == 0 and shape.intersection(shapes[j]).area > 1e-6:
                    faults.append(f"sheet {number}: {names[i]} and {names[j]} overlap")
        fill = 100 * sum(shape.area for shape in shapes) / (sheet["length"] * sheet["width"])
        if abs(fill - sheet["fill"]) > 1e-3:
            faults.append(f"sheet {number}: filled to {fill:.4f} %, said to be {sheet['fill']:.4f} %")
        end = max(shape.bounds[2] for shape in shapes) + margin
        if end > sheet["used"] + 3 * SAG:
            faults.append(f"sheet {number}: used to {end:.4f} mm, said to be {sheet['used']:.4f} mm")
    for name, count in case["wanted"]:
        if seen.pop(name, set()) != set(range(1, count + 1)):
            faults.append(f"{name}: not each of {count} is placed once")
    if seen or case["left"]:
        faults.append(f"unasked {sorted(seen)}, left over {case['left']}")
    total = sum(len(sheet["parts"]) for sheet in case["sheets"])
    fills = ", ".join(f"{sheet['fill']:.1f}" for sheet in case["sheets"])
    print(f"{case['name']}: {total} parts, least distance {least:.4f} mm, fills {fills} %, {len(faults)} faults")
    for fault in faults:
        print(f"  {fault}")
    return faults, total


def main():
    with open(sys.argv[1], encoding="utf-8") as file:
        cases = json.load(file)["cases"]
    results = [judge(case) for case in cases]
    faults = sum(len(result[0]) for result in results)
    total = sum(result[1] for result in results)
    # The judge itself: a part shifted by two kerfs onto its neighbour must be noticed.
    spoilt = json.loads(json.dumps(cases[0]))
    spoilt["sheets"][0]["parts"][1]["at"] = spoilt["sheets"][0]["parts"][0]["at"]
    print("One part moved onto another, which must be noticed:")
    if not judge(spoilt)[0] or total < 200:
        print("The check itself is broken: it missed a fault, or too few parts were judged.")
        return 1
    print(f"{len(cases)} cases, {total} parts, {faults} faults")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
