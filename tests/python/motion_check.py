"""Outside check of the motion proof, with shapely; shares no code with the program.

In:  the program and a folder of plan files. `pose PLAN --turns N --json` gives every piece at N turns from
     closed to open, `proof PLAN --json` the smallest clearance of every pair of parts.
Out: one line a plan: how many turns and pairs were looked at, how many clearances were compared and how far
     the worst disagrees, the deepest overlap. Exit status 1 if any overlap of pieces that share a height is
     deeper than DEPTH, any clearance disagrees by more than AGREE, or too few clearances were compared.

Always true: outlines, heights and what is joined come from the program's answers; which pieces meet, how
deep, and how near they come is worked out here. Pairs that the program calls joined are skipped and printed;
pairs with a fit are not skipped.

A depth is the diameter of the largest circle inside the overlap.

Besides the folder's plans, 30 plans drawn by a fixed rule are looked at, each at 200 turns. On a small machine
TURNLEAF_MOTION=10x40 makes it ten plans at forty turns; 30x200 is the whole and the default.

    pip install -r tests/python/requirements.txt
    cargo build --release -p turnleaf-cli
    python tests/python/motion_check.py target/release/turnleaf demo
"""

import argparse
import gc
import itertools
import math
import multiprocessing
import os
import pathlib
import subprocess
import sys
import tempfile

import numpy as np
import orjson
import shapely

DEPTH = 0.05    # mm, the deepest overlap that passes
AGREE = 0.1     # mm, agreement of smallest clearances
REACH = 12.0    # mm, clearances below this are measured
WHOLE = "30x200"
COMPARED = 10   # fewer clearances compared than this in a plan is a failure of the check itself


def ask(*words):
    done = subprocess.run(words, capture_output=True)
    if done.returncode != 0:
        raise RuntimeError(f"{' '.join(words[1:3])}: {done.stderr.decode().strip()}")
    return done.stdout


def turns_of(program, plan, count):
    """Each turn of one `pose --turns` call as it comes; one process for a plan."""
    words = [program, "pose", str(plan), "--turns", str(count), "--json"]
    with subprocess.Popen(words, stdout=subprocess.PIPE) as run:
        for line in run.stdout:
            line = line.strip().rstrip(b",")
            if line not in (b"[", b"]"):
                yield orjson.loads(line)
    if run.returncode != 0:
        raise RuntimeError(f"pose {plan}: exit status {run.returncode}")


class Pose:
    """All layers of one turn as parallel arrays."""

    def __init__(self, pieces):
        rings, owner, self.part, piece_of, low, high = [], [], [], [], [], []
        self.name = [p["id"] for p in pieces]
        for index, piece in enumerate(pieces):
            for layer in piece["layers"]:
                outline = layer["outline"]
                rings.extend([outline["outer"], *outline["holes"]])
                owner.extend([len(low)] * (1 + len(outline["holes"])))
                self.part.append(piece["part"])
                piece_of.append(index)
                low.append(layer["z_min"])
                high.append(layer["z_max"])
        sizes = [len(r) for r in rings]
        flat = itertools.chain.from_iterable
        points = np.fromiter(flat(flat(rings)), dtype=float, count=2 * sum(sizes))
        lines = shapely.linearrings(points.reshape(-1, 2), indices=np.repeat(np.arange(len(rings)), sizes))
        # The first ring of each owner is its outer one, the rest are its openings.
        self.shapes = shapely.polygons(lines, indices=np.array(owner))
        self.piece = np.array(piece_of)
        self.low, self.high = np.array(low), np.array(high)

    def near(self, reach, joined):
        """Pairs of layers of different pieces that share a height and come within `reach`, with distances."""
        box = shapely.bounds(self.shapes)
        a, b = shapely.STRtree(self.shapes).query(
            shapely.box(box[:, 0] - reach, box[:, 1] - reach, box[:, 2] + reach, box[:, 3] + reach))
        keep = (a < b) & (self.piece[a] != self.piece[b])
        keep &= (self.low[a] < self.high[b] - 1e-6) & (self.low[b] < self.high[a] - 1e-6)
        a, b = a[keep], b[keep]
        asked = np.array([frozenset((self.part[i], self.part[j])) not in joined for i, j in zip(a, b)], dtype=bool)
        a, b = a[asked], b[asked]
        shapely.prepare(self.shapes)
        close = shapely.dwithin(self.shapes[a], self.shapes[b], reach)
        a, b = a[close], b[close]
        return a, b, shapely.distance(self.shapes[a], self.shapes[b])


