"""Outside check of what becomes of cut parts, with shapely; shares no code with the program.

In:  the program and a folder of plan files. `parts PLAN --json` gives every part's layers in its own frame,
     `compare OLD NEW --tables --json` what becomes of each part of OLD in NEW.
Out: one line a pair of plans, then the counts of verdicts. Exit status 1 if a part is called good or workable whose
     old solid does not hold the new one at some height, if a part is called good that has wood to take off, or if
     a part is to be cut again although its old solid holds the new one as it lies; or if the program says that the
     good parts fail in the new table.

Always true: outlines and heights come from the program's answers; what holds what is worked out here. Differences
up to the printed step count as none; outlines come flattened to 0.01 mm, so SLACK is allowed on either side.

Pairs are drawn by a fixed rule: a plan of the folder with a few sizes changed against the same plan. On a small
machine TURNLEAF_PAIRS=20 looks at twenty pairs; 200 is the whole and the default.

    pip install -r tests/python/requirements.txt
    cargo build --release -p turnleaf-cli
    python tests/python/revise_check.py target/release/turnleaf demo
"""

import collections
import json
import os
import pathlib
import random
import subprocess
import sys
import tempfile

import shapely

SLACK = 0.03    # mm: outlines come flattened to 0.01 mm, depths are found to a few thousandths
LEAST = 5       # each verdict must occur at least so often in the whole, else nothing was looked at

# Sizes changed, by how much (mm or degrees): small ones that leave most parts, larger ones that move many.
CHANGES = [
    ("height", (-30, 30)), ("open_diameter", (-12, 12)), ("closed_diameter", (-12, 12)),
    ("hidden_margin", (-1, 2)), ("fitting_gap", (0, 0.3)), ("tongue_depth", (-1, 0.5)),
    ("arm_width", (-2, 4)), ("ramp_sweep", (-1, 2)), ("plate_thickness", (0, 1)), ("slide_thickness", (0, 1)),
    ("stock_thickness", (-0.5, 0.5)), ("play", (0, 0.3)), ("tongue_clearance", (0, 0.5)),
]
UNITS = {"mm": 1.0, "cm": 10.0, "in": 25.4, '"': 25.4, "°": 1.0}


def ask(*words):
    done = subprocess.run([str(w) for w in words], capture_output=True)
    return json.loads(done.stdout) if done.returncode == 0 else None


def size(text, plain):
    """A size as the demo plans write them: a number, with a unit or in the plan's, or a fraction of an inch."""
    text = str(text).strip()
    if not text.endswith(tuple(UNITS)):
        text += plain
    for unit, factor in UNITS.items():
        if text.endswith(unit):
            number = text[: -len(unit)].strip()
            total = sum(
                float(p.split("/")[0]) / float(p.split("/")[1]) if "/" in p else float(p) for p in number.split()
            )
            return total * factor, "°" if unit == "°" else "mm"
    raise ValueError(text)


def changed(plan, rng):
    new = json.loads(json.dumps(plan))
    usual = [c for c in CHANGES if c[0] in plan["sizes"]]
    for name, (low, high) in rng.sample(usual, rng.choice((1, 1, 2))):
        value, unit = size(plan["sizes"][name], plan["options"]["unit"])
        new["sizes"][name] = f"{value + rng.uniform(low, high):.2f} {unit}"
    return new


def solid(part):
    def polygon(o):
        return shapely.Polygon(o["outer"], o["holes"]).buffer(0)
    return [(l["z_min"], l["z_max"], polygon(l["outline"])) for l in part["layers"]]


def slabs(old, new, step):
    """Pairs of outlines at common heights higher than the step."""
    top = min(old[-1][1], new[-1][1])
    cuts = sorted({min(z, top) for low, high, _ in old + new for z in (low, high)})
    for low, high in zip(cuts, cuts[1:]):
        if high - low <= step:
            continue
        middle = (low + high) / 2
        find = lambda s: next((p for a, b, p in s if a < middle < b), None)
        a, b = find(old), find(new)
        if a is not None and b is not None:
            yield a, b


def beyond(a, b, reach):
    """Whether a reaches more than `reach` beyond b."""
    return not a.difference(b.buffer(reach, quad_segs=64)).is_empty


def judge(verdict, old, new, step):
    """What is wrong with the verdict; nothing when it is right."""
    dx, dy = verdict["shift"]
    a = [(low, high, shapely.affinity.translate(p, dx, dy)) for low, high, p in solid(old)]
    b = solid(new)
    pairs = list(slabs(a, b, step))
    same_stock = old["material"] == new["material"]
    thickness = new["thickness"] - old["thickness"]
    kind = verdict["verdict"]
    if kind in ("good", "work"):
        if not same_stock or thickness > step + SLACK:
            return "other stock"
        if any(beyond(q, p, step + SLACK) for p, q in pairs):
            return "the old solid does not hold the new one"
    if kind == "good":
        if abs(thickness) > step + SLACK or any(beyond(p, q, step + SLACK) for p, q in pairs):
            return "there is wood to take off"
    if kind == "work":
        if abs(thickness) <= step - SLACK and not any(beyond(p, q, step - SLACK) for p, q in pairs):
            return "there is nothing to take off"
    if kind == "cut again":
        # A slope does not show in layers, and a missed fit is the turn's business.
        slope = any("slope" in r or "too tight" in r or "a check fails" in r for r in verdict["reasons"])
        plain = [(p, q) for p, q in slabs(solid(old), b, step)]
        if same_stock and abs(thickness) <= step - SLACK and not slope:
            if not any(beyond(q, p, step - SLACK) for p, q in plain):
                return "the old solid holds the new one"
    return None


def main():
    program, folder = sys.argv[1], pathlib.Path(sys.argv[2])
    wanted = int(os.environ.get("TURNLEAF_PAIRS", "200"))
    plans = sorted(folder.glob("*.json"))
    counts, wrong, done, tried = collections.Counter(), [], 0, 0
    with tempfile.TemporaryDirectory() as place:
        while done < wanted and tried < 4 * wanted:
            rng = random.Random(20250314 + tried)
            path = plans[tried % len(plans)]
            tried += 1
            other = pathlib.Path(place) / "new.json"
            other.write_text(json.dumps(changed(json.loads(path.read_text()), rng)))
            answer = ask(program, "compare", path, other, "--tables", "--json")
            if answer is None:      # the changed sizes are at odds: no table, no verdict
                continue
            done += 1
            old = {p["id"]: p for p in ask(program, "parts", path, "--json")}
            new = {p["id"]: p for p in ask(program, "parts", other, "--json")}
            if set(old) | set(new) != {v["part"] for v in answer["parts"]}:
                wrong.append(f"{path.stem} {tried}: not every part is named")
            for v in answer["parts"]:
                counts[v["verdict"]] += 1
                if v["part"] in old and v["part"] in new:
                    fault = judge(v, old[v["part"]], new[v["part"]], answer["step"])
                    if fault:
                        wrong.append(f"{path.stem} {tried} {v['part']} is called {v['verdict']}, but {fault}")
            if answer["old_parts_fail"]:
                wrong.append(f"{path.stem} {tried}: with the old parts {answer['old_parts_fail']}")
    print(f"{done} pairs of {tried} drawn; {dict(counts)}; {len(wrong)} wrong")
    print("\n".join(wrong[:20]))
    least = LEAST if wanted >= 20 else 1
    few = [k for k in ("good", "work", "cut again") if counts[k] < least]
    if few:
        print(f"too few of {few}: the check looked at nothing")
    sys.exit(1 if wrong or few or done < wanted else 0)


if __name__ == "__main__":
    main()
