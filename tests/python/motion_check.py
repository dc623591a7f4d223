"""Independent check of the motion proof, with shapely; shares no code with the program.

Reads `turnleaf pose PLAN --turn T --json` at many turn angles for many plans and looks for pieces that
share a height and overlap in plan; reads `turnleaf checks PLAN --json` and compares the smallest
clearances. Overlaps are measured as areas divided by the length they run along, that is as depths.

usage: motion_check.py TURNLEAF FOLDER-OF-PLANS [--turns N] [--plans N]
"""

import argparse
import json
import math
import pathlib
import subprocess
import sys

import numpy as np
import shapely
from shapely.geometry import Polygon

# Pairs that are meant to touch or run in each other: what the program declares as joined, and fixed joints.
RIDES = {frozenset(p) for p in [
    ("star-lever", "star-hub"), ("star-lever", "hold-down-flange"), ("star-lever", "rising-plate"),
    ("star-lever", "star"), ("centre-post", "turning-plate"), ("drop-roller", "base-upper-ply"),
    ("drop-roller", "base-lower-ply"), ("drop-roller", "ramp-outer"), ("drop-roller", "ramp-inner"),
    ("panel-slide", "panel-slide-pin"),
]}
DEPTH_LIMIT = 0.05  # mm, the greatest overlap depth that passes
AGREE = 0.1         # mm, agreement of smallest clearances
FAR = 40.0          # mm, the program reports no clearances beyond this


def call(*args):
    return json.loads(subprocess.run(args, check=True, capture_output=True, text=True).stdout)


def polygon(outline):
    return Polygon(outline["outer"], outline["holes"])


class Pose:
    """All layers of one turn as parallel arrays."""

    def __init__(self, pieces):
        self.part, self.piece, polys, low, high = [], [], [], [], []
        for index, p in enumerate(pieces):
            for layer in p["layers"]:
                self.part.append(p["part"])
                self.piece.append(index)
                polys.append(polygon(layer["outline"]))
                low.append(layer["z_min"])
                high.append(layer["z_max"])
        self.polys = np.array(polys, dtype=object)
        self.low, self.high = np.array(low), np.array(high)
        self.tree = shapely.STRtree(self.polys)

    def pairs(self, reach):
        """Pairs of layers of different pieces that share a height and come within `reach` mm."""
        i, j = self.tree.query(self.polys, predicate="dwithin", distance=reach)
        keep = i < j
        i, j = i[keep], j[keep]
        share = (self.low[i] < self.high[j] - 1e-6) & (self.low[j] < self.high[i] - 1e-6)
        i, j = i[share], j[share]
        for a, b in zip(i, j):
            if self.piece[a] != self.piece[b] and frozenset((self.part[a], self.part[b])) not in RIDES:
                yield a, b


def depth(a, b):
    """How deep two polygons overlap: a lens of area A along a chord c is about 1.5 A / c deep."""
    common = shapely.intersection(a, b)
    if common.area < 1e-9:
        return 0.0
    x0, y0, x1, y1 = common.bounds
    return 1.5 * common.area / max(math.hypot(x1 - x0, y1 - y0), 1e-6)


def main():
    ap = argparse.ArgumentParser()
    ap.add_argument("turnleaf")
    ap.add_argument("plans", type=pathlib.Path)
    ap.add_argument("--turns", type=int, default=200)
    ap.add_argument("--most", type=int, default=1000)
    args = ap.parse_args()
    files = sorted(args.plans.glob("*.json"))[: args.most]
    if not files:
        sys.exit("no plan files")
    passed = failed = 0
    for file in files:
        numbers = {n["id"]: n["value"] for n in call(args.turnleaf, "numbers", str(file), "--json")}
        whole = numbers["turn.whole"]
        turns = [whole * k / (args.turns - 1) for k in range(args.turns)]
        worst, least = (0.0, ""), {}
        checks = {c["id"]: c for c in call(args.turnleaf, "checks", str(file), "--json")}
        # The turn angles at which the program found its smallest clearances are looked at too.
        turns += [c["at_turn"] for c in checks.values() if c["at_turn"] is not None and c["id"].startswith("clear.")]
        for turn in sorted(set(round(t, 6) for t in turns)):
            pose = Pose(call(args.turnleaf, "pose", str(file), "--turn", repr(turn), "--json"))
            for a, b in pose.pairs(12.0):
                d = float(shapely.distance(pose.polys[a], pose.polys[b]))
                key = tuple(sorted((pose.part[a], pose.part[b])))
                if d < least.get(key, (math.inf, 0))[0]:
                    least[key] = (d, turn)
                if d == 0.0:
                    deep = depth(pose.polys[a], pose.polys[b])
                    if deep > worst[0]:
                        worst = (deep, f"{key} at {turn:.2f}")
        bad = []
        if worst[0] > DEPTH_LIMIT:
            bad.append(f"overlap {worst[0]:.3f} mm deep: {worst[1]}")
        compared = 0
        for id, c in checks.items():
            if not id.startswith("clear.") or not 0.0 < c["value"] < 10.0:
                continue
            key = tuple(sorted(id.split(".")[1:]))
            if key not in least:
                bad.append(f"{id}: program says {c['value']:.3f}, nothing within reach here")
                continue
            compared += 1
            if abs(least[key][0] - c["value"]) > AGREE:
                bad.append(f"{id}: program {c['value']:.3f} at {c['at_turn']:.2f}, here {least[key][0]:.3f} at {least[key][1]:.2f}")
        print(f"{file.name}: {len(turns)} turns, {compared} clearances compared, deepest overlap {worst[0]:.4f} mm"
              + "".join(f"\n    {b}" for b in bad), flush=True)
        passed, failed = passed + (not bad), failed + bool(bad)
    print(f"{passed} passed, {failed} failed")
    sys.exit(failed > 0)


if __name__ == "__main__":
    main()
