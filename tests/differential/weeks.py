"""Compares what is said of lessons that hang together in generated weeks with what
CP-SAT proves of the same problem.

No plan we found may serve more than CP-SAT proves can be; no bound of ours may lie
below what a plan of CP-SAT's serves. CP-SAT's model is looser than the problem in
places (shelves), and a problem may ask less than its lessons do: such plans are
told as doubtful, not as wrong."""

import argparse
import json
import sys
from collections import Counter
from pathlib import Path

import complete
import solve


def main():
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("problems", nargs="+", type=Path)
    words.add_argument("--seconds", type=float, default=20.0, help="for CP-SAT, each set")
    words.add_argument("--workers", type=int, default=2)
    words.add_argument("--variant", default="pair-staged")
    args = words.parse_args()
    counts = Counter()
    for path in args.problems:
        if path.name.endswith(".claim.json"):
            continue
        problem = json.loads(path.read_text())
        claim = json.loads(path.with_suffix(".claim.json").read_text())
        built, theirs = solve.solve(problem, args.variant, args.workers, args.seconds)
        counts["sets"] += 1
        counts["exact"] += claim["is_exact"]
        if theirs["values"] is None:
            counts["nothing found outside"] += 1
            if theirs.get("infeasible") and claim["served"]:
                counts["disagreements"] += 1
                print(f"{path.name}: infeasible outside, planned here")
            continue
        served, proved = theirs["values"][0], bool(theirs["proved"] and theirs["proved"][0])
        counts["proved outside"] += proved
        if claim["served"] is None:
            counts["nothing found here"] += 1
            print(f"{path.name}: nothing here, outside {served}")
            continue
        ours, at_most = claim["served"], claim["at_most"]
        counts["proved here"] += ours == at_most
        counts["same number served"] += ours == served
        counts["more outside"] += served > ours
        wrong = []
        if proved and ours > served:
            wrong.append(f"we serve {ours}; the optimum is {served}")
        if served > at_most:
            # Only a plan with places for its tins refutes a bound.
            text, why = complete.plan(problem, built.solution)
            if text is None:
                counts["doubtful"] += 1
                print(f"{path.name}: our bound {at_most} is beaten by {served}, without places")
            else:
                wrong.append(f"our bound {at_most} is beaten by a plan with {served}")
        counts["disagreements"] += bool(wrong)
        known = "proved" if proved else "not proved"
        print(f"{path.name}: here {ours} of {claim['of']}, at most {at_most}, outside {served} "
              f"({known}), {theirs['seconds']:.1f} s"
              + "".join(f"\n    WRONG: {w}" for w in wrong), flush=True)
    counts["disagreements"] += 0
    print(json.dumps(counts))
    sys.exit(1 if counts["disagreements"] else 0)


if __name__ == "__main__":
    main()
