"""How fast CP-SAT is on exported problems: for the benchmark of lessons.

    race.py PROBLEM.json... --seconds S

Prints one line of JSON for each problem and way of running CP-SAT:
`seen`, the values (served, departures, shortfall) of each solution and the
seconds after which it came; `proved`, whether all three aims are; `seconds`,
how long that took. Seconds are the solver's own; building the model is not
among them.
"""

import argparse
import json
from pathlib import Path

import solve

VARIANTS = ("pair-staged", "pair-weighted", "cumulative-staged", "cumulative-weighted")
# Variant, workers, seed, and whether the model is simplified before the search.
WAYS = [(variant, workers, 0, True) for variant in VARIANTS for workers in (1, 2)] + [
    ("pair-staged", 2, 1, True),
    ("pair-staged", 2, 2, True),
    ("pair-staged", 1, 0, False),
    ("pair-staged", 2, 0, False),
]


def main():
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("problems", nargs="+", type=Path)
    words.add_argument("--seconds", type=float, required=True)
    args = words.parse_args()
    for path in args.problems:
        problem = json.loads(path.read_text())
        for variant, workers, seed, presolve in WAYS:
            _, answer = solve.solve(problem, variant, workers, args.seconds, seed, presolve)
            done = len(answer["proved"]) == 3 and all(answer["proved"])
            print(json.dumps({
                "problem": path.stem, "workers": workers, "variant": variant,
                "seen": answer["seen"], "proved": done, "seconds": answer["seconds"],
            }), flush=True)


if __name__ == "__main__":
    main()