def depth(x, y):
    """Diameter of the largest circle inside the overlap."""
    parts = shapely.get_parts(shapely.intersection(x, y))
    # A part this small has no room for a circle half as wide as the limit; chords of arcs leave thousands.
    parts = parts[shapely.area(parts) > math.pi / 4.0 * (DEPTH / 2.0) ** 2]
    return 2.0 * float(shapely.length(shapely.maximum_inscribed_circle(parts, tolerance=1e-4)).max(initial=0.0))


def check(job):
    """Checks one plan; gives its line, whether it passed, and what is joined."""
    gc.disable()  # millions of short-lived coordinates, no cycles
    program, plan, count = job
    proof = orjson.loads(ask(program, "proof", str(plan), "--json"))
    joined = {frozenset((p["a"], p["b"])) for p in proof["joined"]}
    least, deepest, looked = {}, (0.0, ""), 0

    def look(turn, pieces):
        nonlocal deepest, looked
        pose = Pose(pieces)
        a, b, distance = pose.near(REACH, joined)
        looked += len(a)
        for i, j, d in zip(a, b, distance):
            key = tuple(sorted((pose.part[i], pose.part[j])))
            if d < least.get(key, (math.inf,))[0]:
                least[key] = (float(d), turn)
            if d == 0.0:
                deep = depth(pose.shapes[i], pose.shapes[j])
                if deep > deepest[0]:
                    names = f"{pose.name[pose.piece[i]]} and {pose.name[pose.piece[j]]}"
                    deepest = (deep, f"{names} at {turn:.3f}°")

    for at in turns_of(program, plan, count):
        look(at["turn"], at["pieces"])
    # The turns at which the program found its smallest clearances are looked at too.
    asked = [p for p in proof["pairs"] if p["distance"] < REACH - 2.0]
    for turn in sorted({round(p["turn"], 9) for p in asked}):
        look(turn, orjson.loads(ask(program, "pose", str(plan), "--turn", repr(turn), "--json")))

    bad = []
    if deepest[0] > DEPTH:
        bad.append(f"overlap {deepest[0]:.3f} mm deep: {deepest[1]}")
    worst, compared = (0.0, ""), 0
    for p in asked:
        key = tuple(sorted((p["a"], p["b"])))
        if p["distance"] < 0.0 and p["expect"] != "touch":
            bad.append(f"{key}: the program itself reports an overlap")
            continue
        if key not in least:
            bad.append(f"{key}: the program says {p['distance']:.3f}, nothing within reach here")
            continue
        compared += 1
        apart = abs(least[key][0] - max(p["distance"], 0.0))
        words = (f"{key}: program {p['distance']:.3f} at {p['turn']:.2f}°, "
                 f"here {least[key][0]:.3f} at {least[key][1]:.2f}°")
        if apart > worst[0]:
            worst = (apart, words)
        if apart > AGREE:
            bad.append(words)
    # And the reverse: what came near here must be a pair the program reports.
    reported = {tuple(sorted((p["a"], p["b"]))): p for p in proof["pairs"]}
    for key, (d, turn) in least.items():
        if key in reported:
            far = min(reported[key]["distance"], REACH)
            if d < far - AGREE:
                bad.append(f"{key}: here {d:.3f} at {turn:.2f}°, program {reported[key]['distance']:.3f}")
    if compared < COMPARED:
        bad.append(f"only {compared} clearances compared")
    bad = sorted(set(bad))
    line = (f"{plan.name}: {count} turns, {looked} pairs, {compared} clearances agree to {worst[0]:.3f} mm, "
            f"deepest overlap {deepest[0]:.4f} mm" + "".join(f"\n    {b}" for b in bad))
    return line, not bad, joined


