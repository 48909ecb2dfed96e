"""Compares plans and bounds of ovenbell with the optima CP-SAT proves on the
exported problem, and lets the checker judge CP-SAT's own plans.

What is wrong ends with status 1, and so does, unless --lenient, a plan of
CP-SAT's that keeps every rule and is better than ours. Last come a table by
family, what stands before the hyphen in a lesson's name, and times of both
sides: CP-SAT's are its own, without the building of the model; what was not
reached counts as all the time there was."""

import argparse
import json
import math
import subprocess
import sys
import tempfile
from collections import Counter, defaultdict
from pathlib import Path

import complete
import shelves
import solve

AIMS = ("served", "departures", "shortfall")


def run(binary, *words):
    done = subprocess.run([binary, *map(str, words)], capture_output=True, text=True)
    return done.returncode, done.stdout, done.stderr


def ours(binary, lesson, words):
    status, out, err = run(binary, "plan", lesson, "--json", *words)
    if status > 1:
        return None, err.strip()
    return json.loads(out), None


def judge(binary, lesson, problem, solution):
    """What the checker says of a solution: "accepted", "no places", or a list
    of breaches."""
    text, why = complete.plan(problem, solution)
    if text is None:
        return "no places"
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "plan.ron"
        path.write_text(text)
        status, out, err = run(binary, "check", lesson, "--plan", path, "--json")
        answer = json.loads(out) if out.strip() else {"ok": False, "breaches": [err]}
        return "accepted" if answer.get("ok") else answer.get("breaches") or answer


def fingerprint(text):
    """FNV-1a of the exported problem, so that a stored answer is known to be
    of this very problem."""
    value = 0xCBF29CE484222325
    for byte in text.strip().encode():
        value = (value ^ byte) * 0x100000001B3 & 0xFFFFFFFFFFFFFFFF
    return f"{value:016x}"


def better(a, b):
    """Whether `a` is better than `b`, aim by aim."""
    return (-a[0], a[1], a[2]) < (-b[0], b[1], b[2])


def compare(answer, theirs, proved, exact):
    """Disagreements between our answer and the outside one, as sentences.
    `exact` says whether the outside plan keeps every rule."""
    wrong = []
    sides = [answer["proved"][aim] for aim in AIMS]
    mine = [side["best"] for side in sides]
    known = 0
    while known < 3 and known < len(proved) and proved[known]:
        known += 1
    # What is proved outside holds only among plans that are equal before.
    for n in range(known):
        if mine[:n] != list(theirs[:n]):
            break
        if (mine[n] > theirs[n]) if n == 0 else (mine[n] < theirs[n]):
            wrong.append(f"our {AIMS[n]} {mine[n]} is better than the optimum {theirs[n]}")
    if not exact:
        return wrong
    for n, side in enumerate(sides):
        bound = side.get("at_most" if n == 0 else "at_least")
        if bound is None:
            continue
        same_before = mine[:n] == list(theirs[:n])
        if n and not same_before:
            break
        if (bound < theirs[n]) if n == 0 else (bound > theirs[n]):
            wrong.append(f"our bound {bound} on {AIMS[n]} is beaten by a plan with {theirs[n]}")
        if side["proved"] and n < known and mine[n] != theirs[n]:
            wrong.append(f"{AIMS[n]} {mine[n]} called proved; the optimum is {theirs[n]}")
    return wrong


def stored(path):
    """Answers kept by an earlier run, by the problem they are of."""
    rows = json.loads(path.read_text())
    return {row["problem"]: row for row in rows}


def kept_answer(row):
    values = tuple(row[aim] for aim in AIMS)
    seen = [(seconds, tuple(values)) for seconds, values in row.get("seen", [])]
    return {"values": values, "proved": row["proved"], "seconds": row.get("seconds", 0.0),
            "seen": seen}


class Pairs:
    """Times of both sides in seconds, here and outside."""

    def __init__(self):
        self.both = []

    def add(self, here, outside, most):
        """What was not reached counts as long as there was."""
        pair = (most if t is None else min(max(t, 1e-4), most) for t in (here, outside))
        self.both.append(tuple(pair))

    def told(self, what):
        if not self.both:
            return f"{what}: none"
        mean = [math.exp(sum(math.log(p[i]) for p in self.both) / len(self.both)) for i in (0, 1)]
        return (f"{what}, geometric mean of {len(self.both)}: here {mean[0]:.4f} s, outside "
                f"{mean[1]:.3f} s, ratio 1/{mean[1] / mean[0]:.1f}")


def reached(seen, values):
    """When a solution was there that is no worse."""
    return min((at for at, there in seen if not better(values, there)), default=None)


COLUMNS = ("lessons", "proved here", "proved outside", "better here", "better outside",
           "plan refused")


def table(families):
    """The counts of each family, and of all, as a table."""
    rows = [(name, families[name]) for name in sorted(families)]
    rows.append(("all", sum(families.values(), Counter())))
    lines = ["| family | " + " | ".join(COLUMNS) + " |", "| --- " * (len(COLUMNS) + 1) + "|"]
    for name, counts in rows:
        lines.append(f"| {name} | " + " | ".join(str(counts[c]) for c in COLUMNS) + " |")
    return "\n".join(lines)