def check_all(program, plans, count, processes):
    """Checks every plan; gives the lines and how many failed."""
    jobs = [(str(program), plan, count) for plan in plans]
    lines, failed, skipped = [], 0, set()
    with multiprocessing.Pool(processes) as pool:
        for line, held, joined in pool.imap(check, jobs):
            print(line, flush=True)
            lines.append(line)
            failed += not held
            skipped |= joined
    print("joined, not asked: " + "; ".join(sorted(" + ".join(sorted(p)) for p in skipped)))
    print(f"{len(lines) - failed} of {len(lines)} plans passed", flush=True)
    return lines, failed


def check_itself():
    """The check must see an overlap, a gap, and pieces that lie on each other without sharing a height."""
    def square(x, y, low, high):
        ring = [[x, y], [x + 10.0, y], [x + 10.0, y + 10.0], [x, y + 10.0]]
        layer = {"outline": {"outer": ring, "holes": []}, "z_min": low, "z_max": high}
        return {"id": "", "part": f"{x},{y}", "layers": [layer]}

    pose = Pose([square(0, 0, 0, 5), square(9.9, 0, 4, 9), square(23, 0, 0, 9), square(0, 1, 5, 9)])
    a, b, distance = pose.near(REACH, set())
    found = {(pose.part[i], pose.part[j]): (d, depth(pose.shapes[i], pose.shapes[j]))
             for i, j, d in zip(a, b, distance)}
    assert set(found) == {("0,0", "9.9,0"), ("9.9,0", "23,0"), ("9.9,0", "0,1")}, found
    assert found["0,0", "9.9,0"][0] == 0.0 and abs(found["0,0", "9.9,0"][1] - 0.1) < 1e-3, found
    assert abs(found["9.9,0", "23,0"][0] - 3.1) < 1e-9, found
    assert not pose.near(REACH, {frozenset(("9.9,0", "23,0"))})[2].max() > 1.0


def drawn(folder, count):
    """Plans drawn by a fixed rule, written by the program's own example."""
    # As the tests are built: in another profile, or for one package alone, everything below would be built again.
    root = pathlib.Path(__file__).resolve().parents[2]
    words = ["cargo", "build", "--quiet", "--locked", "--workspace", "--example", "seeded_plans"]
    subprocess.run(words, check=True, cwd=root)
    target = pathlib.Path(os.environ.get("CARGO_TARGET_DIR", root / "target"))
    example = target / "debug" / "examples" / "seeded_plans"
    subprocess.run([str(example), str(folder), str(count)], check=True, cwd=root)
    files = sorted(pathlib.Path(folder).glob("*.json"))
    assert len(files) == count, f"{len(files)} plans were written, {count} asked for"
    askew = [f.name for f in files if "slide_skew" in orjson.loads(f.read_bytes())["sizes"]]
    assert len(askew) >= 2 or count < 10, f"only {askew} of {count} plans open askew"
    print(f"opening askew: {', '.join(askew)}", flush=True)
    return files


def main():
    ap = argparse.ArgumentParser()
    ap.add_argument("program")
    ap.add_argument("plans", type=pathlib.Path, help="a folder; 30 plans drawn by a fixed rule are added")
    ap.add_argument("--processes", type=int, default=2)
    args = ap.parse_args()
    count, turns = (int(word) for word in os.environ.get("TURNLEAF_MOTION", WHOLE).split("x"))
    check_itself()
    with tempfile.TemporaryDirectory() as folder:
        plans = sorted(args.plans.glob("*.json")) + (drawn(folder, count) if count else [])
        if not plans:
            sys.exit("no plan files")
        _, failed = check_all(args.program, plans, turns, args.processes)
    sys.exit(failed > 0)


if __name__ == "__main__":
    main()