def main():
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("lessons", nargs="+", type=Path)
    words.add_argument("--ovenbell", default="target/debug/ovenbell")
    words.add_argument("--seconds", type=float, default=20.0, help="for CP-SAT, each lesson")
    words.add_argument("--workers", type=int, default=2)
    words.add_argument("--variant", default="pair-staged")
    words.add_argument("--plan", default="--decodings 20000", help="words for `ovenbell plan`")
    words.add_argument("--hard", action="store_true", help="note that these lessons are hard")
    words.add_argument("--store", type=Path, help="write the outside answers here (JSON)")
    words.add_argument("--against", type=Path, help="compare with answers stored before")
    words.add_argument("--lenient", action="store_true", help="a better plan outside is no fault")
    args = words.parse_args()
    before = stored(args.against) if args.against else {}
    families, kept, faults = defaultdict(Counter), [], 0
    # Of lessons with eight groups and more: to the best plan of either, and to a proof.
    best_of, proof_of = Pairs(), Pairs()
    for path in args.lessons:
        counts = families[path.stem.rsplit("-", 1)[0] if path.stem[-1].isdigit() else "files"]
        status, out, err = run(args.ovenbell, "problem", path, "--json")
        if status:
            print(f"{path}: {err.strip()}")
            counts["not read"] += 1
            continue
        problem = json.loads(out)
        row = before.get(fingerprint(out))
        if args.against and row is None:
            counts["not stored"] += 1
            continue
        if row:
            theirs = kept_answer(row)
        else:
            shelves.spent = 0.0
            built, theirs = solve.solve(problem, args.variant, args.workers, args.seconds)
        answer, error = ours(args.ovenbell, path, args.plan.split())
        counts["lessons"] += 1
        if answer is None:
            # No plan at all: the class's own steps find no place.
            good = theirs.get("infeasible", False)
            counts["no plan at all"] += 1
            faults += not good
            print(f"{path}: no plan: {error}" + ("" if good else " BUT THERE IS ONE"))
            continue
        if theirs["values"] is None:
            counts["nothing found outside"] += 1
            if theirs.get("infeasible"):
                faults += 1
                print(f"{path}: infeasible outside, planned here")
            continue
        if row:
            verdict = "accepted" if row["checked"] else "no places"
        else:
            verdict = judge(args.ovenbell, path, problem, built.solution)
        wrong = compare(answer, theirs["values"], theirs["proved"], verdict == "accepted")
        mine = tuple(answer["proved"][aim]["best"] for aim in AIMS)
        proved = len(theirs["proved"]) == 3 and all(theirs["proved"])
        counts["proved outside"] += proved
        if theirs["seen"] and len(problem["groups"]) >= 8:
            best = mine if better(mine, theirs["values"]) else theirs["values"]
            at = None if better(best, mine) else answer["best_plan_ms"] / 1e3
            best_of.add(at, reached(theirs["seen"], best), args.seconds)
            at = answer["proved_ms"] / 1e3 if "proved_ms" in answer else None
            proof_of.add(at, theirs["seconds"] if proved else None, args.seconds)
        counts["proved here"] += answer["proved"]["shortfall"]["proved"]
        counts["plan accepted" if verdict == "accepted" else
               "plan without places" if verdict == "no places" else "plan refused"] += 1
        counts["same values"] += mine == theirs["values"]
        counts["better here"] += better(mine, theirs["values"])
        counts["better outside"] += better(theirs["values"], mine)
        if isinstance(verdict, list):
            wrong.append(f"the checker refuses the outside plan: {json.dumps(verdict[:3])}")
        if verdict == "accepted" and better(theirs["values"], mine) and not args.lenient:
            wrong.append("the plan from outside is better")
        faults += bool(wrong)
        kept.append({
            "lesson": path.name, "hard": args.hard, "problem": fingerprint(out),
            "served": theirs["values"][0], "departures": theirs["values"][1],
            "shortfall": theirs["values"][2], "proved": theirs["proved"],
            "checked": verdict == "accepted", "seconds": round(theirs["seconds"], 4),
            "seen": [(round(at, 4), values) for at, values in theirs["seen"]],
        })
        if args.store:
            rows = ",\n".join(json.dumps(row) for row in kept)
            args.store.write_text(f"[\n{rows}\n]\n")
        line = f"{path.name}: here {mine}, outside {theirs['values']}"
        line += "" if proved else " (not proved)"
        line += f", {theirs['seconds']:.1f} s, {verdict if isinstance(verdict, str) else 'REFUSED'}"
        print(line + "".join(f"\n    WRONG: {w}" for w in wrong), flush=True)
    print(json.dumps(sum(families.values(), Counter()) | {"disagreements": faults}))
    print(table(families))
    if best_of.both:
        print()
        print(best_of.told("To the best plan of either, 8 groups and more"))
        print(proof_of.told("To a proof of all three aims"))
    sys.exit(1 if faults else 0)


if __name__ == "__main__":
    main()
